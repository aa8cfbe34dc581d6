// SPDX-License-Identifier: GPL-3.0-or-later
// The page's side of the contract with its server (docs/page.md): types, calls, the stream of events.

export type Point = [number, number];
export type Box = [number, number, number, number];
export type Gravity = "stop" | "caution" | "note";
export type Level = "stop" | "caution" | "ok";

/** A value of the recipe as it was typed: texts, lists of them, tables. */
export type Tree = string | number | boolean | null | Tree[] | { [key: string]: Tree };

/** Why something was refused, and where in the recipe. */
export interface Trouble {
  what: string;
  fix?: string | null;
  line?: number | null;
  column?: number | null;
  path?: string | null;
}

export interface Part {
  d: string;
  name: string;
  area: number;
  loose: boolean;
  body: boolean;
  box?: Box | null;
}

/** A sheet of metal behind the front. */
export interface Sheet {
  layer: string;
  whole: boolean;
  metal: string;
  thickness: number;
  /** mm of air to the sheet before it */
  behind: number;
  /** as the recipe says it; null: it doesn't */
  finish: string | null;
  face: [string, string, string];
  light: string;
  dark: string;
  parts: Part[];
}

export interface Web {
  x: number;
  y: number;
  ax: number;
  ay: number;
  bx: number;
  by: number;
  width: number;
  length: number;
  form: string;
  joint?: boolean;
  level: Level;
  /** its middle line: x, y, width, x, y, width …; a list for each stretch */
  axis?: number[][];
}

export interface Tie {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
  width: number;
  label: string;
}

export interface Finding {
  /** counts from the gravest; only good for its own view */
  id: string | number;
  law: string;
  /** What it is found in: its places are looked for there. */
  about: "metal" | "gap" | "opening" | "part" | "other";
  gravity: Gravity;
  where: string | null;
  what: string;
  fix: string | null;
  text: string;
  measured: number | null;
  limit: number | null;
  bound?: "at least" | "at most" | null;
  unit: string;
  said_by: string;
  why?: string | null;
  formula?: string | null;
  box?: Box | null;
  places: Point[];
  entries: number[];
  accepted: string | boolean | null;
  cures_known: string[];
}

export interface Verdict {
  whole: boolean;
  sentence: string;
  stops: number;
  cautions: number;
  notes: number;
}

export interface Figures {
  width: number;
  height: number;
  mass: number;
  area: number;
  cut_length: number;
  pierces: number;
  parts: number;
}

export interface EntryView {
  index: number;
  name: string;
  kind: string;
  box: Box | null;
  centre: Point | null;
  /** mm to the nearest edge that another entry made, and which */
  clear: number | null;
  clear_from: string | null;
  outline: string | null;
}

export interface Handle {
  entry: number;
  path: string;
  kind: "radius" | "height" | "turn" | "move";
  at: Point;
  centre: Point;
  unit: string;
  value: number | Point;
  name?: string;
}

export interface Solved {
  entry: number;
  what: string;
  value: string | number;
  unit?: string;
}

/** What a quantity is held against: under (or over) `stop` the sign must not be cut. */
export interface Limit {
  stop: number | null;
  caution: number | null;
  said_by: string;
}

/** What the sign hangs by or stands on. */
export interface Hang {
  kind: "hole" | "foot" | "stake";
  x: number;
  y: number;
  diameter: number | null;
}

/** A place behind the metal; no metal changes. */
export interface Stud {
  x: number;
  y: number;
  diameter: number;
}

export interface View {
  revision: number;
  /** null: there is no metal */
  box: Box | null;
  /** of a sign of several sheets: the front's */
  parts: Part[];
  /** the sheets behind it, the hindmost first */
  behind?: Sheet[];
  webs: Web[];
  ties: Tie[];
  /** path data of what the arc burns off at pointed ends */
  burnt?: string[];
  findings: Finding[];
  verdict: Verdict;
  figures: Figures;
  entries: EntryView[];
  handles: Handle[];
  solved: Solved[];
  hangs?: Hang[];
  studs?: Stud[];
  limits: Record<"long_web" | "joint" | "gap" | "hole", Limit> & { web: { stop: number; caution: number } };
  /** in which unit its sentences tell lengths; figures are mm all the same */
  units?: "mm" | "in" | "in-decimal";
  thickness: number;
  metal: string;
  /** finish and wall, as the recipe says them; null: it doesn't, and the reader's liking counts */
  look?: { finish: string | null; face: [string, string, string]; light: string; dark: string; texture: string; wall: string | null; wall_tone: string };
  kerf: number;
}

export interface Cure {
  id: string;
  key: string;
  sentence: string;
  takes: (string | number)[];
  added: number;
  removed: number;
  shift: number;
  ties: number;
  stops: number;
  cautions: number;
  notes: number;
  whole: boolean;
  best?: boolean;
}

/** What the search has found so far; it is still going or has ended. */
export interface Search {
  revision: number;
  going: boolean;
  cures: Cure[];
  best: string | null;
  /** lines: why none makes the sign whole, and what would have to give; null: one does, or it is not known yet */
  why?: string | null;
  /** the search ended before all was tried */
  no_further?: boolean;
}
/** The end of a search: the ids that are worth showing, the best first; and the cheapest that makes the sign whole. */
export interface SearchEnd {
  revision: number;
  order: string[];
  best: string | null;
  why?: string | null;
  no_further?: boolean;
  error: Trouble | null;
}

/** What was written into a folder. */
export interface Made {
  folder: string;
  files: string[];
  /** where a cured.yaml was put that somebody had changed; null: there was none */
  kept: string | null;
  /** files lay there of a run that was stopped half way */
  half_done: boolean;
}

export interface State {
  revision: number;
  /** grows with everything that the server tells */
  told?: number;
  /** null: nothing is open yet */
  file: string | null;
  folder?: string;
  name: string | null;
  /** how the file is, against when it was read or saved */
  disk?: "same" | "changed" | "gone";
  saved: boolean;
  draft: boolean;
  /** what was not saved had ended the server, and is set aside: undo brings it back */
  aside?: boolean;
  /** tree, marks, mistakes and error are not yet those of this text */
  reading?: boolean;
  can_undo: boolean;
  can_redo: boolean;
  text: string;
  /** null: the text can't be read */
  tree: Tree;
  marks: Record<string, { line: number; column: number }>;
  /** all that is wrong in the text, by place */
  mistakes?: Trouble[];
  /** the first of them, or what the run found */
  error: Trouble | null;
  view: View | null;
}

export interface Edit {
  do: "set" | "put" | "remove" | "insert";
  path: string;
  /** set: a text; put: JSON of a whole value; insert: JSON or YAML of one item */
  value?: string;
}

export interface Starter {
  kind: string;
  about: string;
  /** address of its picture */
  svg?: string;
}

export interface FontFamily {
  family: string;
  styles: string[];
}

export interface RecipeFile {
  file: string;
  name: string;
  folder?: string;
  open?: boolean;
}

export interface Output {
  name: string;
  type: string;
  /** What is in it, in a few words. */
  says: string;
  /** The name of the output that a browser can show for it; null: there is none. */
  shown_by: string | null;
  size: number;
}

/** A coupon, as its recipe says it: rows of places, each with what is marked there. */
export interface CouponPlace {
  /** as it is cut into the sheet: ".095" */
  figure: string;
  /** with its unit: "0.095 in" */
  length: string;
  x: number;
  y: number;
  /** what is tried lies within it of x and y, mm */
  reach: number;
}
export interface CouponRow {
  letter: string;
  /** as the results call it: "long webs" */
  key: string;
  /** how to judge it */
  says: string;
  places: CouponPlace[];
}
export interface CouponView {
  /** side of its window, as drawn */
  window: string;
  combs: CouponRow[];
}

export interface Caution {
  key: string;
  text: string;
  said_by: string;
}

/** The server said no. `state` comes with a stale revision. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly trouble: Trouble,
    readonly state: State | null = null,
  ) {
    super(trouble.what);
  }
}

const gone: Trouble = { what: "the page's server doesn't answer", fix: "start it again: holdfast page" };

async function answer<T>(path: string, init?: RequestInit): Promise<T> {
  let reply: Response;
  try {
    reply = await fetch(path, { credentials: "same-origin", ...init });
  } catch {
    throw new Refused(0, gone);
  }
  const body: unknown = await reply.json().catch(() => null);
  if (reply.ok) return body as T;
  const said = (body ?? {}) as { error?: Trouble; state?: State };
  throw new Refused(reply.status, said.error ?? { what: `the server refused (${reply.status})` }, said.state ?? null);
}

export const get = <T>(path: string): Promise<T> => answer<T>(path);
export const post = <T>(path: string, body: unknown): Promise<T> =>
  answer<T>(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });

export const call = {
  state: () => get<State>("api/state"),
  edit: (revision: number, edits: Edit[], merge?: string) =>
    post<State>("api/edit", merge === undefined ? { revision, edits } : { revision, edits, merge }),
  text: (revision: number, text: string, merge?: string) =>
    post<State>("api/text", merge === undefined ? { revision, text } : { revision, text, merge }),
  undo: (revision: number) => post<State>("api/undo", { revision }),
  redo: (revision: number) => post<State>("api/redo", { revision }),
  save: (revision: number, name?: string, over?: boolean) =>
    post<State>("api/save", { revision, ...(name === undefined ? {} : { name }), ...(over === true ? { over } : {}) }),
  reload: (revision: number) => post<State>("api/reload", { revision }),
  disk: () => get<{ text: string | null }>("api/disk"),
  open: (file: string) => post<State>("api/open", { file }),
  start: (starter: string, name: string) => post<State>("api/open", { starter, name }),
  recipes: () => get<RecipeFile[]>("api/recipes"),
  starters: () => get<Starter[]>("api/starters"),
  kinds: () => get<Record<string, unknown>>("api/kinds"),
  fonts: (find: string) => get<FontFamily[]>(`api/fonts?find=${encodeURIComponent(find)}`),
  addFont: (file: File) =>
    answer<{ file: string }>(`api/font?name=${encodeURIComponent(file.name)}`, {
      method: "POST",
      headers: { "Content-Type": "application/octet-stream" },
      body: file,
    }),
  cures: (revision: number) => post<Search>("api/cures", { revision }),
  stopCures: (revision: number) => post<unknown>("api/cures", { revision, stop: true }),
  take: (revision: number, cure: string) => post<State>("api/take", { revision, cure }),
  takeBest: (revision: number) => post<State>("api/take", { revision, best: true }),
  outputs: () => get<Output[]>("api/outputs"),
  make: (revision: number, folder: string) => post<Made>("api/make", { revision, folder }),
  cautions: () => get<Caution[]>("api/cautions"),
  coupon: () => get<CouponView | null>("api/coupon"),
  learn: (revision: number, said: Record<string, string>) => post<{ file: string; told: string }>("api/learn", { revision, said }),
};

export const sample = (family: string, style: string, text: string): string =>
  `api/font.svg?family=${encodeURIComponent(family)}&style=${encodeURIComponent(style)}&text=${encodeURIComponent(text)}`;
/** What one choice of shapes looks like, drawn by the core. */
export const choicePicture = (kind: string, key: string, word: string): string => `api/choice/${[kind, key, word].map(encodeURIComponent).join("/")}.svg`;
export const curePicture = (id: string): string => `api/cure/${encodeURIComponent(id)}.svg`;

/** What the stream of events may say. */
export interface Hearing {
  state: (state: State) => void;
  view: (view: View) => void;
  cure: (revision: number, cure: Cure) => void;
  curesDone: (done: SearchEnd) => void;
  curesTried: (revision: number, tried: number, of: number) => void;
  disk: (how: { changed: boolean; gone?: boolean; told?: number }) => void;
  /** The line is up or down; it is built up again by itself, a little later each time. */
  line: (up: boolean) => void;
}

export function listen(hearing: Hearing): () => void {
  let source: EventSource | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let wait = 500;
  const on = (name: string, take: (data: never) => void): void => {
    source?.addEventListener(name, (event) => take(JSON.parse((event as MessageEvent<string>).data) as never));
  };
  const connect = (): void => {
    source = new EventSource("api/events");
    source.onopen = () => {
      wait = 500;
      hearing.line(true);
    };
    source.onerror = () => {
      source?.close();
      hearing.line(false);
      timer = setTimeout(connect, wait);
      wait = Math.min(2 * wait, 8000);
    };
    on("state", hearing.state);
    on("view", hearing.view);
    on("cures", (it: { revision: number; cure: Cure }) => hearing.cure(it.revision, it.cure));
    on("cures-done", hearing.curesDone);
    on("cures-progress", (it: { revision: number; tried: number; of: number }) => hearing.curesTried(it.revision, it.tried, it.of));
    on("disk", hearing.disk);
  };
  connect();
  return () => {
    clearTimeout(timer);
    source?.close();
  };
}

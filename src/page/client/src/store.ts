// SPDX-License-Identifier: GPL-3.0-or-later
// What the page knows, as signals, and the few things that can be done to the document.
//
// The server owns the document. Every change names the revision that it was made from, so changes
// go out one after the other, each with the newest revision; of those that wait with the same merge
// token (one drag, one word being typed) only the last is sent.
import { batch, computed, effect, signal } from "@preact/signals";
import * as api from "./api";
import type { Cure, Edit, State, Tree, Trouble, View } from "./api";
import { believe } from "./later";
import { readSchema } from "./slip/schema";
import type { Schema } from "./slip/schema";

export type Light = "hangs" | "metal";
/** "inch": in fractions; "decimal": inches in decimals. */
export type Units = "mm" | "inch" | "decimal";
export type Theme = "by day" | "light" | "dark";

export interface Selection {
  /** id of the finding that is looked at */
  finding: string | null;
  /** index of the entry that is looked at */
  entry: number | null;
  /** path of the value that is looked at: entries[1].words.height */
  path: string | null;
}

export const state = signal<State | null>(null);
/** All that is wrong with the recipe, by place; or the one thing that the run found. */
export const mistakes = computed<readonly Trouble[]>(() => {
  const now = state.value;
  if (now === null || now.error === null) return [];
  const all = now.mistakes ?? [];
  return all.length > 0 ? all : [now.error];
});
/** The recipe as it was last readable. */
export const tree = signal<Tree>(null);
export const view = signal<View | null>(null);
export const verdict = computed(() => view.value?.verdict ?? null);
/** The picture is of an older revision than the document. */
export const behind = computed(() => state.value !== null && view.value !== null && view.value.revision < state.value.revision);

export const cures = signal<Cure[]>([]);
/** "no": not asked for this revision; "looking"; "done" */
export const curing = signal<"no" | "looking" | "done">("no");

/** Why none of them makes the sign whole, and what would have to give, line by line. */
export const curesWhy = signal<readonly string[]>([]);
/** The search ended before all was tried. */
export const curesNoFurther = signal(false);

/** How far the search is, where the server says it. */
export const curesTried = signal<{ tried: number; of: number } | null>(null);

export const nothing: Selection = { finding: null, entry: null, path: null };
export const selection = signal<Selection>(nothing);
export const select = (part: Partial<Selection>): void => {
  selection.value = { ...nothing, ...part };
};

/** The JSON Schema of a recipe. */
export const schema = signal<Schema | null>(null);
/** New signs and recipes are shown instead of the sign. */
export const gallery = signal(false);
/** Counts up whenever another document comes: what was unfolded folds. */
export const folded = signal(0);
export const line = signal(true);
export const diskChanged = signal(false);
/** What the last change was refused for; belongs to a path, or to the page as a whole. */
export const trouble = signal<Trouble | null>(null);

// --- what the reader likes: kept in the browser, not in the recipe ---

function kept<T extends string>(key: string, words: readonly T[], first: T) {
  let before: string | null = null;
  try {
    before = localStorage.getItem(key);
  } catch {
    // a browser that keeps nothing is fine
  }
  const it = signal<T>(words.find((word) => word === before) ?? first);
  effect(() => {
    try {
      localStorage.setItem(key, it.value);
    } catch {
      // as above
    }
  });
  return it;
}

export const light = kept<Light>("light", ["hangs", "metal"], "metal");
export const figures = kept<"recipe" | "mm" | "inch">("figures", ["recipe", "mm", "inch"], "recipe");
/** In which unit figures are shown: that of the recipe, in which its sentences are, unless the reader likes another. */
export const units = computed<Units>(() => {
  const own = OWN[view.value?.units ?? "mm"] ?? "mm";
  return figures.value === "recipe" ? own : figures.value === "inch" && own === "decimal" ? own : figures.value;
});
const OWN: Record<string, Units> = { mm: "mm", in: "inch", "in-decimal": "decimal" };
const text = kept<"yes" | "no">("text", ["yes", "no"], "no");
/** The file's text stands beside the slip. */
export const showText = {
  get value(): boolean {
    return text.value === "yes";
  },
  set value(it: boolean) {
    text.value = it ? "yes" : "no";
  },
};
export const theme = kept<Theme>("theme", ["by day", "light", "dark"], "by day");

/** A failed request that belongs to no value: said on the page. */
export function complain(error: unknown): void {
  if (!(error instanceof api.Refused)) throw error;
  trouble.value = error.trouble;
}

// --- taking in what the server says ---

export function takeIn(came: State): void {
  const old = state.value;
  const next = believe(old, came);
  if (next === old) {
    if (came.view !== null && came.file === old.file) takeView(came.view);
    return;
  }
  const other = old !== null && old.file !== next.file;
  batch(() => {
    if (other) {
      folded.value += 1;
      // a small sign is worked out before the answer to opening it is read: that view is its own already
      if (view.value?.revision !== next.revision) view.value = null;
      selection.value = nothing;
    }
    if (next.tree !== null || other) tree.value = next.tree;
    state.value = next;
    diskChanged.value = (next.disk ?? "same") !== "same";
    if (next.view !== null) takeView(next.view);
  });
  if (old === null || next.revision !== old.revision) {
    cures.value = [];
    curing.value = "no";
    takeWhy({});
  }
}

export function takeView(next: View): void {
  if (view.value !== null && next.revision < view.value.revision) return;
  view.value = next;
}

// --- changes, one after the other ---

interface Waiting {
  merge: string | undefined;
  run: (revision: number) => Promise<State>;
  done: ((problem: Trouble | null) => void)[];
}

const queue: Waiting[] = [];
let busy = false;

async function work(): Promise<void> {
  if (busy) return;
  busy = true;
  for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
    const problem = await attempt(next.run);
    for (const done of next.done) done(problem);
  }
  busy = false;
}

async function attempt(run: Waiting["run"], again = true): Promise<Trouble | null> {
  try {
    takeIn(await run(state.value?.revision ?? 0));
    return null;
  } catch (error) {
    if (!(error instanceof api.Refused)) throw error;
    if (error.status === 409 && error.state !== null && again) {
      takeIn(error.state);
      return attempt(run, false);
    }
    return error.trouble;
  }
}

function change(run: Waiting["run"], merge?: string): Promise<Trouble | null> {
  return new Promise((done) => {
    const last = queue[queue.length - 1];
    if (merge !== undefined && last?.merge === merge) {
      last.run = run;
      last.done.push(done);
    } else {
      queue.push({ merge, run, done: [done] });
    }
    void work();
  });
}

/** Changes the recipe. Null, or why not; the trouble is also kept for whoever shows it. */
export async function edit(edits: Edit[], merge?: string): Promise<Trouble | null> {
  const problem = await change((revision) => api.call.edit(revision, edits, merge), merge);
  trouble.value = problem;
  return problem;
}
export const set = (path: string, value: string, merge?: string): Promise<Trouble | null> =>
  edit([{ do: "set", path, value }], merge);

export async function act(run: Waiting["run"]): Promise<Trouble | null> {
  const problem = await change(run);
  trouble.value = problem;
  return problem;
}
export const setText = (text: string, merge?: string): Promise<Trouble | null> =>
  change((revision) => api.call.text(revision, text, merge), merge);
/** over: also over a file that was changed by something else */
export const save = (over?: boolean, name?: string): Promise<Trouble | null> => act((revision) => api.call.save(revision, name, over));
export const takeTheirs = (): Promise<Trouble | null> => act((revision) => api.call.reload(revision));
export const open = (file: string): Promise<Trouble | null> => act(() => api.call.open(file));
export const start = (starter: string, name: string): Promise<Trouble | null> => act(() => api.call.start(starter, name));
export const undo = (): Promise<Trouble | null> => act((revision) => api.call.undo(revision));
export const redo = (): Promise<Trouble | null> => act((revision) => api.call.redo(revision));
export const takeCure = (id: string): Promise<Trouble | null> => act((revision) => api.call.take(revision, id));
export const takeBest = (): Promise<Trouble | null> => act((revision) => api.call.takeBest(revision));

function takeWhy({ why, no_further }: Pick<api.Search, "why" | "no_further">): void {
  curesWhy.value = (why ?? "").split("\n").filter((line) => line !== "");
  curesNoFurther.value = no_further ?? false;
}

/** A search that was asked for before (another window, a page opened again) tells what it has. */
function takeSearch(search: api.Search): void {
  if (search.revision !== state.value?.revision) return;
  const known = new Set(search.cures.map((it) => it.id));
  cures.value = [...search.cures, ...cures.value.filter((it) => !known.has(it.id))];
  if (!search.going) curing.value = "done";
  takeWhy(search);
}

function endSearch(done: api.SearchEnd): void {
  if (done.revision !== state.value?.revision) return;
  const place = new Map(done.order.map((id, i) => [id, i]));
  cures.value = cures.value
    .filter((it) => place.has(it.id))
    .sort((a, b) => (place.get(a.id) ?? 0) - (place.get(b.id) ?? 0))
    .map((it) => ({ ...it, best: it.id === done.best }));
  curing.value = "done";
  takeWhy(done);
  if (done.error !== null) trouble.value = done.error;
}

/** Asks the server to look for cures; they come in one by one. */
export async function lookForCures(): Promise<void> {
  const now = state.value;
  if (now === null || curing.value !== "no") return;
  curing.value = "looking";
  cures.value = [];
  curesTried.value = null;
  try {
    takeSearch(await api.call.cures(now.revision));
  } catch (error) {
    if (!(error instanceof api.Refused)) throw error;
    curing.value = "no";
    if (error.status === 409 && error.state !== null) takeIn(error.state);
    else trouble.value = error.trouble;
  }
}

/** Ends the search; what was found stays. */
export async function stopCures(): Promise<void> {
  const now = state.value;
  if (now === null || curing.value !== "looking") return;
  curing.value = "no";
  try {
    await api.call.stopCures(now.revision);
  } catch (error) {
    if (!(error instanceof api.Refused)) throw error;
  }
}

/** Opens the line to the server and keeps it open. */
export function begin(): () => void {
  const fetchState = async (): Promise<void> => {
    try {
      takeIn(await api.call.state());
    } catch (error) {
      if (!(error instanceof api.Refused)) throw error;
      trouble.value = error.trouble;
    }
  };
  void fetchState();
  api.call.kinds().then((it) => (schema.value = readSchema(it as Tree))).catch(complain);
  return api.listen({
    state: takeIn,
    view: takeView,
    cure: (revision, cure) => {
      if (revision === state.value?.revision) cures.value = [...cures.value.filter((old) => old.id !== cure.id), cure];
    },
    curesDone: endSearch,
    curesTried: (revision, tried, of) => {
      if (revision === state.value?.revision) curesTried.value = { tried, of };
    },
    disk: (how) => {
      const now = state.value;
      if (now !== null && (how.told ?? Infinity) < (now.told ?? 0)) return;
      diskChanged.value = how.changed || how.gone === true;
      if (now !== null) state.value = { ...now, told: how.told ?? now.told ?? 0, disk: how.gone === true ? "gone" : how.changed ? "changed" : "same" };
    },
    line: (up) => {
      if (up && !line.value) void fetchState();
      line.value = up;
    },
  });
}

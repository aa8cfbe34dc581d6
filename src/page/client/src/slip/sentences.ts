// SPDX-License-Identifier: GPL-3.0-or-later
// The recipe as plain sentences. A sentence is a list of pieces: words, and values that can be
// changed. How a kind of entry is said the core tells with the kind; what that leaves out and the recipe
// says is added as a clause, so a sentence always says all of its entry. Pure: no signals, no DOM.
import type { Tree } from "../api";
import { isTable, join, str, at as treeAt } from "./path";
import { entriesOf } from "./names";
import type { Entry } from "./names";
import { ownField } from "./schema";
import type { Field, Schema } from "./schema";

/** A value on the paper. */
export interface Value {
  path: string;
  field: Field;
  /** as typed; undefined: the recipe doesn't say it */
  raw: Tree | undefined;
  /** as it stands on the paper */
  shown: string;
  /** what it is, for those who don't see where it stands */
  label: string;
}
export type Piece = string | Value;
export interface Sentence {
  pieces: Piece[];
  /** what the recipe could say here and doesn't */
  unsaid: Value[];
}

// --- values in words ---

const NBSP = "\u00a0";
const tight = (text: string): string => text.replace(/(\d) (mm|cm|m|in|ft|ga|%|deg)$/u, `$1${NBSP}$2`);

export function listed(words: string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1] ?? ""}`;
}

export function fontShown(raw: Tree | undefined): string {
  if (typeof raw === "string") return raw;
  if (!isTable(raw)) return "";
  const text = (key: string): string => (typeof raw[key] === "string" ? raw[key] : "");
  return text("family") === "" ? text("file") : text("style") === "" ? text("family") : `${text("family")} ${text("style")}`;
}

export function shown(field: Field, raw: Tree | undefined): string {
  if (raw === undefined || raw === null || raw === "") return "";
  if (field.kind === "font") return fontShown(raw);
  if (Array.isArray(raw)) {
    const words = raw.map((item) => (Array.isArray(item) ? item.map(String).join(" across, ") + " up" : tight(shownText(item))));
    if (field.kind === "margin") return marginShown(words);
    return field.kind === "texts" ? words.join(" / ") : field.kind === "point" || field.kind === "numbers" ? words.join(", ") : listed(words);
  }
  const text = shownText(raw);
  if (field.kind === "yes" && /^(yes|true|no|false)$/.test(text)) return /^(yes|true)$/.test(text) ? field.yes : field.no;
  if (field.kind === "choice") return field.choices.find((it) => it.word === text)?.said ?? text;
  return tight(text);
}

/** Beside, then above and below; or left, right, top, bottom. */
const marginShown = (words: string[]): string =>
  words.length === 2 ? `${words[0] ?? ""} beside and ${words[1] ?? ""} above and below`
  : words.length === 4 ? `${words[0] ?? ""} on the left, ${words[1] ?? ""} on the right, ${words[2] ?? ""} above and ${words[3] ?? ""} below`
  : words.join(", ");

/** A table, such as that of a finish: its keys and values in a row. */
const shownText = (raw: Tree): string =>
  typeof raw === "string" ? raw
  : typeof raw === "number" || typeof raw === "boolean" ? String(raw)
  : isTable(raw) ? Object.entries(raw).map(([key, value]) => `${key} ${tight(shownText(value ?? ""))}`).join(", ")
  : JSON.stringify(raw);

const LENGTH = /^[-+−]?[\d.½¼¾⅛⅜⅝⅞]/u;
const PLACE = /clock|deg|°|^(top|bottom|left|right|cent)/;

type Said = readonly [string, string, string];
/** What two figures are to each other: before, between and behind them, and what each is. */
const PAIRS: Record<Field["pair"], { words: Said; names: readonly [string, string] }> = {
  place: { words: ["", " across and ", " up"], names: ["across", "up"] },
  size: { words: ["", " by ", ""], names: ["width", "height"] },
  step: { words: ["", " across and ", " down"], names: ["across", "down"] },
};

// --- one entry, being said ---

/** One or several: each with its path. */
function items(raw: Tree | undefined, path: string): [Tree, string][] {
  if (raw === undefined) return [];
  return Array.isArray(raw) ? raw.map((it: Tree, i): [Tree, string] => [it, `${path}[${i}]`]) : [[raw, path]];
}

class Teller {
  readonly used = new Set<string>();
  readonly pieces: Piece[] = [];

  constructor(readonly what: string, readonly base: string, readonly body: Tree | undefined, readonly fields: Field[]) {}

  has(key: string): boolean {
    const raw = isTable(this.body) ? this.body[key] : undefined;
    return raw !== undefined && raw !== null;
  }
  field(key: string): Field | undefined {
    return this.fields.find((it) => it.key === key);
  }
  raw(key: string): Tree | undefined {
    return isTable(this.body) ? this.body[key] : undefined;
  }
  value(key: string, path = join(this.base, key), raw = this.raw(key), kind?: Field["kind"]): Value | null {
    const field = this.field(key);
    if (field === undefined) return null;
    const as = kind === undefined ? field : { ...field, kind };
    return { path, field: as, raw, shown: shown(as, raw ?? this.usual(field)), label: `${field.label} of ${this.what}` };
  }
  /** What is read where nothing is said: it stands in a sentence that can't do without. */
  private usual(field: Field): Tree | undefined {
    return this.used.has(field.key) ? (field.otherwise ?? undefined) : undefined;
  }
  /** Words between values; `{key}` is the value of a field, said though it be missing when the core needs it. */
  say(text: string): this {
    for (const part of text.split(/(\{[^}]+\})/)) {
      if (part === "") continue;
      if (!part.startsWith("{")) this.pieces.push(part);
      else this.put(part.slice(1, -1));
    }
    return this;
  }
  /** Only when the recipe says `key`. */
  maybe(key: string, text: string): this {
    return this.has(key) ? this.say(text) : this;
  }
  put(key: string): void {
    this.used.add(key);
    const kind = this.field(key)?.kind;
    if (kind === "places" || kind === "points") this.places(key);
    else if (kind === "point" || kind === "numbers") this.point(key);
    else if (kind === "names") this.names(key);
    else {
      const value = this.value(key);
      if (value !== null) this.pieces.push(value);
    }
  }

  /** 30 mm across and -10 mm up, 900 mm by 200 mm; of several: (30 mm, -10 mm) */
  private pair(key: string, raw: Tree[], path: string, several?: Said): void {
    const pair = PAIRS[this.field(key)?.pair ?? "place"];
    const words = several ?? pair.words;
    pair.names.forEach((name, i) => {
      const value = this.value(key, `${path}[${i}]`, raw[i], this.field(key)?.kind === "numbers" ? "number" : "length");
      if (value === null) return;
      this.pieces.push(words[i] ?? "", { ...value, label: `${name}, ${value.label}` });
    });
    this.pieces.push(words[2]);
  }
  private point(key: string): void {
    const raw = this.raw(key);
    if (Array.isArray(raw)) this.pair(key, raw, join(this.base, key));
  }
  /** top / left end and right end / 30 mm across and -10 mm up / several of these */
  private places(key: string): void {
    const raw = this.raw(key);
    const path = join(this.base, key);
    // across and up, though one of them be mistyped: no place has a name like a length
    const isPoint = (it: Tree): it is Tree[] => Array.isArray(it) && it.length === 2 && it.every((x) => typeof x === "string" && !PLACE.test(x)) && it.some((x) => LENGTH.test(str(x)));
    if (raw !== undefined && isPoint(raw)) {
      this.pair(key, raw, path);
      return;
    }
    const all = items(raw, path);
    all.forEach(([item, where], i) => {
      if (i > 0) this.pieces.push(i === all.length - 1 ? " and " : ", ");
      if (Array.isArray(item) && item.length === 2) {
        this.pair(key, item, where, all.length === 1 ? undefined : ["(", ", ", ")"]);
        return;
      }
      if (typeof item === "string" && i > 0 && !/^\d/.test(item)) this.pieces.push("the ");
      const value = this.value(key, where, item, "place");
      if (value !== null) this.pieces.push(value);
    });
  }
  private names(key: string): void {
    const raw = this.raw(key);
    const path = join(this.base, key);
    const all = items(raw, path);
    const needed = this.field(key)?.required === true && all.length === 0 ? this.value(key) : null;
    if (needed !== null) this.pieces.push(needed);
    all.forEach(([item, where], i) => {
      if (i > 0) this.pieces.push(i === all.length - 1 ? " and " : ", ");
      const value = this.value(key, where, item, "name");
      if (value !== null) this.pieces.push(value);
    });
  }

  /** Where it goes; the same for all entries. */
  place(): this {
    const spot = Array.isArray(this.raw("at")) ? this.raw("at") : [this.raw("at")];
    const first = Array.isArray(spot) ? spot[0] : undefined;
    const the = typeof first === "string" && /^(top|bottom|left|right|centre|center)/.test(first) ? "the " : "";
    const into = str(this.raw("gap")).startsWith("-"); // less than nothing
    if (!this.used.has("at")) this.maybe("at", `, at ${the}{at}`);
    if (!this.used.has("on")) this.maybe("on", this.has("at") ? " of {on}" : ", on {on}");
    return this
      .maybe("above", ", above {above}").maybe("below", ", below {below}")
      .maybe("left of", ", to the left of {left of}").maybe("right of", ", to the right of {right of}")
      .maybe("between", ", between {between}").maybe("copies", ", {copies} of it")
      .maybe("gap", into ? " with a gap of {gap}" : ", {gap} clear of it")
      .maybe("shift", ", then moved {shift}").maybe("turn", ", turned by {turn}");
  }

  /**
   * A sentence as the core writes it: `a ring, {outer} across[, {inner} inside]`.
   * `[one|other]`: the first all of whose fields the recipe says (those that the core needs count as said), or nothing.
   * `{?key}`, `{?key=word}`, `{!key}`: only a condition. `{a key}`: with its article. `{place}`: where it goes.
   * `{rest}`: here what nothing else says, but for what comes after it.
   */
  tell(sentence: string): this {
    for (const found of sentence.matchAll(/\[([^\]]*)\]|[^[]+/g)) {
      const after = sentence.slice(found.index + found[0].length);
      const part = found[1] === undefined ? found[0] : found[1].split("|").find((it) => this.holds(it));
      if (part !== undefined) this.sayPart(part, after);
    }
    return this;
  }
  private holds(part: string): boolean {
    return [...part.matchAll(/\{(?:a )?([^}]+)\}/g)].every(([, token]) => {
      const [key = "", word] = (token ?? "").replace(/^[?!]/, "").split("=");
      if (token?.startsWith("!") === true) return !this.has(key);
      return word !== undefined ? this.raw(key) === word : this.has(key) || (token === key && this.field(key)?.required === true);
    });
  }
  private sayPart(part: string, after: string): void {
    for (const piece of part.split(/(\{[^}]+\})/)) {
      const key = /^\{(.+)\}$/.exec(piece)?.[1];
      if (key === undefined) this.say(piece);
      else if (key === "place") this.place();
      else if (key === "rest") this.rest(after);
      else if (key.startsWith("a ")) this.article(key.slice(2));
      else if (!/^[?!]/.test(key)) this.put(key);
    }
  }

  private article(key: string): void {
    this.used.add(key);
    this.say(`${/^[aeiou]/.test(this.value(key)?.shown ?? "") ? "an" : "a"} {${key}}`);
  }

  /** What the recipe says and nothing above did; @later: the words that follow, which say some more. */
  rest(later = ""): this {
    for (const field of this.fields) {
      if (this.used.has(field.key) || !this.has(field.key) || later.includes(`{${field.key}}`)) continue;
      this.say(`, ${field.before === "" ? "" : `${field.before} `}{${field.key}}${field.after === "" ? "" : ` ${field.after}`}`);
    }
    return this;
  }
  end(): Sentence {
    this.rest();
    this.pieces.push(".");
    return { pieces: smooth(this.pieces), unsaid: this.unsaid() };
  }
  private unsaid(): Value[] {
    const out: Value[] = [];
    for (const field of this.fields) {
      if (field.kind === "font") {
        const font = this.raw(field.key);
        for (const inner of field.fields) {
          if (inner.key === "family") continue;
          const raw = isTable(font) ? font[inner.key] : undefined;
          out.push({ path: join(this.base, field.key, inner.key), field: inner, raw, shown: shown(inner, raw), label: `${inner.key} of the font of ${this.what}` });
        }
      }
      if (this.has(field.key) || this.used.has(field.key)) continue;
      const value = this.value(field.key);
      if (value !== null) out.push(value);
    }
    return out;
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Words beside words become one piece; no space before a comma. */
function smooth(pieces: Piece[], sentence = true): Piece[] {
  const out: Piece[] = [];
  for (const piece of pieces) {
    const last = out[out.length - 1];
    if (typeof piece === "string" && typeof last === "string") out[out.length - 1] = last + piece;
    else out.push(piece);
  }
  const tidy = (text: string): string => text.replace(/ +([,.;])/g, "$1").replace(/,,/g, ",").replace(/:,/g, ":").replace(/ {2,}/g, " ");
  const tidied = out.map((piece) => (typeof piece === "string" ? tidy(piece) : piece));
  const [first, ...others] = tidied;
  if (first === undefined) return [];
  if (typeof first === "string") return [sentence ? capital(first.replace(/^[,; ]+/, "")) : first.replace(/^[,; ]+/, ""), ...others];
  return first.field.key === "as" ? [{ ...first, shown: capital(first.shown) }, ...others] : tidied;
}

/** What an entry is called on the page: words “HARBOUR”, ring outer, 2nd hole. */
export function called(entry: Entry): string {
  const text = entry.body["text"];
  if (typeof text === "string") return `${entry.kind} “${text}”`;
  if (Array.isArray(text)) return `${entry.kind} “${text.map(String).join(" ")}”`;
  return entry.named ? `${entry.kind} ${entry.name}` : entry.name;
}

export function sentenceOf(entry: Entry, schema: Schema): Sentence {
  const known = schema.entries.get(entry.kind);
  return new Teller(called(entry), entry.path, entry.body, known?.fields ?? []).tell(known?.sentence ?? `a ${entry.kind}{place}`).end();
}

// --- the head of the slip ---

export interface Head {
  title: Value | null;
  order: Sentence;
  metal: Sentence;
  use: Sentence;
}

/** What a layer behind the front is cut from; one that the recipe says nothing of, and puts nothing in, has no fields. */
function sheetOf(key: string, tree: Tree, fields: Field[]): Teller {
  const own = treeAt(tree, key);
  const none = (own === undefined || own === null) && !entriesOf(tree).some((it) => it.body["layer"] === key);
  const sheet = new Teller(`the ${key}`, key, own, none ? [] : fields);
  const cut = sheet.has("thickness") || sheet.has("metal"); // said together
  if (cut) sheet.say(` The ${key}: {thickness} {metal}`);
  sheet.maybe("behind", `${cut ? "," : ` The ${key}:`} {behind} behind`);
  if (!cut && !sheet.has("behind") && fields.some((it) => sheet.has(it.key))) sheet.say(` The ${key}:`);
  sheet.maybe("kerf", ", cut with a kerf of {kerf}");
  sheet.maybe("crater", ", craters of {crater}").maybe("row", ", cut by the row {row} of the cut chart");
  if (sheet.has("finish")) sheet.pieces.push(", its finish ", ...finishOf(sheet));
  if (sheet.pieces.length > 0) sheet.say(".");
  return sheet;
}

export function headOf(tree: Tree, schema: Schema): Head {
  const field = (key: string): Field | undefined => schema.head.find((it) => it.key === key);
  const inner = (key: string): Field[] => field(key)?.fields ?? [];
  const top = new Teller("the sign", "", tree, schema.head.filter((it) => !["sign", "metal", "process", "order"].includes(it.key)));
  const whole = new Teller("the sign", "", tree, schema.head);

  const order = new Teller("the order", "order", treeAt(tree, "order"), inner("order"));
  order.maybe("customer", "for {customer}").maybe("number", ", order {number}").maybe("date", " of {date}").maybe("quantity", ", {quantity} to be made")
    .maybe("proof", ", proof {proof}").maybe("revision", ", revision {revision}");

  const metal = new Teller("the metal", "metal", treeAt(tree, "metal"), inner("metal"));
  metal.say("In {thickness} {kind}");
  const process = new Teller("the cutting", "process", treeAt(tree, "process"), inner("process"));
  process.maybe("kerf", ", cut with a kerf of {kerf}").maybe("crater", ", craters of {crater}").maybe("row", ", cut by the row {row} of the cut chart");
  process.say(".");

  const sheets = ["middle", "back"].map((key) => sheetOf(key, tree, inner(key)));
  top.used.add("middle").add("back");

  top.maybe("mount", "Held by {mount}").maybe("read from", top.has("mount") ? ", read from {read from}" : "Read from {read from}");
  if (top.has("mount") || top.has("read from")) top.say(".");
  top.maybe("house number", " It is {house number}.").maybe("within reach", " It hangs {within reach}.");
  if (top.has("finish")) top.pieces.push(" Its finish is ", ...finishOf(top), ".");
  top.maybe("wall", " Behind it is {wall}.");
  if (top.has("alone")) top.say(" Each of {alone} may stand alone.");
  const agreed = new Teller("what was agreed", "agreed", treeAt(tree, "agreed"), inner("agreed").map((it) => ({ ...it, label: `agreed ${it.key}` })));
  if (top.has("agreed")) top.pieces.push(...agreed.say(" Agreed on proof {proof}").maybe("revision", ", revision {revision}").say(", digest {digest}.").pieces);
  top.used.add("accept").add("limits").add("agreed").add("cut");

  return {
    title: whole.value("sign"),
    order: { pieces: smooth(order.pieces, false), unsaid: unsaidOf(order) },
    metal: { pieces: smooth([...metal.pieces, ...process.pieces, ...sheets.flatMap((it) => it.pieces)]),
      unsaid: [...unsaidOf(metal), ...unsaidOf(process), ...sheets.flatMap(unsaidOf)] },
    use: { pieces: smooth(top.pieces), unsaid: [...unsaidOf(top), ...unsaidOf(agreed)] },
  };
}

/** Its finish, and how thick its coat is where that is known: each a value of its own. */
function finishOf(own: Teller): Piece[] {
  const raw = own.raw("finish");
  own.used.add("finish");
  if (!isTable(raw)) return [own.value("finish") ?? ""];
  const parts = Object.entries(raw).map(([key, value]): Value => ({
    path: join(join(own.base, "finish"), key), field: ownField(key, key === "coat" ? "length" : "text", key === "coat" ? "how thick the coat is on each side" : "its colour"),
    raw: value, shown: tight(shownText(value)), label: `${key} of ${own.what}`,
  }));
  return parts.flatMap((it, i): Piece[] =>
    (it.field.key === "coat" ? ["a coat of ", it, " on each side"] : [`${it.field.key} `, it]).concat(i < parts.length - 1 ? [", "] : []) as Piece[]);
}

function unsaidOf(it: Teller): Value[] {
  return it.fields.filter((field) => !it.used.has(field.key) && !it.has(field.key)).flatMap((field) => it.value(field.key) ?? []);
}

/** The sentence as text: for tests, and for names of things. */
export const plain = (sentence: Sentence): string =>
  sentence.pieces.map((piece) => (typeof piece === "string" ? piece : piece.shown === "" ? "…" : piece.shown)).join("").replace(/\u00a0/g, " ").trim();

// SPDX-License-Identifier: GPL-3.0-or-later
// The recipe as plain sentences. A sentence is a list of pieces: words, and values that can be
// changed. Each kind of entry has its own way of being said; what a way leaves out and the recipe
// says is added as a clause, so a sentence always says all of its entry. Pure: no signals, no DOM.
import type { Tree } from "../api";
import { isTable, join, str, at as treeAt } from "./path";
import type { Entry } from "./names";
import type { Field, Schema } from "./schema";
import { clause, label, said, yesNo } from "./words";

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

export function shown(field: Pick<Field, "kind" | "key">, raw: Tree | undefined): string {
  if (raw === undefined || raw === null || raw === "") return "";
  if (field.kind === "font") return fontShown(raw);
  if (Array.isArray(raw)) {
    const words = raw.map((item) => (Array.isArray(item) ? item.map(String).join(" across, ") + " up" : tight(shownText(item))));
    return field.kind === "texts" ? words.join(" / ") : field.kind === "point" || field.kind === "numbers" ? words.join(", ") : listed(words);
  }
  const text = shownText(raw);
  if (field.kind === "yes" && /^(yes|true|no|false)$/.test(text)) return yesNo(field.key)[/^(yes|true)$/.test(text) ? 0 : 1];
  if (field.kind === "choice") return said(field.key, text).word;
  return tight(text);
}

const shownText = (raw: Tree): string =>
  typeof raw === "string" ? raw : typeof raw === "number" || typeof raw === "boolean" ? String(raw) : JSON.stringify(raw);

const LENGTH = /^[-+−]?[\d.½¼¾⅛⅜⅝⅞]/u;
const PLACE = /clock|deg|°|^(top|bottom|left|right|cent)/;

// --- one entry, being said ---

/** One or several: each with its path. */
function items(raw: Tree | undefined, path: string): [Tree, string][] {
  if (raw === undefined) return [];
  return Array.isArray(raw) ? raw.map((it: Tree, i): [Tree, string] => [it, `${path}[${i}]`]) : [[raw, path]];
}

class Teller {
  readonly used = new Set<string>();
  readonly pieces: Piece[] = [];
  /** said at the very end: "; called boats" */
  nameLast = false;

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
    return { path, field: as, raw, shown: shown(as, raw), label: `${label(key)} of ${this.what}` };
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
    if (key === "at" || key === "keep free") this.places(key);
    else if (this.field(key)?.kind === "point" || this.field(key)?.kind === "numbers") this.point(key);
    else if (this.field(key)?.kind === "names") this.names(key);
    else {
      const value = this.value(key);
      if (value !== null) this.pieces.push(value);
    }
  }

  /** 30 mm across and -10 mm up; of several: (30 mm, -10 mm) */
  private pair(key: string, raw: Tree[], path: string, words: [string, string, string] = ["", " across and ", " up"]): void {
    ["across", "up"].forEach((name, i) => {
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
    return this
      .maybe("at", `, at ${the}{at}`)
      .maybe("on", this.has("at") ? " of {on}" : ", on {on}")
      .maybe("above", ", above {above}").maybe("below", ", below {below}")
      .maybe("left of", ", to the left of {left of}").maybe("right of", ", to the right of {right of}")
      .maybe("gap", ", {gap} clear of it")
      .maybe("shift", ", then moved {shift}").maybe("turn", ", turned by {turn}");
  }

  /** What the recipe says and nothing above did. */
  rest(): this {
    for (const field of this.fields) {
      if (this.used.has(field.key) || !this.has(field.key)) continue;
      const [before, after] = clause(field.key);
      this.say(`, ${before === "" ? "" : `${before} `}{${field.key}}${after === "" ? "" : ` ${after}`}`);
    }
    return this;
  }
  end(): Sentence {
    const last = this.nameLast && !this.used.has("name");
    if (last) this.used.add("name");
    this.rest();
    if (last && this.has("name")) this.say("; called {name}");
    if (last && !this.has("name")) this.used.delete("name");
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
  const tidy = (text: string): string => text.replace(/ +([,.;])/g, "$1").replace(/,,/g, ",").replace(/ {2,}/g, " ");
  const tidied = out.map((piece) => (typeof piece === "string" ? tidy(piece) : piece));
  const [first, ...others] = tidied;
  if (first === undefined) return [];
  if (typeof first === "string") return [sentence ? capital(first.replace(/^[,; ]+/, "")) : first.replace(/^[,; ]+/, ""), ...others];
  return first.field.key === "as" ? [{ ...first, shown: capital(first.shown) }, ...others] : tidied;
}

const opening = (it: Teller): boolean => it.raw("as") === "opening";

/** "A plate, oval, 400 mm wide": of metal; "Cut through, a plate …": as an opening. */
function thing(it: Teller, noun: string): Teller {
  if (opening(it)) it.say("{as}: ");
  it.say(noun);
  return it.maybe("name", ", {name}");
}

function lettering(it: Teller): Teller {
  it.say(" in {font}");
  it.maybe("font size", ", set at a size of {font size}");
  if (it.has("height") && it.has("spacing")) return it.say(", letters {height} high and spaced by {spacing}");
  return it.maybe("height", ", letters {height} high").maybe("spacing", ", letters spaced by {spacing}");
}

const TELL: Record<string, (it: Teller) => Teller> = {
  ring: (it) => thing(it, "a ring").say(", {outer} across").maybe("inner", ", {inner} inside").maybe("width", " and {width} wide").place(),

  plate: (it) => {
    thing(it, `${/^[aeiou]/.test(shown({ kind: "choice", key: "shape" }, it.raw("shape"))) ? "an" : "a"} {shape} plate`);
    it.maybe("diameter", ", {diameter} across");
    if (it.has("width") && it.has("height")) it.say(", {width} by {height}");
    else it.maybe("width", ", {width} wide").maybe("height", ", {height} high");
    return it.maybe("sides", ", with {sides} sides").maybe("rise", ", its arch rising {rise}").maybe("corner", ", corners rounded by {corner}")
      .maybe("grow", ", {grow} round").maybe("around", it.has("grow") ? " {around}" : ", round {around}").place();
  },

  bar: (it) => thing(it, "a bar").say(", {length} long and {height} high").maybe("corner", ", corners rounded by {corner}").place(),

  "gate arch": (it) => {
    thing(it, "a gate arch");
    if (it.has("over")) it.say(" over {over}").maybe("clear", ", {clear} clear of it");
    it.maybe("chord", ", {chord} wide at its feet").maybe("rise", ", rising {rise}").maybe("legs", ", on legs of {legs}");
    return it.say(", its strip {width} wide").place();
  },

  words: (it) => {
    if (it.has("band")) it.say("In the band between {band} ").say(opening(it) ? "{text} is {as}," : "stands {text}");
    else if (it.has("stand on")) it.say("On {stand on} stands {text}");
    else if (opening(it)) it.say("{text} is {as},");
    else it.say("{text} stands");
    lettering(it).maybe("fill band", ", {fill band}").maybe("arc radius", ", along an arc of {arc radius} radius");
    it.nameLast = true;
    return it.place();
  },

  initial: (it) => {
    it.say(opening(it) ? "The initial {text} is {as}," : "The initial {text} stands");
    lettering(it).maybe("interlace", ", woven with {interlace} clear where they cross");
    it.maybe("fill window of", ", as large as the window of {fill window of} allows").maybe("clear", ", {clear} clear of it");
    if (it.has("fill window of")) it.maybe("bite", ", biting {bite} into it");
    it.maybe("split by", ", split by {split by}").maybe("split gap", " with {split gap} clear above and below").maybe("split bar", " between bars {split bar} high");
    it.nameLast = true;
    return it.place();
  },

  dot: (it) => separator(thing(it, "a dot").maybe("diameter", ", {diameter} across")),
  diamond: (it) => separator(thing(it, "a diamond").maybe("height", ", {height} high").maybe("width", " and {width} wide")),
  star: (it) => separator(thing(it, "a star").maybe("diameter", ", {diameter} across").maybe("points", ", with {points} points")),

  hole: (it) => it.say("A hole").maybe("name", ", {name},").say(" of {diameter}").place().maybe("hanging", "; {hanging}"),

  "hole pattern": (it) => {
    it.say("Holes").maybe("name", ", {name},").say(" of {diameter}");
    if (it.has("columns") || it.has("rows")) it.maybe("columns", ", {columns} side by side").maybe("rows", ", {rows} above each other").maybe("pitch", ", {pitch} apart");
    it.maybe("staggered", ", {staggered}").maybe("count", ", {count} of them").maybe("circle", " round a circle of {circle}");
    return it.place();
  },

  ear: (it) => it.say("An ear").maybe("name", ", {name},").say(" with a hole of {hole}").maybe("width", ", {width} wide").maybe("height", ", {height} high").place(),
  foot: (it) => it.say("A foot").maybe("name", ", {name}").say(", {width} wide and {height} high").place(),
  stake: (it) => it.say("A stake").maybe("name", ", {name}").say(", {width} wide and {length} long").maybe("point", ", its point {point}").place(),

  tie: (it) => {
    it.say("A tie").maybe("name", ", {name},").say(" of {of}");
    it.maybe("opening", ", from its opening {opening}").maybe("em", ", {em}").maybe("direction", ", running to the {direction}");
    return it.maybe("width", ", {width} wide").maybe("length", ", {length} long").place();
  },

  ties: (it) => {
    it.say("Ties").maybe("name", ", {name},").say(" hold what would fall out").maybe("of", " of {of}").maybe("direction", ", running {direction}");
    return it.maybe("width", ", {width} wide").maybe("count", ", at least {count} for each part").maybe("keep free", ", none at the {keep free}").maybe("not on", ", none on {not on}");
  },

  mend: (it) => {
    it.say("Mended").maybe("name", ", {name},").maybe("of", " in {of}").say(":");
    const ways = [["fill", "openings too small to cut are {fill}"], ["enlarge", "openings too small to pierce are {enlarge}"],
      ["thicken", "metal under its limit is {thicken}"], ["round", "sharp points are rounded by {round}"]] as const;
    const said = ways.filter(([key]) => it.has(key));
    if (said.length === 0) it.say(" openings too small are filled, thin metal is made wider");
    said.forEach(([, words], i) => it.say(`${i === 0 ? " " : ", "}${words}`));
    return it;
  },
};

function separator(it: Teller): Teller {
  return it.maybe("band", ", in the band between {band}").maybe("bite", ", biting {bite} into each").place();
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
  const it = new Teller(called(entry), entry.path, entry.body, known?.fields ?? []);
  const tell = TELL[entry.kind];
  return (tell === undefined ? it.say(`A ${entry.kind}`).place() : tell(it)).end();
}

// --- the head of the slip ---

export interface Head {
  title: Value | null;
  order: Sentence;
  metal: Sentence;
  use: Sentence;
}

export function headOf(tree: Tree, schema: Schema): Head {
  const field = (key: string): Field | undefined => schema.head.find((it) => it.key === key);
  const inner = (key: string): Field[] => field(key)?.fields ?? [];
  const top = new Teller("the sign", "", tree, schema.head.filter((it) => !["sign", "metal", "process", "order"].includes(it.key)));
  const whole = new Teller("the sign", "", tree, schema.head);

  const order = new Teller("the order", "order", treeAt(tree, "order"), inner("order"));
  order.maybe("customer", "for {customer}").maybe("number", ", order {number}").maybe("date", " of {date}").maybe("quantity", ", {quantity} to be made");

  const metal = new Teller("the metal", "metal", treeAt(tree, "metal"), inner("metal"));
  metal.say("In {thickness} {kind}");
  const process = new Teller("the cutting", "process", treeAt(tree, "process"), inner("process"));
  process.maybe("kerf", ", cut with a kerf of {kerf}").maybe("crater", ", craters of {crater}").maybe("row", ", cut by the row {row} of the cut chart");
  process.say(".");

  top.maybe("mount", "Held by {mount}").maybe("read from", top.has("mount") ? ", read from {read from}" : "Read from {read from}");
  if (top.has("mount") || top.has("read from")) top.say(".");
  top.maybe("house number", " It is {house number}.").maybe("within reach", " It hangs {within reach}.");
  if (top.has("alone")) top.say(" Each of {alone} may stand alone.");
  top.used.add("accept").add("limits");

  return {
    title: whole.value("sign"),
    order: { pieces: smooth(order.pieces, false), unsaid: unsaidOf(order) },
    metal: { pieces: smooth([...metal.pieces, ...process.pieces]), unsaid: [...unsaidOf(metal), ...unsaidOf(process)] },
    use: { pieces: smooth(top.pieces), unsaid: unsaidOf(top) },
  };
}

function unsaidOf(it: Teller): Value[] {
  return it.fields.filter((field) => !it.used.has(field.key) && !it.has(field.key)).flatMap((field) => it.value(field.key) ?? []);
}

/** The sentence as text: for tests, and for names of things. */
export const plain = (sentence: Sentence): string =>
  sentence.pieces.map((piece) => (typeof piece === "string" ? piece : piece.shown === "" ? "…" : piece.shown)).join("").replace(/\u00a0/g, " ").trim();

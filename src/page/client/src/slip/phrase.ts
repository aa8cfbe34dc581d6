// SPDX-License-Identifier: GPL-3.0-or-later
// "a hole of 6 mm at the top" as an entry: what is said goes in, what is not said is guessed from
// the sign, and stands in the sentence afterwards where it can be changed.
import type { Tree } from "../api";
import { entriesOf, freeName } from "./names";
import type { Entry } from "./names";
import { isTable, at, str } from "./path";
import type { Table } from "./path";
import { yaml } from "./yaml";

/** Words for a kind, longest first where one holds another. */
const CALLED: [RegExp, string][] = [
  [/\b(pattern of holes|hole pattern|holes in a|row of holes|grid of holes|circle of holes)\b/, "hole pattern"],
  [/\b(gate arch|arch)\b/, "gate arch"],
  [/\bholes?\b/, "hole"], [/\b(rings?|hoop)\b/, "ring"], [/\bplates?\b|\bboards?\b/, "plate"], [/\b(bar|rail|strip)s?\b/, "bar"],
  [/\binitials?\b/, "initial"], [/\bdots?\b/, "dot"], [/\bdiamonds?\b/, "diamond"], [/\bstars?\b/, "star"],
  [/\b(ear|lug)s?\b/, "ear"], [/\b(foot|feet)\b/, "foot"], [/\bstakes?\b/, "stake"], [/\bties\b/, "ties"], [/\btie\b/, "tie"],
  [/\b(mend|mending|mended)\b/, "mend"], [/\b(words?|letters|text|name|number|year)\b/, "words"],
];

/** The sizes of a kind: the word that follows or goes before, the field, and a usual figure in mm. */
const SIZES: Record<string, [RegExp, string, number][]> = {
  ring: [[/across|outer|diameter|of/, "outer", 400], [/wide|width/, "width", 16]],
  plate: [[/wide|width|of|across/, "width", 600], [/high|height|by/, "height", 300]],
  bar: [[/long|length|of/, "length", 800], [/high|height|wide|by/, "height", 20]],
  "gate arch": [[/across|chord|of/, "chord", 1100], [/rise|rising|high/, "rise", 300], [/wide|width/, "width", 25]],
  words: [[/high|height|of/, "height", 60]],
  initial: [[/high|height|of/, "height", 200]],
  dot: [[/across|of|diameter/, "diameter", 14]],
  diamond: [[/high|of/, "height", 30], [/wide|width/, "width", 20]],
  star: [[/across|of|diameter/, "diameter", 40]],
  hole: [[/of|across|diameter/, "diameter", 6]],
  "hole pattern": [[/of|across|diameter/, "diameter", 10], [/apart|pitch/, "pitch", 20]],
  ear: [[/hole|of/, "hole", 8]],
  foot: [[/wide|width|of/, "width", 60], [/high|height|by/, "height", 15]],
  stake: [[/long|length|of/, "length", 250], [/wide|width/, "width", 16]],
  tie: [[/wide|width|of/, "width", 3]],
  ties: [[/wide|width/, "width", 3]],
  mend: [],
};
/** What a kind needs to be there at all. */
const NEEDS: Record<string, string[]> = {
  ring: ["outer", "width"], plate: ["width", "height"], bar: ["length", "height"], "gate arch": ["chord", "rise", "width"], words: ["height"], initial: ["height"],
  dot: ["diameter"], diamond: ["height"], star: ["diameter"], hole: ["diameter"], "hole pattern": ["diameter", "pitch"], ear: ["hole"],
  foot: ["width", "height"], stake: ["length", "width"], tie: [], ties: [], mend: [],
};

const LENGTH = /[-+]?(?:\d+[- ]\d+\/\d+|\d+\/\d+|\d+\.?\d*|\.\d+) ?(?:mm|cm|m|inches|inch|in|ft|"|'|%)(?![a-z])/gi;
const PLACE = /\b(?:at|in) (?:the )?((?:top|bottom)(?: left| right)?|left end|right end|left|right|centre|center|middle|\d{1,2} ?o['’]?clock|[-+]?\d+ ?deg)/i;
const SHAPES: [RegExp, string][] = [[/\bround-cornered|rounded\b/, "rounded"], [/\bround\b/, "round"], [/\boval\b/, "oval"], [/\brectang/, "rectangle"], [/\barch-topped\b/, "arch-topped"], [/\bshield/, "shield"], [/\bpolygon|many-sided\b/, "polygon"]];

export interface Phrase {
  kind: string;
  body: Table;
}

/** The recipe's own unit, so that a sign in inches gets inches. */
function ownInches(tree: Tree): boolean {
  const text = JSON.stringify(tree);
  return (text.match(/\d ?(in|inch|″|”)["\\]|\d\\"/g) ?? []).length > (text.match(/\d ?mm"/g) ?? []).length;
}
function usual(mm: number, inches: boolean): string {
  if (!inches) return `${mm} mm`;
  const eighths = Math.max(1, Math.round((mm / 25.4) * 8));
  const whole = Math.floor(eighths / 8);
  let over = eighths % 8;
  let under = 8;
  while (over > 0 && over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  return over === 0 ? `${whole} in` : whole === 0 ? `${over}/${under} in` : `${whole}-${over}/${under} in`;
}

function namedIn(text: string, entries: Entry[]): Entry | undefined {
  const found = entries.filter((it) => new RegExp(`(^|[^\\p{L}\\p{N}])${it.name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")}($|[^\\p{L}\\p{N}])`, "iu").test(text));
  return found.sort((a, b) => b.name.length - a.name.length)[0];
}

/** The text that words or an initial are to say: in quotes, or what stands in capitals. */
function lettering(text: string): string | null {
  const quoted = /["“'‘]([^"”'’]+)["”'’]/u.exec(text);
  if (quoted?.[1] !== undefined) return quoted[1].trim();
  const capitals = text.match(/(?<![\p{L}\p{N}])\p{Lu}[\p{Lu}\p{N}&'’.-]*(?: \p{Lu}[\p{Lu}\p{N}&'’.-]*)*(?![\p{L}\p{N}])/gu);
  return capitals?.[0] ?? null;
}

/** Null: no kind of entry can be made out. */
export function understand(said: string, tree: Tree): Phrase | null {
  const text = said.trim().replace(/^and /i, "");
  const lower = text.toLowerCase();
  const kind = CALLED.map(([word, it]) => ({ it, where: lower.search(word) })).filter((it) => it.where >= 0).sort((a, b) => a.where - b.where)[0]?.it;
  if (kind === undefined) return null;
  const entries = entriesOf(tree);
  const body: Table = {};
  const spoken = lettering(text);
  const rest = spoken === null ? text : text.replace(spoken, " ");
  readSizes(rest, kind, body);
  const inches = ownInches(tree);
  const named = namedIn(rest, entries);
  const place = PLACE.exec(rest)?.[1]?.toLowerCase().replace("middle", "centre").replace("center", "centre").replace(/(\d) ?o['’]?clock/, "$1 o'clock");
  const ends = /\b(both|each|either) ends?\b/i.test(rest);
  if (ends) body["at"] = ["left end", "right end"];
  else if (place !== undefined) body["at"] = place;
  settle(kind, body, tree, entries, named, spoken, lower);
  for (const [, field, mm] of SIZES[kind] ?? [])
    if (body[field] === undefined && (NEEDS[kind] ?? []).includes(field) && !(body["fill band"] === "yes" || body["fill window of"] !== undefined) && !(body["band"] !== undefined && kind !== "words"))
      body[field] = usual(mm, inches);
  return { kind, body: inOrder(body) };
}

function readSizes(text: string, kind: string, body: Table): void {
  const sizes = SIZES[kind] ?? [];
  for (const found of text.matchAll(LENGTH)) {
    const length = found[0].replace(/(\d)(mm|cm|m|in|ft)$/i, "$1 $2");
    const after = text.slice(found.index + found[0].length, found.index + found[0].length + 12).toLowerCase();
    const before = text.slice(Math.max(0, found.index - 12), found.index).toLowerCase();
    const next = /^\s*(?!of\b|by\b)([a-z]+)/.exec(after)?.[1] ?? ""; // of and by go before a size
    const prior = /([a-z]+)\s*$/.exec(before)?.[1] ?? "";
    const field = sizes.find(([word, it]) => body[it] === undefined && new RegExp(`^(?:${word.source})$`).test(next))?.[1]
      ?? sizes.find(([word, it]) => body[it] === undefined && new RegExp(`^(?:${word.source})$`).test(prior))?.[1]
      ?? sizes.find(([, it]) => body[it] === undefined)?.[1];
    if (field !== undefined) body[field] = length;
  }
}

/** What the sign itself suggests: words stand on the rail, an ear hangs from the ring. */
function settle(kind: string, body: Table, tree: Tree, entries: Entry[], named: Entry | undefined, spoken: string | null, lower: string): void {
  const of = (...kinds: string[]): Entry | undefined => (named !== undefined && kinds.includes(named.kind) ? named : entries.find((it) => kinds.includes(it.kind)));
  const rings = entries.filter((it) => it.kind === "ring");
  const arches = entries.filter((it) => it.kind === "gate arch");
  const pair = rings.length >= 2 ? rings : arches.length >= 2 ? arches : [];
  const band = pair.slice(0, 2).sort((a, b) => parseFloat(str(a.body["outer"])) - parseFloat(str(b.body["outer"]))).map((it) => it.name);
  const ground = of("plate", "ring", "bar", "gate arch");
  const font = entries.map((it) => it.body["font"]).find((it) => it !== undefined) ?? "Bebas Neue";
  const on = (): void => {
    if (body["on"] === undefined && ground !== undefined) body["on"] = ground.name;
  };
  switch (kind) {
    case "ring": case "plate": case "bar": case "gate arch": {
      const names: Record<string, string> = { ring: "ring", plate: "board", bar: "rail", "gate arch": "arch" };
      body["name"] = freeName(tree, names[kind] ?? kind);
      if (kind === "plate") {
        const shape = SHAPES.find(([word]) => word.test(lower))?.[1] ?? "rectangle";
        body["shape"] = shape;
        if (shape === "rounded") body["corner"] = usual(20, ownInches(tree));
        if (shape === "arch-topped") body["rise"] = usual(80, ownInches(tree));
        if (shape === "round" || shape === "polygon") {
          body["diameter"] = body["width"] ?? usual(400, ownInches(tree));
          delete body["width"];
          body["height"] = null; // not of these shapes
        }
        if (shape === "polygon") body["sides"] = "6";
      }
      break;
    }
    case "words": {
      body["text"] = spoken ?? "Words";
      body["font"] = font;
      const bar = of("bar");
      const plate = of("plate");
      if (band.length === 2 && (named === undefined || /\bband\b|between/.test(lower))) {
        const taken = entries.filter((it) => it.body["band"] !== undefined).map((it) => it.body["at"]);
        Object.assign(body, { band, "fill band": "yes" });
        body["at"] ??= taken.includes("top") ? "bottom" : "top";
      } else if (bar !== undefined && (named === undefined || named === bar) && !/\bcut\b/.test(lower)) body["stand on"] = bar.name;
      else if (plate !== undefined) Object.assign(body, { as: "opening", on: plate.name });
      break;
    }
    case "initial": {
      body["text"] = spoken?.slice(0, 1) ?? "S";
      body["font"] = font;
      const ring = rings.length > 0 ? of("ring") : undefined;
      if (ring !== undefined && body["height"] === undefined) Object.assign(body, { "fill window of": band[0] ?? ring.name, bite: usual(4, ownInches(tree)) });
      break;
    }
    case "dot": case "diamond": case "star": {
      const size = Object.keys(body).some((key) => key !== "at");
      if (band.length === 2 && !size && named === undefined) {
        body["band"] = band;
        body["at"] ??= ["left", "right"];
      } else {
        on();
        if (ground !== undefined && ground.kind === "plate") body["as"] = "opening";
      }
      break;
    }
    case "hole": on(); body["at"] ??= ground === undefined ? "centre" : "top"; break;
    case "hole pattern": Object.assign(body, { columns: "6", rows: "3" }); on(); break;
    case "ear":
      on();
      body["at"] ??= ground?.kind === "bar" ? ["left end", "right end"] : "top";
      break;
    case "foot": on(); body["at"] ??= ["left end", "right end"]; break;
    case "stake": on(); body["at"] ??= ground?.kind === "bar" ? "centre" : "bottom"; break;
    case "tie": body["of"] = (named ?? entries.find((it) => it.kind === "words"))?.name ?? "words 1"; break;
    case "ties": if (named !== undefined) body["of"] = named.name; break;
    case "mend": if (named !== undefined) body["of"] = named.name; break;
  }
}

const ORDER = ["name", "text", "shape", "outer", "width", "length", "height", "diameter", "hole", "font"];
function inOrder(body: Table): Table {
  const keys = Object.keys(body).filter((key) => body[key] !== null);
  keys.sort((a, b) => (ORDER.indexOf(a) + 1 || 99) - (ORDER.indexOf(b) + 1 || 99));
  return Object.fromEntries(keys.map((key) => [key, body[key] ?? null]));
}

/** As YAML on one line, for a list of entries. */
export function asItem(phrase: Phrase): string {
  return `${phrase.kind}: ${yaml(phrase.body)}`;
}

/** Whether the recipe has something for this kind to be put on or in. */
export const isEmptySign = (tree: Tree): boolean => !isTable(tree) || !Array.isArray(at(tree, "entries"));

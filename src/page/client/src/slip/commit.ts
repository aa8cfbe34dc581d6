// SPDX-License-Identifier: GPL-3.0-or-later
// From what was typed over a value to edits of the recipe. Pure.
import type { Edit, Tree } from "../api";
import { at, entryOf, isTable, join, parent, say, steps, str } from "./path";
import { entriesOf, mentions, renamed } from "./names";
import type { Schema } from "./schema";
import type { Value } from "./sentences";
import { companions } from "./companions";
import { ownInches, stretch, usual } from "./usual";
import { withUnit } from "./amount";
import { yaml } from "./yaml";

const PLACE = /^(top|bottom|left|right|(top|bottom) (left|right)|(left|right) end|cent(re|er)|(1[0-2]|[1-9]) ?o['’]?clock|[-+−]?[\d.]+ ?(deg|degrees?|°))$/i;

/** The value as one types it: lists with commas, lines for lines. */
export function typed(value: Value): string {
  const { raw, field } = value;
  if (raw === undefined || raw === null) return "";
  if (field.kind === "font") return value.shown;
  if (field.kind === "texts" && Array.isArray(raw)) return raw.map(str).join("\n");
  if (Array.isArray(raw)) return raw.map((item) => (Array.isArray(item) ? item.map(str).join(", ") : str(item))).join(raw.some(Array.isArray) ? "; " : ", ");
  return str(raw);
}

const parts = (text: string, by = /,|;/): string[] => text.split(by).map((it) => it.trim()).filter((it) => it !== "");

/** Whether it is worth trying while one is still typing. */
export function ripe(value: Value, text: string): boolean {
  const { field } = value;
  if (field.key === "name" || text.trim() === "") return false;
  switch (field.kind) {
    case "text": case "texts": return true;
    case "whole": return /^\d+$/.test(text.trim()) && (field.min === null || Number(text) >= field.min) && (field.max === null || Number(text) <= field.max);
    case "length": case "thickness": case "share": case "spacing": case "quantity": case "place":
      return field.pattern?.test(withUnit(text.trim(), typed(value))) ?? false;
    default: return false;
  }
}

/** What the text says as a value of that field; undefined: nothing. */
export function meant(value: Value, text: string): Tree | undefined {
  const { field } = value;
  const bare = text.trim();
  if (bare === "") return undefined;
  switch (field.kind) {
    case "texts": {
      const lines = text.split("\n").map((line) => line.trim()).filter((line) => line !== "");
      return lines.length === 1 ? lines[0] : lines;
    }
    case "choices": return parts(bare);
    case "names": {
      const names = parts(bare, /,|;/);
      return names.length === 1 ? names[0] : names;
    }
    case "point": case "numbers": return parts(bare, field.pair === "place" ? /,|;/ : /,|;| by | x | and | across /);
    case "margin": return bare.includes(",") ? parts(bare).map((it) => withUnit(it, typed(value))) : withUnit(bare, typed(value));
    case "points": return bare.split(";").map((it) => it.trim()).filter((it) => it !== "").map((it) => spot(it));
    case "places": {
      const spots = bare.split(";").map((it) => it.trim()).filter((it) => it !== "").map((it) => spot(it));
      const flat = spots.length === 1 ? spots[0] : spots;
      return flat;
    }
    case "font": return bare;
    default: return withUnit(bare, typed(value));
  }
}

/** "top" / "left end, right end" / "30 mm, -10 mm" */
function spot(text: string): Tree {
  const all = parts(text, /,/);
  if (all.length < 2) return text;
  return all;
}

/** The edits that make the recipe say `text` where `value` stands. */
export function editsFor(tree: Tree, value: Value, text: string, schema: Schema | null): Edit[] {
  const { field, path } = value;
  const bare = text.trim();
  const index = entryOf(path);
  if (field.key === "name" && index !== null) {
    const entry = entriesOf(tree).find((it) => it.index === index);
    if (entry !== undefined && bare !== "") return bare === entry.name && entry.named ? [] : renamed(tree, entry, bare, schema);
    if (entry !== undefined && mentions(tree, entry.name, schema).length > 0) return []; // others call it so
  }
  const last = steps(path)[steps(path).length - 1];
  if (typeof last === "number") return editsForItem(tree, value, bare, last);
  const shape = field.kind === "choice" && index !== null ? shapeEdits(tree, value, bare, schema) : null;
  if (shape !== null) return shape;
  if (value.raw === undefined && index !== null && bare !== "") return [...said(tree, value, text), ...brought(tree, value, text, schema)];
  return said(tree, value, text);
}

/** What comes along with a key that was not there before. */
function brought(tree: Tree, value: Value, text: string, schema: Schema | null): Edit[] {
  const above = parent(value.path);
  const body = at(tree, above);
  const kind = schema?.entries.get(String(steps(value.path)[2] ?? ""));
  const to = meant(value, text);
  if (kind === undefined || !isTable(body) || to === undefined) return [];
  const now = { ...body, [value.field.key]: to };
  companions(kind, now, ownInches(tree));
  return Object.entries(now).filter(([key]) => body[key] === undefined && key !== value.field.key).map(([key, it]): Edit => ({ do: "set", path: join(above, key), value: str(it) }));
}

function said(tree: Tree, value: Value, text: string): Edit[] {
  const { field, path } = value;
  const bare = text.trim();
  // one place that becomes so far across and up: "30 mm, -10 mm"
  if (field.kind === "place" && bare.includes(",")) return say(tree, path, spot(bare));
  return say(tree, path, meant(value, text));
}

/**
 * A choice that decides which sizes there are (the shape of a plate) brings those along: what it has none of goes, what it
 * needs is taken from what was there, or is as usual. Null: it decides nothing.
 */
function shapeEdits(tree: Tree, value: Value, word: string, schema: Schema | null): Edit[] | null {
  const choice = value.field.choices.find((it) => it.word === word);
  const above = parent(value.path);
  const body = at(tree, above);
  const kind = schema?.entries.get(String(steps(value.path)[2] ?? ""));
  if (choice === undefined || kind === undefined || !isTable(body) || !value.field.choices.some((it) => it.must.length > 0)) return null;
  const inches = ownInches(tree);
  const bound = new Set(value.field.choices.flatMap((it) => [...it.must, ...it.may, ...(it.unless === null ? [] : [it.unless])]));
  const has = (key: string): boolean => choice.must.includes(key) || choice.may.includes(key) || choice.unless === key;
  const follows = choice.unless !== null && body[choice.unless] !== undefined;
  const now = Object.fromEntries(Object.entries(body).filter(([key]) => !bound.has(key) || has(key)));
  for (const key of choice.must) {
    const field = kind.fields.find((it) => it.key === key);
    if (field === undefined || now[key] !== undefined || (follows && field.kind === "length" && field.heard !== null)) continue;
    const [as] = (SAME[key] ?? []).flatMap((other) => (typeof body[other] === "string" ? [body[other]] : []));
    now[key] = as ?? (field.kind === "whole" ? String(field.usual ?? 1) : usual(field.usual ?? 100, inches));
  }
  stretch(now, choice.tall);
  const edits = Object.keys(body).filter((key) => now[key] === undefined).map((key): Edit => ({ do: "remove", path: join(above, key) }));
  const said = Object.entries(now).filter(([key, it]) => key !== value.field.key && it !== body[key]).map(([key, it]): Edit => ({ do: "set", path: join(above, key), value: str(it) }));
  return [...say(tree, value.path, word), ...edits, ...said];
}
const SAME: Record<string, string[]> = { diameter: ["width", "height"], width: ["diameter"], height: ["diameter"] };

/** An item of a list: a place among several, one of two names, across or up of a point. */
function editsForItem(tree: Tree, value: Value, text: string, index: number): Edit[] {
  const { path, field } = value;
  const list = parent(path);
  const holder = at(tree, list);
  const isPair = Array.isArray(holder) && holder.length === 2 && (field.kind === "length" || field.kind === "number") && !isTable(holder[0]);
  if (isPair && (text === "" || PLACE.test(text))) {
    // a point gives way to a place with a name, or goes
    const above = steps(list)[steps(list).length - 1];
    if (text !== "") return [{ do: "set", path: list, value: text }];
    return typeof above === "number" ? removeItem(tree, list) : say(tree, list, undefined);
  }
  if (text === "") return removeItem(tree, path);
  if (field.kind === "place" && text.includes(",")) return [{ do: "put", path, value: yaml(spot(text)) }];
  void index;
  return [{ do: "set", path, value: withUnit(text, typed(value)) }];
}

/** Takes one item out of a list; the last one takes the list along, a list of one becomes that one. */
export function removeItem(tree: Tree, path: string): Edit[] {
  const list = parent(path);
  const holder = at(tree, list);
  const index = steps(path)[steps(path).length - 1];
  if (!Array.isArray(holder) || typeof index !== "number") return say(tree, path, undefined);
  if (holder.length <= 1) return say(tree, list, undefined);
  const rest = holder.filter((_, i) => i !== index);
  const only = rest[0];
  if (rest.length === 1 && only !== undefined) return say(tree, list, only);
  return [{ do: "remove", path }];
}

/** One more place behind those that there are. */
export function anotherPlace(tree: Tree, path: string): Edit[] {
  const now = at(tree, path);
  const isPoint = (it: Tree | undefined): it is Tree[] => Array.isArray(it) && it.length === 2 && it.every((x) => typeof x === "string" && /\d ?(mm|cm|m|in|"|″|')/.test(x));
  const list: Tree[] = now === undefined ? [] : Array.isArray(now) && !isPoint(now) ? now : [now];
  const last = list[list.length - 1];
  const next: Tree = typeof last === "string" ? opposite(last) : isPoint(last) ? [mirrored(str(last[0])), str(last[1])] : "centre";
  return say(tree, path, list.length === 0 ? next : [...list, next]);
}

const mirrored = (length: string): string => (/^0 /.test(length) ? length : length.startsWith("-") ? length.slice(1) : `-${length}`);

/** On the other side: left for right, top for bottom, 1 o'clock for 11; the centre has none. */
export function opposite(place: string): string {
  const swap: Record<string, string> = { top: "bottom", bottom: "top", left: "right", right: "left" };
  const hour = /^(1[0-2]|[1-9])( ?o['’]?clock)$/.exec(place);
  if (hour !== null) return `${Number(hour[1]) % 6 === 0 ? 18 - Number(hour[1]) : 12 - Number(hour[1])}${hour[2] ?? ""}`;
  const turn = /^([-+−]?[\d.]+)( ?)(deg|degrees?|°)$/.exec(place);
  if (turn !== null) {
    const degrees = Number((turn[1] ?? "").replace("−", "-"));
    const across = degrees % 180 === 90 || degrees % 180 === -90 ? degrees + 180 : 180 - degrees;
    return `${((across % 360) + 360) % 360}${turn[2] ?? ""}${turn[3] ?? ""}`;
  }
  return place.replace(/\b(top|bottom|left|right)\b/g, (word) => swap[word] ?? word);
}

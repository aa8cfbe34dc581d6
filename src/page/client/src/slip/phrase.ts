// SPDX-License-Identifier: GPL-3.0-or-later
// "a hole of 6 mm at the top" as an entry: what is said goes in, what is not said is guessed from
// the sign, and stands in the sentence afterwards where it can be changed. By which words a kind, a
// choice and a size are heard, and what is usual, the core tells with them.
import type { Tree } from "../api";
import { entriesOf, freeName } from "./names";
import type { Entry } from "./names";
import { isTable, at, str } from "./path";
import type { Table } from "./path";
import { isOf, withRole } from "./schema";
import type { EntryKind, Field, Schema } from "./schema";
import { relate } from "./relations";
import { companions } from "./companions";
import { ownInches, stretch, usual } from "./usual";
import { yaml } from "./yaml";

const LENGTH = /[-+]?(?:\d+[- ]\d+\/\d+|\d+\/\d+|\d+\.?\d*|\.\d+) ?(?:mm|cm|m|inches|inch|in|ft|"|'|%)(?![a-z])/gi;
const PLACE = /\b(?:at|in) (?:the )?((?:top|bottom)(?: left| right)?|left end|right end|left|right|centre|center|middle|\d{1,2} ?o['’]?clock|[-+]?\d+ ?deg)/i;

export interface Phrase {
  kind: string;
  body: Table;
  /** words of it that say nothing to the page */
  unread: string[];
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

/** The kind that is heard first in the phrase; of those at one place the longest word. */
function kindIn(lower: string, schema: Schema): EntryKind | undefined {
  return [...schema.entries.values()].map((kind) => ({ kind, found: new RegExp(`\\b(?:${kind.heard})\\b`).exec(lower) }))
    .flatMap(({ kind, found }) => (found === null ? [] : [{ kind, where: found.index, long: found[0].length }]))
    .sort((a, b) => a.where - b.where || b.long - a.long)[0]?.kind;
}

const SMALL = /^(?:a|an|and|the|of|on|in|at|to|from|it|its|is|with|by|for|each|both|either|ends?|one|some|another|that|which|into|high|wide|long|across|say|saying|says|set|set as|cut|stands?|standing|called|about|so|as|layer|through|metal|opening|behind)$/;
/** Words that no kind, choice, size, place or name has heard. */
function unreadIn(rest: string, kind: EntryKind, named: Entry | undefined): string[] {
  let left = ` ${rest.toLowerCase()} `;
  const drop = (pattern: RegExp): void => void (left = left.replace(pattern, " "));
  drop(/["“‘][^"”’]*["”’]/gu);
  drop(new RegExp(`\\b(?:${kind.called.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")})\\b`, "g"));
  drop(new RegExp(`\\b(?:${kind.heard})\\b`, "g"));
  for (const field of kind.fields) for (const it of field.choices) if (it.heard !== null) drop(new RegExp(it.heard, "g"));
  if (named !== undefined) left = left.replaceAll(named.name.toLowerCase(), " ");
  drop(LENGTH);
  drop(PLACE);
  const words = left.split(/[^\p{L}\p{N}'’-]+/u).filter((it) => it !== "");
  return words.filter((it) => !SMALL.test(it) && !kind.fields.some((field) => hears(field, it)));
}

/** Null: no kind of entry can be made out. */
export function understand(said: string, tree: Tree, schema: Schema): Phrase | null {
  const text = said.trim().replace(/^and /i, "");
  const lower = text.toLowerCase();
  const kind = kindIn(lower.replace(/["“‘][^"”’]+["”’]/gu, " "), schema) ?? kindIn(lower, schema); // a name may be THE CROWN
  if (kind === undefined) return null;
  const entries = entriesOf(tree);
  const body: Table = {};
  const spoken = lettering(text);
  const told = readFile(spoken === null || !kind.flags.includes("lettering") ? text : text.replace(spoken, " "), kind, body);
  const { rest } = relate(told, kind, entries, body);
  const fields = choose(kind, rest.toLowerCase(), body);
  readSizes(rest, fields, body);
  const named = namedIn(rest, entries);
  const place = PLACE.exec(rest)?.[1]?.toLowerCase().replace("middle", "centre").replace("center", "centre").replace(/(\d) ?o['’]?clock/, "$1 o'clock");
  const ends = /\b(both|each|either) ends?\b/i.test(rest);
  if (ends) body["at"] = ["left end", "right end"];
  else if (place !== undefined) body["at"] = place;
  const related = Object.keys(body);
  settle({ kind, schema, body, tree, entries, named, spoken, lower });
  const placed = ["beside", "stand"].some((role) => withRole(kind, role).some((it) => related.includes(it.key)));
  for (const key of Object.keys(body)) {
    const guessed = placed && ["stand", "band", "fill"].some((role) => withRole(kind, role).some((it) => it.key === key));
    if (!related.includes(key) && (guessed || related.some((it) => clash(kind, it, key)))) Reflect.deleteProperty(body, key);
  }
  companions(kind, body, ownInches(tree));
  const inches = ownInches(tree);
  for (const field of fields)
    if (field.usual !== null && body[field.key] === undefined && !isSaidElse(kind, field, body) && !follows(kind, field, body) && !(field.roles.includes("size") && isFitted(kind, body)))
      body[field.key] = field.kind === "whole" ? String(field.usual) : usual(field.usual, inches);
  for (const field of kind.fields) stretch(body, field.choices.find((it) => it.word === body[field.key])?.tall ?? 0);
  return { kind: kind.word, body: inOrder(body), unread: unreadIn(rest, kind, named) };
}

const clash = (kind: EntryKind, a: string, b: string): boolean => kind.clashes.some(([x, y]) => (x === a && y === b) || (x === b && y === a));

/** It is decided by something else, or says nothing without: round others, a plate is as large as leaves its margin. */
const follows = (kind: EntryKind, field: Field, body: Table): boolean =>
  kind.needs.some(([key, ...any]) => key === field.key && !any.some((it) => body[it] !== undefined))
  || Object.keys(body).some((key) => clash(kind, key, field.key))
  || (field.kind === "length" && field.heard !== null && kind.fields.some((it) => it.choices.some((one) => one.word === body[it.key] && one.must.includes(field.key) && one.unless !== null && body[one.unless] !== undefined)));

/** In a band or a window it is as large as fills that. */
const isFitted = (kind: EntryKind, body: Table): boolean =>
  [...withRole(kind, "band"), ...withRole(kind, "window")].some((it) => body[it.key] !== undefined);

/** The width of a hole that is for a screw follows from the screw. */
const isSaidElse = (kind: EntryKind, field: Field, body: Table): boolean =>
  kind.oneOf.includes(field.key) && field.roles.includes("bore") && kind.oneOf.some((key) => key !== field.key && body[key] !== undefined);

/** Settles what decides which sizes there are (the shape of a plate); the fields that are left. */
function choose(kind: EntryKind, lower: string, body: Table): Field[] {
  let fields = kind.fields;
  for (const field of kind.fields) {
    const bound = new Set(field.choices.flatMap((it) => it.must));
    if (bound.size === 0 && !(field.required && field.choices.length > 0)) {
      const word = field.choices.find((it) => it.heard !== null && new RegExp(it.heard).test(lower))?.word;
      if (word !== undefined) body[field.key] = word;
      continue;
    }
    const heard = field.choices.map((choice) => ({ choice, long: choice.heard === null ? 0 : (new RegExp(choice.heard).exec(lower)?.[0].length ?? 0) }))
      .sort((a, b) => b.long - a.long)[0];
    const chosen = heard !== undefined && heard.long > 0 ? heard.choice : field.choices.find((it) => it.word === kind.begin.choice);
    if (chosen === undefined) continue;
    body[field.key] = chosen.word;
    fields = fields.filter((it) => !bound.has(it.key) || chosen.must.includes(it.key));
  }
  return fields;
}

const hears = (field: Field, word: string): boolean => field.heard !== null && new RegExp(`^(?:${field.heard})$`).test(word);

function readSizes(text: string, fields: Field[], body: Table): void {
  // what "of" goes before is the main size: first where no word says which is meant
  const sizes = fields.filter((it) => it.heard !== null).sort((a, b) => Number(hears(b, "of")) - Number(hears(a, "of")));
  for (const found of text.matchAll(LENGTH)) {
    const length = found[0].replace(/(\d)(mm|cm|m|in|ft)$/i, "$1 $2");
    const after = text.slice(found.index + found[0].length, found.index + found[0].length + 12).toLowerCase();
    const before = text.slice(Math.max(0, found.index - 12), found.index).toLowerCase();
    const next = /^\s*(?!of\b|by\b)([a-z]+)/.exec(after)?.[1] ?? ""; // of and by go before a size
    const prior = /([a-z]+)\s*$/.exec(before)?.[1] ?? "";
    const named = /([a-z]+) (?:of|by)\s*$/.exec(before)?.[1] ?? ""; // a margin of 20 mm
    const open = sizes.filter((it) => body[it.key] === undefined);
    const field = open.find((it) => hears(it, next)) ?? open.find((it) => named !== "" && !hears(it, "of") && hears(it, named)) ?? open.find((it) => hears(it, prior)) ?? open[0];
    if (field !== undefined) body[field.key] = length;
  }
}

/** The file of what needs one, taken out of what is said; one that is not there yet is told of at its place. */
function readFile(text: string, kind: EntryKind, body: Table): string {
  const field = kind.fields.find((it) => it.kind === "file" && it.required);
  if (field === undefined) return text;
  const file = /(?:^|\s)([^\s"“”]*\p{L}[^\s"“”]*\.[a-z]{3,4})(?=[\s,]|$)/iu.exec(text)?.[1];
  body[field.key] = file ?? `${kind.word}.svg`;
  return file === undefined ? text : text.replace(file, " ");
}

interface Settling {
  kind: EntryKind;
  schema: Schema;
  body: Table;
  tree: Tree;
  entries: Entry[];
  named: Entry | undefined;
  spoken: string | null;
  lower: string;
}

/** The names of two rings, or gate arches, that make a band; the inner one first. */
function bandOf(kinds: string[], entries: Entry[]): string[] {
  const pair = kinds.map((kind) => entries.filter((it) => it.kind === kind)).find((it) => it.length >= 2) ?? [];
  return pair.slice(0, 2).sort((a, b) => parseFloat(str(a.body["outer"])) - parseFloat(str(b.body["outer"]))).map((it) => it.name);
}

const list = (place: string): Tree => (place.startsWith("[") ? place.slice(1, -1).split(", ") : place);

/** What the sign itself suggests: words stand on the rail, an ear hangs from the ring. */
function settle(it: Settling): void {
  const { kind, schema, body, tree, entries, named } = it;
  const flags = (entry: Entry): string[] => schema.entries.get(entry.kind)?.flags ?? [];
  const first = (fits: (entry: Entry) => boolean): Entry | undefined => (named !== undefined && fits(named) ? named : entries.find(fits));
  const may = kind.fields.find((it) => it.key === "on")?.of ?? []; // a border is cut in plates alone
  const ground = first((one) => flags(one).includes("ground") && (may.length === 0 || may.includes(one.kind)));
  if (kind.begin.name !== null) body["name"] = freeName(tree, kind.begin.name);
  if (kind.begin.onGround) {
    if (body["on"] === undefined && ground !== undefined) body["on"] = ground.name;
    const at = ground === undefined ? (kind.begin.atAlone ?? kind.begin.at) : flags(ground).includes("ends") ? (kind.begin.atEnds ?? kind.begin.at) : kind.begin.at;
    if (at !== null) body["at"] ??= list(at);
  }
  for (const field of withRole(kind, "part")) {
    const lettered = entries.find((one) => schema.entries.get(one.kind)?.fields.some((its) => its.kind === "texts"));
    if (named !== undefined) body[field.key] = named.name;
    else if (field.required) body[field.key] = lettered?.name ?? "words 1";
  }
  for (const field of withRole(kind, "members")) body[field.key] = membersFor(it);
  if (kind.flags.includes("lettering")) settleLettering(it, first);
  else settleInBand(it, ground);
}

/** What a new row or stack may place: what has no place of its own yet and is in no other group. */
function membersFor({ schema, entries }: Settling): string[] {
  const placing = ["stand", "beside", "band", "window", "members"];
  const taken = new Set(entries.flatMap((it) => (isOf(schema, it.kind, "group") ? [it.body["of"]].flat().map((name) => str(name)) : [])));
  const free = entries.filter((it) => {
    const row = schema.entries.get(it.kind);
    if (row === undefined || ["ground", "fixture", "pin", "rule"].some((flag) => row.flags.includes(flag)) || taken.has(it.name)) return false;
    return it.body["at"] === undefined && !row.fields.some((field) => field.roles.some((role) => placing.includes(role)) && it.body[field.key] !== undefined);
  });
  const last = entries.at(-1);
  return free.length > 0 ? free.map((it) => it.name) : last === undefined ? ["words 1"] : [last.name];
}

/** Words in a band, on a bar or cut from a plate; an initial in a window. */
function settleLettering({ kind, schema, body, tree, entries, named, spoken, lower }: Settling, first: (fits: (entry: Entry) => boolean) => Entry | undefined): void {
  const text = kind.fields.find((it) => it.key === "text");
  body["text"] = spoken === null ? kind.begin.text : text?.kind === "text" ? spoken.slice(0, 1) : spoken;
  body["font"] = entries.map((it) => it.body["font"]).find((it) => it !== undefined) ?? "Bebas Neue";
  const [window] = withRole(kind, "window");
  const ring = window === undefined ? undefined : first((it) => window.of.includes(it.kind));
  if (window !== undefined) {
    if (ring !== undefined && body["height"] === undefined)
      Object.assign(body, { [window.key]: bandOf(window.of, entries)[0] ?? ring.name, bite: usual(4, ownInches(tree)) });
    return;
  }
  const [between] = withRole(kind, "band");
  const stand = withRole(kind, "stand").find((it) => it.of.length > 0);
  const band = bandOf(between?.of ?? [], entries);
  const bar = first((it) => stand?.of.includes(it.kind) === true && isOf(schema, it.kind, "ends"));
  const plate = first((it) => isOf(schema, it.kind, "area"));
  if (between !== undefined && band.length === 2 && (named === undefined || /\bband\b|between/.test(lower))) {
    const taken = entries.filter((it) => it.body[between.key] !== undefined).map((it) => it.body["at"]);
    Object.assign(body, { [between.key]: band }, ...withRole(kind, "fill").map((it) => ({ [it.key]: "yes" })));
    body["at"] ??= taken.includes("top") ? "bottom" : "top";
  } else if (stand !== undefined && bar !== undefined && (named === undefined || named === bar) && !/\bcut\b/.test(lower)) body[stand.key] = bar.name;
  else if (plate !== undefined) Object.assign(body, { as: "opening", on: plate.name });
}

/** A separator between two rings, as large as bites both; else on the ground, cut from a plate. */
function settleInBand({ kind, schema, body, entries, named }: Settling, ground: Entry | undefined): void {
  const [between] = withRole(kind, "band");
  if (between === undefined) return;
  const size = Object.keys(body).some((key) => key !== "at");
  const band = bandOf(between.of, entries);
  if (band.length === 2 && !size && named === undefined) {
    body[between.key] = band;
    body["at"] ??= ["left", "right"];
  } else if (ground !== undefined) {
    body["on"] ??= ground.name;
    if (isOf(schema, ground.kind, "area")) body["as"] = "opening";
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

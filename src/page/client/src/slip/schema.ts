// SPDX-License-Identifier: GPL-3.0-or-later
// What a recipe may say, as the core tells it (api/kinds): every kind and field with its type, sign,
// roles and words. Nothing is guessed here and no kind is known by name.
import { isTable } from "./path";
import type { Table } from "./path";
import type { Tree } from "../api";

export type Kind =
  | "length" | "thickness" | "share" | "spacing" | "quantity" | "limit" | "whole" | "number"
  | "place" | "places" | "point" | "points" | "numbers" | "margin"
  | "text" | "texts" | "yes" | "choice" | "choices" | "name" | "names" | "font" | "file" | "table" | "rows" | "limits";

export interface Choice {
  word: string;
  /** in a sentence */
  said: string;
  about?: string;
  /** what a phrase says for it, as a pattern */
  heard: string | null;
  /** fields that it must have, and may */
  must: string[];
  may: string[];
  /** where this is said, no length among them is asked for */
  unless: string | null;
  /** its height is this share of its width at the least, as the page writes it */
  tall: number;
}

export interface Field {
  key: string;
  help: string;
  kind: Kind;
  /** what it is to whoever changes the sign: picture, bite, band … */
  roles: string[];
  /** may be less than nothing */
  signed: boolean;
  required: boolean;
  /** its choices are shapes: the core draws each */
  pictured: boolean;
  choices: Choice[];
  /** of yes and no: said so */
  yes: string;
  no: string;
  /** what it is called beside its value */
  label: string;
  /** about the value where it is said by itself */
  before: string;
  after: string;
  /** words beside a figure that mean it, as a pattern */
  heard: string | null;
  /** of choices: what is read when none is said */
  otherwise: string | null;
  /** of two figures: what they are to each other */
  pair: "place" | "size" | "step";
  /** mm, or a number, of a new entry that must say it */
  usual: number | null;
  /** when a value is well-formed enough to be tried as one types */
  pattern: RegExp | null;
  min: number | null;
  max: number | null;
  /** of a name: the kinds of entry that can be meant; empty: any */
  of: string[];
  /** of a table or font */
  fields: Field[];
}

/** One kind of entry. */
export interface EntryKind {
  word: string;
  about: string;
  /** in a list of kinds */
  called: string;
  heard: string;
  /** the field that is typed first */
  first: string;
  /** how it is said: see sentences.ts */
  sentence: string;
  flags: string[];
  /** at least one of these must be said */
  oneOf: string[];
  /** what can't be said together */
  clashes: readonly (readonly [string, string])[];
  /** a key, and those of which it asks for one */
  needs: readonly (readonly string[])[];
  begin: { name: string | null; text: string | null; choice: string | null; onGround: boolean; at: string | null; atEnds: string | null; atAlone: string | null };
  fields: Field[];
}

export interface Schema {
  head: Field[];
  entries: Map<string, EntryKind>;
}

const text = (tree: Tree | undefined): string => (typeof tree === "string" ? tree : "");
const textOr = (tree: Tree | undefined): string | null => (typeof tree === "string" ? tree : null);
const number = (tree: Tree | undefined): number | null => (typeof tree === "number" ? tree : null);
const tables = (tree: Tree | undefined): Table[] => (Array.isArray(tree) ? tree.filter(isTable) : []);
const texts = (tree: Tree | undefined): string[] => (Array.isArray(tree) ? tree.filter((it): it is string => typeof it === "string") : []);

const lists = (tree: Tree | undefined): string[][] => (Array.isArray(tree) ? tree.map(texts) : []);

const choice = (node: Table): Choice => ({
  word: text(node["word"]), said: text(node["said"] ?? node["word"]), heard: textOr(node["heard"]), must: texts(node["must"]), may: texts(node["may"]),
  unless: textOr(node["unless"]), tall: number(node["tall"]) ?? 0,
  ...(typeof node["about"] === "string" ? { about: node["about"] } : {}),
});

const field = (node: Table): Field => ({
  key: text(node["key"]), help: text(node["help"]), kind: text(node["type"]) as Kind, roles: texts(node["roles"]),
  signed: node["signed"] === true, required: node["required"] === true, pictured: node["pictured"] === true, choices: tables(node["choices"]).map(choice),
  yes: text(node["yes"] ?? "yes"), no: text(node["no"] ?? "no"), label: text(node["label"]), before: text(node["before"]), after: text(node["after"]),
  heard: textOr(node["heard"]), otherwise: textOr(node["otherwise"]), pair: (text(node["pair"]) || "place") as Field["pair"], usual: number(node["usual"]), pattern: typeof node["pattern"] === "string" ? new RegExp(node["pattern"], "u") : null,
  min: number(node["min"]), max: number(node["max"]), of: texts(node["kinds"]), fields: tables(node["fields"]).map(field),
});

/** A field of the page's own, as of a limit that is typed. */
export const ownField = (key: string, kind: Kind, help: string): Field => field({ key, type: kind, help, label: key, before: key });

function entryKind(node: Table): EntryKind {
  const begin = isTable(node["begin"]) ? node["begin"] : {};
  return {
    word: text(node["word"]), about: text(node["about"]), called: text(node["called"]), heard: text(node["heard"]), first: text(node["first"] ?? "name"),
    sentence: text(node["sentence"]), flags: texts(node["flags"]), oneOf: texts(node["one_of"]), clashes: lists(node["clashes"]).map(([a = "", b = ""]) => [a, b]), needs: lists(node["needs"]), fields: tables(node["fields"]).map(field),
    begin: { name: textOr(begin["name"]), text: textOr(begin["text"]), choice: textOr(begin["choice"]), onGround: begin["on_ground"] === true, at: textOr(begin["at"]),
      atEnds: textOr(begin["at_ends"]), atAlone: textOr(begin["at_alone"]) },
  };
}

export function readSchema(told: Tree): Schema {
  const root = isTable(told) ? told : {};
  return { head: tables(root["head"]).map(field), entries: new Map(tables(root["kinds"]).map((node) => [text(node["word"]), entryKind(node)])) };
}

/** Is that kind one of these: ground, lettering, fixture, pin, rule …? */
export const isOf = (schema: Schema | null, kind: string, ...flags: string[]): boolean =>
  schema?.entries.get(kind)?.flags.some((it) => flags.includes(it)) ?? false;

/** The fields with that role. */
export const withRole = (kind: EntryKind | undefined, role: string): Field[] => kind?.fields.filter((it) => it.roles.includes(role)) ?? [];

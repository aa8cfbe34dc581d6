// SPDX-License-Identifier: GPL-3.0-or-later
// What a recipe may say: read from the JSON Schema that the server hands out, so nothing is missing
// here that the core understands. Which texts are names of other entries the schema can't say.
import { isTable } from "./path";
import type { Table } from "./path";
import type { Tree } from "../api";

export type Kind =
  | "length" | "thickness" | "share" | "spacing" | "quantity" | "limit" | "whole" | "number"
  | "place" | "places" | "point" | "numbers"
  | "text" | "texts" | "yes" | "choice" | "choices" | "name" | "names" | "font" | "file" | "table" | "rows" | "limits";

export interface Field {
  key: string;
  help: string;
  kind: Kind;
  required: boolean;
  choices: string[];
  /** when a value is well-formed enough to be tried as one types */
  pattern: RegExp | null;
  min: number | null;
  max: number | null;
  /** of a name: the kinds of entry that can be meant; empty: any */
  of: string[];
  /** of a table or font */
  fields: Field[];
}

export interface Schema {
  head: Field[];
  entries: Map<string, { about: string; fields: Field[] }>;
}

/** Other spellings of a choice that the core reads; offered once is enough. */
const SPELLINGS = new Set(["galvanized steel", "aluminum", "center"]);

/** Texts that name entries, and what kind of entry. */
const NAMES: Record<string, string[]> = {
  on: [], above: [], below: [], "left of": [], "right of": [],
  over: ["gate arch"], around: [], band: ["ring", "gate arch"], "stand on": ["bar", "plate"],
  "fill window of": ["ring"], "split by": ["words"], alone: [], "not on": [],
};

const REFS: Record<string, Kind> = {
  length: "length", thickness: "thickness", "length-or-share": "share", spacing: "spacing", quantity: "quantity",
  limit: "limit", place: "place", file: "file", text: "text", "yes-or-no": "yes",
};

const text = (tree: Tree | undefined): string => (typeof tree === "string" ? tree : "");

export function readSchema(schema: Tree): Schema {
  const defs = isTable(schema) && isTable(schema["$defs"]) ? schema["$defs"] : {};

  const refOf = (node: Table): string => text(node["$ref"]).replace("#/$defs/", "");

  function kindOf(key: string, node: Table): Kind {
    const ref = refOf(node);
    if (ref !== "") return REFS[ref] ?? "table";
    if (Array.isArray(node["enum"])) return "choice";
    if (Array.isArray(node["type"])) return key === "depth" ? "share" : "number";
    const type = text(node["type"]);
    if (type === "integer") return "whole";
    if (type === "number") return "number";
    if (type === "object") return node["properties"] === undefined ? "limits" : "table";
    if (type === "array") return kindOfList(node);
    const any = Array.isArray(node["anyOf"]) ? node["anyOf"].filter(isTable) : [];
    if (any.some((it) => refOf(it) === "place")) return "places";
    if (any.some((it) => it["type"] === "object")) return "font";
    return "texts";
  }

  function kindOfList(node: Table): Kind {
    const items = isTable(node["items"]) ? node["items"] : {};
    if (Array.isArray(items["enum"])) return "choices";
    if (node["minItems"] === 2 && node["maxItems"] === 2) return items["type"] === "number" ? "numbers" : "point";
    return items["type"] === "object" ? "rows" : "texts";
  }

  function patternOf(node: Table): RegExp | null {
    const def = defs[refOf(node)];
    const pattern = isTable(def) ? text(def["pattern"]) : "";
    return pattern === "" ? null : new RegExp(pattern, "u");
  }

  function choicesOf(node: Table): string[] {
    const items = isTable(node["items"]) ? node["items"] : {};
    const words = Array.isArray(node["enum"]) ? node["enum"] : Array.isArray(items["enum"]) ? items["enum"] : [];
    return words.filter((word): word is string => typeof word === "string" && !SPELLINGS.has(word));
  }

  const number = (tree: Tree | undefined): number | null => (typeof tree === "number" ? tree : null);

  function field(key: string, node: Table, required: Set<string>, rule: boolean): Field {
    let kind = kindOf(key, node);
    const of = key === "of" && rule ? [] : NAMES[key];
    if (of !== undefined) kind = kind === "text" ? "name" : kind === "texts" ? "names" : kind;
    const font = kind === "font" && Array.isArray(node["anyOf"]) ? node["anyOf"].filter(isTable).find((it) => it["type"] === "object") : undefined;
    const rows = kind === "rows" && isTable(node["items"]) ? node["items"] : undefined;
    return {
      key, kind, help: text(node["description"]), required: required.has(key), choices: choicesOf(node), pattern: patternOf(node),
      min: number(node["minimum"]), max: number(node["maximum"]), of: of ?? [],
      fields: fieldsOf(font ?? rows ?? (kind === "table" ? node : {}), rule),
    };
  }

  function fieldsOf(node: Table, rule: boolean): Field[] {
    const properties = isTable(node["properties"]) ? node["properties"] : {};
    const required = new Set(Array.isArray(node["required"]) ? node["required"].map(String) : []);
    return Object.entries(properties).filter((pair): pair is [string, Table] => isTable(pair[1]))
      .map(([key, inner]) => field(key, inner, required, rule));
  }

  const entries: Schema["entries"] = new Map();
  const root = isTable(schema) ? schema : {};
  const properties = isTable(root["properties"]) ? root["properties"] : {};
  const list = isTable(properties["entries"]) && isTable(properties["entries"]["items"]) ? properties["entries"]["items"] : {};
  for (const [kind, node] of Object.entries(isTable(list["properties"]) ? list["properties"] : {})) {
    const def = isTable(node) ? defs[refOf(node)] : undefined;
    if (!isTable(def)) continue;
    const rule = kind === "tie" || kind === "ties" || kind === "mend";
    entries.set(kind, { about: text(def["description"]), fields: fieldsOf(def, rule) });
  }
  return { head: fieldsOf(root, false).filter((it) => it.key !== "entries" && it.key !== "holdfast"), entries };
}

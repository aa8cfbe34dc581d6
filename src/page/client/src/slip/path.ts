// SPDX-License-Identifier: GPL-3.0-or-later
// Paths into the recipe, as the core writes them: entries[1].words.stand on, order.customer
import type { Edit, Tree } from "../api";
import { yaml } from "./yaml";

export type Step = string | number;
export type Table = { [key: string]: Tree };

export function steps(path: string): Step[] {
  return (path.match(/\[\d+\]|[^.[\]]+/g) ?? []).map((part) => (part.startsWith("[") ? Number(part.slice(1, -1)) : part));
}

export function join(...parts: (Step | string)[]): string {
  let path = "";
  for (const part of parts) {
    if (typeof part === "number") path += `[${part}]`;
    else if (part.startsWith("[") || path === "") path += part;
    else path += `.${part}`;
  }
  return path;
}

export const isTable = (tree: Tree | undefined): tree is Table =>
  typeof tree === "object" && tree !== null && !Array.isArray(tree);

/** A value of the recipe as text. */
export const str = (tree: Tree | undefined): string =>
  tree === undefined || tree === null ? "" : typeof tree === "object" ? yaml(tree) : String(tree);

export function at(tree: Tree | undefined, path: string): Tree | undefined {
  let here: Tree | undefined = tree;
  for (const step of steps(path)) {
    if (typeof step === "number") here = Array.isArray(here) ? here[step] : undefined;
    else here = isTable(here) ? here[step] : undefined;
  }
  return here;
}

export function parent(path: string): string {
  const all = steps(path);
  return join(...all.slice(0, -1));
}

/** The path that an error's path falls under: entries[1].words.height of entries[1].words.font.family */
export const isUnder = (path: string, above: string): boolean =>
  path === above || path.startsWith(`${above}.`) || path.startsWith(`${above}[`);

/** The entry that a path is of, or null. */
export function entryOf(path: string): number | null {
  const [first, second] = steps(path);
  return first === "entries" && typeof second === "number" ? second : null;
}

const empty = (tree: Tree | undefined): boolean => tree === undefined || tree === null || tree === "";

/**
 * The edits that make `path` say `value`. Tables above it that are not there yet come with it.
 * @value: undefined takes the field out, and with it the order or process that says nothing more.
 */
export function say(tree: Tree, path: string, value: Tree | undefined): Edit[] {
  const above = parent(path);
  if (value === undefined) {
    const holder = at(tree, above);
    const alone = /^(order|process|limits)$/.test(above) && isTable(holder) && Object.keys(holder).length === 1;
    return at(tree, path) === undefined ? [] : [{ do: "remove", path: alone ? above : path }];
  }
  if (above !== "" && empty(at(tree, above))) {
    const last = steps(path)[steps(path).length - 1] ?? "";
    return say(tree, above, { [String(last)]: value });
  }
  return typeof value === "string" ? [{ do: "set", path, value }] : [{ do: "put", path, value: yaml(value) }];
}

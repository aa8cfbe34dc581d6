// SPDX-License-Identifier: GPL-3.0-or-later
// What entries are called, who names whom, and what else changes when an entry is renamed.
import type { Edit, Tree } from "../api";
import { isTable, join } from "./path";
import type { Table } from "./path";
import { isOf, withRole } from "./schema";
import type { Schema } from "./schema";

export interface Entry {
  index: number;
  kind: string;
  /** what other entries call it by: its name, else its kind and number among its kind */
  name: string;
  named: boolean;
  body: Table;
  path: string;
}

/** As the core names the nameless: the kind and the next number that nobody has. */
export function entriesOf(tree: Tree | undefined): Entry[] {
  const list = isTable(tree) && Array.isArray(tree["entries"]) ? tree["entries"] : [];
  const entries = list.flatMap((item, index): Entry[] => {
    const [kind, body] = isTable(item) ? (Object.entries(item)[0] ?? []) : [];
    if (kind === undefined) return [];
    const table = isTable(body) ? body : {};
    const name = typeof table["name"] === "string" ? table["name"] : "";
    return [{ index, kind, name, named: name !== "", body: table, path: join("entries", index, kind) }];
  });
  const taken = new Set(entries.filter((entry) => entry.named).map((entry) => entry.name));
  const counts = new Map<string, number>();
  for (const entry of entries) {
    let count = (counts.get(entry.kind) ?? 0) + 1;
    if (!entry.named) {
      while (taken.has(`${entry.kind} ${count}`)) count++;
      entry.name = `${entry.kind} ${count}`;
      taken.add(entry.name);
    }
    counts.set(entry.kind, count);
  }
  return entries;
}

export function entryNamed(tree: Tree | undefined, name: string): Entry | undefined {
  return entriesOf(tree).find((entry) => entry.name === name);
}

function membersAmong(all: Entry[], schema: Schema | null, group: Entry | undefined): number[] {
  const found = new Set<number>();
  const look = (entry: Entry | undefined): void => {
    if (entry === undefined || !isOf(schema, entry.kind, "group")) return;
    for (const field of withRole(schema?.entries.get(entry.kind), "members")) {
      const names = entry.body[field.key];
      for (const member of all)
        if (Array.isArray(names) && names.includes(member.name) && !found.has(member.index)) {
          found.add(member.index);
          look(member);
        }
    }
  };
  look(group);
  return [...found];
}

/** The entries that a group places, those of groups within it too; none of what is no group. */
export function membersOf(tree: Tree | undefined, schema: Schema | null, index: number): number[] {
  const all = entriesOf(tree);
  return membersAmong(all, schema, all.find((it) => it.index === index));
}

/** The groups that place it, the innermost first. */
export function groupsOf(tree: Tree | undefined, schema: Schema | null, index: number): number[] {
  const all = entriesOf(tree);
  return all.filter((it) => it.index !== index && isOf(schema, it.kind, "group"))
    .map((it) => ({ index: it.index, members: membersAmong(all, schema, it) }))
    .filter((it) => it.members.includes(index)).sort((a, b) => a.members.length - b.members.length).map((it) => it.index);
}

/** The fields of a kind that hold names of entries, alone or in lists; some behind a letter: "2nd A of boats". */
const holdNames = (schema: Schema | null, kind: string): string[] =>
  schema?.entries.get(kind)?.fields.filter((it) => it.kind === "name" || it.kind === "names").map((it) => it.key) ?? [];

interface Mention {
  path: string;
  text: string;
  /** with the name replaced */
  as: (name: string) => string;
}

function mentionIn(text: Tree | undefined, name: string, path: string): Mention[] {
  if (typeof text !== "string") return [];
  if (text === name) return [{ path, text, as: (other) => other }];
  const letter = /^(.+ of )(.+)$/s.exec(text);
  return letter?.[2] === name ? [{ path, text, as: (other) => `${letter[1] ?? ""}${other}` }] : [];
}

const mentionsIn = (value: Tree | undefined, name: string, path: string): Mention[] =>
  Array.isArray(value) ? value.flatMap((item, i) => mentionIn(item, name, `${path}[${i}]`)) : mentionIn(value, name, path);

/** Every place in the recipe that names this entry. */
export function mentions(tree: Tree | undefined, name: string, schema: Schema | null): Mention[] {
  const root = isTable(tree) ? tree : {};
  const inEntries = entriesOf(tree).flatMap((entry) =>
    holdNames(schema, entry.kind).flatMap((key) => mentionsIn(entry.body[key], name, join(entry.path, key))));
  const accepted = Array.isArray(root["accept"]) ? root["accept"] : [];
  return [
    ...inEntries,
    ...mentionsIn(root["alone"], name, "alone"),
    ...accepted.flatMap((item, i) => mentionIn(isTable(item) ? item["of"] : undefined, name, `accept[${i}].of`)),
  ];
}

/** Renames an entry and everything that names it. */
export function renamed(tree: Tree | undefined, entry: Entry, name: string, schema: Schema | null): Edit[] {
  return [
    { do: "set", path: join(entry.path, "name"), value: name },
    ...mentions(tree, entry.name, schema).map((it): Edit => ({ do: "set", path: it.path, value: it.as(name) })),
  ];
}

/** A name that no entry has yet: rail, rail 2, rail 3. */
export function freeName(tree: Tree | undefined, wish: string): string {
  const taken = new Set(entriesOf(tree).map((entry) => entry.name));
  const stem = wish.replace(/ \d+$/, "");
  if (!taken.has(wish)) return wish;
  for (let i = 2; ; i++) if (!taken.has(`${stem} ${i}`)) return `${stem} ${i}`;
}

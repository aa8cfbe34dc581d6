// SPDX-License-Identifier: GPL-3.0-or-later
// A caution is accepted with a reason: a line in the recipe's own `accept` list.
import type { Edit, EntryView, Finding, Tree } from "../api";

interface Acceptance {
  finding: string;
  of?: string;
  reason: string;
}

/** The one entry that it is about, when it has a name that the recipe gave. */
function onlyEntry(finding: Finding, entries: readonly EntryView[], tree: Tree): string | null {
  if (finding.entries.length !== 1) return null;
  const name = entries.find((it) => it.index === finding.entries[0])?.name ?? "";
  return name !== "" && namesOf(tree).has(name) ? name : null;
}

function namesOf(tree: Tree): Set<string> {
  const names = new Set<string>();
  const entries = isTable(tree) ? tree.entries : null;
  for (const entry of Array.isArray(entries) ? entries : [])
    if (isTable(entry)) for (const body of Object.values(entry)) if (isTable(body) && typeof body.name === "string") names.add(body.name);
  return names;
}

const isTable = (tree: Tree | undefined): tree is { [key: string]: Tree } => typeof tree === "object" && tree !== null && !Array.isArray(tree);

/** The edit that accepts it; the list is made when there is none. */
export function accepting(finding: Finding, reason: string, entries: readonly EntryView[], tree: Tree): Edit {
  const of = onlyEntry(finding, entries, tree);
  const item: Acceptance = { finding: finding.law, ...(of === null ? {} : { of }), reason };
  const list = isTable(tree) ? tree.accept : undefined;
  if (Array.isArray(list)) return { do: "insert", path: `accept[${list.length}]`, value: JSON.stringify(item) };
  return { do: "put", path: "accept", value: JSON.stringify([item]) };
}

/** The edit that takes an acceptance back; null: it is not found in the recipe. */
export function refusing(finding: Finding, entries: readonly EntryView[], tree: Tree): Edit | null {
  const list = isTable(tree) ? tree.accept : undefined;
  if (!Array.isArray(list)) return null;
  const of = new Set(finding.entries.map((index) => entries.find((it) => it.index === index)?.name));
  const at = list.findIndex((it) => isTable(it) && it.finding === finding.law && it.reason === finding.accepted && (typeof it.of !== "string" || of.has(it.of)));
  if (at < 0) return null;
  return list.length === 1 ? { do: "remove", path: "accept" } : { do: "remove", path: `accept[${at}]` };
}

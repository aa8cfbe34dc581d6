// SPDX-License-Identifier: GPL-3.0-or-later
// Entries as a whole: moved, doubled, taken away. An entry that moves keeps its own text, remarks
// and all, as far as its place in the file is known; else it is written anew on one line.
import type { Edit, State, Tree } from "../api";
import { at, isTable, join, say, str } from "./path";
import { entriesOf, freeName, mentions } from "./names";
import { opposite } from "./commit";
import type { Entry } from "./names";
import { yaml } from "./yaml";

type Marks = State["marks"];

/**
 * The lines of entry @index as they stand in the file, without the dash; null when they can't be cut
 * out safely (a list in brackets, tabs). Remarks above the dash stay with the file.
 */
export function textOf(text: string, marks: Marks, index: number): string | null {
  const mark = marks[`entries[${index}]`];
  if (mark === undefined) return null;
  const lines = text.split(/\r\n|\n|\r/);
  const first = lines[mark.line - 1];
  if (first === undefined) return null;
  const dash = /^(\s*)-(\s+)(?=\S)/.exec(first);
  if (dash === null || text.includes("\t")) return null;
  const left = (dash[1] ?? "").length;
  const inner = dash[0].length;
  const out = [first.slice(inner)];
  for (const line of lines.slice(mark.line)) {
    const deep = line.length - line.trimStart().length;
    if (line.trim() !== "" && deep <= left) break;
    if (line.trim() !== "" && deep < inner && !line.trim().startsWith("#")) return null;
    out.push(line.slice(Math.min(inner, deep)));
  }
  // empty lines and remarks behind it belong to what comes next
  while (out.length > 1 && /^\s*(#.*)?$/.test(out[out.length - 1] ?? "")) out.pop();
  return out.join("\n");
}

function itemYaml(item: Tree | undefined): string {
  const [kind, body] = isTable(item) ? (Object.entries(item)[0] ?? []) : [];
  return kind === undefined ? "null" : `${kind}: ${yaml(body ?? {})}`;
}
const itemText = (state: State, tree: Tree, index: number): string =>
  textOf(state.text, state.marks, index) ?? itemYaml(at(tree, `entries[${index}]`));

export function moved(state: State, tree: Tree, index: number, to: number): Edit[] {
  return [
    { do: "remove", path: `entries[${index}]` },
    { do: "insert", path: `entries[${to}]`, value: itemText(state, tree, index) },
  ];
}

/** Another one behind it, under a name of its own, and not just on top of it. */
export function doubled(state: State, tree: Tree, entry: Entry): Edit[] {
  const path = join("entries", entry.index + 1, entry.kind);
  const edits: Edit[] = [{ do: "insert", path: join("entries", entry.index + 1), value: itemText(state, tree, entry.index) }];
  if (entry.named) edits.push({ do: "set", path: join(path, "name"), value: freeName(tree, entry.name) });
  const place = entry.body["at"];
  if (typeof place === "string" && !/^\d.*deg|centre|center/.test(place)) edits.push({ do: "set", path: join(path, "at"), value: opposite(place) });
  else if (entry.body["shift"] === undefined && entry.body["band"] === undefined && entry.body["stand on"] === undefined && !/^ties?$|^mend$/.test(entry.kind))
    edits.push({ do: "put", path: join(path, "shift"), value: "[20 mm, -20 mm]" });
  return edits;
}

/** Entries that can't be without this one, and without those, in order. */
export function hangers(tree: Tree, entry: Entry): Entry[] {
  const all = entriesOf(tree);
  const gone = new Set([entry.index]);
  for (let before = 0; before !== gone.size; ) {
    before = gone.size;
    for (const it of all.filter((one) => gone.has(one.index)))
      for (const mention of mentions(tree, it.name)) {
        const found = /^entries\[(\d+)\]/.exec(mention.path);
        if (found !== null) gone.add(Number(found[1]));
      }
  }
  return all.filter((it) => gone.has(it.index) && it.index !== entry.index);
}

/** Takes entries away, and from the head what names them. */
export function without(tree: Tree, entries: Entry[]): Edit[] {
  const names = new Set(entries.map((it) => it.name));
  const edits: Edit[] = [];
  const alone = at(tree, "alone");
  if (typeof alone === "string" && names.has(alone.replace(/^.+ of /, ""))) edits.push({ do: "remove", path: "alone" });
  if (Array.isArray(alone)) {
    const left = alone.filter((it) => !names.has(str(it).replace(/^.+ of /, "")));
    if (left.length < alone.length) edits.push(...say(tree, "alone", left.length === 0 ? undefined : left));
  }
  const accept = at(tree, "accept");
  if (Array.isArray(accept)) {
    const gone = accept.flatMap((it, i) => (isTable(it) && typeof it["of"] === "string" && names.has(it["of"]) ? [i] : []));
    if (gone.length === accept.length && gone.length > 0) edits.push({ do: "remove", path: "accept" });
    else for (const i of gone.reverse()) edits.push({ do: "remove", path: `accept[${i}]` });
  }
  for (const it of [...entries].sort((a, b) => b.index - a.index)) edits.push({ do: "remove", path: join("entries", it.index) });
  return edits;
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Entries as a whole: moved, doubled, taken away. An entry that moves keeps its own text, remarks
// and all, as far as its place in the file is known; else it is written anew on one line.
import type { Edit, State, Tree, View } from "../api";
import { fraction, readAmount } from "./amount";
import { at, isTable, join, say, str } from "./path";
import { entriesOf, freeName, mentions } from "./names";
import { opposite } from "./commit";
import type { Entry } from "./names";
import { isOf } from "./schema";
import type { Schema } from "./schema";
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

/** Another one behind it, under a name of its own, and where it can be seen. */
export function doubled(state: State, tree: Tree, entry: Entry, view: Pick<View, "box" | "entries"> | null, schema: Schema | null): Edit[] {
  const path = join("entries", entry.index + 1, entry.kind);
  const edits: Edit[] = [{ do: "insert", path: join("entries", entry.index + 1), value: itemText(state, tree, entry.index) }];
  if (entry.named) edits.push({ do: "set", path: join(path, "name"), value: freeName(tree, entry.name) });
  if (isOf(schema, entry.kind, "pin", "rule")) return edits;
  const place = entry.body["at"];
  if (typeof place === "string" && opposite(place) !== place) edits.push({ do: "set", path: join(path, "at"), value: opposite(place) });
  else if (place === undefined && entry.body["band"] !== undefined) edits.push({ do: "set", path: join(path, "at"), value: "bottom" });
  else edits.push(apart(entry, path, stepAside(entry, view)));
  return edits;
}

const USUAL: [number, number] = [20, -20];

/** How far, mm: wide things go under each other, others beside; to where the sign has more room. */
function stepAside(entry: Entry, view: Pick<View, "box" | "entries"> | null): [number, number] {
  const own = view?.entries.find((it) => it.index === entry.index)?.box ?? null;
  const all = view?.box ?? null;
  if (own === null || all === null) return USUAL;
  const [x0, y0, x1, y1] = own;
  const wide = x1 - x0;
  const high = y1 - y0;
  const gap = Math.max(5, 0.15 * Math.min(wide, high));
  if (entry.body["stand on"] !== undefined) return [0, Math.round(high + gap)]; // under it is what it stands on
  if (wide > 1.6 * high) return [0, Math.round(high + gap) * (y0 - all[1] >= all[3] - y1 ? -1 : 1)];
  return [Math.round(wide + gap) * (all[2] - x1 >= x0 - all[0] ? 1 : -1), 0];
}

const MM: Record<string, number> = { mm: 1, cm: 10, m: 1000, in: 25.4, '"': 25.4 };

/** `text` and so many mm more, in its own unit; null when it is nothing that can be added to. */
function plus(text: Tree | undefined, mm: number): string | null {
  const amount = typeof text === "string" ? readAmount(text) : null;
  const unit = MM[amount?.unit ?? ""];
  if (amount === null || unit === undefined) return null;
  const sum = amount.value + mm / unit;
  return `${unit === 25.4 && (amount.fraction || Number.isInteger(amount.value)) ? fraction(sum, 8) : Number(sum.toFixed(2))} ${amount.unit}`;
}

/** Where the copy is put: its own place across and up, else its shift, moved by so many mm. */
function apart(entry: Entry, path: string, by: [number, number]): Edit {
  const inches = Object.values(entry.body).some((it) => typeof it === "string" && /\d ?(in|")$/.test(it));
  const none = inches ? "0 in" : "0 mm";
  const moved = (from: Tree | undefined): string[] | null => {
    const pair = from === undefined ? [none, none] : Array.isArray(from) && from.length === 2 ? from : null;
    const sum = pair?.map((it, i) => plus(it, by[i] ?? 0)) ?? null;
    return sum === null || sum.includes(null) ? null : (sum as string[]);
  };
  const place = entry.body["at"];
  const at = place === undefined ? null : moved(place);
  const to = at ?? moved(entry.body["shift"]) ?? [`${by[0]} mm`, `${by[1]} mm`];
  return { do: "put", path: join(path, at === null ? "shift" : "at"), value: yaml(to) };
}

/** Entries that can't be without this one, and without those, in order. */
export function hangers(tree: Tree, entry: Entry, schema: Schema | null): Entry[] {
  const all = entriesOf(tree);
  const gone = new Set([entry.index]);
  for (let before = 0; before !== gone.size; ) {
    before = gone.size;
    for (const it of all.filter((one) => gone.has(one.index)))
      for (const mention of mentions(tree, it.name, schema)) {
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

// SPDX-License-Identifier: GPL-3.0-or-later
// What can be picked for a value: choices in words, names of entries, usual thicknesses, places.
import { choicePicture } from "../api";
import type { Tree } from "../api";
import { entryOf, steps } from "./path";
import { entriesOf } from "./names";
import { called } from "./sentences";
import type { Value } from "./sentences";
import { isOf } from "./schema";
import type { Schema } from "./schema";

export interface Option {
  /** what is put into the recipe */
  text: string;
  word: string;
  about?: string;
  /** address of a picture of it */
  picture?: string;
}

const PLACES = ["top", "top right", "right", "bottom right", "bottom", "bottom left", "left", "top left", "centre", "left end", "right end",
  "11 o'clock", "1 o'clock", "45 deg"];
const GAUGES = ["16 ga", "14 ga", "12 ga", "11 ga", "10 ga", "7 ga"];
const SHEETS = ["1.5 mm", "2 mm", "3 mm", "4 mm", "5 mm", "6 mm", "1/8 in", "3/16 in", "1/4 in"];

const plain = (texts: string[], about?: string): Option[] =>
  texts.map((text) => ({ text, word: text, ...(about === undefined ? {} : { about }) }));

/** Empty: nothing to pick from, it is typed. */
export function optionsFor(value: Value, tree: Tree, schema: Schema | null): Option[] {
  const { field } = value;
  switch (field.kind) {
    case "choice":
      return field.choices.map((it) => ({ text: it.word, word: it.said, ...(it.about === undefined ? {} : { about: it.about }),
        ...(field.pictured ? { picture: choicePicture(String(steps(value.path)[2] ?? ""), field.key, it.word) } : {}) }));
    case "yes": return [{ text: "yes", word: field.yes }, { text: "no", word: field.no }];
    case "choices": return plain(field.choices.map((it) => it.word));
    case "thickness": return [...plain(SHEETS), ...plain(GAUGES, "gauge")];
    case "spacing": return [
      { text: "joined", word: "joined", about: "one spacing at which all neighbours join" },
      { text: "joined pair by pair", word: "joined pair by pair", about: "each pair its own" },
      { text: "0 mm", word: "0 mm", about: "as the font has it" }, ...plain(["5 %", "10 %"])];
    case "place": case "places":
      return [...plain(PLACES), { text: "0 mm, 0 mm", word: "so far across and up", about: "from the centre" }];
    case "name": case "names": {
      const self = entryOf(value.path);
      return entriesOf(tree).filter((it) => it.index !== self && (field.of.length === 0 || field.of.includes(it.kind)) && !isOf(schema, it.kind, "pin", "rule"))
        .map((it) => ({ text: it.name, word: it.name, about: called(it) }));
    }
    default: return [];
  }
}

/**
 * Where the arrow leads in @n pictures, @columns in a row: beside, or above and below in the same column,
 * round again at an edge. @now -1: none yet.
 */
export function besides(now: number, key: string, n: number, columns: number): number | null {
  if (n === 0 || !/^Arrow(Up|Down|Left|Right)$/.test(key)) return null;
  const on = key === "ArrowDown" || key === "ArrowRight";
  if (now < 0) return key === "ArrowDown" ? 0 : key === "ArrowUp" ? n - 1 : null;
  if (key === "ArrowLeft" || key === "ArrowRight") return (now + (on ? 1 : -1) + n) % n;
  const rows = Math.ceil(n / columns);
  for (let row = Math.floor(now / columns) + (on ? 1 : -1); ; row += on ? 1 : -1) {
    const next = (((row % rows) + rows) % rows) * columns + (now % columns);
    if (next < n) return next;
  }
}

/** Those that fit what was typed; all while nothing was typed over. */
export function fitting(options: Option[], text: string, touched: boolean): Option[] {
  const wish = text.trim().toLowerCase();
  if (!touched || wish === "") return options;
  const starts = options.filter((it) => it.word.toLowerCase().startsWith(wish) || it.text.toLowerCase().startsWith(wish));
  const holds = options.filter((it) => !starts.includes(it) && `${it.word} ${it.about ?? ""}`.toLowerCase().includes(wish));
  return [...starts, ...holds];
}

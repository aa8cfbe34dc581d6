// SPDX-License-Identifier: GPL-3.0-or-later
// Where a new entry goes, as a phrase says it by the names of others: "round number", "below the rail",
// "along the edge of board", "in the back layer". Pure.
import type { Entry } from "./names";
import type { Table } from "./path";
import type { EntryKind } from "./schema";
import { withRole } from "./schema";

/** A phrase without what was understood. */
export interface Heard {
  rest: string;
}

const NAME = "(?:the )?(NAME)";
const SEVERAL = "(?:the )?((?:NAME)(?:(?:,| and|, and) (?:the )?(?:NAME))*)";
/** Words before a name, and the field that they mean; the first that the kind has. */
const SAID: readonly (readonly [string, string])[] = [
  [`\\b(?:above|over) ${NAME}`, "above"],
  [`\\b(?:below|under|beneath) ${NAME}`, "below"],
  [`\\b(?:to the )?left of ${NAME}`, "left of"],
  [`\\b(?:to the )?right of ${NAME}`, "right of"],
  [`\\bwithin ${NAME}|\\binside ${NAME}`, "inside"],
  [`\\b(?:along|inside) the edge of ${NAME}`, "edge of"],
  [`\\bbetween ${SEVERAL}`, "between"],
];
const ROUND = `\\b(?:round|around) ${SEVERAL}`;
const LAYER = /\bin the (front|middle|back) (?:layer|sheet)\b/i;

/** Text with a relation taken out; its names go to `take`. */
function hear(text: string, pattern: string, names: readonly string[], take: (found: string[]) => void): string {
  if (names.length === 0) return text;
  const any = names.map((it) => it.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")).join("|");
  return text.replace(new RegExp(`${pattern.replaceAll("NAME", any)}(?![\\p{L}\\p{N}])`, "iu"), (_, ...groups: unknown[]) => {
    const said = groups.find((it): it is string => typeof it === "string") ?? "";
    take(names.filter((it) => new RegExp(`(^|[^\\p{L}\\p{N}])${it.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")}($|[^\\p{L}\\p{N}])`, "iu").test(said)));
    return " ";
  });
}

/** What the phrase says of a place by others' names goes into `body`. */
export function relate(text: string, kind: EntryKind, entries: readonly Entry[], body: Table): Heard {
  const has = (key: string): boolean => kind.fields.some((it) => it.key === key);
  const names = entries.map((it) => it.name).sort((a, b) => b.length - a.length);
  let rest = text;
  for (const [pattern, key] of SAID) {
    if (!has(key)) continue;
    rest = hear(rest, pattern, names, (found) => {
      if (key === "between") body[key] = found;
      else if (found[0] !== undefined) body[key] = found[0];
    });
  }
  for (const field of withRole(kind, "around")) rest = hear(rest, ROUND, names, (found) => (body[field.key] = found));
  const layer = LAYER.exec(rest);
  if (layer !== null && has("layer")) {
    body["layer"] = layer[1]?.toLowerCase() ?? "";
    rest = rest.replace(LAYER, " ");
  }
  return { rest };
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Values as YAML on one line, the way one would write them by hand: [left end, right end].
// What is not plainly plain goes into quotes, which YAML reads as JSON does.
import type { Tree } from "../api";

const PLAIN = /^[\p{L}\p{N}+.-](?:[\p{L}\p{N} .%'’°/+&!()"½¼¾⅛⅜⅝⅞-]*[\p{L}\p{N}.%'’°)"!½¼¾⅛⅜⅝⅞])?$/u;
const SPECIAL = /^(?:null|~|-|--.*|\.\.\.|- .*)$/i;

export function scalar(text: string): string {
  return PLAIN.test(text) && !SPECIAL.test(text) ? text : JSON.stringify(text);
}

export function yaml(tree: Tree): string {
  if (Array.isArray(tree)) return `[${tree.map(yaml).join(", ")}]`;
  if (typeof tree === "object" && tree !== null)
    return `{${Object.entries(tree).map(([key, value]) => `${scalar(key)}: ${yaml(value)}`).join(", ")}}`;
  return tree === null ? "null" : scalar(String(tree));
}

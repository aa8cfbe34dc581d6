// SPDX-License-Identifier: GPL-3.0-or-later
// The slip says all of the recipe: each example, each starter, each field of the schema.
import { test } from "node:test";
import assert from "node:assert/strict";
import type { Tree } from "../src/api";
import { at, isTable } from "../src/slip/path";
import { entriesOf } from "../src/slip/names";
import { readSchema } from "../src/slip/schema";
import { headOf, plain, sentenceOf } from "../src/slip/sentences";
import type { Sentence } from "../src/slip/sentences";
import { recipes, schema as schemaFile } from "./recipes";

declare const process: { env: Record<string, string | undefined> };
declare const console: { log: (text: string) => void };
const schema = readSchema(schemaFile());

/** Paths of all texts below. */
function leaves(tree: Tree | undefined, path: string): string[] {
  if (Array.isArray(tree)) return tree.flatMap((item, i) => leaves(item, `${path}[${i}]`));
  if (isTable(tree)) return Object.entries(tree).flatMap(([key, item]) => leaves(item, path === "" ? key : `${path}.${key}`));
  return [path];
}
const covers = (said: string[], path: string): boolean => said.some((it) => path === it || path.startsWith(`${it}.`) || path.startsWith(`${it}[`));
const pathsOf = (it: Sentence): string[] => it.pieces.flatMap((piece) => (typeof piece === "string" ? [] : [piece.path]));

test("every value of every example and starter stands in a sentence", () => {
  for (const [name, tree] of recipes()) {
    const head = headOf(tree, schema);
    const said = [head.order, head.metal, head.use].flatMap(pathsOf);
    if (head.title !== null) said.push(head.title.path);
    for (const entry of entriesOf(tree)) {
      const sentence = sentenceOf(entry, schema);
      said.push(...pathsOf(sentence));
      const text = plain(sentence);
      if (process.env["SHOW"] !== undefined) console.log(`${name}: ${text}`);
      assert.match(text, /^[\p{L}\p{N}“&].*\.$/su, `${name}: ${text}`);
      assert.ok(!/ {2}|,,|\s[,.]|undefined|…/.test(text), `${name}: ${text}`);
    }
    if (process.env["SHOW"] !== undefined) console.log(`${name}: ${[head.order, head.metal, head.use].map(plain).join(" | ")}`);
    for (const path of leaves(tree, "")) {
      if (path === "holdfast" || path.startsWith("accept") || path.startsWith("limits")) continue; // said in lines of their own
      assert.ok(covers(said, path), `${name}: ${path} stands in no sentence`);
      assert.ok(at(tree, path) !== undefined, path);
    }
  }
});

test("what two figures are to each other is said", () => {
  const said = (kind: string, body: Tree): string => plain(sentenceOf({ index: 0, kind, name: "x", named: false, body: body as never, path: `entries[0].${kind}` }, schema));
  assert.match(said("words", { text: "A", font: "X", ellipse: ["600 mm", "300 mm"] }), /along an ellipse of 600 mm by 300 mm/);
  assert.match(said("row", { of: ["a"], columns: "3", pitch: ["30 mm", "20 mm"] }), /3 side by side, each 30 mm across and 20 mm down from the one before/);
  assert.match(said("words", { text: "A", font: "X", shift: ["3 mm", "2 mm"] }), /then moved 3 mm across and 2 mm up/);
  assert.match(said("border", { on: "board", inset: "3 mm", width: "2 mm" }), /^A plain border is cut in board, 3 mm inside its edge and 2 mm wide/);
});

test("every field of the schema is said or can be said, of every kind of entry", () => {
  assert.ok(schema.entries.size >= 17);
  for (const [kind, { fields }] of schema.entries) {
    const entry = { index: 0, kind, name: "x", named: false, body: {}, path: `entries[0].${kind}` };
    const sentence = sentenceOf(entry, schema);
    const reached = new Set([...pathsOf(sentence), ...sentence.unsaid.map((it) => it.path)]);
    for (const field of fields) assert.ok(reached.has(`entries[0].${kind}.${field.key}`), `${kind}: ${field.key} can't be reached`);
  }
});

test("every field that is set is in the sentence, one at a time", () => {
  for (const [kind, { fields }] of schema.entries) {
    for (const field of fields) {
      const value: Tree = field.kind === "point" || field.kind === "numbers" ? ["1 mm", "2 mm"] : field.choices[0]?.word ?? "1 mm";
      const entry = { index: 0, kind, name: "x", named: false, body: { [field.key]: value }, path: `entries[0].${kind}` };
      const sentence = sentenceOf(entry, schema);
      assert.ok(pathsOf(sentence).some((path) => covers([`entries[0].${kind}.${field.key}`], path)), `${kind}: ${field.key} is not said: ${plain(sentence)}`);
    }
  }
});

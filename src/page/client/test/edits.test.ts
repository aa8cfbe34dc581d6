// SPDX-License-Identifier: GPL-3.0-or-later
// From what is typed to edits of the recipe: paths, lists, names, entries as a whole.
import { test } from "node:test";
import assert from "node:assert/strict";
import type { Edit, Tree } from "../src/api";
import { at, entryOf, isTable, isUnder, join, parent, say, steps, str } from "../src/slip/path";
import { anotherPlace, editsFor, meant, opposite, removeItem, ripe, typed } from "../src/slip/commit";
import { entriesOf, freeName, groupsOf, membersOf, mentions, renamed } from "../src/slip/names";
import { doubled, hangers, moved, textOf, without } from "../src/slip/arrange";
import { understand, asItem } from "../src/slip/phrase";
import { readSchema } from "../src/slip/schema";
import { headOf, sentenceOf } from "../src/slip/sentences";
import type { Value } from "../src/slip/sentences";
import { scalar, yaml } from "../src/slip/yaml";
import { recipes, schema as schemaFile, tree as parse } from "./recipes";

const schema = readSchema(schemaFile());

const BOATS = parse(`
holdfast: 1
sign: Boats
metal: {kind: mild steel, thickness: 3 mm}
alone: [boats]
accept: [{finding: sharp-point, of: boats, reason: high up}]
entries:
  - bar: {name: rail, length: 1200 mm, height: 20 mm}
  - words: {name: boats, text: Boats, font: Lobster Two, height: 140 mm, stand on: rail}
  - ear: {on: rail, at: [left end, right end], hole: 8 mm}
  - tie: {of: 2nd o of boats, em: [0.1, 0.2]}
  - hole: {diameter: 6 mm, at: [30 mm, -10 mm]}
`);

const PLATE = parse(`
entries:
  - plate: {name: board, shape: rectangle, width: 600 mm, height: 300 mm}
`);

/** The same edits on a plain tree. */
function applied(tree: Tree, edits: Edit[]): Tree {
  const out = JSON.parse(JSON.stringify(tree)) as Tree;
  for (const edit of edits) {
    const holder = at(out, parent(edit.path)) ?? (parent(edit.path) === "" ? out : undefined);
    const last = steps(edit.path)[steps(edit.path).length - 1];
    const value = edit.do === "set" ? edit.value ?? "" : edit.value === undefined ? null : parse(edit.value);
    if (Array.isArray(holder) && typeof last === "number") {
      if (edit.do === "remove") holder.splice(last, 1);
      else if (edit.do === "insert") holder.splice(last, 0, value);
      else holder[last] = value;
    } else if (isTable(holder) && typeof last === "string") {
      const list = holder[last];
      if (edit.do === "remove") Reflect.deleteProperty(holder, last);
      else if (edit.do === "insert" && Array.isArray(list)) list.push(value);
      else holder[last] = value;
    } else throw new Error(`no place for ${edit.path}`);
  }
  return out;
}

function valueAt(tree: Tree, path: string): Value {
  const head = headOf(tree, schema);
  const all = [...head.order.pieces, ...head.metal.pieces, ...head.use.pieces, ...head.order.unsaid, ...head.use.unsaid, ...(head.title === null ? [] : [head.title]),
    ...entriesOf(tree).flatMap((entry) => {
      const sentence = sentenceOf(entry, schema);
      return [...sentence.pieces, ...sentence.unsaid];
    })].filter((it): it is Value => typeof it !== "string");
  const found = all.find((it) => it.path === path);
  if (found === undefined) throw new Error(`${path} stands nowhere`);
  return found;
}
const typedAt = (tree: Tree, path: string, text: string): Tree => applied(tree, editsFor(tree, valueAt(tree, path), text, schema));

test("paths go apart and together again", () => {
  for (const path of ["entries[1].words.stand on", "metal.kind", "sign", "accept[0].of", "entries[4].hole.at[1]"]) assert.equal(join(...steps(path)), path);
  assert.equal(parent("entries[4].hole.at[1]"), "entries[4].hole.at");
  assert.equal(entryOf("entries[4].hole.at[1]"), 4);
  assert.equal(entryOf("metal.kind"), null);
  assert.ok(isUnder("entries[1].words.font.family", "entries[1].words.font"));
  assert.ok(!isUnder("entries[1].words.font size", "entries[1].words.font"));
  assert.ok(!isUnder("entries[11].bar", "entries[1]"));
});

test("what is there not yet comes with its table; the last word of an order takes the order along", () => {
  const made = applied(BOATS, say(BOATS, "order.customer", "Net Loft, Quay"));
  assert.equal(at(made, "order.customer"), "Net Loft, Quay");
  assert.equal(at(applied(made, say(made, "order.customer", undefined)), "order"), undefined);
  assert.deepEqual(say(BOATS, "process.kerf", undefined), []);
});

test("a value typed over", () => {
  assert.equal(at(typedAt(BOATS, "entries[0].bar.length", "1300"), "entries[0].bar.length"), "1300 mm");
  assert.equal(at(typedAt(BOATS, "entries[0].bar.corner", "5 mm"), "entries[0].bar.corner"), "5 mm");
  assert.equal(at(typedAt(BOATS, "sign", ""), "sign"), undefined);
  assert.deepEqual(at(typedAt(BOATS, "entries[1].words.text", "Boats\nand nets"), "entries[1].words.text"), ["Boats", "and nets"]);
  assert.deepEqual(at(typedAt(BOATS, "entries[1].words.band", "inner, outer"), "entries[1].words.band"), ["inner", "outer"]);
  assert.equal(at(typedAt(BOATS, "order.quantity", "2"), "order.quantity"), "2");
});

test("a shape brings its sizes along, in the recipe's unit; what it has none of goes", () => {
  const plate = (said: string): Tree => parse(`\nentries:\n  - plate: {name: board, ${said}}\n`);
  const as = (said: string, shape: string): Tree | undefined => at(typedAt(plate(said), "entries[0].plate.shape", shape), "entries[0].plate");
  assert.deepEqual(as("shape: rectangle, width: 600 mm, height: 300 mm", "shield"), { name: "board", shape: "shield", width: "600 mm", height: "600 mm" });
  assert.deepEqual(as("shape: rectangle, width: 400 mm, height: 480 mm", "shield"), { name: "board", shape: "shield", width: "400 mm", height: "480 mm" });
  assert.deepEqual(as("shape: rounded, width: 24 in, height: 12 in, corner: 1 in", "round"), { name: "board", shape: "round", diameter: "24 in" });
  assert.deepEqual(as("shape: round, diameter: 24 in", "rounded"), { name: "board", shape: "rounded", width: "24 in", height: "24 in", corner: "3/4 in" });
  assert.deepEqual(as("shape: rounded, margin: 20 mm, corner: 9 mm", "polygon"), { name: "board", shape: "polygon", margin: "20 mm", corner: "9 mm", sides: "6" });
  assert.deepEqual(as("shape: rounded, margin: 20 mm, corner: 9 mm", "outline"), { name: "board", shape: "outline", grow: "15 mm" });
});

test("a key brings along what it is nothing without", () => {
  assert.equal(at(typedAt(BOATS, "entries[1].words.wave", "30 mm"), "entries[1].words.wave length"), "300 mm");
  assert.equal(at(typedAt(BOATS, "entries[1].words.inside", "rail"), "entries[1].words.margin"), "20 mm");
  assert.equal(at(typedAt(BOATS, "entries[4].hole.from edge", "20 mm"), "entries[4].hole.count"), "4");
  const now = typedAt(BOATS, "entries[1].words.bite", "2 mm");
  assert.deepEqual(Object.keys(at(now, "entries[1].words") as object).length, 6); // it stands on the rail already
});

test("two figures of a size may be said with by", () => {
  const words = parse("\nentries:\n  - words: {text: A, font: X, ellipse: [600 mm, 300 mm]}\n");
  assert.deepEqual(at(typedAt(words, "entries[0].words.box", "900 mm by 200 mm"), "entries[0].words.box"), ["900 mm", "200 mm"]);
});

test("a finish in a table keeps its coat when its colour is typed over", () => {
  const tree = parse("\nfinish: {powder coat: RAL 9005, coat: 0.1 mm}\nentries: []\n");
  assert.deepEqual(at(typedAt(tree, "finish.powder coat", "RAL 7016"), "finish"), { "powder coat": "RAL 7016", coat: "0.1 mm" });
  assert.equal(at(typedAt(tree, "finish.coat", "0.08"), "finish.coat"), "0.08 mm");
});

test("places: one of several, so far across and up, and back", () => {
  assert.deepEqual(at(typedAt(BOATS, "entries[2].ear.at[1]", "centre"), "entries[2].ear.at"), ["left end", "centre"]);
  assert.equal(at(typedAt(BOATS, "entries[2].ear.at[1]", ""), "entries[2].ear.at"), "left end");
  assert.deepEqual(at(typedAt(BOATS, "entries[2].ear.at[0]", "5 mm, 6 mm"), "entries[2].ear.at"), [["5 mm", "6 mm"], "right end"]);
  assert.deepEqual(at(typedAt(BOATS, "entries[4].hole.at[0]", "45"), "entries[4].hole.at"), ["45 mm", "-10 mm"]);
  assert.equal(at(typedAt(BOATS, "entries[4].hole.at[0]", "top"), "entries[4].hole.at"), "top");
  assert.equal(at(typedAt(BOATS, "entries[4].hole.at[1]", ""), "entries[4].hole.at"), undefined);
  assert.deepEqual(at(applied(BOATS, anotherPlace(BOATS, "entries[4].hole.at")), "entries[4].hole.at"), [["30 mm", "-10 mm"], ["-30 mm", "-10 mm"]]);
  assert.deepEqual(at(applied(BOATS, anotherPlace(BOATS, "entries[1].words.at")), "entries[1].words.at"), "centre");
  assert.equal(opposite("top left"), "bottom right");
  assert.equal(opposite("11 o'clock"), "1 o'clock");
});

test("what is typed and what was there come out the same when nothing is changed", () => {
  for (const [name, tree] of recipes())
    for (const entry of entriesOf(tree))
      for (const piece of sentenceOf(entry, schema).pieces) {
        if (typeof piece === "string" || piece.field.kind === "font") continue;
        assert.equal(yaml(meant(piece, typed(piece)) ?? null), yaml(piece.raw ?? null), `${name} ${piece.path}`);
      }
});

test("half-typed sizes wait, whole ones go at once", () => {
  const length = valueAt(BOATS, "entries[0].bar.length");
  for (const text of ["1300 mm", "1300", "4 ft", "51-1/2 in"]) assert.ok(ripe(length, text), text);
  for (const text of ["", "abc", "mm"]) assert.ok(!ripe(length, text), text);
  assert.ok(!ripe(valueAt(BOATS, "entries[0].bar.name"), "beam"));
  assert.ok(!ripe(valueAt(BOATS, "entries[1].words.stand on"), "rai"));
  assert.ok(ripe(valueAt(BOATS, "entries[1].words.text"), "B"));
});

test("a name is changed wherever it is said", () => {
  const entry = entriesOf(BOATS)[1];
  if (entry === undefined) throw new Error("no words");
  const made = applied(BOATS, renamed(BOATS, entry, "name", schema));
  for (const path of ["entries[1].words.name", "alone[0]", "accept[0].of"]) assert.equal(at(made, path), "name", path);
  assert.equal(at(made, "entries[3].tie.of"), "2nd o of name");
  assert.equal(mentions(made, "boats", schema).length, 0);
  assert.equal(at(typedAt(BOATS, "entries[0].bar.name", "beam"), "entries[2].ear.on"), "beam");
  assert.deepEqual(editsFor(BOATS, valueAt(BOATS, "entries[0].bar.name"), "", schema), []);
});

test("the nameless are called as the core calls them", () => {
  assert.deepEqual(entriesOf(BOATS).map((it) => it.name), ["rail", "boats", "ear 1", "tie 1", "hole 1"]);
  assert.equal(freeName(BOATS, "rail"), "rail 2");
});

test("an entry goes, and what hangs on it", () => {
  const all = entriesOf(BOATS);
  const rail = all[0];
  if (rail === undefined) throw new Error("no rail");
  const needy = hangers(BOATS, rail, schema);
  assert.deepEqual(needy.map((it) => it.name), ["boats", "ear 1", "tie 1"]);
  const left = applied(BOATS, without(BOATS, [rail, ...needy]));
  assert.deepEqual(entriesOf(left).map((it) => it.kind), ["hole"]);
  assert.equal(at(left, "alone"), undefined);
  assert.equal(at(left, "accept"), undefined);
});

test("an entry that moves keeps its own text", () => {
  const text = `holdfast: 1
entries:
  - bar:            # the rail
      length: 1 m   # long
      # half of it
      height: 20 mm

  # the words
  - words: {text: A, font: B}   # one line
order: {customer: C}
`;
  const marks = { "entries[0]": { line: 3, column: 5 }, "entries[1]": { line: 9, column: 5 } };
  assert.equal(textOf(text, marks, 0), "bar:            # the rail\n  length: 1 m   # long\n  # half of it\n  height: 20 mm");
  assert.equal(textOf(text, marks, 1), "words: {text: A, font: B}   # one line");
  assert.equal(textOf(text, {}, 1), null);
  assert.equal(textOf("entries: [{bar: {}}]\n", { "entries[0]": { line: 1, column: 11 } }, 0), null);
  const state = { text, marks } as unknown as Parameters<typeof moved>[0];
  const made = applied(parse(text), moved(state, parse(text), 0, 1));
  assert.deepEqual(entriesOf(made).map((it) => it.kind), ["words", "bar"]);
  assert.equal(at(made, "entries[1].bar.length"), "1 m");
});

test("another one has a name of its own and another place", () => {
  const ear = entriesOf(BOATS)[0];
  if (ear === undefined) throw new Error("no rail");
  const made = applied(BOATS, doubled({ text: "", marks: {} } as unknown as Parameters<typeof doubled>[0], BOATS, ear, null, schema));
  assert.equal(at(made, "entries[1].bar.name"), "rail 2");
  assert.deepEqual(at(made, "entries[1].bar.shift"), ["20 mm", "-20 mm"]);
});

test("another one stands beside or under the first, where there is more room, in its own unit", () => {
  const no = { text: "", marks: {} } as unknown as Parameters<typeof doubled>[0];
  const copy = (entry: string, box: [number, number, number, number]): Tree | undefined => {
    const tree = parse(`entries:\n  - ${entry}\n`);
    const [it] = entriesOf(tree);
    if (it === undefined) throw new Error(entry);
    const view = { box: [-300, -100, 300, 100], entries: [{ index: 0, name: "", kind: "", box, centre: null, clear: null, clear_from: null, outline: null }] } as Parameters<typeof doubled>[3];
    return at(applied(tree, doubled(no, tree, it, view, schema)), join("entries", 1, it.kind));
  };
  const wide: [number, number, number, number] = [-200, 30, 200, 70];
  assert.deepEqual(at(copy("words: {text: A, height: 40 mm}", wide), "shift"), ["0 mm", "-46 mm"]);
  assert.deepEqual(at(copy("words: {text: A, height: 40 mm, shift: [1 cm, 2 cm]}", wide), "shift"), ["1 cm", "-2.6 cm"]);
  assert.deepEqual(at(copy("words: {text: A, height: 40 mm, at: [0 mm, 50 mm]}", wide), "at"), ["0 mm", "4 mm"]);
  assert.deepEqual(at(copy("words: {text: A, height: 1-1/2 in}", wide), "shift"), ["0 in", "-1-3/4 in"]);
  assert.deepEqual(at(copy("words: {text: A, height: 40 mm, stand on: rail}", wide), "shift"), ["0 mm", "46 mm"]);
  assert.deepEqual(at(copy("hole: {diameter: 8 mm, at: [-290 mm, 0 mm]}", [-294, -4, -286, 4]), "at"), ["-277 mm", "0 mm"]);
  assert.deepEqual(at(copy("star: {diameter: 40 mm, at: centre}", [-20, -20, 20, 20]), "shift"), ["46 mm", "0 mm"]);
  assert.equal(at(copy("words: {text: A, band: [a, b]}", wide), "at"), "bottom");
  assert.equal(at(copy("star: {diameter: 40 mm, at: 123 deg}", wide), "at"), "57 deg");
  assert.equal(opposite("12 o'clock"), "6 o'clock");
  assert.equal(opposite("90 deg"), "270 deg");
  assert.equal(opposite("centre"), "centre");
});

test("entries said in words", () => {
  const said = (text: string, tree: Tree = BOATS): Tree => {
    const phrase = understand(text, tree, schema);
    return phrase === null ? null : parse(`- ${asItem(phrase)}`);
  };
  const body = (text: string, tree: Tree, path: string): string => str(at(said(text, tree), `[0].${path}`));
  assert.equal(body("and a hole of 6 mm at the top", BOATS, "hole.diameter"), "6 mm");
  assert.equal(body("and a hole of 6 mm at the top", BOATS, "hole.at"), "top");
  assert.equal(body("a hole for M6 at the top", BOATS, "hole.screw"), "M6");
  assert.equal(at(said("a hole for M6 at the top"), "[0].hole.diameter"), undefined);
  assert.equal(body("a slot for M10, 30 mm long", BOATS, "slot.length"), "30 mm");
  assert.equal(body("a keyhole for a head of 16 mm", BOATS, "keyhole.head"), "16 mm");
  assert.equal(body("studs of 8 mm", BOATS, "studs.diameter"), "8 mm");
  assert.equal(body("a ring, 600 mm across and 20 mm wide", BOATS, "ring.outer"), "600 mm");
  assert.equal(body("a ring, 600 mm across and 20 mm wide", BOATS, "ring.width"), "20 mm");
  assert.equal(body("a ring 20 mm wide, 24 in across", BOATS, "ring.outer"), "24 in");
  assert.equal(body("a foot 60 mm wide and 15 mm high at each end", BOATS, "foot.height"), "15 mm");
  assert.equal(body("a foot 60 mm wide and 15 mm high at each end", BOATS, "foot.at"), "[left end, right end]");
  assert.equal(body("words “Saltmarsh Quay” 60 mm high", BOATS, "words.text"), "Saltmarsh Quay");
  assert.equal(body("words HARBOUR 60 mm high", BOATS, "words.height"), "60 mm");
  assert.equal(body("words HARBOUR 60 mm high", BOATS, "words.stand on"), "rail");
  assert.equal(body("an oval plate, 400 mm by 250 mm", BOATS, "plate.height"), "250 mm");
  assert.equal(body("an oval plate, 400 mm by 250 mm", BOATS, "plate.shape"), "oval");
  assert.equal(body("a stake 16 mm wide", BOATS, "stake.on"), "rail");
  assert.equal(understand("good morning", BOATS, schema), null);
  assert.equal(body("a rounded plate round boats with a margin of 30 mm in the back layer", BOATS, "plate.around"), "[boats]");
  assert.deepEqual(at(said("a rounded plate round boats with a margin of 30 mm in the back layer"), "[0].plate"),
    { name: "board", shape: "rounded", corner: "20 mm", around: ["boats"], margin: "30 mm", layer: "back" });
  assert.deepEqual(at(said("a close-fitting plate round boats"), "[0].plate.around"), ["boats"]);
  assert.deepEqual(at(said("a ring round boats"), "[0].ring"), { name: "ring", width: "16 mm", around: ["boats"], margin: "20 mm" });
  assert.equal(body("a star below the rail", BOATS, "star.below"), "rail");
  assert.equal(body("words QUAY 40 mm high, below rail", BOATS, "words.stand on"), "");
  assert.equal(body("words QUAY 40 mm high, below rail", BOATS, "words.below"), "rail");
  assert.equal(body("words QUAY along the edge of board 40 mm high", PLATE, "words.inset"), "20 mm");
  assert.equal(body("words QUAY along the edge of board 40 mm high", PLATE, "words.edge of"), "board");
  assert.equal(body("words QUAY inside board with a margin of 15 mm", PLATE, "words.margin"), "15 mm");
  assert.equal(at(said("words QUAY inside board with a margin of 15 mm", PLATE), "[0].words.height"), undefined);
  assert.equal(body("words QUAY, a wave of 30 mm", PLATE, "words.wave length"), "300 mm");
  assert.equal(body("a border", BOATS, "border.on"), ""); // a rail has no border
  assert.equal(body("a border", PLATE, "border.on"), "board");
  assert.equal(body("words QUAY arched by 30 mm", PLATE, "words.arch"), "30 mm");
});

test("what a phrase says and the page does not understand is told", () => {
  const unread = (text: string): string[] => understand(text, BOATS, schema)?.unread ?? [];
  assert.deepEqual(unread("a hole of 6 mm at the top"), []);
  assert.deepEqual(unread("a blue hole of 6 mm at the top, gilded"), ["blue", "gilded"]);
  assert.deepEqual(unread("a rounded plate round boats with a margin of 30 mm in the back layer"), []);
  for (const { called } of schema.entries.values()) assert.deepEqual(unread(called), [], called);
  for (const text of ["a foot 60 mm wide and 15 mm high at each end", "words “Saltmarsh Quay” 60 mm high", "an oval plate, 400 mm by 250 mm", "a keyhole for a head of 16 mm", "studs of 8 mm"])
    assert.deepEqual(unread(text), [], text);
});

test("every kind can be picked for every sign, and is whole in what the core needs", () => {
  for (const [name, tree] of recipes())
    for (const [kind, { called, fields }] of schema.entries) {
      const phrase = understand(called, tree, schema);
      assert.equal(phrase?.kind, kind, `${name}: ${kind}`);
      for (const field of fields) if (field.required) assert.ok(phrase?.body[field.key] !== undefined, `${name}: ${kind} has no ${field.key}`);
      for (const key of Object.keys(phrase?.body ?? {})) assert.ok(fields.some((it) => it.key === key), `${name}: ${kind} knows no ${key}`);
    }
});

test("a drawing is of the file that is named", () => {
  const tree: Tree = { entries: [] };
  assert.deepEqual(understand("a drawing birds/Heron-2.svg, 300 mm high", tree, schema)?.body, { file: "birds/Heron-2.svg", height: "300 mm" });
  assert.deepEqual(understand("a drawing logo.dxf 12.5 mm wide", tree, schema)?.unread, []);
  assert.equal(understand("a drawing", tree, schema)?.body["file"], "drawing.svg");
});

test("values as YAML read back the same", () => {
  const rows: Tree[] = ["left end", "3/16\"", "5' 6-1/2\"", "a: b", "x # y", "", "~", "null", "- dash", "[a", "{b}", "É", "a, b", "true", "007", "#hash", "it's", "12 o'clock", " lead", "trail ",
    "line\nbreak", "100 %", ["a", ["1 mm", "-2 mm"]], { "stand on": "rail", text: "A & B: C" }];
  for (const row of rows) assert.deepEqual(parse(`x: ${yaml(row)}`), { x: row }, yaml(row));
  assert.equal(scalar("left end"), "left end");
  assert.equal(yaml(["left end", "right end"]), "[left end, right end]");
});

test("taking an item out of a list", () => {
  assert.deepEqual(removeItem(BOATS, "alone[0]"), [{ do: "remove", path: "alone" }]);
});

test("a member shows its groups, a group its members, also those of groups within it", () => {
  const tree: Tree = { entries: [
    { words: { name: "a", text: "A" } }, { words: { name: "b", text: "B" } }, { row: { name: "pair", of: ["a", "b"] } },
    { words: { name: "c", text: "C" } }, { stack: { name: "all", of: ["pair", "c"] } }, { plate: { name: "board", around: ["a"] } },
  ] };
  assert.deepEqual(membersOf(tree, schema, 4).sort(), [0, 1, 2, 3]);
  assert.deepEqual(membersOf(tree, schema, 2).sort(), [0, 1]);
  assert.deepEqual(groupsOf(tree, schema, 0), [2, 4]);
  assert.deepEqual(groupsOf(tree, schema, 3), [4]);
  assert.deepEqual(groupsOf(tree, schema, 5), []);
  assert.deepEqual(membersOf(tree, schema, 5), []); // what a plate goes round it does not place
});

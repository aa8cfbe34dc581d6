// SPDX-License-Identifier: GPL-3.0-or-later
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Cure, Finding } from "../src/api";
import { accepting, refusing } from "../src/findings/accept";
import { follow, hold, look } from "../src/sign/look";
import { bestOf, canAccept, costOf, curesOf, gather, leavesOf, moreLikeThis, sentence, shelved } from "../src/findings/gather";

const finding = (part: Partial<Finding>): Finding => ({
  id: 0, law: "thin-web", about: "metal", gravity: "stop", where: "rail", what: "web is 1.2 mm", fix: "widen it", text: "", measured: 1.2, limit: 2, unit: "mm",
  said_by: "common practice", places: [[0, 0]], entries: [], accepted: null, cures_known: [], ...part,
});
const cure = (part: Partial<Cure>): Cure => ({ id: "a", key: "ties", sentence: "ties", takes: [0], added: 0, removed: 0, shift: 0, ties: 0, stops: 0, cautions: 0, notes: 0, whole: false, ...part });

test("gravest first, the accepted last, alike ones together", () => {
  const groups = gather([
    finding({ id: 1, law: "lost-detail", gravity: "note" }),
    finding({ id: 2, law: "sharp-point", gravity: "caution", accepted: "out of reach" }),
    finding({ id: 3, law: "narrow-gap", gravity: "caution" }),
    finding({ id: 4 }),
    finding({ id: 5, law: "loose-part" }),
    finding({ id: 6 }),
    finding({ id: 7, gravity: "caution" }),
  ]);
  assert.deepEqual(groups.map((group) => [group.first.id, ...group.more.map((it) => it.id)]), [[4, 6], [5], [3], [7], [1], [2]]);
  assert.equal(moreLikeThis(1), "1 more like this");
  assert.equal(moreLikeThis(3), "3 more like this");
  assert.deepEqual(gather([]), []);
});

test("cures of a finding: the best, then those that make it whole", () => {
  const all = [cure({ id: "a", takes: [0, 1] }), cure({ id: "b", takes: ["0"], whole: true }), cure({ id: "c", takes: [1] }), cure({ id: "d", takes: [0], whole: true, best: true })];
  assert.deepEqual(curesOf(finding({ id: 0 }), all).map((it) => it.id), ["d", "b", "a"]);
  assert.equal(bestOf(all)?.id, "d");
  assert.equal(bestOf(all.slice(0, 2))?.id, "b");
  assert.equal(bestOf([cure({})]), null);
});

test("what cures all at once stands above, where there is more than one stop", () => {
  const all = [cure({ id: "a" }), cure({ id: "b", whole: true }), cure({ id: "c", whole: true, best: true })];
  assert.deepEqual(shelved(all, 1), []);
  assert.deepEqual(shelved(all, 2).map((it) => it.id), ["c", "b"]);
});

test("what a cure costs, in words", () => {
  assert.equal(costOf(cure({ added: 310.2, ties: 12 }), "mm"), "adds 310 mm² of metal, 12 ties");
  assert.equal(costOf(cure({ shift: 1.8 }), "mm"), "moves outlines by up to 1.8 mm");
  assert.equal(costOf(cure({ ties: 1 }), "mm"), "1 tie");
  assert.equal(costOf(cure({}), "mm"), "changes next to nothing");
  assert.match(costOf(cure({ shift: 2.54 }), "inch"), /0\.1 in/);
  assert.equal(leavesOf(cure({ whole: true })), "then it is whole");
  assert.equal(leavesOf(cure({ whole: true, cautions: 2 })), "then it is whole, 2 cautions left");
  assert.equal(leavesOf(cure({ stops: 1 })), "1 stop is left");
});

test("only a caution can be accepted, and only once", () => {
  assert.equal(canAccept(finding({})), false);
  assert.equal(canAccept(finding({ gravity: "caution" })), true);
  assert.equal(canAccept(finding({ gravity: "caution", accepted: "so" })), false);
  assert.equal(canAccept(finding({ gravity: "note" })), false);
});

const entries = [{ index: 0, name: "rail", kind: "bar", box: null, centre: null, clear: null, clear_from: null, outline: null }, { index: 1, name: "words 2", kind: "words", box: null, centre: null, clear: null, clear_from: null, outline: null }];
const tree = { entries: [{ bar: { name: "rail" } }, { words: { text: "A" } }] };

test("accepting makes the list, or adds to it, for the one entry where the recipe named it", () => {
  const point = finding({ law: "sharp-point", gravity: "caution", entries: [0] });
  assert.deepEqual(accepting(point, "out of reach", entries, tree), { do: "put", path: "accept", value: '[{"finding":"sharp-point","of":"rail","reason":"out of reach"}]' });
  assert.deepEqual(accepting({ ...point, entries: [1] }, "so: \"x\"", entries, { ...tree, accept: [{}] }), { do: "insert", path: "accept[1]", value: '{"finding":"sharp-point","reason":"so: \\"x\\""}' });
  assert.equal(accepting({ ...point, entries: [0, 1] }, "y", entries, tree).value, '[{"finding":"sharp-point","reason":"y"}]');
});

test("taking an acceptance back removes the line that did it", () => {
  const accept = [{ finding: "narrow-gap", reason: "a" }, { finding: "sharp-point", of: "rail", reason: "b" }];
  const point = finding({ law: "sharp-point", gravity: "caution", entries: [0], accepted: "b" });
  assert.deepEqual(refusing(point, entries, { ...tree, accept }), { do: "remove", path: "accept[1]" });
  assert.deepEqual(refusing(point, entries, { ...tree, accept: accept.slice(1) }), { do: "remove", path: "accept" });
  assert.equal(refusing({ ...point, accepted: "c" }, entries, { ...tree, accept }), null);
});

test("a sentence starts with a capital", () => {
  assert.equal(sentence("letter 'a'"), "Letter 'a'");
  assert.equal(sentence(""), "");
});

test("what is looked at is found again in the next view, or let go", () => {
  const thin = finding({ id: 3, where: "rail", places: [[0, 0], [1, 1]] });
  hold(thin, 1);
  follow([finding({ id: 0, where: "board" }), finding({ id: 1, where: "rail", places: [[5, 5]] })]);
  assert.equal(look.value?.finding, "1");
  assert.equal(look.value?.place, 0);
  follow([finding({ id: 1, where: "board" })]); // the same number, another thing
  assert.equal(look.value, null);
});

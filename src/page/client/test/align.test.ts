// SPDX-License-Identifier: GPL-3.0-or-later
// Lining up: what is expected is worked out here by hand from the boxes.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Box, Handle } from "../src/api";
import { aligned, moved, nextAlong, ways } from "../src/sign/align";
import type { Thing } from "../src/sign/align";
import { dragged, furtherBy, placed, stepped, typed } from "../src/sign/drag";

const board: Thing = { name: "board", box: [-200, -100, 200, 100] };
const title: Thing = { name: "title", box: [-150, 20, 50, 60] };
const close = (a: number, b: number, by = 1e-9): void => assert.ok(Math.abs(a - b) <= by, `${a} is not ${b}`);

test("middles, level edges and edges that meet", () => {
  const near = aligned([-13, -41, 17, -1], [board, title], 6); // 30 by 40; its middle is at 2, -21
  assert.equal(near.x?.words, "in the middle of board");
  close(near.x?.by ?? NaN, -2);
  assert.equal(near.y, null); // nothing within 6 mm: -1 to 20 is 21, the middle 21
  const left = aligned([-147, -41, -117, -1], [board, title], 6);
  assert.equal(left.x?.words, "level with the left edge of title");
  close(left.x?.by ?? NaN, -3);
  const under = aligned([-147, -22, -117, 18], [title], 6);
  assert.equal(under.y?.words, "its top at the foot of title");
  close(under.y?.by ?? NaN, 2);
  const foot = aligned([60, 22, 90, 72], [title], 4);
  assert.equal(foot.y?.words, "level with the foot of title");
  close(foot.y?.by ?? NaN, -2);
});

test("no farther than the reach, and the nearest of several", () => {
  assert.equal(aligned([-6, 300, 18, 310], [board], 5.99).x, null); // its middle is 6 off
  assert.equal(aligned([-6, 300, 18, 310], [board], 6).x?.by, -6);
  const two: Thing[] = [{ name: "a", box: [0, 0, 10, 10] }, { name: "b", box: [3, 0, 53, 10] }];
  assert.equal(aligned([2, 200, 32, 230], two, 6).x?.words, "level with the left edge of b");
});

test("equal gaps: midway, and as far as the last ones", () => {
  const a: Thing = { name: "a", box: [0, 0, 20, 20] };
  const b: Thing = { name: "b", box: [50, 0, 70, 20] };
  const between = aligned([29, 3, 43, 17], [a, b], 3); // 14 wide: its middle belongs at 35
  assert.equal(between.x?.words, "midway between a and b");
  close(between.x?.by ?? NaN, -1);
  assert.equal(between.x?.lines.length, 2);
  const after = aligned([98, 2, 112, 19], [a, b], 3); // the gap is 30: 70 + 30
  assert.equal(after.x?.words, "as far from b as b is from a");
  close(after.x?.by ?? NaN, 2);
  const before = aligned([-45, 2, -31, 19], [a, b], 3); // 0 - 30 - 14
  assert.equal(before.x?.words, "as far from a as a is from b");
  close(before.x?.by ?? NaN, 1);
  assert.equal(aligned([98, 200, 112, 219], [a, b], 3).x, null); // it stands in no row with them
});

test("what was lined up lies there exactly, whichever box", () => {
  const things: Thing[] = [board, title, { name: "hole", box: [100, -80, 108, -72] }];
  for (let i = 0; i < 200; i++) {
    const own: Box = [-190 + 1.7 * i, -90 + 0.83 * i, -160 + 1.7 * i, -79 + 0.83 * i];
    const to = aligned(own, things, 6);
    const after = aligned(moved(own, [to.x?.by ?? 0, to.y?.by ?? 0]), things, 6);
    if (to.x !== null) close(after.x?.by ?? NaN, 0);
    if (to.y !== null) close(after.y?.by ?? NaN, 0);
  }
});

test("the next edge on each side: beside it, or of what is round it", () => {
  const found = ways([-100, -50, -60, -30], [board, title]);
  assert.deepEqual(found.map((it) => [it.mm, it.to]), [[100, "board"], [260, "board"], [50, "board"], [50, "title"]]);
  assert.deepEqual(ways([300, 300, 310, 310], [board]), []);
});

const handle = (part: Partial<Handle>): Handle => ({ entry: 0, path: "entries[0].words.shift", kind: "move", at: [0, 0], centre: [0, 0], unit: "mm", value: [0, 0], ...part });

test("the value of what was lined up is exact in its own unit, of the rest round", () => {
  // 3.2 mm to the right and a snap of 1.2345 more; up by 7.3 mm at 1 mm a pixel: rounded
  assert.deepEqual(placed(handle({}), [0, 0], [3.2, 7.3], 1, { x: 1.2345, y: null }), [4.4345, 7]);
  const inches = placed(handle({ unit: "in", value: [1, 0] }), [0, 0], [3, 0], 0.1, { x: 0.21, y: null });
  close((inches as [number, number])[0] * 25.4, 25.4 + 3.21, 1e-4);
  assert.match(typed(inches, "in"), /^\[1\.126378 in, /); // 28.61 / 25.4
});

test("arrows: 1 mm, ten with shift, a tenth with Alt, and no other digits change", () => {
  assert.deepEqual(stepped(handle({ value: [4.4345, 0] }), "ArrowRight", false), [5.4345, 0]);
  assert.deepEqual(stepped(handle({ value: [4.4345, 0] }), "ArrowDown", true), [4.4345, -10]);
  assert.deepEqual(stepped(handle({ value: [4.4345, 0] }), "ArrowLeft", false, true), [4.3345, 0]);
  assert.deepEqual(stepped(handle({ unit: "in", value: [0, 0] }), "ArrowUp", false, true), [0, 0.015625]);
});

test("by keys from one place where it lines up to the next", () => {
  const own: Box = [60, 70, 90, 80]; // right of title and above it; middle of board at 0
  const left = nextAlong(own, [board, title], 0, -1);
  assert.equal(left?.words, "its left edge at the right edge of title");
  close(left?.by ?? NaN, -10);
  const next = nextAlong(moved(own, [-10, 0]), [board, title], 0, -1); // its right edge level with title's: 80 to 50
  assert.equal(next?.words, "level with the right edge of title");
  close(next?.by ?? NaN, -30);
  assert.equal(nextAlong([300, 0, 310, 10], [board], 0, 1), null); // nothing is further on
  const handle = { entry: 1, path: "entries[1].words.shift", kind: "move", at: [0, 0], centre: [0, 0], unit: "in", value: [1 / 3, 2] } as unknown as Handle & { value: [number, number] };
  assert.deepEqual(furtherBy(handle, 1, 25.4), [1 / 3, 3]); // the other keeps all its digits
});

test("an arch that hangs goes on hanging, and grows as its foot is drawn down", () => {
  const handle = { entry: 1, path: "entries[1].words.arch", kind: "radius", at: [0, -40], centre: [0, 0], unit: "mm", value: -40 } as unknown as Handle & { value: number };
  assert.equal(dragged(handle, [0, -40], [0, -50], 0.5), -50);
  assert.equal(dragged(handle, [0, -40], [0, 30], 0.5), -0.5); // never over
});

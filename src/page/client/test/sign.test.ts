// SPDX-License-Identifier: GPL-3.0-or-later
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Handle, Point, Web } from "../src/api";
import { dragged, roundStep, said, stepped, typed } from "../src/sign/drag";
import { between, pan, scaleBar, tethered, toSign, toWall, viewBox, whole, zoom } from "../src/sign/frame";
import type { Frame } from "../src/sign/frame";
import { bars, heat, heated, legend } from "../src/sign/heat";
import { isPale } from "../src/sign/likes";
import { openingAt, ringsOf } from "../src/sign/places";

const size = { w: 800, h: 400 };
const close = (a: number, b: number, by = 1e-9): void => assert.ok(Math.abs(a - b) <= by, `${a} is not ${b}`);

test("the whole sign is inside the wall, with the room asked for, in its middle", () => {
  const area = { x0: -500, y0: -80, x1: 500, y1: 20 };
  const frame = whole(area, size, { side: 40, top: 30, bottom: 50 });
  const [left, top] = toWall(frame, size, [area.x0, area.y0]);
  const [right, bottom] = toWall(frame, size, [area.x1, area.y1]);
  close(left, 40);
  close(right, 760);
  close(top - 30, 400 - 50 - bottom);
  assert.equal(viewBox({ x: 0, y: 0, k: 0.5 }, size), "-200 -100 400 200");
});

test("what is under the hand stays there: panning and zooming", () => {
  const frame: Frame = { x: 12, y: -7, k: 0.8 };
  const at: Point = [613, 77];
  const under = toSign(frame, size, at);
  for (const factor of [1.5, 0.3, 20]) {
    const after = toWall(zoom(frame, size, at, factor), size, under);
    close(after[0], at[0], 1e-6);
    close(after[1], at[1], 1e-6);
  }
  const moved = toWall(pan(frame, 31, -9), size, under);
  close(moved[0], at[0] + 31);
  close(moved[1], at[1] - 9);
});

test("no zoom leaves the world, no pan loses the sign", () => {
  let frame: Frame = { x: 0, y: 0, k: 1 };
  for (let i = 0; i < 200; i++) frame = zoom(frame, size, [0, 0], 2);
  assert.ok(frame.k > 0 && Number.isFinite(frame.x));
  const area = { x0: -100, y0: -100, x1: 100, y1: 100 };
  const far = tethered({ x: 1e6, y: -1e6, k: 1 }, area, size);
  const [left] = toWall(far, size, [100, 0]);
  assert.ok(left > 0 && left < 800);
});

test("a journey begins and ends where it should, and zooms straight", () => {
  const from = { x: 0, y: 0, k: 2 };
  const to = { x: 50, y: -20, k: 0.1 };
  assert.deepEqual(between(from, to, 0), from);
  const end = between(from, to, 1);
  close(end.x, to.x, 1e-9);
  close(end.k, to.k, 1e-12);
  // A straight zoom has one point of the wall that never moves.
  const fixed = (a: Frame, b: Frame): number => (a.x * b.k - b.x * a.k) / (b.k - a.k);
  const mid = between(from, to, 0.4);
  close(fixed(from, to), fixed(from, mid), 1e-6);
});

test("the scale is a round length that has room", () => {
  assert.deepEqual(scaleBar(1, "mm", 150), { mm: 100, words: "100 mm" });
  assert.deepEqual(scaleBar(1, "mm", 100), { mm: 100, words: "100 mm" });
  assert.deepEqual(scaleBar(10, "mm", 150), { mm: 1000, words: "1 m" });
  assert.deepEqual(scaleBar(0.004, "mm", 150), { mm: 0.5, words: "0.5 mm" });
  assert.equal(scaleBar(1, "inch", 150).words, "3 in"); // 5.9 in have room; 1 in = 25.4 mm exactly
  close(scaleBar(1, "inch", 150).mm, 76.2);
  for (let k = 0.004; k < 40; k *= 1.3)
    for (const units of ["mm", "inch"] as const) assert.ok(scaleBar(k, units, 150).mm / k <= 150.001 || scaleBar(k, units, 150).mm < 0.5);
});

const handle = (part: Partial<Handle>): Handle => ({ entry: 0, path: "entries[0].ring.outer", kind: "radius", at: [250, 0], centre: [0, 0], unit: "mm", value: 500, ...part });

test("a ring dragged outward: a diameter grows by twice the way", () => {
  assert.equal(dragged(handle({}), [250, 0], [260, 0], 0.5), 520);
  assert.equal(dragged(handle({}), [250, 0], [260, 90], 0.5), 520); // sideways does nothing
  assert.equal(dragged(handle({}), [248, 3], [258, 3], 0.5), 520); // taken beside its middle: no jump
  assert.equal(dragged(handle({}), [250, 0], [-400, 0], 0.5), 0.5); // never through zero
  assert.equal(dragged(handle({ unit: "in", value: 20, at: [254, 0] }), [254, 0], [266.7, 0], 0.5), 21);
});

test("as round as a pixel shows", () => {
  assert.equal(roundStep(0.3, false), 0.5);
  assert.equal(roundStep(0.5, false), 0.5);
  assert.equal(roundStep(3, false), 5);
  assert.equal(roundStep(0.001, false), 0.1);
  assert.equal(roundStep(0.1, true), 0.125);
  assert.equal(dragged(handle({}), [250, 0], [251.13, 0], 0.9), 502);
  assert.equal(dragged(handle({}), [250, 0], [251.13, 0], 0.05), 502.3);
});

test("turned about a centre, the short way", () => {
  const turn = handle({ kind: "turn", unit: "deg", value: 90, at: [0, 100] });
  assert.equal(dragged(turn, [0, 100], [-100, 0], 1), 180);
  assert.equal(dragged(turn, [0, 100], [100, 0], 1), 0);
  assert.equal(dragged(handle({ kind: "turn", unit: "deg", value: 170, at: [-98, 17] }), [-98.48, 17.36], [-98.48, -17.36], 1), -170);
});

test("moved: both coordinates, or the one it has", () => {
  assert.deepEqual(dragged(handle({ kind: "move", value: [10, -5], at: [10, -5] }), [10, -5], [33.2, -5.4], 1), [33, -5]);
  assert.equal(dragged(handle({ kind: "move", value: 40, at: [40, 0], centre: [0, 0] }), [40, 0], [52, 31], 1), 52);
});

test("arrow keys step; a size never falls to nothing", () => {
  assert.equal(stepped(handle({}), "ArrowUp", false), 501);
  assert.equal(stepped(handle({}), "ArrowLeft", true), 490);
  assert.equal(stepped(handle({ value: 1 }), "ArrowDown", false), 1);
  assert.equal(stepped(handle({ unit: "in", value: 20 }), "ArrowUp", false), 20.0625);
  assert.equal(stepped(handle({}), "Tab", false), null);
  assert.deepEqual(stepped(handle({ kind: "move", value: [0, 0] }), "ArrowLeft", false), [-1, 0]);
});

test("written with its unit, said in words", () => {
  assert.equal(typed(520, "mm"), "520 mm");
  assert.equal(typed([3, -4.25], "mm"), "[3 mm, -4.25 mm]");
  assert.equal(typed(0.1 + 0.2, "mm"), "0.3 mm");
  assert.equal(said(90, "deg"), "90 degrees");
});

const web = (part: Partial<Web>): Web => ({ x: 0, y: 0, ax: -1, ay: 0, bx: 1, by: 0, width: 2, length: 6, form: "neck", level: "stop", ...part });

test("heat: full at the stop, none at twice the caution, falling between", () => {
  const limits = { stop: 3, caution: 3.75 };
  assert.equal(heat(1, limits), 1);
  assert.equal(heat(3, limits), 1);
  assert.equal(heat(7.5, limits), 0);
  assert.equal(heat(90, limits), 0);
  let before = 1;
  for (let width = 3; width < 9; width += 0.25) {
    const now = heat(width, limits);
    assert.ok(now <= before && now >= 0);
    before = now;
  }
  assert.equal(heat(5, { stop: 4, caution: 2 }), 0); // limits the wrong way round: no nonsense
  const marks = legend(limits);
  assert.deepEqual(marks.map((mark) => mark.at), [0, 1 - heat(3.75, limits), 1]);
});

const numbers = (d: string): number[] => (d.match(/-?[\d.]+/g) ?? []).map(Number);

test("a web is drawn as the metal it is: along its middle line, as wide as it is there, y turned over", () => {
  const [only, ...more] = heated([web({ level: "ok", width: 4, axis: [[0, 5, 4, 0.6, 5, 4]] })], { stop: 3, caution: 3.75 });
  assert.equal(more.length, 0);
  assert.deepEqual(numbers(only?.d ?? ""), [0, -2.9, 0.6, -2.9, 0.6, -7.1, 0, -7.1]); // 5 % wider: the clip makes it exact
  const warm = heated([web({ level: "ok", axis: [[0, 0, 3, 10, 0, 7]] })], { stop: 3, caution: 3.75 });
  assert.ok(warm.length >= 8); // it cools as it widens
});

test("a web without a middle line is drawn straight, across its measure, no longer than three widths", () => {
  const ys = numbers(heated([web({ length: 100, level: "ok" })], { stop: 3, caution: 3.75 }).map((it) => it.d).join("")).filter((_, i) => i % 2 === 1);
  assert.deepEqual([Math.min(...ys), Math.max(...ys)], [-3, 3]);
});

test("a colour never stands alone: bars, closest under the stop, and never without end", () => {
  assert.equal(bars(web({ level: "ok" })), null);
  const [stop, caution] = [bars(web({ level: "stop" })), bars(web({ level: "caution" }))];
  assert.ok(stop !== null && caution !== null && stop[0] + stop[1] < caution[0] + caution[1]);
  const of = (level: "stop" | "caution"): number => heated([web({ level, axis: [[0, 0, 2, 30, 0, 2]] })], { stop: 3, caution: 3.75 })[0]?.d.split("M").length ?? 0;
  assert.ok(of("stop") > 2 * of("caution") && of("caution") > 10);
  const many = Array.from({ length: 4000 }, () => web({ level: "stop", axis: [[0, 0, 2, 30, 0, 2]] }));
  assert.ok(heated(many, { stop: 3, caution: 3.75 }).reduce((sum, it) => sum + it.d.length, 0) < 2e6);
});

test("the smallest opening around a place", () => {
  const d = "M 0 0 L 100 0 L 100 100 L 0 100 Z M 10 10 L 90 10 L 90 90 L 10 90 Z M 40 50 A 5 5 0 0 0 50 50 A 5 5 0 0 0 40 50 Z";
  assert.equal(ringsOf(d).length, 3);
  assert.match(openingAt([{ d }], [45, 52])?.d ?? "", /^M 40 50/);
  assert.match(openingAt([{ d }], [20, 20])?.d ?? "", /^M 10 10/);
  assert.equal(openingAt([{ d }], [5, 5]), null);
});

test("black or white on a wall, whichever stands out", () => {
  assert.equal(isPale(255, 255, 255), true);
  assert.equal(isPale(0, 0, 0), false);
  // WCAG 2.2: both contrasts are 4.58 at relative luminance 0.179; #757575 is just under, #777777 just over
  assert.equal(isPale(0x75, 0x75, 0x75), false);
  assert.equal(isPale(0x77, 0x77, 0x77), true);
});

// SPDX-License-Identifier: GPL-3.0-or-later
// One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
import { test } from "node:test";
import assert from "node:assert/strict";
import { area, length, mass, measure, sizeOf } from "../src/figures";

test("lengths are shown as the reader likes", () => {
  assert.equal(length(25.4, "inch"), "1 in");
  assert.equal(length(1520, "mm"), "1520 mm");
  assert.equal(length(2.13, "mm"), "2.13 mm");
  assert.equal(length(3.175, "inch"), "1/8 in");
  assert.equal(length(3.175, "decimal"), "0.125 in");
  assert.equal(length(2.5, "inch"), "0.098 in"); // limits are finer than a sixteenth
  assert.equal(length(25.4 * 33.88, "inch"), "33-7/8 in");
  assert.equal(length(-25.4 * 1.5, "inch"), "-1-1/2 in");
  assert.equal(length(0, "inch"), "0 in");
});

test("a share is told in hundredths", () => assert.equal(measure(1.58, "share"), "158 %"));

test("weights too", () => {
  assert.equal(mass(0.45359237, "inch"), "1 lb");
  assert.equal(mass(5.83, "mm"), "5.8 kg");
});

test("areas: 1 cm² is 100 mm²", () => {
  assert.equal(area(31, "mm"), "31 mm²");
  assert.equal(area(179300, "mm"), "1793 cm²");
  assert.equal(area(645.16, "inch"), "1 in²");
});

test("the size of an entry in words, as the reader likes", () => {
  const name = { index: 1, name: "name", kind: "words", box: [-155, -21, 155, 21] as [number, number, number, number], centre: null, clear: 12.7, clear_from: "board", outline: null };
  assert.equal(sizeOf(name, "mm"), "310 mm wide, 42 mm high, 12.7 mm clear of board");
  assert.equal(sizeOf(name, "inch"), "12-3/16 in wide, 1-5/8 in high, 1/2 in clear of board");
  assert.equal(sizeOf({ ...name, clear: 0 }, "mm"), "310 mm wide, 42 mm high, touches board");
  assert.equal(sizeOf({ ...name, clear: null, clear_from: null }, "mm"), "310 mm wide, 42 mm high");
  assert.equal(sizeOf({ ...name, box: null }, "mm"), "");
});

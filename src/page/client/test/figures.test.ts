// SPDX-License-Identifier: GPL-3.0-or-later
// One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
import { test } from "node:test";
import assert from "node:assert/strict";
import { length, mass } from "../src/figures";

test("lengths are shown as the reader likes", () => {
  assert.equal(length(25.4, "inch"), "1 in");
  assert.equal(length(1520, "mm"), "1520 mm");
  assert.equal(length(2.13, "mm"), "2.13 mm");
  assert.equal(length(3.175, "inch"), "0.125 in");
});

test("weights too", () => {
  assert.equal(mass(0.45359237, "inch"), "1 lb");
  assert.equal(mass(5.83, "mm"), "5.8 kg");
});

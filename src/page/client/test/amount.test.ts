// SPDX-License-Identifier: GPL-3.0-or-later
// Stepping in the unit as typed. Fractions of an inch: docs/recipe.md, "Lengths".
import { test } from "node:test";
import assert from "node:assert/strict";
import { readAmount, stepped, withUnit } from "../src/slip/amount";

test("what people write is read", () => {
  const rows: [string, number, string][] = [
    ["1200 mm", 1200, "mm"], ["1.2 m", 1.2, "m"], ["18 in", 18, "in"], ["1-1/2 in", 1.5, "in"], ["1 1/2 in", 1.5, "in"], ["1½ in", 1.5, "in"],
    ["3/16\"", 3 / 16, "\""], ["10 ga", 10, "ga"], ["60 %", 60, "%"], ["-3 mm", -3, "mm"], ["15 deg", 15, "deg"], ["6", 6, ""], [".5 mm", 0.5, "mm"],
  ];
  for (const [text, value, unit] of rows) {
    assert.equal(readAmount(text)?.value, value, text);
    assert.equal(readAmount(text)?.unit, unit, text);
  }
  for (const text of ["joined", "top", "", "5' 6-1/2\""]) assert.equal(readAmount(text), null, text);
});

test("a step stays in the unit and the way of writing", () => {
  const rows: [string, number, string][] = [
    ["600 mm", 1, "605 mm"], ["600 mm", -1, "595 mm"], ["22 mm", 1, "23 mm"], ["1520 mm", 1, "1530 mm"], ["3 mm", 1, "3.1 mm"], ["1.4 mm", -1, "1.3 mm"],
    ["1-1/2 in", 1, "1-9/16 in"], ["3/16\"", 1, "1/4\""], ["15/16 in", 1, "1 in"], ["18 in", 1, "18.25 in"], ["1.2 m", 1, "1.21 m"], ["150 %", 1, "151 %"],
    ["11 o'clock", 1, "12 o'clock"], ["12 o'clock", 1, "1 o'clock"], ["1 o'clock", -1, "12 o'clock"], ["10 ga", 1, "11 ga"], ["14 ga", 1, "16 ga"], ["24 mm", 10, "34 mm"],
  ];
  for (const [text, by, after] of rows) assert.equal(stepped(text, by), after, `${text} ${by}`);
  assert.equal(stepped("joined", 1), null);
});

test("a size never steps to nothing or below; a gap may", () => {
  assert.equal(stepped("0.1 mm", -1), "0.1 mm");
  assert.equal(stepped("0 mm", -1, -Infinity), "-0.1 mm");
  assert.equal(stepped("3", -1, 3, 100), "3");
  assert.equal(stepped("100", 1, 3, 100), "100");
});

test("up and down again is where it was, on the raster of the step", () => {
  for (const text of ["600 mm", "22 mm", "3 mm", "2 in", "1-1/2 in", "45 deg", "8 %"]) {
    const up = stepped(text, 1);
    assert.equal(up === null ? null : stepped(up, -1), text);
  }
});

test("a bare number takes the unit that stood there", () => {
  assert.equal(withUnit("420", "400 mm"), "420 mm");
  assert.equal(withUnit("1/4", "3/16\""), "1/4\"");
  assert.equal(withUnit("2", "16 %"), "2 %");
  assert.equal(withUnit("18 in", "400 mm"), "18 in");
  assert.equal(withUnit("12", "joined"), "12");
  assert.equal(withUnit("abc", "400 mm"), "abc");
});

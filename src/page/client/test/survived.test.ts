// SPDX-License-Identifier: GPL-3.0-or-later
// By hand: a slot of 2.2 mm, two webs beside each other, a row's marks.
import assert from "node:assert/strict";
import { test } from "node:test";
import { triedAt } from "../src/findings/survived";
import type { CouponView } from "../src/api";

const place = (figure: string, x: number, y: number, reach: number) => ({ figure, length: `${figure} mm`, x, y, reach });
const coupon: CouponView = {
  window: "40 mm",
  combs: [
    { letter: "A", key: "slots", says: "open", places: [place("2.2", 0, 100, 13), place("2", 30, 100, 13)] },
    { letter: "B", key: "long webs", says: "whole", places: [place("2.1", 0, 50, 18), place("1.6", 30, 50, 18)] },
  ],
};

test("an entry is the place whose middle is nearest", () => {
  assert.equal(triedAt(coupon, { box: [-1.1, 88, 1.1, 114] })?.place.figure, "2.2");
  assert.equal(triedAt(coupon, { box: [24, 34, 28.5, 66] })?.place.figure, "1.6");
  assert.equal(triedAt(coupon, { box: [24, 34, 28.5, 66] })?.row.key, "long webs");
});
test("a row's marks, the board and what has no box are none", () => {
  assert.equal(triedAt(coupon, { box: [-100, 70, 100, 85] }), null);
  assert.equal(triedAt(coupon, { box: [-117, -160, 117, 160] }), null);
  assert.equal(triedAt(coupon, { box: null }), null);
  assert.equal(triedAt(coupon, { box: [90, -20, 94, -16] }), null);
});

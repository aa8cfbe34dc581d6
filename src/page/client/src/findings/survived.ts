// SPDX-License-Identifier: GPL-3.0-or-later
// Which place of a coupon an entry on its picture is.
import type { CouponPlace, CouponRow, CouponView, EntryView } from "../api";

export interface Tried {
  row: CouponRow;
  place: CouponPlace;
}

/** The nearest place whose reach holds the middle of the entry; null: its board, a mark, its window. */
export function triedAt(coupon: CouponView, entry: Pick<EntryView, "box">): Tried | null {
  const box = entry.box;
  if (box === null) return null;
  const middle = { x: (box[0] + box[2]) / 2, y: (box[1] + box[3]) / 2 };
  const half = Math.hypot(box[2] - box[0], box[3] - box[1]) / 2;
  let best: Tried | null = null;
  let nearest = Infinity;
  for (const row of coupon.combs)
    for (const place of row.places) {
      const away = Math.hypot(middle.x - place.x, middle.y - place.y);
      if (away > place.reach || half > 1.2 * place.reach || away >= nearest) continue;
      nearest = away;
      best = { row, place };
    }
  return best;
}

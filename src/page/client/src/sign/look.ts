// SPDX-License-Identifier: GPL-3.0-or-later
// What is being looked at: findings say it, the sign shows it.
import { computed, signal } from "@preact/signals";
import type { Box, Finding, Point, View } from "../api";
import * as store from "../store";

export interface Look {
  /** id of the finding, in the view as it is now */
  finding: string;
  /** what it says of which thing: ids are another view's business */
  key: string;
  /** which of its places */
  place: number;
  /** pressed: the sign goes there and stays; otherwise it is only glanced at */
  held: boolean;
}
export const look = signal<Look | null>(null);

const same = (it: Finding): string => String(it.id);

/** The same finding in another view of the sign: the same law on the same thing. */
export const keyOf = (it: Finding): string => `${it.law}/${it.gravity}/${it.where ?? ""}`;

/** A new view counts its findings anew: what is looked at is found again there, or let go. */
export function follow(findings: readonly Finding[]): void {
  const now = look.peek();
  if (now === null) return;
  const again = findings.find((it) => keyOf(it) === now.key);
  if (again === undefined) letGo();
  else if (same(again) !== now.finding || now.place >= again.places.length)
    look.value = { ...now, finding: same(again), place: Math.min(now.place, Math.max(0, again.places.length - 1)) };
}
export const looked = computed<Finding | null>(() => {
  const now = look.value;
  if (now === null) return null;
  return store.view.value?.findings.find((it) => same(it) === now.finding) ?? null;
});
export const place = computed<Point | null>(() => {
  const finding = looked.value;
  return finding === null ? null : (finding.places[look.value?.place ?? 0] ?? finding.places[0] ?? null);
});

export function glance(finding: Finding | null): void {
  if (look.value?.held === true) return;
  look.value = finding === null ? null : { finding: same(finding), key: keyOf(finding), place: 0, held: false };
  store.select({ finding: finding === null ? null : same(finding) });
}
export function hold(finding: Finding, at = 0): void {
  look.value = { finding: same(finding), key: keyOf(finding), place: at, held: true };
  store.select({ finding: same(finding) });
}
export function letGo(): void {
  if (look.value === null) return;
  look.value = null;
  store.select({});
}

/** How far around a place one has to see it, mm: its own size where it has one. */
export function reachOf(finding: Finding): number {
  const size = finding.unit === "mm" && finding.measured !== null ? Math.max(finding.measured, finding.limit ?? 0) : 6;
  return Math.min(90, Math.max(10, 3.5 * size));
}

/** The box of the part that a place of a finding about whole parts lies in; null: the place itself is meant. */
export function partAround(view: View, finding: Finding, at: Point): Box | null {
  if (finding.about !== "part") return null;
  let best: Box | null = null;
  const size = (box: Box): number => (box[2] - box[0]) * (box[3] - box[1]);
  for (const { box = null } of view.parts)
    if (box !== null && at[0] >= box[0] && at[0] <= box[2] && at[1] >= box[1] && at[1] <= box[3] && (best === null || size(box) < size(best))) best = box;
  return best;
}

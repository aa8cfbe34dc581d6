// SPDX-License-Identifier: GPL-3.0-or-later
// A handle is dragged, or stepped with the arrow keys: what value comes of it, in the unit as typed
// and as round as the eye can tell at this zoom.
import type { Handle, Point } from "../api";

const MM: Record<string, number> = { mm: 1, cm: 10, m: 1000, in: 25.4, '"': 25.4, inch: 25.4, ft: 304.8, "'": 304.8 };

export type Value = number | Point;

/** Millimetres in one of the handle's units; 1 for those that are no length. */
export const unitOf = (unit: string): number => MM[unit] ?? 1;
export const isAngle = (unit: string): boolean => unit === "deg" || unit === "°";

/** The next coarser of 1, 2, 5, 10 ... (mm), or of 1/16, 1/8 ... (inch), at least `least`. */
export function roundStep(least: number, inches: boolean): number {
  if (inches) {
    let step = 1 / 16;
    while (step < least) step *= 2;
    return step;
  }
  const ten = Math.pow(10, Math.floor(Math.log10(Math.max(least, 0.1))));
  return ([1, 2, 5, 10].find((one) => one * ten >= least * (1 - 1e-9)) ?? 10) * ten;
}

const snap = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(6));

/** Sizes stay metal: never 0 or less. */
const atLeast = (value: number, step: number): number => Math.max(value, step);

const turned = (from: Point, to: Point, centre: Point): number => {
  const a = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  const b = Math.atan2(to[1] - centre[1], to[0] - centre[0]);
  let deg = ((b - a) * 180) / Math.PI;
  while (deg > 180) deg -= 360;
  while (deg <= -180) deg += 360;
  return deg;
};

/** How far `to` is from the centre along the handle's own ray, against where it was taken. */
function stretched(handle: Handle, from: Point, to: Point): number {
  const [cx, cy] = handle.centre;
  const ray: Point = [handle.at[0] - cx, handle.at[1] - cy];
  const long = Math.hypot(ray[0], ray[1]);
  if (long < 1e-9) return 1;
  const along = (p: Point): number => (p[0] * ray[0] + p[1] * ray[1]) / (long * long);
  return 1 + along([to[0] - from[0], to[1] - from[1]]);
}

/**
 * The handle's value when the hand, which took it at `from`, is at `to`; both mm, y up.
 * `fine`: millimetres that one pixel shows: the value is rounded to no less.
 */
export function dragged(handle: Handle & { value: Value }, from: Point, to: Point, fine: number): Value {
  const unit = unitOf(handle.unit);
  const inches = unit === 25.4 || unit === 304.8;
  if (handle.kind === "turn") {
    const value = (typeof handle.value === "number" ? handle.value : 0) + turned(from, to, handle.centre);
    const round = snap(value, 1);
    return round > 180 ? round - 360 : round <= -180 ? round + 360 : round;
  }
  const step = roundStep(fine / unit, inches);
  if (typeof handle.value === "number") {
    if (handle.kind === "move") {
      // One coordinate only: the one along which the handle stands off its centre.
      const flat = Math.abs(handle.at[0] - handle.centre[0]) >= Math.abs(handle.at[1] - handle.centre[1]);
      return snap(handle.value + (flat ? to[0] - from[0] : to[1] - from[1]) / unit, step);
    }
    return atLeast(snap(handle.value * stretched(handle, from, to), step), step);
  }
  return [snap(handle.value[0] + (to[0] - from[0]) / unit, step), snap(handle.value[1] + (to[1] - from[1]) / unit, step)];
}

/** Arrow keys: up and right make larger (or move), `coarse` ten times. Null: no such step. */
export function stepped(handle: Handle & { value: Value }, key: string, coarse: boolean): Value | null {
  const ways: Record<string, Point> = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowRight: [1, 0], ArrowLeft: [-1, 0], PageUp: [0, 10], PageDown: [0, -10] };
  const way = ways[key];
  if (way === undefined) return null;
  const unit = unitOf(handle.unit);
  const step = (unit === 25.4 ? 1 / 16 : 1) * (coarse ? 10 : 1);
  if (typeof handle.value !== "number") return [snap(handle.value[0] + way[0] * step, step / 16), snap(handle.value[1] + way[1] * step, step / 16)];
  const next = snap(handle.value + (way[0] + way[1]) * step, step / 16);
  return handle.kind === "radius" || handle.kind === "height" ? atLeast(next, step) : next;
}

const number = (value: number): string => String(Number(value.toFixed(4)));
const withUnit = (value: number, unit: string): string => (unit === "" ? number(value) : `${number(value)} ${unit}`);

/** As it is written into the recipe. */
export const typed = (value: Value, unit: string): string =>
  typeof value === "number" ? withUnit(value, unit) : `[${withUnit(value[0], unit)}, ${withUnit(value[1], unit)}]`;

/** As it is said. */
export const said = (value: Value, unit: string): string =>
  typeof value === "number" ? withUnit(value, isAngle(unit) ? "degrees" : unit) : `${withUnit(value[0], unit)} across, ${withUnit(value[1], unit)} up`;

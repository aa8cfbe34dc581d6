// SPDX-License-Identifier: GPL-3.0-or-later
// A handle is dragged, or stepped with the arrow keys: what value comes of it, in the unit as typed
// and as round as the eye can tell at this zoom.
import type { Handle, Point } from "../api";
import { fraction } from "../slip/amount";
import { units } from "../store";

const MM: Record<string, number> = { mm: 1, cm: 10, m: 1000, in: 25.4, '"': 25.4, inch: 25.4, ft: 304.8, "'": 304.8 };

export type Value = number | Point;

/** Millimetres in one of the handle's units; 1 for those that are no length. */
export const unitOf = (unit: string): number => MM[unit] ?? 1;
export const isAngle = (unit: string): boolean => unit === "deg" || unit === "°";

/** The next coarser of 1, 2, 5, 10 ... (mm, inches in decimals), or of 1/16, 1/8 ... (inch), at least `least`. */
export function roundStep(least: number, inches: boolean, decimals = units.value === "decimal"): number {
  if (inches && decimals) return roundStep(Math.max(least, 0.01) * 100, false) / 100;
  if (inches) {
    let step = 1 / 16;
    while (step < least) step *= 2;
    return step;
  }
  const ten = Math.pow(10, Math.floor(Math.log10(Math.max(least, 0.1))));
  return ([1, 2, 5, 10].find((one) => one * ten >= least * (1 - 1e-9)) ?? 10) * ten;
}

const snap = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(6));

/** Sizes stay metal: never 0 or less; an arch that hangs goes on hanging. */
const atLeast = (value: number, step: number, sign = 1): number => sign * Math.max(sign * value, step);

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
    return atLeast(snap(handle.value * stretched(handle, from, to), step), step, Math.sign(handle.value));
  }
  return [snap(handle.value[0] + (to[0] - from[0]) / unit, step), snap(handle.value[1] + (to[1] - from[1]) / unit, step)];
}

/**
 * The value of a `move` with two coordinates, which along an axis lines up with something `by` mm further than
 * the hand is: there it is exact, along the other as round as dragged() has it.
 */
export function placed(handle: Handle & { value: Value }, from: Point, to: Point, fine: number, by: { x: number | null; y: number | null }): Value {
  const round = dragged(handle, from, to, fine);
  if (typeof round === "number" || typeof handle.value === "number") return round;
  const unit = unitOf(handle.unit);
  const exact = (i: 0 | 1, more: number): number => Number(((handle.value as Point)[i] + (to[i] - from[i] + more) / unit).toFixed(digits(unit)));
  return [by.x === null ? round[0] : exact(0, by.x), by.y === null ? round[1] : exact(1, by.y)];
}

/** The value of a `move` with two coordinates, so many mm further along one; the other stays as it is. */
export function furtherBy(handle: Handle & { value: Point }, axis: 0 | 1, mm: number): Point {
  const unit = unitOf(handle.unit);
  const to = Number((handle.value[axis] + mm / unit).toFixed(digits(unit)));
  return axis === 0 ? [to, handle.value[1]] : [handle.value[0], to];
}

/** So many that the last one is a tenth of a micrometre or less. */
const digits = (unit: number): number => Math.ceil(Math.log10(unit / 1e-4) - 1e-9);

/** Arrow keys: up and right make larger (or move), `coarse` ten times, `fine` a tenth (1/64 in). Null: no such step. */
export function stepped(handle: Handle & { value: Value }, key: string, coarse: boolean, fine = false): Value | null {
  const ways: Record<string, Point> = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowRight: [1, 0], ArrowLeft: [-1, 0], PageUp: [0, 10], PageDown: [0, -10] };
  const way = ways[key];
  if (way === undefined) return null;
  const unit = unitOf(handle.unit);
  const step = (unit === 25.4 ? (units.value === "decimal" ? 0.05 : 1 / 16) : 1) * (coarse ? 10 : fine ? (unit === 25.4 && units.value !== "decimal" ? 1 / 4 : 1 / 10) : 1);
  const plus = (value: number, by: number): number => Number((value + by * step).toFixed(6)); // its other digits stay
  if (typeof handle.value !== "number") return [plus(handle.value[0], way[0]), plus(handle.value[1], way[1])];
  const next = plus(handle.value, way[0] + way[1]);
  return handle.kind === "radius" || handle.kind === "height" ? atLeast(next, step, Math.sign(handle.value)) : next;
}

const number = (value: number, places: number): string => String(Number(value.toFixed(places)));
/** Sixty-fourths of an inch as a fraction, where the recipe's inches are. */
const figure = (value: number, unit: string, places: number): string =>
  unitOf(unit) === 25.4 && units.value !== "decimal" && Math.abs(value * 64 - Math.round(value * 64)) < 1e-6 ? fraction(value, 64) : number(value, places);
const withUnit = (value: number, unit: string, places = 4): string => (unit === "" ? number(value, places) : `${figure(value, unit, places)} ${unit}`);

/** As it is written into the recipe. */
export const typed = (value: Value, unit: string): string =>
  typeof value === "number" ? withUnit(value, unit) : `[${value.map((it) => withUnit(it, unit, Math.max(4, digits(unitOf(unit))))).join(", ")}]`;

/** As it is said. */
export const said = (value: Value, unit: string): string =>
  typeof value === "number" ? withUnit(value, isAngle(unit) ? "degrees" : unit) : `${withUnit(value[0], unit)} across, ${withUnit(value[1], unit)} up`;

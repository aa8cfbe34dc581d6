// SPDX-License-Identifier: GPL-3.0-or-later
// What of the sign is seen: the view box, and how it pans, zooms and travels.
//
//      +------------------+
//      |   wall, in px    |      mm are y down here, as in path data; the view's own points are y up
//      |        + centre  |      and are turned over once, by `down`
//      +------------------+
import type { Box, Point } from "../api";
import type { Units } from "../store";

/** Middle of what is seen in mm (y down), and millimetres per pixel. */
export interface Frame {
  x: number;
  y: number;
  k: number;
}
export interface Size {
  w: number;
  h: number;
}
/** left, top, right, bottom; mm, y down */
export interface Area {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

/** Nearer than a hair and further than a barn nobody has to look. */
const NEAREST = 0.004;
const FURTHEST = 40;

export const down = ([x, y]: Point): Point => [x, -y];
/** What a wall without metal shows, mm. */
const BARE: Box = [-150, -100, 150, 100];
export const areaOf = (box: Box | null): Area => {
  const [x0, y0, x1, y1] = box ?? BARE;
  return { x0, y0: -y1, x1, y1: -y0 };
};
export const join = (a: Area, b: Area): Area => ({
  x0: Math.min(a.x0, b.x0),
  y0: Math.min(a.y0, b.y0),
  x1: Math.max(a.x1, b.x1),
  y1: Math.max(a.y1, b.y1),
});
export const grow = (a: Area, by: number): Area => ({ x0: a.x0 - by, y0: a.y0 - by, x1: a.x1 + by, y1: a.y1 + by });

const within = (k: number): number => Math.min(FURTHEST, Math.max(NEAREST, k));

/** Room kept free around a sign, in px: of each side */
export interface Room {
  side: number;
  top: number;
  bottom: number;
}

/** The frame that shows all of `area`. */
export function whole(area: Area, size: Size, room: Room = { side: 0, top: 0, bottom: 0 }): Frame {
  const w = Math.max(size.w - 2 * room.side, size.w / 4, 1);
  const h = Math.max(size.h - room.top - room.bottom, size.h / 4, 1);
  const k = within(Math.max((area.x1 - area.x0) / w, (area.y1 - area.y0) / h));
  return { x: (area.x0 + area.x1) / 2, y: (area.y0 + area.y1) / 2 + (k * (room.bottom - room.top)) / 2, k };
}

export function viewBox(frame: Frame, size: Size): string {
  const w = frame.k * size.w;
  const h = frame.k * size.h;
  return [frame.x - w / 2, frame.y - h / 2, w, h].map((it) => Number(it.toPrecision(9))).join(" ");
}

/** Where a point of the sign (mm, y down) stands on the wall, in px. */
export const toWall = (frame: Frame, size: Size, [x, y]: Point): Point => [
  (x - frame.x) / frame.k + size.w / 2,
  (y - frame.y) / frame.k + size.h / 2,
];
export const toSign = (frame: Frame, size: Size, [x, y]: Point): Point => [
  frame.x + (x - size.w / 2) * frame.k,
  frame.y + (y - size.h / 2) * frame.k,
];

/** The sign follows the hand: what was under it stays under it. */
export const pan = (frame: Frame, dx: number, dy: number): Frame => ({ ...frame, x: frame.x - dx * frame.k, y: frame.y - dy * frame.k });

/** `factor` over 1 comes nearer; the point of the sign under `at` (px) stays where it is. */
export function zoom(frame: Frame, size: Size, at: Point, factor: number): Frame {
  const [x, y] = toSign(frame, size, at);
  const k = within(frame.k / factor);
  const turn = k / frame.k;
  return { x: x + (frame.x - x) * turn, y: y + (frame.y - y) * turn, k };
}

/** At least the middle of the sign's box, or of what is seen of it, stays on the wall. */
export function tethered(frame: Frame, area: Area, size: Size): Frame {
  const reach = (low: number, high: number, seen: number, at: number): number =>
    Math.min(Math.max(at, low - seen * 0.4), high + seen * 0.4);
  return {
    x: reach(area.x0, area.x1, frame.k * size.w, frame.x),
    y: reach(area.y0, area.y1, frame.k * size.h, frame.y),
    k: frame.k,
  };
}

/** On the way from one frame to another: a straight zoom about one point where there is one. */
export function between(from: Frame, to: Frame, t: number): Frame {
  const k = from.k * Math.pow(to.k / from.k, t);
  const gone = Math.abs(to.k - from.k) < 1e-6 * from.k ? t : (k - from.k) / (to.k - from.k);
  return { x: from.x + (to.x - from.x) * gone, y: from.y + (to.y - from.y) * gone, k };
}

export const ease = (t: number): number => (t < 0.5 ? 4 * t * t * t : 1 - Math.pow(-2 * t + 2, 3) / 2);

const INCHES: readonly (readonly [number, string])[] = [
  [1 / 64, "1/64 in"], [1 / 32, "1/32 in"], [1 / 16, "1/16 in"], [1 / 8, "1/8 in"], [1 / 4, "1/4 in"], [1 / 2, "1/2 in"],
  [1, "1 in"], [2, "2 in"], [3, "3 in"], [6, "6 in"], [12, "1 ft"], [24, "2 ft"], [36, "3 ft"], [72, "6 ft"], [120, "10 ft"], [240, "20 ft"],
];

/** The longest round length that is at most `most` px on the wall. */
export function scaleBar(k: number, units: Units, most: number): { mm: number; words: string } {
  const room = k * most;
  if (units !== "mm") {
    let best = INCHES[0] as readonly [number, string];
    for (const step of INCHES) if (step[0] * 25.4 <= room) best = step;
    return { mm: best[0] * 25.4, words: best[1] };
  }
  const ten = Math.pow(10, Math.floor(Math.log10(room)));
  const mm = ([5, 2, 1].find((step) => step * ten <= room * (1 + 1e-9)) ?? 1) * ten;
  return { mm, words: mm >= 1000 ? `${Number((mm / 1000).toPrecision(3))} m` : `${Number(mm.toPrecision(3))} mm` };
}

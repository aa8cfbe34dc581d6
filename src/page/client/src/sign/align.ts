// SPDX-License-Identifier: GPL-3.0-or-later
// What an entry in the hand lines up with: edges and middles of other entries' boxes, gaps alike, and
// how far it is from what is next to it. Pure; millimetres, y up.
//
//        |        |<-- gap -->|        |<-- gap -->|
//   [ A ]|        [    B      ]        [   own     ]      level edges, equal middles, equal gaps
import type { Box, Point } from "../api";

export interface Thing {
  name: string;
  box: Box;
}
/** Along one axis: what it lacks to lie there exactly, in words, and what to draw. */
export interface Snap {
  by: number;
  words: string;
  lines: readonly (readonly [Point, Point])[];
}
export interface Snaps {
  x: Snap | null;
  y: Snap | null;
}
export const NONE: Snaps = { x: null, y: null };

export type Axis = 0 | 1;
const lo = (box: Box, axis: Axis): number => box[axis];
const hi = (box: Box, axis: Axis): number => box[axis === 0 ? 2 : 3];
const mid = (box: Box, axis: Axis): number => (lo(box, axis) + hi(box, axis)) / 2;
const other = (axis: Axis): Axis => (axis === 0 ? 1 : 0);
const point = (axis: Axis, along: number, across: number): Point => (axis === 0 ? [along, across] : [across, along]);
/** They share some of that axis: a row, or a column. */
const beside = (a: Box, b: Box, axis: Axis): boolean => Math.min(hi(a, axis), hi(b, axis)) > Math.max(lo(a, axis), lo(b, axis));

interface Edge {
  of: (box: Box, axis: Axis) => number;
  words: readonly [string, string];
}
const LOW: Edge = { of: lo, words: ["left edge", "foot"] };
const HIGH: Edge = { of: hi, words: ["right edge", "top"] };
const MIDDLE: Edge = { of: mid, words: ["middle", "middle"] };
/** Which of its own lies on which of another; the first of those that come as near is meant. */
const PAIRS: readonly (readonly [Edge, Edge])[] = [[MIDDLE, MIDDLE], [LOW, LOW], [HIGH, HIGH], [LOW, HIGH], [HIGH, LOW]];

const saidOf = (own: Edge, its: Edge, axis: Axis, name: string): string => {
  if (own === MIDDLE) return axis === 0 ? `in the middle of ${name}` : `at half the height of ${name}`;
  return own === its ? `level with the ${its.words[axis]} of ${name}` : `its ${own.words[axis]} at the ${its.words[axis]} of ${name}`;
};

/** From end to end of both, at `along`. */
function through(a: Box, b: Box, axis: Axis, along: number): [Point, Point] {
  const across = other(axis);
  return [point(axis, along, Math.min(lo(a, across), lo(b, across))), point(axis, along, Math.max(hi(a, across), hi(b, across)))];
}

function onEdges(own: Box, things: readonly Thing[], axis: Axis): Snap[] {
  return things.flatMap(({ name, box }) => PAIRS.map(([mine, its]): Snap => {
    const to = its.of(box, axis);
    return { by: to - mine.of(own, axis), words: saidOf(mine, its, axis, name), lines: [through(own, box, axis, to)] };
  }));
}

const MOST = 24; // of a row: pairs grow with the square

/** A gap as wide as another one of the same row, or the middle of a gap. */
function onGaps(own: Box, things: readonly Thing[], axis: Axis): Snap[] {
  const across = other(axis);
  const row = things.filter((it) => beside(own, it.box, across)).slice(0, MOST);
  const size = hi(own, axis) - lo(own, axis);
  const level = mid(own, across);
  const gap = (from: number, to: number): [Point, Point] => [point(axis, from, level), point(axis, to, level)];
  const out: Snap[] = [];
  for (const a of row)
    for (const b of row) {
      const from = hi(a.box, axis);
      const to = lo(b.box, axis);
      const free = to - from;
      if (free <= 0) continue;
      const put = (low: number, words: string, lines: Snap["lines"]): void => void out.push({ by: low - lo(own, axis), words, lines });
      const low = from + (free - size) / 2;
      if (size < free) put(low, `midway between ${a.name} and ${b.name}`, [gap(from, low), gap(low + size, to)]);
      put(hi(b.box, axis) + free, `as far from ${b.name} as ${b.name} is from ${a.name}`, [gap(from, to), gap(hi(b.box, axis), hi(b.box, axis) + free)]);
      put(lo(a.box, axis) - free - size, `as far from ${a.name} as ${a.name} is from ${b.name}`, [gap(lo(a.box, axis) - free, lo(a.box, axis)), gap(from, to)]);
    }
  return out;
}

/** The nearest within @reach; of those that come as near, the first. */
function nearest(all: readonly Snap[], reach: number): Snap | null {
  let best: Snap | null = null;
  for (const it of all) if (Math.abs(it.by) <= reach && (best === null || Math.abs(it.by) < Math.abs(best.by) - 1e-6)) best = it;
  return best;
}

/** What @own, as the hand holds it, lines up with when it is let go within @reach mm. */
export function aligned(own: Box, things: readonly Thing[], reach: number): Snaps {
  const along = (axis: Axis): Snap | null => nearest([...onEdges(own, things, axis), ...onGaps(own, things, axis)], reach);
  return { x: along(0), y: along(1) };
}

/** Where it lines up next on its way along an axis, as keys move it from one such place to the next; null: nowhere more. */
export function nextAlong(own: Box, things: readonly Thing[], axis: Axis, sign: 1 | -1): Snap | null {
  const ahead = [...onEdges(own, things, axis), ...onGaps(own, things, axis)].filter((it) => sign * it.by > 1e-3);
  return nearest(ahead, Infinity);
}

export const moved = (box: Box, [x, y]: Point): Box => [box[0] + x, box[1] + y, box[2] + x, box[3] + y];

/** A way from an edge of its own to the next edge. */
export interface Way {
  mm: number;
  to: string;
  line: readonly [Point, Point];
}

/** The next edge on each of the four sides, of what stands beside it or round it; a side without one is left out. */
export function ways(own: Box, things: readonly Thing[]): Way[] {
  const out: Way[] = [];
  for (const axis of [0, 1] as const)
    for (const up of [false, true]) {
      const sign = up ? 1 : -1;
      const far = (box: Box): number => sign * (up ? hi(box, axis) : lo(box, axis));
      const near = (box: Box): number => sign * (up ? lo(box, axis) : hi(box, axis));
      const mine = far(own);
      let best: Way | null = null;
      for (const { name, box } of things) {
        if (!beside(own, box, other(axis))) continue;
        const edge = near(box) >= mine ? near(box) : far(box) >= mine && near(box) <= near(own) ? far(box) : null;
        if (edge === null || edge - mine < 1e-6 || (best !== null && edge - mine >= best.mm)) continue;
        const level = mid(own, other(axis));
        best = { mm: edge - mine, to: name, line: [point(axis, sign * mine, level), point(axis, sign * edge, level)] };
      }
      if (best !== null) out.push(best);
    }
  return out;
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Which outline a place means: path data is cut into its closed rings, and the smallest ring around
// a place is the opening (or the metal) that a finding speaks of.
import type { Part, Point } from "../api";
import type { Area } from "./frame";

export interface Ring {
  d: string;
  area: Area;
}

const NUMBERS = /-?\d*\.?\d+(?:e[-+]?\d+)?/gi;

/** The box of one ring's corners, grown by what its arcs may bulge. */
function boxOf(ring: string): Area {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  let x = 0;
  let y = 0;
  const take = (nx: number, ny: number, bulge: number): void => {
    box.x0 = Math.min(box.x0, nx, (x + nx) / 2 - bulge);
    box.x1 = Math.max(box.x1, nx, (x + nx) / 2 + bulge);
    box.y0 = Math.min(box.y0, ny, (y + ny) / 2 - bulge);
    box.y1 = Math.max(box.y1, ny, (y + ny) / 2 + bulge);
    x = nx;
    y = ny;
  };
  for (const piece of ring.match(/[MLA][^MLAZ]*/g) ?? []) {
    const n = (piece.slice(1).match(NUMBERS) ?? []).map(Number);
    const size = piece.startsWith("A") ? 7 : 2;
    for (let i = 0; i + size <= n.length; i += size) {
      const nx = n[i + size - 2] ?? 0;
      const ny = n[i + size - 1] ?? 0;
      if (piece.startsWith("M") && i === 0) [x, y] = [nx, ny];
      const r = n[i] ?? 0;
      const half = Math.hypot(nx - x, ny - y) / 2;
      const long = (n[i + 3] ?? 0) === 1;
      take(nx, ny, size === 2 ? -Infinity : long ? r + Math.sqrt(Math.max(0, r * r - half * half)) : half);
    }
  }
  return box;
}

export const ringsOf = (d: string): Ring[] =>
  d
    .split(/(?=M)/)
    .map((ring) => ring.trim())
    .filter((ring) => ring !== "")
    .map((ring) => ({ d: ring, area: boxOf(ring) }));

const contains = (area: Area, [x, y]: Point): boolean => x >= area.x0 && x <= area.x1 && y >= area.y0 && y <= area.y1;
const size = (area: Area): number => (area.x1 - area.x0) * (area.y1 - area.y0);

/** The smallest opening (any ring but a part's first) whose box holds the place (mm, y down). */
export function openingAt(parts: readonly Pick<Part, "d">[], at: Point): Ring | null {
  let best: Ring | null = null;
  for (const part of parts)
    for (const ring of ringsOf(part.d).slice(1))
      if (contains(ring.area, at) && (best === null || size(ring.area) < size(best.area))) best = ring;
  return best;
}

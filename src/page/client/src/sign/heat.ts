// SPDX-License-Identifier: GPL-3.0-or-later
// The quiet heat scale along the webs: how thin, against which limits. A colour never stands alone:
// each step has a pattern too.
import type { Web } from "../api";

/** The limits that the widths are seen against, mm; caution is at least stop. */
export interface Limits {
  stop: number;
  caution: number;
}

/** 1 at the stop and under it, 0 at twice the caution and over it. */
export function heat(width: number, limits: Limits): number {
  const cool = 2 * limits.caution;
  if (width <= limits.stop || cool <= limits.stop) return width <= limits.stop ? 1 : 0;
  return Math.min(1, Math.max(0, (cool - width) / (cool - limits.stop)));
}

/** In 20 steps, so that webs alike are drawn alike. */
export const shade = (warmth: number): string => {
  const part = Math.round(warmth * 20) * 5;
  return `color-mix(in oklab, var(--heat-hot) ${part}%, var(--heat-cool))`;
};

/** Dashes along a web, in its own widths: under the stop closest. Null: drawn through. */
export function dashes(web: Pick<Web, "level" | "width">): string | null {
  if (web.level === "stop") return `${web.width * 0.16} ${web.width * 0.12}`;
  return web.level === "caution" ? `${web.width * 0.5} ${web.width * 0.16}` : null;
}

export interface Stretch {
  x1: number;
  y1: number;
  x2: number;
  y2: number;
}

/** Where to draw a web: along its axis, mm, y down; as long as it is, but at most 3 widths: there it may bend. */
export function along(web: Web): Stretch {
  const dx = web.bx - web.ax;
  const dy = web.by - web.ay;
  const across = Math.hypot(dx, dy) || 1;
  const half = Math.min(Math.max(web.length, web.width), 3 * web.width) / 2;
  const ux = (-dy / across) * half;
  const uy = (dx / across) * half;
  return { x1: web.x - ux, y1: -(web.y - uy), x2: web.x + ux, y2: -(web.y + uy) };
}

/** The limits to draw against when the view does not say: from the webs' own levels. */
export function guessLimits(webs: readonly Web[], thickness: number): Limits {
  const stops = webs.filter((web) => web.level === "stop").map((web) => web.width);
  const stop = Math.max(2, thickness, ...stops);
  return { stop, caution: Math.max(1.25 * stop, ...webs.filter((web) => web.level === "caution").map((web) => web.width)) };
}

/** Marks of the legend, mm with their place from 0 (hot) to 1 (cool). */
export function legend(limits: Limits): { at: number; mm: number; what: "stop" | "caution" | "" }[] {
  const marks = [
    { mm: limits.stop, what: "stop" as const },
    { mm: limits.caution, what: "caution" as const },
    { mm: 2 * limits.caution, what: "" as const },
  ];
  return marks.map((mark) => ({ ...mark, at: 1 - heat(mark.mm, limits) }));
}

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

/** A place on the middle line of a web, mm, y down. */
interface Spot {
  x: number;
  y: number;
  width: number;
  /** way from the start of its stretch */
  along: number;
}

/** The middle line as stretches of spots. Of a web without one, as far as it is straight: along its narrowest place. */
function stretches(web: Web): Spot[][] {
  if (web.axis === undefined || web.axis.length === 0) return [straight(web)];
  return web.axis.map((flat) => {
    const spots: Spot[] = [];
    for (let i = 0; i + 2 < flat.length; i += 3) {
      const [x, y, width] = [flat[i] ?? 0, -(flat[i + 1] ?? 0), flat[i + 2] ?? 0];
      const last = spots[spots.length - 1];
      const step = last === undefined ? 0 : Math.hypot(x - last.x, y - last.y);
      if (last === undefined || step > 1e-6) spots.push({ x, y, width, along: (last?.along ?? 0) + step });
    }
    return spots;
  });
}

function straight(web: Web): Spot[] {
  const dx = web.bx - web.ax;
  const dy = web.by - web.ay;
  const across = Math.hypot(dx, dy) || 1;
  const half = Math.min(Math.max(web.length, web.width), 3 * web.width) / 2;
  const ux = (-dy / across) * half;
  const uy = (dx / across) * half;
  return [{ x: web.x - ux, y: -(web.y - uy), width: web.width, along: 0 }, { x: web.x + ux, y: -(web.y + uy), width: web.width, along: 2 * half }];
}

/** Bars across a web and the gaps between them, in its own widths: under the stop closest. Null: drawn through. */
export function bars(web: Pick<Web, "level" | "width">): [number, number] | null {
  if (web.level === "stop") return [web.width * 0.16, web.width * 0.12];
  return web.level === "caution" ? [web.width * 0.5, web.width * 0.16] : null;
}

function spotAt(spots: readonly Spot[], along: number): Spot {
  const i = Math.max(1, spots.findIndex((it) => it.along >= along));
  const [a, b] = [spots[i - 1], spots[i]];
  if (a === undefined || b === undefined) throw new Error("a stretch has two ends");
  const t = (along - a.along) / (b.along - a.along);
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t, width: a.width + (b.width - a.width) * t, along };
}

/** The ribbon between two places of a stretch, as wide as the metal is there. */
function ribbon(spots: readonly Spot[], from: number, to: number): { d: string; width: number } {
  const line = [spotAt(spots, from), ...spots.filter((it) => it.along > from && it.along < to), spotAt(spots, to)];
  const sides = line.map((it, i) => {
    const [a, b] = [line[Math.max(0, i - 1)] ?? it, line[Math.min(line.length - 1, i + 1)] ?? it];
    const long = Math.hypot(b.x - a.x, b.y - a.y) || 1;
    const [nx, ny] = [((a.y - b.y) / long) * it.width * 0.525, ((b.x - a.x) / long) * it.width * 0.525];
    return { one: `${(it.x + nx).toFixed(2)} ${(it.y + ny).toFixed(2)}`, other: `${(it.x - nx).toFixed(2)} ${(it.y - ny).toFixed(2)}` };
  });
  const d = `M${sides.map((it) => it.one).join("L")}L${sides.map((it) => it.other).reverse().join("L")}Z`;
  return { d, width: line.reduce((sum, it) => sum + it.width, 0) / line.length };
}

const MOST_BARS = 4000; // of one sign; what is more is drawn through
const THROUGH = 1; // mm: how finely its warmth changes along a web that is drawn through

/** All webs as shapes, those of one warmth together: the metal itself, as hot as it is thin there. */
export function heated(webs: readonly Web[], limits: Limits): { shade: string; d: string }[] {
  const found = new Map<string, string[]>();
  let n = 0;
  for (const web of webs) {
    for (const spots of stretches(web)) {
      const end = spots[spots.length - 1]?.along ?? 0;
      if (end <= 0) continue;
      const [bar, gap] = n < MOST_BARS ? (bars(web) ?? [THROUGH, 0]) : [end, 0];
      const count = Math.max(1, Math.round((end + gap) / (bar + gap)));
      const fit = (end + gap) / (count * (bar + gap)); // so that a stretch ends with a bar
      for (let i = 0; i < count; i++) {
        const from = i * (bar + gap) * fit;
        const it = ribbon(spots, from, Math.min(end, from + bar * fit));
        const key = shade(heat(it.width, limits));
        const shapes = found.get(key);
        if (shapes === undefined) found.set(key, [it.d]);
        else shapes.push(it.d);
        n++;
      }
    }
  }
  return [...found].map(([key, shapes]) => ({ shade: key, d: shapes.join("") }));
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

// SPDX-License-Identifier: GPL-3.0-or-later
// What is seen of the sign just now, and the ways to change it: pan, zoom, travel, show it whole.
import { computed, signal } from "@preact/signals";
import type { Point, View } from "../api";
import * as store from "../store";
import * as frames from "./frame";
import type { Area, Frame, Size } from "./frame";
import { beside } from "./likes";
import { silhouettes } from "./silhouettes";

export const size = signal<Size>({ w: 800, h: 500 });
export const frame = signal<Frame>({ x: 0, y: 0, k: 1 });
/** The sign stays whole on the wall until somebody pans or zooms. */
export const follows = signal(true);

export const viewBox = computed(() => frames.viewBox(frame.value, size.value));
export const perPixel = computed(() => frame.value.k);

/** Where the floor is (mm, y down) when the sign hangs at eye height, or stands on it. */
const EYE = 1500;
const CLEAR = 150;
export function floorOf(view: View): number {
  const area = frames.areaOf(view.box);
  const stands = (view.hangs ?? []).some((it) => it.kind !== "hole");
  if (stands) return area.y1;
  return Math.max((area.y0 + area.y1) / 2 + EYE, area.y1 + CLEAR);
}

/** The place of whoever stands beside: to the left, its middle. */
export function besideAt(view: View): { x: number; floor: number } | null {
  if (beside.value === "nobody") return null;
  const who = silhouettes[beside.value];
  const area = frames.areaOf(view.box);
  return { x: area.x0 - CLEAR - who.width / 2, floor: floorOf(view) };
}

/** All there is to see in this light. */
export const scene = computed<Area | null>(() => {
  const view = store.view.value;
  if (view === null) return null;
  let area = frames.areaOf(view.box);
  if (store.light.value !== "hangs" || beside.value === "nobody") return area;
  const at = besideAt(view);
  if (at !== null) {
    const who = silhouettes[beside.value];
    area = frames.join(area, { x0: at.x - who.width / 2, y0: at.floor - who.height, x1: at.x + who.width / 2, y1: at.floor + 60 });
  }
  return area;
});

export function wholeFrame(): Frame | null {
  const area = scene.value;
  if (area === null) return null;
  const { w, h } = size.value;
  return frames.whole(area, size.value, { side: Math.max(28, w * 0.05), top: Math.max(28, h * 0.08), bottom: Math.max(48, h * 0.1) });
}

const calm = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;
let journey = 0;

/** Goes there, at once for those who like it calm. */
export function travel(to: Frame, ms = 420): void {
  cancelAnimationFrame(journey);
  const from = frame.value;
  if (calm() || ms === 0) {
    frame.value = to;
    return;
  }
  const start = performance.now();
  const go = (now: number): void => {
    const t = Math.min(1, Math.max(0, (now - start) / ms));
    frame.value = t === 1 ? to : frames.between(from, to, frames.ease(t));
    if (t < 1) journey = requestAnimationFrame(go);
  };
  journey = requestAnimationFrame(go);
}

export function showWhole(ms?: number): void {
  follows.value = true;
  const to = wholeFrame();
  if (to !== null) travel(to, ms);
}

/** By hand: no journey goes on, and the sign stops following. */
export function moveTo(to: Frame): void {
  cancelAnimationFrame(journey);
  follows.value = false;
  frame.value = scene.value === null ? to : frames.tethered(to, scene.value, size.value);
}
export const panBy = (dx: number, dy: number): void => moveTo(frames.pan(frame.value, dx, dy));
export const zoomBy = (factor: number, at?: Point): void =>
  moveTo(frames.zoom(frame.value, size.value, at ?? [size.value.w / 2, size.value.h / 2], factor));

/** A point of the view (mm, y up) on the wall in px; and back. */
export const onWall = (point: Point): Point => frames.toWall(frame.value, size.value, frames.down(point));
export const onSign = (px: Point): Point => frames.down(frames.toSign(frame.value, size.value, px));

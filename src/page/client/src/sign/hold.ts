// SPDX-License-Identifier: GPL-3.0-or-later
// What is in the hand: a handle, or an entry taken by its body, which moves by its handle of the same
// name. Live, and one drag is one step to undo.
//
//   take ──> carry … carry ──> drop       giveUp: as it was when it was taken
//
// What it can line up with is what stood still since it was taken: a plate that grows with it is no
// measure for it.
import { effect, signal } from "@preact/signals";
import type { Box, Handle, Point, View } from "../api";
import { length } from "../figures";
import * as store from "../store";
import { groupsOf, membersOf } from "../slip/names";
import { aligned, moved, nextAlong, NONE, ways } from "./align";
import type { Axis, Snaps, Thing, Way } from "./align";
import { dragged, furtherBy, placed, typed } from "./drag";
import type { Value } from "./drag";
import { perPixel } from "./seen";

export interface Hold {
  path: string;
  token: string;
  /** as it was when it was taken */
  handle: Handle;
  from: Point;
  at: Point;
  value: Value;
  /** the entry's box as it was taken; null: it is not moved as a whole */
  own: Box | null;
  /** the others as they were then */
  things: readonly (Thing & { index: number })[];
  snaps: Snaps;
  ways: readonly Way[];
}
export const hold = signal<Hold | null>(null);
export const holding = (): boolean => hold.value !== null;

/** What was said last of where it came to rest: for those who don't see it. */
export const rest = signal("");
/** The entry that this is about. */
export const restOf = signal<number | null>(null);

// --- sending: the newest value, whenever the picture of the last one is there ---

const PATIENCE = 2000; // ms: an answer that is lost must not hold the hand; asking again sooner only stops the run
let next: { path: string; text: string; token: string } | null = null;
let sending = false;

/** Stepped to by keys, while the picture of it is still being made: the next step counts from there. */
export const ahead = signal<{ path: string; value: Value } | null>(null);

function picture(revision: number): Promise<void> {
  return new Promise((done) => {
    const timer = setTimeout(finish, PATIENCE);
    const stop = effect(() => {
      const hopeless = (store.state.value?.error ?? null) !== null; // there is no picture of what can't be made
      if (hopeless || (store.view.value?.revision ?? -1) >= revision) queueMicrotask(finish);
    });
    function finish(): void {
      clearTimeout(timer);
      stop();
      done();
    }
  });
}

async function send(): Promise<void> {
  if (sending) return;
  sending = true;
  while (next !== null) {
    const { path, text, token } = next;
    next = null;
    const trouble = await store.edit([{ do: text.startsWith("[") ? "put" : "set", path, value: text }], token);
    if (trouble === null) await picture(store.state.value?.revision ?? 0);
  }
  sending = false;
  ahead.value = null;
}

export function put(path: string, text: string, token: string): void {
  next = { path, text, token };
  void send();
}

// --- lining up ---

/** So near, px, it lies there. */
const REACH = 6;

const same = (a: Box, b: Box | null): boolean => b !== null && a.every((it, i) => Math.abs(it - (b[i] ?? NaN)) < 1e-3);

/** Those that did not move with it. */
function still(things: Hold["things"]): Thing[] {
  const now = new Map((store.view.peek()?.entries ?? []).map((it) => [it.index, it.box]));
  return things.filter((it) => same(it.box, now.get(it.index) ?? null));
}

/** The handle that moves an entry as a whole: the only one across and up, and of no single copy. */
function ownMover(view: View, entry: number): Handle | null {
  const all = view.handles.filter((it) => it.entry === entry && it.kind === "move" && Array.isArray(it.value) && !it.path.endsWith("]"));
  return all.length === 1 ? (all[0] ?? null) : null;
}
/** The same; of a member that has none that of the group which places it, the innermost that has one: it moves as one. */
export function moverOf(view: View, entry: number): Handle | null {
  const groups = groupsOf(store.tree.peek(), store.schema.peek(), entry);
  return [entry, ...groups].map((it) => ownMover(view, it)).find((it) => it !== null) ?? null;
}

// --- the hand ---

/** What the handle moves as a whole, and what that may line up with: all but itself and its members. */
function around(handle: Handle): Pick<Hold, "own" | "things"> {
  const view = store.view.peek();
  const whole = view !== null && moverOf(view, handle.entry)?.path === handle.path;
  const boxes = whole ? view.entries : [];
  const along = new Set([handle.entry, ...membersOf(store.tree.peek(), store.schema.peek(), handle.entry)]);
  const things = boxes.flatMap((it) => (along.has(it.index) || it.box === null ? [] : [{ index: it.index, name: it.name || it.kind, box: it.box }]));
  return { own: boxes.find((it) => it.index === handle.entry)?.box ?? null, things };
}

/** By keys: on to where it lines up next that way, which is said. Null: it is no place, or there is none. */
export function onToNext(handle: Handle, axis: Axis, sign: 1 | -1): Value | null {
  const { own, things } = around(handle);
  const { value } = handle;
  const next = own === null || typeof value === "number" ? null : nextAlong(own, things, axis, sign);
  if (next === null || typeof value === "number") return null;
  clearTimeout(resting);
  rest.value = next.words;
  restOf.value = handle.entry;
  return furtherBy({ ...handle, value }, axis, next.by);
}

export function take(handle: Handle, from: Point): void {
  const { own, things } = around(handle);
  hold.value = {
    path: handle.path, token: `drag-${handle.path}-${Math.round(performance.now())}`, handle, from, at: handle.at, value: handle.value, own, things, snaps: NONE, ways: [],
  };
  rest.value = "";
  store.select({ entry: handle.entry, path: handle.path });
}

/** @free: it lines up with nothing. */
export function carry(to: Point, free: boolean): void {
  const now = hold.value;
  if (now === null) return;
  const by: Point = [to[0] - now.from[0], to[1] - now.from[1]];
  const things = still(now.things);
  const snaps = now.own === null || free ? NONE : aligned(moved(now.own, by), things, REACH * perPixel.value);
  const lacks = { x: snaps.x?.by ?? null, y: snaps.y?.by ?? null };
  const value = now.own === null ? dragged(now.handle, now.from, to, perPixel.value) : placed(now.handle, now.from, to, perPixel.value, lacks);
  const gone: Point = [by[0] + (lacks.x ?? 0), by[1] + (lacks.y ?? 0)];
  const text = typed(value, now.handle.unit);
  if (text !== typed(now.value, now.handle.unit)) put(now.path, text, now.token);
  hold.value = { ...now, value, snaps, at: [now.handle.at[0] + gone[0], now.handle.at[1] + gone[1]], ways: now.own === null ? [] : ways(moved(now.own, gone), things) };
  pause();
}

/** "in the middle of board, level with the foot of title"; "": with nothing. */
export const saidSnaps = (it: Pick<Hold, "snaps">): string => [it.snaps.x?.words, it.snaps.y?.words].filter((words) => words !== undefined).join(", ");

/** How far its ink is from the nearest edge, as the core measures it; "" while that is not known. */
export function saidClear(entry: number): string {
  const it = store.view.value?.entries.find((one) => one.index === entry);
  if (it === undefined || it.clear === null || it.clear_from === null) return "";
  return it.clear === 0 ? `touches ${it.clear_from}` : `${length(it.clear)} clear of ${it.clear_from}`;
}

const REST = 700; // ms without a move: it is said where it is
let resting: ReturnType<typeof setTimeout> | undefined;
function pause(): void {
  clearTimeout(resting);
  const now = hold.peek();
  if (now === null || now.own === null) return;
  restOf.value = now.handle.entry;
  resting = setTimeout(() => (rest.value = [saidSnaps(now), saidClear(now.handle.entry)].filter((it) => it !== "").join(", ")), REST);
}

export function drop(): void {
  const now = hold.peek();
  if (now !== null && now.value !== now.handle.value) pause(); // a click is no move
  hold.value = null;
}

export function giveUp(): void {
  const now = hold.value;
  if (now === null) return;
  clearTimeout(resting);
  if (now.value !== now.handle.value) put(now.path, typed(now.handle.value, now.handle.unit), now.token);
  hold.value = null;
}

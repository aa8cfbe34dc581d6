// SPDX-License-Identifier: GPL-3.0-or-later
// The number of a line in the slip's margin. The order counts: later entries add to and cut from
// earlier ones. A line is put elsewhere by its number, with the hand or the arrow keys.
import { signal } from "@preact/signals";
import type { TargetedKeyboardEvent, TargetedPointerEvent } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import * as store from "../store";
import { moved } from "./arrange";

/** A line in the hand, and where it would go: before line `to`, counted as they stand now. */
const held = signal<{ index: number; to: number } | null>(null);
/** The line that moved: its number takes the focus again. */
const follows = signal<number | null>(null);
/** Said to those who don't see it. */
export const told = signal("");

export async function moveTo(from: number, to: number, count: number): Promise<void> {
  const state = store.state.value;
  if (state === null || to === from || to < 0 || to >= count) return;
  if ((await store.edit(moved(state, store.tree.value, from, to))) !== null) return;
  follows.value = to;
  told.value = `now line ${to + 1} of ${count}`;
}

/** Where a line that is let go at `y` goes: before the first whose middle is lower. */
function placeAt(y: number, list: Element): number {
  const lines = [...list.children];
  const at = lines.findIndex((line) => {
    const box = line.getBoundingClientRect();
    return y < (box.top + box.bottom) / 2;
  });
  return at < 0 ? lines.length : at;
}

/** How a line looks while one is carried: "carried", or with the place above or below it marked. */
export function carrying(index: number, count: number): string {
  const now = held.value;
  if (now === null) return "";
  if (now.index === index) return " carried";
  if (now.to === now.index || now.to === now.index + 1) return "";
  return now.to === index ? " put-above" : now.to === count && index === count - 1 ? " put-below" : "";
}

export function LineNumber({ index, count, what }: { index: number; count: number; what: string }) {
  const number = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => {
    if (follows.value !== index) return;
    follows.value = null;
    number.current?.focus();
  });
  void follows.value;
  const take = (event: TargetedPointerEvent<HTMLButtonElement>): void => {
    if (event.button !== 0 || count < 2) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    held.value = { index, to: index };
  };
  const carry = (event: TargetedPointerEvent<HTMLButtonElement>): void => {
    const list = event.currentTarget.closest(".entries");
    if (held.value?.index !== index || list === null) return;
    const to = placeAt(event.clientY, list);
    if (to !== held.value.to) held.value = { index, to };
  };
  const put = (): void => {
    const now = held.value;
    held.value = null;
    if (now?.index === index) void moveTo(index, now.to > index ? now.to - 1 : now.to, count);
  };
  const keys = (event: TargetedKeyboardEvent<HTMLButtonElement>): void => {
    if (event.key === "Escape") held.value = null;
    const by = event.key === "ArrowUp" ? -1 : event.key === "ArrowDown" ? 1 : 0;
    if (by === 0 || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    void moveTo(index, index + by, count);
  };
  return (
    <button ref={number} type="button" class="line-number" aria-label={`line ${index + 1} of ${count}, ${what}${count < 2 ? "" : ": arrow keys move it"}`}
      onPointerDown={take} onPointerMove={carry} onPointerUp={put} onPointerCancel={() => (held.value = null)} onKeyDown={keys}>
      {index + 1}
    </button>
  );
}

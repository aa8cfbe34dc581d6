// SPDX-License-Identifier: GPL-3.0-or-later
// The points of a sign that one drags: live, and one drag is one step to undo.
import type { TargetedKeyboardEvent, TargetedPointerEvent } from "preact";
import type { Handle, Point, View } from "../api";
import { toSentence } from "../slip/value";
import * as store from "../store";
import { said, stepped, typed } from "./drag";
import type { Value } from "./drag";
import type { Axis } from "./align";
import { ahead, carry, drop, giveUp, hold, onToNext, put, rest, take as takeUp } from "./hold";
import { onSign, onWall, size } from "./seen";

// --- one handle ---

/** Steps of the arrow keys that follow each other quickly are one step to undo. */
let stepsOf = { path: "", token: "", when: 0 };
function stepToken(path: string): string {
  const now = performance.now();
  const token = stepsOf.path === path && now - stepsOf.when < 1200 ? stepsOf.token : `step-${path}-${Math.round(now)}`;
  stepsOf = { path, token, when: now };
  return token;
}

const WHAT: Record<Handle["kind"], string> = { radius: "size", height: "height", turn: "place around", move: "place" };
function nameOf(handle: Handle, view: View): string {
  if (handle.name !== undefined && handle.name !== "") return handle.name;
  const entry = view.entries.find((it) => it.index === handle.entry);
  const last = handle.path.split(".").pop()?.replace(/\[\d+\]$/, "") ?? "";
  const what = last === "" ? WHAT[handle.kind] : last;
  return entry === undefined ? what : `${what} of ${entry.kind}${entry.name ? ` ${entry.name}` : ""}`;
}

/** With Ctrl to where it lines up next. */
const ONWARD: Record<string, [Axis, 1 | -1]> = { ArrowRight: [0, 1], ArrowLeft: [0, -1], ArrowUp: [1, 1], ArrowDown: [1, -1] };

const number = (value: Value): number => (typeof value === "number" ? value : value[0]);

function Knob({ handle, view }: { handle: Handle; view: View }) {
  const held = hold.value?.path === handle.path ? hold.value : null;
  const value = held?.value ?? (ahead.value?.path === handle.path ? ahead.value.value : handle.value);
  const at = onWall(held === null ? handle.at : held.at);
  const name = nameOf(handle, view);
  const { w, h } = size.value;
  const gone = at[0] < -20 || at[1] < -20 || at[0] > w + 20 || at[1] > h + 20;

  const spot = (event: TargetedPointerEvent<HTMLElement>): Point => {
    const wall = event.currentTarget.closest(".sign-wall")?.getBoundingClientRect();
    return onSign([event.clientX - (wall?.left ?? 0), event.clientY - (wall?.top ?? 0)]);
  };
  const take = (event: TargetedPointerEvent<HTMLElement>): void => {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    takeUp(handle, spot(event));
  };
  const move = (event: TargetedPointerEvent<HTMLElement>): void => {
    if (hold.value?.path !== handle.path) return;
    event.stopPropagation();
    carry(spot(event), event.altKey || event.ctrlKey);
  };
  const leave = (event: TargetedPointerEvent<HTMLElement>): void => {
    if (hold.value?.path !== handle.path) return;
    event.stopPropagation();
    drop();
  };
  const step = (event: TargetedKeyboardEvent<HTMLElement>): void => {
    const from = ahead.value?.path === handle.path ? ahead.value.value : handle.value;
    if (event.key === "Escape" && hold.value !== null) {
      event.preventDefault();
      event.stopPropagation();
      giveUp();
    } else if (event.key === "Enter") {
      event.preventDefault();
      event.stopPropagation();
      toSentence(handle.entry);
    }
    const way = event.ctrlKey ? ONWARD[event.key] : undefined;
    if (way === undefined) rest.value = "";
    // the picture must be there before it can be said where the next one is
    const to = way === undefined ? stepped({ ...handle, value: from }, event.key, event.shiftKey, event.altKey) : ahead.value === null ? onToNext(handle, ...way) : null;
    if (way !== undefined) event.preventDefault();
    if (to === null) return;
    event.preventDefault();
    event.stopPropagation();
    ahead.value = { path: handle.path, value: to };
    put(handle.path, typed(to, handle.unit), stepToken(handle.path));
  };

  return (
    <div class={`knob knob-${handle.kind}${held === null ? "" : held.own === null ? " held" : " held carried"}${store.selection.value.path === handle.path ? " meant" : ""}`} role="slider" tabIndex={0} hidden={gone}
      data-path={handle.path}
      style={{ transform: `translate(${at[0].toFixed(2)}px, ${at[1].toFixed(2)}px)` }}
      aria-label={name} aria-valuenow={number(value)} aria-valuetext={said(value, handle.unit)}
      {...(handle.kind === "turn" ? { "aria-valuemin": -180, "aria-valuemax": 360 } : { "aria-valuemin": handle.kind === "move" ? -1e5 : 0, "aria-valuemax": 1e5 })}
      onPointerDown={take} onPointerMove={move} onPointerUp={leave} onPointerCancel={leave} onKeyDown={step}
      onFocus={() => store.select({ entry: handle.entry, path: handle.path })}>
      <span class="knob-dot" />
      <span class={`knob-words${at[0] > w - 170 ? " to-left" : ""}${at[1] < 44 ? " below" : ""}`} aria-hidden="true">{name}, <b>{said(value, handle.unit)}</b></span>
    </div>
  );
}

export function Handles({ view }: { view: View }) {
  return <div class="knobs">{view.handles.map((handle) => <Knob key={handle.path} handle={handle} view={view} />)}</div>;
}

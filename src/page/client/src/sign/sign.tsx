// SPDX-License-Identifier: GPL-3.0-or-later
// The sign on its wall: what is seen, and what hand and keys do with it.
//
//   one finger or button   pans              wheel, two fingers   zooms where they are
//   arrow keys             pan               + and -              zoom
//   0                      shows it whole    Escape               lets go of what is meant
//   an entry taken by its body moves; Alt or Ctrl: it lines up with nothing; Escape puts it back
import { effect } from "@preact/signals";
import type { TargetedKeyboardEvent, TargetedMouseEvent, TargetedPointerEvent, TargetedWheelEvent } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { Handle, Point, View } from "../api";
import { length } from "../figures";
import * as store from "../store";
import { areaOf, grow, whole } from "./frame";
import type { Frame } from "./frame";
import { Handles } from "./handles";
import { carry, drop, giveUp, hold, holding, moverOf, rest, take } from "./hold";
import { wallOf } from "./likes";
import { follow, letGo, look, looked, partAround, place, reachOf } from "./look";
import { Loupe } from "./loupe";
import { Over, Scale } from "./over";
import { Scene } from "./scene";
import { follows, frame, onSign, panBy, showWhole, size, travel, viewBox, wholeFrame, zoomBy } from "./seen";
import { Held, Legend, Meant, wholeSign, Words } from "./words";

// --- following: the frame keeps the sign whole until somebody moves it; a held finding draws it near ---

/** Room for the words of what is held. */
const ROOM = { side: 0, top: 0, bottom: 84 };
let before: { frame: Frame; follows: boolean } | null = null;

function nearFinding(): Frame | null {
  const finding = looked.value;
  const at = place.value;
  if (finding === null || at === null) return null;
  const view = store.view.value;
  const box = view === null ? null : partAround(view, finding, at);
  const reach = reachOf(finding) * 1.6;
  if (box === null) return whole({ x0: at[0] - reach, y0: -at[1] - reach, x1: at[0] + reach, y1: -at[1] + reach }, size.value, ROOM);
  const area = areaOf(box);
  const margin = Math.max(6, 0.4 * Math.max(area.x1 - area.x0, area.y1 - area.y0));
  return whole(grow(area, margin), size.value, ROOM);
}

function begin(wall: HTMLElement): () => void {
  const fit = effect(() => {
    const to = wholeFrame();
    if (follows.value && !holding() && to !== null) frame.value = to;
  });
  const again = effect(() => follow(store.view.value?.findings ?? []));
  let was = "";
  const watch = effect(() => {
    const now = look.value;
    const key = now?.held === true ? `${now.key}/${now.place}` : "";
    if (key === was) return;
    was = key;
    if (key === "") {
      if (before?.follows === true) showWhole();
      else if (before !== null) travel(before.frame);
      before = null;
      return;
    }
    before ??= { frame: frame.peek(), follows: follows.peek() };
    const to = nearFinding();
    if (to === null) return;
    follows.value = false;
    travel(to);
    wall.scrollIntoView({ block: "nearest", behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
  });
  return () => {
    fit();
    again();
    watch();
  };
}

// --- the hand ---

interface Finger {
  at: Point;
  start: Point;
}
const fingers = new Map<number, Finger>();
let moved = false;
/** What the finger that came down first would move; null: it pans. */
let body: Handle | null = null;

/** The entry under the hand, where it can be moved as a whole. A finger pans, until the entry is chosen. */
function bodyUnder(event: TargetedPointerEvent<HTMLElement>): Handle | null {
  const told = (event.target as Element).getAttribute("data-entry");
  const view = store.view.value;
  if (told === null || view === null || (event.pointerType === "touch" && store.selection.value.entry !== Number(told))) return null;
  return moverOf(view, Number(told));
}

function spotOf(event: TargetedMouseEvent<HTMLElement>): Point {
  const box = event.currentTarget.getBoundingClientRect();
  return [event.clientX - box.left, event.clientY - box.top];
}

function press(event: TargetedPointerEvent<HTMLElement>): void {
  if (event.button !== 0 || (event.target as Element).closest(".knob, .quiet") !== null) return;
  const at = spotOf(event);
  if (fingers.size === 0) {
    moved = false;
    body = bodyUnder(event);
  }
  fingers.set(event.pointerId, { at, start: at });
}

function drag(event: TargetedPointerEvent<HTMLElement>): void {
  const finger = fingers.get(event.pointerId);
  if (finger === undefined) return;
  const at = spotOf(event);
  const far = Math.hypot(at[0] - finger.start[0], at[1] - finger.start[1]);
  if (!moved && far < 4) return;
  if (!moved) {
    event.currentTarget.setPointerCapture(event.pointerId);
    if (body !== null && fingers.size === 1) take(body, onSign(finger.start));
    else body = null;
  }
  moved = true;
  if (body !== null) {
    if (hold.value !== null) carry(onSign(at), event.altKey || event.ctrlKey);
    return;
  }
  const other = [...fingers.entries()].find(([id]) => id !== event.pointerId)?.[1];
  if (other === undefined) {
    panBy(at[0] - finger.at[0], at[1] - finger.at[1]);
  } else {
    const gap = (a: Point): number => Math.hypot(a[0] - other.at[0], a[1] - other.at[1]);
    panBy((at[0] - finger.at[0]) / 2, (at[1] - finger.at[1]) / 2);
    if (gap(finger.at) > 1) zoomBy(gap(at) / gap(finger.at), [(at[0] + other.at[0]) / 2, (at[1] + other.at[1]) / 2]);
  }
  finger.at = at;
}

function lift(event: TargetedPointerEvent<HTMLElement>): void {
  const known = fingers.delete(event.pointerId);
  if (known && body !== null && hold.value !== null) drop();
  if (!known || moved || event.type !== "pointerup") return;
  const entry = (event.target as Element).getAttribute("data-entry");
  letGo();
  store.select(entry === null ? {} : { entry: Number(entry) });
  if (entry === null) return;
  // the arrow keys move what was chosen, where it can be moved
  const mover = store.view.value === null ? null : moverOf(store.view.value, Number(entry));
  const knob = [...event.currentTarget.querySelectorAll<HTMLElement>(".knob")].find((it) => it.dataset["path"] === mover?.path);
  if (mover?.entry === Number(entry)) knob?.focus({ preventScroll: true });
}

/** Escape: what is in the hand goes back, a finding is let go, then the entry. */
function release(wall: HTMLElement): void {
  if (holding()) giveUp();
  else if (look.value !== null) letGo();
  else store.select({});
  wall.focus({ preventScroll: true });
}

/** The page scrolls on when the wheel began elsewhere, or would only go further than the whole sign. */
let pageScrolled = -Infinity;
addEventListener("scroll", () => (pageScrolled = performance.now()), { passive: true });

function wheel(event: TargetedWheelEvent<HTMLElement>): void {
  const back = event.deltaY > 0;
  if (!event.ctrlKey && (performance.now() - pageScrolled < 250 || (back && follows.value))) return;
  event.preventDefault();
  const far = event.deltaMode === 1 ? 30 * event.deltaY : event.deltaY;
  const to = wholeFrame();
  zoomBy(Math.exp(-far * (event.ctrlKey ? 0.01 : 0.0022)), spotOf(event));
  if (back && to !== null && frame.value.k > to.k) showWhole(160);
}

const STEP = 48;
function keys(event: TargetedKeyboardEvent<HTMLElement>): void {
  const wall = event.currentTarget;
  if (event.target !== wall && (event.key.startsWith("Arrow") || (event.target as Element).closest(".knob") === null) && event.key !== "Escape") return;
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const does: Record<string, () => void> = {
    ArrowLeft: () => panBy(STEP, 0), ArrowRight: () => panBy(-STEP, 0), ArrowUp: () => panBy(0, STEP), ArrowDown: () => panBy(0, -STEP),
    "+": () => zoomBy(1.25), "=": () => zoomBy(1.25), "-": () => zoomBy(0.8), "0": wholeSign, Home: wholeSign, Escape: () => release(wall),
  };
  const it = does[event.key];
  if (it === undefined) return;
  event.preventDefault();
  it();
}

// --- the whole ---

function says(view: View): string {
  const { width, height } = view.figures;
  const kinds = view.entries.map((it) => it.name || it.kind).filter((it) => it !== "");
  return `the sign, ${length(width).replace(/ \w+$/, "")} by ${length(height)}: ${kinds.slice(0, 6).join(", ")}${kinds.length > 6 ? " and more" : ""}; ${view.verdict.sentence}`;
}

function Empty() {
  const broken = store.state.value?.error ?? null;
  return (
    <div class="sign">
      <div class="sign-wall wall empty">
        <p>{broken === null ? store.view.value === null ? "the sign is being worked out" : "an empty wall, for now" : "the sign is shown as soon as it can be worked out"}</p>
      </div>
    </div>
  );
}

export function SignView() {
  const ref = useRef<HTMLDivElement>(null);
  const view = store.view.value;
  const shown = view !== null;
  useEffect(() => {
    const box = ref.current;
    if (box === null) return;
    const measure = (): void => {
      const { clientWidth: w, clientHeight: h } = box;
      if (w > 0 && h > 0 && (w !== size.peek().w || h !== size.peek().h)) size.value = { w, h };
    };
    const watch = new ResizeObserver(measure);
    watch.observe(box);
    measure();
    const end = begin(box);
    return () => {
      watch.disconnect();
      end();
    };
  }, [shown]);
  if (view === null) return <Empty />;
  const hangs = store.light.value === "hangs";
  const colour = wallOf(view);
  const near = !follows.value;
  return (
    <div class="sign" data-light={store.light.value}>
      <div class="stage">
      <div ref={ref} class={`sign-wall wall${hangs ? (colour.pale ? " hung pale" : " hung deep") : ""}${near ? " near" : ""}`}
        style={hangs ? { "--own-wall": colour.colour } : {}} tabIndex={0} role="group" aria-label={says(view)} aria-describedby="sign-help"
        onPointerDown={press} onPointerMove={drag} onPointerUp={lift} onPointerCancel={lift} onWheel={wheel} onKeyDown={keys}>
        <svg class="scene" viewBox={viewBox} data-revision={view.revision} aria-hidden="true"><Scene view={view} /></svg>
        <Over view={view} />
        <Loupe view={view} />
        <Handles view={view} />
        <Scale />
        <span id="sign-help" class="unseen">arrow keys move what is seen, plus and minus zoom, 0 shows the whole sign. An entry is chosen by a click and moved by dragging it, or by the arrow keys on its handle: 1 mm, or 1/16 in, with Shift ten times as far, with Alt a tenth, with Ctrl to where it lines up next</span>
      </div>
        <Meant />
        {look.value?.held === true ? <Held /> : hangs ? null : <Legend view={view} />}
      </div>
      <Words view={view} />
      <p class="unseen" aria-live="polite">{rest}</p>
    </div>
  );
}


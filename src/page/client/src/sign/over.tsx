// SPDX-License-Identifier: GPL-3.0-or-later
// What is drawn over the sign in pixels, so that it keeps its size at any zoom: rings around what
// was found, its measure, the sizes of the whole, the scale.
import type { Finding, Point, View } from "../api";
import { measure, length } from "../figures";
import * as store from "../store";
import { areaOf, scaleBar, toWall } from "./frame";
import { sizes } from "./likes";
import { hold as carried } from "./hold";
import { hold, look, looked, partAround, place, reachOf } from "./look";
import { frame, onWall, perPixel, size } from "./seen";

const MOST_RINGS = 120;

/** "2.1 mm, needs 3 mm" */
export function figuresOf(finding: Finding): string {
  if (finding.measured === null) return "";
  const is = measure(finding.measured, finding.unit);
  if (finding.limit === null) return is;
  return `${is}, ${needs(finding)} ${measure(finding.limit, finding.unit)}`;
}

const AT_MOST = new Set(["lost-detail", "too-large", "out-of-level", "feet", "one-tie"]);
export const needs = (finding: Finding): string =>
  (finding.bound ?? (AT_MOST.has(finding.law) ? "at most" : "at least")) === "at most" ? "at most" : "needs";

function Ring({ at, r, kind }: { at: Point; r: number; kind: string }) {
  return (
    <g class={`ring ${kind}`} transform={`translate(${at[0].toFixed(1)} ${at[1].toFixed(1)})`}>
      <circle class="halo" r={r} />
      <circle class="line" r={r} />
    </g>
  );
}

/** The worst place of each finding that counts, small, as long as none is looked at. */
function Quiet({ view }: { view: View }) {
  if (view.box === null) return null;
  const small = Math.max(3.5, Math.min(8, (0.012 * Math.max(view.figures.width, view.figures.height)) / perPixel.value));
  const counted = view.findings.filter((it) => it.gravity !== "note" && (it.accepted === null || it.accepted === false || it.accepted === ""));
  return (
    <>
      {counted.slice(0, MOST_RINGS).map((it) => {
        const at = it.places[0];
        if (at === undefined) return null;
        return (
          <g key={it.id} class="quiet" onClick={() => hold(it)}>
            <Ring at={onWall(at)} r={it.gravity === "stop" ? small + 1 : small - 0.5} kind={it.gravity} />
            <title>{it.text}</title>
          </g>
        );
      })}
    </>
  );
}

function Looked({ view, finding, at }: { view: View; finding: Finding; at: Point }) {
  const part = partAround(view, finding, at);
  const spot = onWall(part === null ? at : [(part[0] + part[2]) / 2, (part[1] + part[3]) / 2]);
  const around = part === null ? 0.45 * reachOf(finding) : 0.56 * Math.hypot(part[2] - part[0], part[3] - part[1]);
  const r = Math.max(13, part === null ? Math.min(120, around / perPixel.value) : around / perPixel.value);
  const words = figuresOf(finding);
  const { w, h } = size.value;
  const left = spot[0] > w / 2;
  const above = spot[1] > h * 0.3;
  const room = 12 + 7.6 * words.length; // the words stay on the wall, also on a narrow one
  const x = left ? Math.max(room, spot[0] - r - 46) : Math.min(w - room, spot[0] + r + 46);
  const y = Math.min(h - 16, Math.max(20, spot[1] + (above ? -1 : 1) * (r + 30)));
  const foot: Point = [spot[0], spot[1] + (above ? -r : r)];
  const seen = spot[0] > 0 && spot[0] < w && spot[1] > 0 && spot[1] < h;
  return (
    <>
      {finding.places.slice(0, MOST_RINGS).map((other, i) => (other === at ? null : <Ring key={i} at={onWall(other)} r={Math.max(4, Math.min(8, r * 0.6))} kind="other" />))}
      <Ring at={spot} r={r} kind="worst" />
      {words === "" || !seen ? null : (
        <g class="measure">
          <path class="halo" d={`M${foot[0]} ${foot[1]}V${y}H${x}`} />
          <path class="leader" d={`M${foot[0]} ${foot[1]}V${y}H${x}`} />
          <text x={x + (left ? -6 : 6)} y={y + 5} text-anchor={left ? "end" : "start"}>{words}</text>
        </g>
      )}
    </>
  );
}

/** A dimension line with a gap for its words; along x, ends in short ticks. */
function Dimension({ from, to, words }: { from: number; to: number; words: string }) {
  const mid = (from + to) / 2;
  const gap = Math.min((to - from) / 2, 4.6 * words.length + 5);
  return (
    <>
      <path d={`M${from} -14V6M${to} -14V6M${from} 0H${mid - gap}M${mid + gap} 0H${to}`} />
      <text x={mid} y={5} text-anchor="middle">{words}</text>
    </>
  );
}

/** Overall width under the sign, height beside it. */
function Sizes({ view }: { view: View }) {
  const area = areaOf(view.box);
  const [x0, y0] = toWall(frame.value, size.value, [area.x0, area.y0]);
  const [x1, y1] = toWall(frame.value, size.value, [area.x1, area.y1]);
  return (
    <g class="sizes">
      <g transform={`translate(0 ${y1 + 22})`}><Dimension from={x0} to={x1} words={length(view.figures.width)} /></g>
      <g transform={`translate(${x1 + 22} 0) rotate(-90)`}><Dimension from={-y1} to={-y0} words={length(view.figures.height)} /></g>
    </g>
  );
}

/** Lines through what it lines up with, and the way to the next edge on each side. */
function Guides() {
  const now = carried.value;
  if (now === null || now.own === null) return null;
  const line = ([a, b]: readonly [Point, Point]): string => {
    const [from, to] = [onWall(a), onWall(b)];
    return `M${from[0].toFixed(1)} ${from[1].toFixed(1)}L${to[0].toFixed(1)} ${to[1].toFixed(1)}`;
  };
  const guides = [...(now.snaps.x?.lines ?? []), ...(now.snaps.y?.lines ?? [])].map(line).join("");
  return (
    <>
      {now.ways.map((way) => {
        const [a, b] = [onWall(way.line[0]), onWall(way.line[1])];
        const flat = Math.abs(a[1] - b[1]) < 0.5;
        const long = Math.hypot(a[0] - b[0], a[1] - b[1]);
        return long < 8 ? null : (
          <g key={line(way.line)} class="way sizes">
            <path class="guide-halo" d={line(way.line)} />
            <path class="way-line" d={line(way.line)} />
            <text x={(a[0] + b[0]) / 2 + (flat ? 0 : 5)} y={(a[1] + b[1]) / 2 + (flat ? -5 : 5)} text-anchor={flat ? "middle" : "start"}>{length(way.mm)}</text>
          </g>
        );
      })}
      {guides === "" ? null : <><path class="guide-halo" d={guides} /><path class="guide" d={guides} /></>}
    </>
  );
}

export function Over({ view }: { view: View }) {
  const { w, h } = size.value;
  const finding = looked.value;
  const at = place.value;
  return (
    <svg class="over" viewBox={`0 0 ${w} ${h}`} aria-hidden="true">
      {sizes.value === "yes" ? <Sizes view={view} /> : null}
      {store.light.value === "metal" && look.value === null ? <Quiet view={view} /> : null}
      <Guides />
      {finding !== null && at !== null ? <Looked view={view} finding={finding} at={at} /> : null}
    </svg>
  );
}

export function Scale() {
  const { w } = size.value;
  const bar = scaleBar(perPixel.value, store.units.value, Math.min(150, w * 0.28));
  return (
    <p class="scale" role="img" aria-label={`this long is ${bar.words}`}>
      <span class="scale-bar" style={{ width: `${(bar.mm / perPixel.value).toFixed(1)}px` }} />
      <span class="scale-words">{bar.words}</span>
    </p>
  );
}

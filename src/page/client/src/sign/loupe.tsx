// SPDX-License-Identifier: GPL-3.0-or-later
// A reading glass: the place that is pointed at, large, without moving the sign under the hand.
import type { Finding, Point, View } from "../api";
import { down } from "./frame";
import { figuresOf } from "./over";
import { look, looked, partAround, place, reachOf } from "./look";
import { onWall, perPixel, size } from "./seen";

/** The web that a place means: its narrowest measure is drawn across it. */
const webAt = (view: View, [x, y]: Point) => view.webs.find((web) => Math.hypot(web.x - x, web.y - y) < 0.05 + web.width / 2) ?? null;

function Across({ view, at }: { view: View; at: Point }) {
  const web = webAt(view, at);
  if (web === null) return null;
  return <line class="across" x1={web.ax} y1={-web.ay} x2={web.bx} y2={-web.by} vector-effect="non-scaling-stroke" />;
}

function Glass({ view, finding, at, away }: { view: View; finding: Finding; at: Point; away: boolean }) {
  const { w, h } = size.value;
  const d = Math.max(120, Math.min(230, w * 0.3, h * 0.5));
  const part = partAround(view, finding, at);
  const reach = part === null ? reachOf(finding) : 0.8 * Math.hypot(part[2] - part[0], part[3] - part[1]);
  if (!away && reach / perPixel.value > d * 0.4) return null; // it is large already
  const [px, py] = onWall(at);
  const side = `${d}px`;
  const style = away
    ? { width: side, height: side }
    : { width: side, height: side, left: `${px > w / 2 ? 16 : w - d - 16}px`, top: `${py > h / 2 ? 16 : h - d - 56}px` };
  const [x, y] = down(at);
  return (
    <figure class={away ? "loupe away" : "loupe"} style={style} aria-hidden="true">
      {away ? <figcaption>{figuresOf(finding)}</figcaption> : null}
      <svg viewBox={`${x - reach} ${y - reach} ${2 * reach} ${2 * reach}`}>
        {view.parts.map((part) => <path key={part.d} class={part.loose ? "metal is-loose" : "metal"} d={part.d} fill-rule="evenodd" />)}
        <Across view={view} at={at} />
        {part === null ? <circle class="line" cx={x} cy={y} r={reach * 0.45} vector-effect="non-scaling-stroke" /> : null}
      </svg>
    </figure>
  );
}

/** Is the wall scrolled out of sight? Then the glass comes to where one reads. */
function isAway(): boolean {
  const wall = document.querySelector(".sign-wall")?.getBoundingClientRect();
  return wall !== undefined && (wall.bottom < 120 || wall.top > innerHeight - 120);
}

export function Loupe({ view }: { view: View }) {
  const at = place.value;
  const finding = looked.value;
  if (at === null || finding === null || look.value?.held === true) return null;
  return <Glass view={view} finding={finding} at={at} away={isAway()} />;
}

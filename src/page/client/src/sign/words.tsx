// SPDX-License-Identifier: GPL-3.0-or-later
// The words under the sign: its lights, the wall it hangs on, who stands beside it, how near one is.
import type { TargetedEvent } from "preact";
import { measure } from "../figures";
import * as store from "../store";
import type { Light } from "../store";
import type { View } from "../api";
import { legend, shade } from "./heat";
import { called } from "../slip/sentences";
import { groupsAround } from "../slip/chosen";
import { entriesOf } from "../slip/names";
import { toSentence } from "../slip/value";
import { said } from "./drag";
import { hold as carried, moverOf, rest, restOf, saidClear, saidSnaps } from "./hold";
import { beside, sizes, wall, wallColour, WALLS } from "./likes";
import type { Beside } from "./likes";
import { hanging, limitsOf } from "./scene";
import { hold, letGo, look, looked } from "./look";
import { sentence } from "../findings/gather";
import { follows, showWhole, zoomBy } from "./seen";

const LIGHTS: readonly (readonly [Light, string])[] = [
  ["hangs", "as it hangs"],
  ["metal", "as metal"],
];

function Lights() {
  return (
    <span class="lights" role="group" aria-label="the light on it">
      {LIGHTS.map(([light, words]) => (
        <button key={light} type="button" class="light" aria-pressed={store.light.value === light} onClick={() => (store.light.value = light)}>{words}</button>
      ))}
    </span>
  );
}

function Pick({ label, value, words, choose }: { label: string; value: string; words: readonly string[]; choose: (word: string) => void }) {
  return (
    <span class="pick">
      <select aria-label={label} value={value} onChange={(event: TargetedEvent<HTMLSelectElement>) => choose(event.currentTarget.value)}>
        {words.map((word) => <option key={word} value={word}>{word}</option>)}
      </select>
    </span>
  );
}

const OWN = "a colour of its own";
function Wall({ view }: { view: View }) {
  const said = view.look?.wall ?? null;
  const own = !(wall.value in WALLS);
  return (
    <span class="phrase">
      on{" "}
      {said !== null ? said : <Pick label="the wall" value={own ? OWN : wall.value} words={[...Object.keys(WALLS), OWN]}
        choose={(word) => (wall.value = word === OWN ? wallColour(wall.value).colour : word)} />}
      {own && said === null ? <input type="color" aria-label="the wall's own colour" value={wall.value} onInput={(event) => (wall.value = event.currentTarget.value)} /> : null}
      , beside{" "}
      <Pick label="who stands beside it" value={beside.value} words={["nobody", "a person", "a door"]} choose={(word) => (beside.value = word as Beside)} />
    </span>
  );
}

export function Legend({ view }: { view: View }) {
  const limits = limitsOf(view);
  const loose = view.parts.some((part) => part.loose);
  const burnt = (view.burnt ?? []).length;
  return (
    <div class="legend">
      {view.webs.length === 0 ? null : (
        <figure class="heat">
          <figcaption>webs</figcaption>
          <span class="heat-bar" aria-hidden="true" style={{ background: `linear-gradient(to right, ${[1, 0.75, 0.5, 0.25, 0].map(shade).join(", ")})` }} />
          <ul class="heat-marks">
            {legend(limits).map((mark) => (
              <li key={mark.mm} style={{ left: `${mark.at * 100}%` }}>
                {measure(mark.mm, "mm").replace(mark.what === "" ? "" : / mm$/, "")}
                <span class="unseen">{mark.what === "stop" ? ": thinner must not be cut" : mark.what === "caution" ? ": thinner, look at it" : ": ample"}</span>
              </li>
            ))}
          </ul>
        </figure>
      )}
      {view.ties.length === 0 ? null : <span class="key key-tie">{view.ties.length === 1 ? "a tie" : `${view.ties.length} ties`}</span>}
      {burnt === 0 ? null : <span class="key key-burnt">{burnt === 1 ? "a point that burns back" : `${burnt} points that burn back`}</span>}
      {loose ? <span class="key key-loose">would fall out</span> : null}
    </div>
  );
}

export function wholeSign(): void {
  letGo();
  showWhole();
}

/** The finding that is looked at, on the wall itself, with the way to its other places. */
export function Held() {
  const finding = looked.value;
  const now = look.value;
  if (finding === null || now === null) return null;
  const n = finding.places.length;
  const go = (by: number): void => hold(finding, (now.place + by + n) % n);
  return (
    <div class="held-words">
      <p>{finding.where === null || finding.where === "" ? null : <b>{sentence(finding.where)}: </b>}{finding.what}</p>
      <p class="held-ways small">
        {n < 2 ? null : <><button type="button" class="word" onClick={() => go(-1)}>the one before</button> <span class="figures" aria-live="polite">{now.place + 1} of {n}</span> <button type="button" class="word" onClick={() => go(1)}>the next</button></>}
        <button type="button" class="word" onClick={letGo}>back to the whole sign</button>
      </p>
    </div>
  );
}

/** Meant, and moved by the arrow keys as one. */
function toGroup(index: number): void {
  store.select({ entry: index });
  const mover = store.view.value === null ? null : moverOf(store.view.value, index);
  [...document.querySelectorAll<HTMLElement>(".knob")].find((it) => it.dataset["path"] === mover?.path)?.focus({ preventScroll: true });
}

/** On the wall's upper left: what is meant, or where what is in the hand lies just now. It covers no word and moves none. */
export function Meant() {
  const now = carried.value;
  const tree = store.tree.value;
  const meant = store.selection.value.entry;
  if (now !== null) {
    if (now.own === null) return null;
    const words = saidSnaps(now);
    const rest = [said(now.value, now.handle.unit), saidClear(now.handle.entry)].filter((it) => it !== "").join("; ");
    return <p class="carried-words" aria-hidden="true">{words === "" ? null : <><b>{words}</b>; </>}{rest}</p>;
  }
  const entries = entriesOf(tree);
  const entry = entries.find((it) => it.index === meant);
  if (entry === undefined || look.value !== null) return null;
  const group = entries.find((it) => it.index === groupsAround.value[0]);
  return (
    <div class="meant-words">
      {called(entry)}{group === undefined ? "" : `, in ${called(group)}`}{rest.value === "" || restOf.value !== meant ? null : <>: <b>{rest.value}</b></>}
      <button type="button" class="word" onClick={() => toSentence(entry.index)}>its sentence</button>
      {group === undefined ? null : <button type="button" class="word" onClick={() => toGroup(group.index)}>the {group.kind} it is in</button>}
    </div>
  );
}

export function Words({ view }: { view: View }) {
  const hangs = store.light.value === "hangs";
  const fallen = view.parts.length - hanging(view.parts).length;
  return (
    <div class="sign-words">
      <Lights />
      {hangs ? <Wall view={view} /> : null}
      {hangs && fallen > 0 ? <span class="fallen small">{fallen === 1 ? "without the part that would fall out" : `without the ${fallen} parts that would fall out`}</span> : null}
      <span class="nearness">
        <button type="button" class="word" aria-pressed={sizes.value === "yes"} onClick={() => (sizes.value = sizes.value === "yes" ? "no" : "yes")}>
          {sizes.value === "yes" ? "without sizes" : "with sizes"}
        </button>
        <button type="button" class="word" onClick={() => zoomBy(1.5)}>nearer</button>
        <button type="button" class="word" onClick={() => zoomBy(1 / 1.5)}>further</button>
        <button type="button" class="word" aria-disabled={follows.value} onClick={wholeSign}>the whole sign</button>
      </span>
    </div>
  );
}

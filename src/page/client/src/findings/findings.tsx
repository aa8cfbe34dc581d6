// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong, as sentences, gravest first, alike ones gathered; each with its place and its cures.
import { signal } from "@preact/signals";
import { useEffect, useId } from "preact/hooks";
import type { Finding } from "../api";
import { measure } from "../figures";
import * as store from "../store";
import { glance, hold, keyOf, letGo, look } from "../sign/look";
import { needs } from "../sign/over";
import { accepting, refusing } from "./accept";
import { CuresOf, Search, Shelf, Taken, tend } from "./cures";
import { canAccept, gather, isAccepted, moreLikeThis, placesOf, sentence } from "./gather";
import type { Group } from "./gather";

const GRAVITY: Record<string, string> = { stop: "must not be cut", caution: "look at it", note: "to know" };

function Figures({ finding }: { finding: Finding }) {
  if (finding.measured === null) return null;
  return (
    <dl class="measured figures">
      <div><dt>is</dt><dd>{measure(finding.measured, finding.unit)}</dd></div>
      {finding.limit === null ? null : <div><dt>{needs(finding)}</dt><dd>{measure(finding.limit, finding.unit)}</dd></div>}
    </dl>
  );
}

/** Where a limit comes from, on request. */
function Source({ finding }: { finding: Finding }) {
  return (
    <details class="source small">
      <summary>says who?</summary>
      <p class="soft">
        {sentence(finding.said_by)}.
        {finding.why ? ` ${sentence(finding.why)}.` : ""}
        {finding.formula && finding.limit !== null ? ` The limit is ${finding.formula}.` : ""}
      </p>
    </details>
  );
}

/** Goes there and stays; the wall then has the ways to its other places and back. */
function Places({ finding }: { finding: Finding }) {
  const n = finding.places.length;
  const now = look.value;
  const held = now !== null && now.held && now.finding === String(finding.id);
  if (n === 0 || store.view.value?.box === null) return null; // there is nothing to be seen of no metal
  return (
    <button type="button" class="word small show" aria-pressed={held} onClick={() => (held ? letGo() : hold(finding))}>
      {held ? "back to the whole sign" : n === 1 ? "show it" : `show the ${placesOf(n)}`}
    </button>
  );
}

// --- accepting a caution ---

const reasonFor = signal<string | null>(null);
const reasonTrouble = signal("");

async function accept(finding: Finding, reason: string): Promise<void> {
  const state = store.state.value;
  if (state === null) return;
  const trouble = await store.edit([accepting(finding, reason, store.view.value?.entries ?? [], state.tree)]);
  reasonTrouble.value = trouble?.what ?? "";
  if (trouble === null) reasonFor.value = null;
}

function Accept({ finding }: { finding: Finding }) {
  const id = useId();
  const key = keyOf(finding);
  if (isAccepted(finding)) {
    const back = refusing(finding, store.view.value?.entries ?? [], store.state.value?.tree ?? null);
    return (
      <p class="accepted">
        Accepted: <q>{finding.accepted}</q>{" "}
        {back === null ? null : <button type="button" class="word small" onClick={() => void store.edit([back])}>take that back</button>}
      </p>
    );
  }
  if (!canAccept(finding)) return null;
  if (reasonFor.value !== key) return <button type="button" class="word small" onClick={() => { reasonTrouble.value = ""; reasonFor.value = key; }}>accept it…</button>;
  return (
    <form class="reason" onSubmit={(event) => {
      event.preventDefault();
      const typed = new FormData(event.currentTarget).get("reason");
      const reason = typeof typed === "string" ? typed.trim() : "";
      if (reason === "") reasonTrouble.value = "say why; the reason stays in the report and on the proof";
      else void accept(finding, reason);
    }} onKeyDown={(event) => { if (event.key === "Escape") reasonFor.value = null; }}>
      <label for={id}>Accepted, because</label>
      <input id={id} name="reason" autocomplete="off" maxLength={200} ref={(it) => it?.focus()} aria-describedby={`${id}-why`} />
      <button type="submit" class="word">accept</button>
      <button type="button" class="word" onClick={() => (reasonFor.value = null)}>leave it</button>
      <span id={`${id}-why`} class="small soft" role="status">{reasonTrouble.value === "" ? "it stays in the report and on the proof" : reasonTrouble.value}</span>
    </form>
  );
}

// --- cards ---

function Said({ finding }: { finding: Finding }) {
  const { where, what, fix } = finding;
  const placed = where !== null && where !== "";
  return (
    <p class="said">
      {placed ? <b>{sentence(where)}: </b> : null}
      {placed ? what : sentence(what)}
      {fix === null || fix === "" ? "." : <span class="soft">; {fix}.</span>}
    </p>
  );
}

function pointing(finding: Finding) {
  return {
    onMouseEnter: () => glance(finding),
    onMouseLeave: () => glance(null),
    onFocusIn: () => glance(finding),
    onFocusOut: () => glance(null),
  };
}

function More({ finding }: { finding: Finding }) {
  return (
    <li class="more" {...pointing(finding)} data-finding={finding.id}>
      <Said finding={finding} />
      <Figures finding={finding} />
      <div class="asides"><Places finding={finding} /><Accept finding={finding} /></div>
      <CuresOf finding={finding} />
    </li>
  );
}

function Card({ group }: { group: Group }) {
  const it = group.first;
  const accepted = isAccepted(it);
  const held = look.value?.finding === String(it.id);
  return (
    <li class={`card finding is-${accepted ? "accepted" : it.gravity}${held ? " looked" : ""}`} data-finding={it.id} data-law={it.law}>
      <div {...pointing(it)}>
        <p class="gravity small">{accepted ? "accepted" : GRAVITY[it.gravity]}</p>
        <Said finding={it} />
        <Figures finding={it} />
        <div class="asides"><Places finding={it} /><Source finding={it} /><Accept finding={it} /></div>
        <CuresOf finding={it} />
      </div>
      {group.more.length === 0 ? null : (
        <details class="alike">
          <summary>{moreLikeThis(group.more.length)}</summary>
          <ul>{group.more.map((more) => <More key={more.id} finding={more} />)}</ul>
        </details>
      )}
    </li>
  );
}

export function Findings() {
  useEffect(tend, []);
  const view = store.view.value;
  if (view === null) return null;
  const groups = gather(view.findings);
  return (
    <div class={store.state.value?.error ? "findings of-before" : "findings"}>
      {store.state.value?.error && groups.length > 0 ? <p class="soft old">What follows is of the sign as it was last worked out.</p> : null}
      <Taken />
      <Search />
      <Shelf />
      {groups.length === 0 ? store.state.value?.error ? null : <p class="soft">Nothing was found that speaks against cutting it. That says nothing of strength, wind or fixings.</p> : (
        <ul class="cards">{groups.map((group) => <Card key={group.key} group={group} />)}</ul>
      )}
    </div>
  );
}

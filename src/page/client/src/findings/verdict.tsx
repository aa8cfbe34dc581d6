// SPDX-License-Identifier: GPL-3.0-or-later
// The verdict: a stamp and one plain sentence, with the figures small beside it.
// It never speaks for a sign that it has not seen: while the newest is being worked out, or the recipe
// can't be read, the stamp is faint and says so.
import { computed } from "@preact/signals";
import { length, mass, run } from "../figures";
import * as store from "../store";
import type { Figures } from "../api";
import { sentence } from "./gather";
import { BestCure } from "./cures";

type Stand = "none" | "unread" | "checking" | "whole" | "stopped";
export const stand = computed<Stand>(() => {
  const state = store.state.value;
  const verdict = store.verdict.value;
  if (state !== null && state.error !== null) return "unread";
  if (verdict === null) return "none";
  if (store.behind.value) return "checking";
  return verdict.whole ? "whole" : "stopped";
});

const STAMP: Record<Stand, string> = { none: "", unread: "not yet", checking: "checking", whole: "whole", stopped: "not whole" };

function sentenceOf(): string {
  const state = store.state.value;
  switch (stand.value) {
    case "none":
      return "";
    case "unread": {
      const more = store.mistakes.value.length - 1;
      const others = more < 1 ? "" : more === 1 ? " (and one more mistake)" : ` (and ${more} more mistakes)`;
      return `This can't be worked out yet: ${state?.error?.what ?? ""}${state?.error?.fix ? `; ${state.error.fix}` : ""}${others}`;
    }
    default:
      return sentence(store.verdict.value?.sentence ?? "");
  }
}

/** The live line speaks when the verdict is known, and never of a stale one. */
let spoken = "";
const aloud = computed(() => {
  if (stand.value !== "checking") spoken = stand.value === "none" ? "" : `${STAMP[stand.value]}: ${sentenceOf()}`;
  return spoken;
});

function FiguresLine({ figures, old }: { figures: Figures; old: boolean }) {
  const parts = figures.parts === 1 ? "1 part" : `${figures.parts} parts`;
  const pierces = figures.pierces === 1 ? "1 pierce" : `${figures.pierces} pierces`;
  const words = [`${length(figures.width)} × ${length(figures.height)}`, mass(figures.mass), parts, `${run(figures.cut_length)} of cut`, pierces];
  return <p class="verdict-figures figures soft small">{old ? <b>as it was last worked out: </b> : null}{words.map((word, i) => <span key={i}>{word}</span>)}</p>;
}

export function VerdictLine() {
  const now = stand.value;
  const view = store.view.value;
  return (
    <>
    <div class={`verdict is-${now}`} data-revision={view?.revision} data-stand={now}>
      {now === "none" ? null : <span class="stamp" aria-hidden="true">{STAMP[now]}</span>}
      <h2 class="verdict-words" aria-hidden={now === "checking"}>{now === "checking" ? "Working it out" : sentenceOf()}</h2>
      <BestCure />
      <p class="unseen" aria-live="polite" aria-atomic="true">{aloud}</p>
    </div>
    {view === null ? null : <FiguresLine figures={view.figures} old={now === "unread"} />}
    </>
  );
}

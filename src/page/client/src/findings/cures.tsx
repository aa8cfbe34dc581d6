// SPDX-License-Identifier: GPL-3.0-or-later
// Cures as small before-and-after pictures; one click takes one, one takes the best for all.
import { computed, effect, signal } from "@preact/signals";
import * as api from "../api";
import type { Cure, Finding } from "../api";
import * as store from "../store";
import { letGo } from "../sign/look";
import { bestOf, costOf, curesOf, isAccepted, leavesOf, sentence, shelved } from "./gather";

const IDLE = 900; // ms without a change before the search begins by itself

/** Cautions worth a cure, too; notes need none. */
const curable = (it: Finding): boolean => it.gravity !== "note" && !isAccepted(it);
export const anyCurable = computed(() => (store.view.value?.findings ?? []).some(curable));
const stopped = computed(() => (store.verdict.value?.stops ?? 0) > 0);
/** The revision that was looked after already: searched once by itself, stopped, or refused. */
const tended = signal(-1);

function look(): void {
  tended.value = store.state.value?.revision ?? -1;
  void store.lookForCures();
}

/** A sign that must not be cut is looked after at once; cautions only when asked. */
export function tend(): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const end = effect(() => {
    clearTimeout(timer);
    const revision = store.state.value?.revision ?? -1;
    const due = stopped.value && !store.behind.value && store.curing.value === "no" && store.state.value?.error === null;
    if (due && tended.value !== revision) timer = setTimeout(look, IDLE);
  });
  return () => {
    clearTimeout(timer);
    end();
  };
}

// --- taking ---

/** What was taken last, to be said and to be taken back. */
export const taken = signal<{ words: string; revision: number } | null>(null);
const taking = signal<string | null>(null);

async function take(words: string, id: string | null): Promise<void> {
  if (taking.value !== null) return;
  taking.value = id ?? "best";
  const trouble = id === null ? await store.takeBest() : await store.takeCure(id);
  taking.value = null;
  if (trouble !== null) return;
  letGo();
  taken.value = { words, revision: store.state.value?.revision ?? 0 };
}

export function Taken() {
  const it = taken.value;
  if (it === null || it.revision !== store.state.value?.revision) return null;
  return (
    <p class="taken" role="status">
      Done: {it.words}. <button type="button" class="word" onClick={() => void store.undo()}>take it back</button>
    </p>
  );
}

export function BestCure() {
  const best = bestOf(store.cures.value);
  if (!stopped.value || best === null || store.behind.value) return null;
  return (
    <button type="button" class="press best" disabled={taking.value !== null} onClick={() => void take(best.sentence, best.best === true ? null : best.id)}
      title={`${best.sentence}: ${costOf(best, store.units.value)}`}>
      {best.whole ? "make it whole" : "take the best cures"}
      {shelf.value.length === 0 ? <span class="best-words">{best.sentence}</span> : null}
    </button>
  );
}

// --- one cure, and those of a finding ---

function Picture({ cure }: { cure: Cure }) {
  const cost = costOf(cure, store.units.value);
  return (
    <li>
      <button type="button" class="cure" data-cure={cure.id} disabled={taking.value !== null} onClick={() => void take(cure.sentence, cure.id)}>
        <img src={api.curePicture(cure.id)} alt="before and after" loading="lazy" width="200" height="90" />
        <span class="cure-words">{sentence(cure.sentence)}</span>
        <span class="cure-cost soft small">{cost}; {leavesOf(cure)}</span>
      </button>
    </li>
  );
}

const FEW = 3;
const unfolded = signal<ReadonlySet<string>>(new Set());
const shelf = computed(() => shelved(store.cures.value, store.verdict.value?.stops ?? 0));

/** A few pictures, the others on request. */
function Some({ cures, of }: { cures: readonly Cure[]; of: string }) {
  const key = `${store.state.value?.revision ?? 0}/${of}`;
  const shown = unfolded.value.has(key) ? cures : cures.slice(0, FEW);
  const more = cures.length - shown.length;
  return (
    <>
      <ul class="cures" aria-label="cures">{shown.map((cure) => <Picture key={cure.id} cure={cure} />)}</ul>
      {more === 0 ? null : (
        <button type="button" class="word small" onClick={() => (unfolded.value = new Set([...unfolded.value, key]))}>
          {more === 1 ? "another way" : `${more} other ways`}
        </button>
      )}
    </>
  );
}

/** What cures all of it at once. */
export function Shelf() {
  if (shelf.value.length === 0 || store.behind.value) return null;
  return (
    <section class="shelf card" aria-label="what makes it whole">
      <h3>All of it at once</h3>
      <Some cures={shelf.value} of="all" />
    </section>
  );
}

export function CuresOf({ finding }: { finding: Finding }) {
  if (!curable(finding) || store.behind.value) return null;
  const all = curesOf(finding, store.cures.value);
  const own = all.filter((cure) => !shelf.value.includes(cure));
  if (own.length > 0) return <Some cures={own} of={String(finding.id)} />;
  if (store.curing.value !== "done") return null;
  if (all.length > 0) return <p class="cure-none soft small">No single change takes this away; all of it at once does, above.</p>;
  return <p class="cure-none soft small">None of the cures tried takes this away. {finding.fix === null || finding.fix === "" ? "" : `What would: ${finding.fix}.`}</p>;
}

/** No cure makes it whole: what is in the way, and what would have to give. */
function Why() {
  const lines = store.curesWhy.value;
  return (
    <section class="why small" role="status" aria-label="why no cure makes it whole">
      <p>{store.cures.value.length === 0 ? "No cure was found." : "None of the cures makes it whole."}</p>
      {lines.map((line, i) => <p key={i} class={line.startsWith("  ") ? "why-stop" : undefined}>{sentence(line.trim())}</p>)}
      {store.curesNoFurther.value ? <p class="soft">Looked no further: there are more changes than are tried for one sign.</p> : null}
    </section>
  );
}

/** The search: under way, stopped, over. */
export function Search() {
  if (!anyCurable.value || store.behind.value) return null;
  const n = store.cures.value.length;
  const found = n === 0 ? "" : n === 1 ? ", 1 so far" : `, ${n} so far`;
  if (store.curing.value === "looking") {
    const tried = store.curesTried.value;
    return (
      <p class="search" role="status">
        <progress class="search-bar" aria-label="looking for cures" {...(tried === null ? {} : { value: tried.tried, max: tried.of })} />
        <span>looking for cures{tried === null ? "" : `, ${tried.tried} of ${tried.of} tried`}{found}</span>
        <button type="button" class="word" onClick={() => void store.stopCures()}>stop</button>
      </p>
    );
  }
  if (store.curing.value === "done") {
    if (store.curesWhy.value.length > 0) return <Why />;
    if (n > 0 || !stopped.value) return n > 0 ? null : <p class="search" role="status">No cure was found for what is left; it is yours to decide.</p>;
    return <p class="search" role="status">No cure was found. What each finding says would help; change it in the order slip.</p>;
  }
  return (
    <p class="search">
      <button type="button" class="word" onClick={look}>look for cures</button>
    </p>
  );
}

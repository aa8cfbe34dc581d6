// SPDX-License-Identifier: GPL-3.0-or-later
// A new sign: starters that the core draws; or a recipe that is there already.
import { useSignal } from "@preact/signals";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import * as api from "../api";
import type { RecipeFile, Starter } from "../api";
import * as store from "../store";
import { said } from "../slip/value";
import { FontNotice } from "./font-drop";

export function Gallery() {
  const starters = useSignal<Starter[]>([]);
  const recipes = useSignal<RecipeFile[]>([]);
  const chosen = useSignal<Starter | null>(null);
  useEffect(() => {
    api.call.starters().then((it) => (starters.value = it)).catch(store.complain);
    api.call.recipes().then((it) => (recipes.value = it)).catch(store.complain);
    // who works by keys goes on in the slip, at the sign's name
    return () => {
      setTimeout(() => {
        if (document.activeElement === document.body) document.querySelector<HTMLElement>(".slip .value")?.focus({ preventScroll: true });
      });
    };
  }, []);
  const state = store.state.value;
  const open = state?.file ?? null;

  return (
    <main class="gallery">
      <header>
        <h1>A new sign</h1>
        <p class="soft">Begin with one that is near to what you have in mind. All of it can be changed.</p>
        {open === null ? null : <p><button type="button" class="word" onClick={() => (store.gallery.value = false)}>back to {open.replace(/^.*\//, "")}</button></p>}
      </header>
      {store.trouble.value === null ? null : <p role="alert" class="trouble whole">{said(store.trouble.value)}</p>}
      <FontNotice />
      <ul class="starters">
        {starters.value.map((it) => (
          <li key={it.kind} class={chosen.value?.kind === it.kind ? "chosen" : ""}>
            <button type="button" class="starter card" aria-pressed={chosen.value?.kind === it.kind} onClick={() => (chosen.value = it)}>
              <Picture of={it} />
              <span class="about">{it.about}</span>
            </button>
            {chosen.value?.kind === it.kind ? <NameIt starter={it} /> : null}
          </li>
        ))}
      </ul>
      {recipes.value.length === 0 ? null : (
        <section class="there-already">
          <h2>Or one that is there already</h2>
          <ul>
            {recipes.value.map((it) => (
              <li key={it.file}>
                <button type="button" class="word" onClick={() => void store.open(it.file).then((problem) => {
                  if (problem === null) store.gallery.value = false;
                })}>{it.name}</button>
              </li>
            ))}
          </ul>
        </section>
      )}
    </main>
  );
}

function Picture({ of }: { of: Starter }) {
  return of.svg === undefined ? <span class="picture" aria-hidden="true" /> : <span class="picture" aria-hidden="true"><span style={{ maskImage: `url("${of.svg}")` }} /></span>;
}

function NameIt({ starter }: { starter: Starter }) {
  const name = useSignal("");
  const problem = useSignal<api.Trouble | null>(null);
  const field = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => field.current?.focus(), []);
  return (
    <form
      class="name-it"
      onSubmit={(event) => {
        event.preventDefault();
        const wish = name.value.trim();
        if (wish === "") return field.current?.focus();
        void store.start(starter.kind, wish).then((refused) => {
          problem.value = refused;
          store.trouble.value = null;
          if (refused === null) store.gallery.value = false;
        });
      }}
    >
      <label>Call it <input ref={field} value={name.value} aria-invalid={problem.value !== null} placeholder="ferry steps" onInput={(event) => (name.value = event.currentTarget.value)} /></label>
      <button type="submit" class="press">begin</button>
      <p class="soft small">It is kept in {store.state.value?.folder ?? "the folder that holdfast was started in"}.</p>
      {problem.value === null ? null : <p role="alert" class="trouble">{said(problem.value)}</p>}
    </form>
  );
}

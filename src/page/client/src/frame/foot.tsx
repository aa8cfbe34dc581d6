// SPDX-License-Identifier: GPL-3.0-or-later
// The foot of the page: figures and light as the reader likes, the file, another sign.
import * as store from "../store";
import type { Theme } from "../store";
import { ChooseFont } from "./font-drop";

function Choice<T extends string>({ title, words, now, take }: { title: string; words: [T, string][]; now: T; take: (it: T) => void }) {
  return (
    <span class="choice" role="radiogroup" aria-label={title}>
      <span aria-hidden="true">{title} </span>
      {words.map(([it, word], i) => (
        <button
          key={it} type="button" class="word" role="radio" aria-checked={it === now} tabIndex={it === now ? 0 : -1}
          onClick={() => take(it)}
          onKeyDown={(event) => {
            const by = event.key === "ArrowRight" || event.key === "ArrowDown" ? 1 : event.key === "ArrowLeft" || event.key === "ArrowUp" ? -1 : 0;
            const next = words[(i + by + words.length) % words.length];
            if (by === 0 || next === undefined) return;
            event.preventDefault();
            take(next[0]);
            const group = event.currentTarget.parentElement;
            setTimeout(() => group?.querySelector<HTMLElement>('[aria-checked="true"]')?.focus());
          }}
        >{word}</button>
      ))}
    </span>
  );
}

export function Foot() {
  const open = (store.state.value?.file ?? null) !== null && !store.gallery.value;
  return (
    <footer class="foot small">
      {!open ? null : <p>
        <button type="button" class="word" aria-expanded={store.showText.value} onClick={() => (store.showText.value = !store.showText.value)}>{store.showText.value ? "put the file away" : "show the file"}</button>
        <ChooseFont />
        <button type="button" class="word" onClick={() => (store.gallery.value = true)}>another sign</button>
      </p>}
      <p>
        <Choice<"recipe" | "mm" | "inch"> title="figures in" words={[["recipe", "the recipe's unit"], ["mm", "mm"], ["inch", "inches"]]} now={store.figures.value} take={(it) => (store.figures.value = it)} />
        <Choice<Theme> title="paper" words={[["by day", "as this computer"], ["light", "light"], ["dark", "dark"]]} now={store.theme.value} take={(it) => (store.theme.value = it)} />
      </p>
      <p class="soft">holdfast says nothing of strength, wind or fixings. It runs on this computer only.</p>
    </footer>
  );
}

// SPDX-License-Identifier: GPL-3.0-or-later
// The card that opens at a word stays in sight, wherever the word stands: below it, or above it where
// there is more room, and moved in from the right edge. It floats over the page, so that no column
// cuts it off.
import { useLayoutEffect, useRef } from "preact/hooks";
import type { RefObject } from "preact";

const ROOM = 8;

function place(card: HTMLElement): void {
  const word = card.parentElement?.querySelector(".typing")?.getBoundingClientRect();
  if (word === undefined) return;
  const width = document.documentElement.clientWidth;
  card.style.maxHeight = "";
  const box = card.getBoundingClientRect();
  const below = innerHeight - word.bottom - 2 * ROOM;
  const above = word.top - 2 * ROOM;
  const up = box.height > below && above > below;
  card.style.maxHeight = `${Math.max(96, up ? above : below)}px`;
  const height = Math.min(box.height, Math.max(96, up ? above : below));
  card.style.left = `${Math.max(ROOM, Math.min(word.left, width - box.width - ROOM))}px`;
  card.style.top = `${up ? word.top - height - 5 : word.bottom + 5}px`;
}

export function useCard(): RefObject<HTMLDivElement> {
  const card = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    if (card.current !== null) place(card.current);
  });
  useLayoutEffect(() => {
    const again = (): void => {
      requestAnimationFrame(() => {
        if (card.current !== null) place(card.current);
      });
    };
    addEventListener("scroll", again, true);
    addEventListener("resize", again);
    const sizes = new ResizeObserver(again); // pictures that come in make it wider
    if (card.current !== null) sizes.observe(card.current);
    return () => {
      sizes.disconnect();
      removeEventListener("scroll", again, true);
      removeEventListener("resize", again);
    };
  }, []);
  return card;
}

// SPDX-License-Identifier: GPL-3.0-or-later
// How the reader likes to see signs: kept in the browser, no part of any recipe.
import { effect, signal } from "@preact/signals";
import type { Signal } from "@preact/signals";
import type { View } from "../api";

function kept<T extends string>(key: string, first: T, fits: (word: string) => boolean): Signal<T> {
  let before: string | null = null;
  try {
    before = localStorage.getItem(`sign-${key}`);
  } catch {
    // a browser that keeps nothing is fine
  }
  const it = signal<T>(before !== null && fits(before) ? (before as T) : first);
  effect(() => {
    try {
      localStorage.setItem(`sign-${key}`, it.value);
    } catch {
      // as above
    }
  });
  return it;
}

/** Walls by name; an own colour is kept as #rrggbb. */
export const WALLS: Readonly<Record<string, { colour: string; pale: boolean }>> = {
  plaster: { colour: "#e4dccd", pale: true },
  whitewash: { colour: "#f4f2ec", pale: true },
  brick: { colour: "#9a5a48", pale: false },
  oak: { colour: "#a8845c", pale: false },
  slate: { colour: "#59636b", pale: false },
  "bottle green": { colour: "#2f4a3d", pale: false },
  night: { colour: "#23242a", pale: false },
};
export type Beside = "nobody" | "a person" | "a door";
const BESIDE: readonly string[] = ["nobody", "a person", "a door"];

export const wall = kept<string>("wall", "plaster", (word) => word in WALLS || /^#[0-9a-f]{6}$/i.test(word));
export const beside = kept<Beside>("beside", "nobody", (word) => BESIDE.includes(word));
export const sizes = kept<"yes" | "no">("sizes", "no", (word) => word === "yes" || word === "no");

/** The wall that a sign hangs on: as its recipe says, else as the reader likes it. */
export function wallOf(view: View): { colour: string; pale: boolean } {
  return wallColour(view.look !== undefined && view.look.wall !== null ? view.look.wall_tone : wall.value);
}

/** The wall's colour; and whether what is drawn on it must be dark. */
export function wallColour(word: string): { colour: string; pale: boolean } {
  const named = WALLS[word];
  if (named !== undefined) return named;
  const n = parseInt(word.slice(1), 16);
  return { colour: word, pale: isPale((n >> 16) & 255, (n >> 8) & 255, n & 255) };
}

/** Does black stand out on it more than white? Relative luminance: WCAG 2.2, its definition and contrast ratio. */
export function isPale(r: number, g: number, b: number): boolean {
  const linear = (c: number): number => (c / 255 <= 0.04045 ? c / 255 / 12.92 : Math.pow((c / 255 + 0.055) / 1.055, 2.4));
  const light = 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  return (light + 0.05) / 0.05 > 1.05 / (light + 0.05);
}

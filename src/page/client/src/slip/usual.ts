// SPDX-License-Identifier: GPL-3.0-or-later
// Figures that the page writes where nobody said one, in the recipe's own unit. Pure.
import type { Tree } from "../api";
import { fraction, inMm, times } from "./amount";
import type { Table } from "./path";

/** The recipe's own unit, so that a sign in inches gets inches. */
export function ownInches(tree: Tree): boolean {
  const text = JSON.stringify(tree);
  return (text.match(/\d ?(in|inch|″|”)["\\]|\d\\"/g) ?? []).length > (text.match(/\d ?mm"/g) ?? []).length;
}
export const usual = (mm: number, inches: boolean): string => (inches ? `${fraction(Math.max(1 / 8, mm / 25.4), 8)} in` : `${mm} mm`);

/** Makes it as high as that share of its width at the least, where both are said: a shield comes to a point. */
export function stretch(body: Table, tall: number): void {
  const { width, height } = body;
  if (tall > 0 && typeof width === "string" && typeof height === "string" && inMm(height) < tall * inMm(width)) body["height"] = times(width, tall);
}

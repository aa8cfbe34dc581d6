// SPDX-License-Identifier: GPL-3.0-or-later
// Figures as the reader likes them: mm or inch. Only for showing; the recipe keeps what was typed.
import { units } from "./store";
import type { Units } from "./store";
import type { EntryView } from "./api";
import { fraction } from "./slip/amount";

const MM_PER_INCH = 25.4;

function trimmed(number: number, places: number): string {
  const text = number.toFixed(places);
  return places > 0 ? text.replace(/\.?0+$/, "") : text;
}

const decimal = (inches: number): string => trimmed(inches, Math.abs(inches) < 10 ? 3 : 2);
/** Null: less than an inch, and no sixteenth: limits are finer than that. As the core has it (base/units.h). */
function sixteenths(inches: number): string | null {
  const parts = Math.round(Math.abs(inches) * 16);
  return Math.abs(inches) < 1 && (parts === 0 || Math.abs(Math.abs(inches) - parts / 16) > 0.001) && inches !== 0 ? null : fraction(inches);
}

/** "23.5 mm", "15/16 in", "0.93 in" */
export function length(mm: number, as: Units = units.value): string {
  if (as !== "mm") {
    const inches = mm / MM_PER_INCH;
    return `${as === "inch" ? (sixteenths(inches) ?? decimal(inches)) : decimal(inches)} in`;
  }
  const size = Math.abs(mm);
  return `${trimmed(mm, size < 10 ? 2 : size < 100 ? 1 : 0)} mm`;
}

/** "31 mm²", "0.048 in²" */
export function area(mm2: number, as: Units = units.value): string {
  if (as !== "mm") {
    const square = mm2 / (MM_PER_INCH * MM_PER_INCH);
    return `${trimmed(square, square < 1 ? 3 : 1)} in²`;
  }
  return mm2 >= 100000 ? `${trimmed(mm2 / 100, 0)} cm²` : `${trimmed(mm2, mm2 < 10 ? 1 : 0)} mm²`;
}

/** "11.4 m", "37.4 ft" */
export function run(mm: number, as: Units = units.value): string {
  return as !== "mm" ? `${trimmed(mm / MM_PER_INCH / 12, 1)} ft` : `${trimmed(mm / 1000, 1)} m`;
}

/** "5.8 kg", "12.8 lb"; the pound is 0.45359237 kg exactly (international yard and pound agreement of 1959) */
export function mass(kg: number, as: Units = units.value): string {
  return as !== "mm" ? `${trimmed(kg / 0.45359237, 1)} lb` : `${trimmed(kg, kg < 1 ? 2 : 1)} kg`;
}

/** A measured figure of a finding in its own unit, turned when the reader likes inches. */
export function measure(value: number, unit: string, as: Units = units.value): string {
  if (unit === "mm") return length(value, as);
  if (unit === "mm2" || unit === "mm²") return area(value, as);
  if (unit === "share") return `${trimmed(100 * value, 1)} %`;
  if (unit === "deg") return `${trimmed(value, 2)}°`;
  if (unit === "K") return `${trimmed(value, 1)} °C`; // of a difference the same, and what people say
  return unit === "" ? trimmed(value, 2) : `${trimmed(value, 2)} ${unit}`;
}

/** "310 mm wide, 42 mm high, 12 mm clear of board"; "" of what has no ink */
export function sizeOf(entry: EntryView, as: Units = units.value): string {
  if (entry.box === null) return "";
  const [x0, y0, x1, y1] = entry.box;
  const clear = entry.clear === null || entry.clear_from === null ? "" : entry.clear === 0 ? `, touches ${entry.clear_from}` : `, ${length(entry.clear, as)} clear of ${entry.clear_from}`;
  return `${length(x1 - x0, as)} wide, ${length(y1 - y0, as)} high${clear}`;
}

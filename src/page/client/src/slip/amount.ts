// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers with their unit as people type them, stepped up and down in that unit.
//
//   600 mm   1.2 m   18 in   1-1/2 in   3/16"   5' 6-1/2"   10 ga   60 %   15 deg   11 o'clock
//
// What was typed as a fraction stays one; 10 ga goes to 11 ga; an hour goes round the clock.

import { units } from "../store";

interface Amount {
  value: number;
  unit: string;
  /** what stood between number and unit */
  gap: string;
  /** written with a fraction: steps are parts of an inch */
  fraction: boolean;
}

const GLYPHS: Record<string, number> = { "½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8 };
const NUMBER = /^([-+−]?) ?(?:(\d+)[- ](\d+)\/(\d+)|(\d+)\/(\d+)|(\d+)? ?([½¼¾⅛⅜⅝⅞])|(\d+\.?\d*|\.\d+))/u;

export function readAmount(text: string): Amount | null {
  const found = NUMBER.exec(text.trim());
  if (found === null) return null;
  const [all, sign, whole, over, under, top, bottom, before, glyph, plain] = found;
  const rest = text.trim().slice(all.length);
  const unit = rest.trim();
  if (/^['′’]/.test(unit) && /\d/.test(unit)) return null; // feet and inches: typed, not stepped
  const value =
    whole !== undefined ? Number(whole) + Number(over) / Number(under)
    : top !== undefined ? Number(top) / Number(bottom)
    : glyph !== undefined ? Number(before ?? 0) + (GLYPHS[glyph] ?? 0)
    : Number(plain);
  if (!Number.isFinite(value)) return null;
  const gap = rest.slice(0, rest.length - rest.trimStart().length);
  return { value: sign === "-" || sign === "−" ? -value : value, unit, gap, fraction: plain === undefined };
}

const INCH = /^(in|inch|inches|"|″|”)$/u;
const GAUGES = [3, 7, 8, 9, 10, 11, 12, 13, 14, 16, 18, 20, 22, 24, 26, 28, 30];

function pace(amount: Amount): number {
  const size = Math.abs(amount.value);
  if (INCH.test(amount.unit)) return amount.fraction ? (size < 2 ? 1 / 16 : 1 / 8) : size < 2 ? 0.05 : size < 20 ? 0.25 : 0.5;
  switch (amount.unit) {
    case "mm": return size < 5 ? 0.1 : size < 20 ? 0.5 : size < 200 ? 1 : size < 1000 ? 5 : 10;
    case "cm": return size < 2 ? 0.05 : size < 20 ? 0.1 : 0.5;
    case "m": return size < 3 ? 0.01 : 0.5;
    case "ft": case "'": return 0.5;
    default: return 1;
  }
}

/** 33-7/8: rounded to sixteenths, or another power of two. */
export function fraction(value: number, finest = 16): string {
  let parts = Math.round(Math.abs(value) * finest);
  let under = finest;
  const sign = value < 0 && parts > 0 ? "-" : "";
  while (parts % 2 === 0 && under > 1) {
    parts /= 2;
    under /= 2;
  }
  const whole = Math.floor(parts / under);
  const over = parts % under;
  return sign + (over === 0 ? String(whole) : whole === 0 ? `${over}/${under}` : `${whole}-${over}/${under}`);
}

const written = (value: number, amount: Amount): string => (amount.fraction ? fraction(value) : String(Number(value.toFixed(4))));

const MM: Record<string, number> = { mm: 1, cm: 10, m: 1000, ft: 304.8, "'": 304.8 };
/** Millimetres; NaN of what is no length. */
export function inMm(text: string): number {
  const amount = readAmount(text);
  return amount === null ? NaN : amount.value * (INCH.test(amount.unit) ? 25.4 : (MM[amount.unit] ?? NaN));
}
/** So many times `text`, in its own unit. */
export function times(text: string, factor: number): string {
  const amount = readAmount(text);
  return amount === null || factor === 1 ? text : `${written(amount.value * factor, amount)}${amount.gap}${amount.unit}`;
}

/**
 * `text` one step up or down (`by` steps), or null when it is nothing that can be stepped.
 * @sixteenths: whole inches go on in fractions
 */
export function stepped(text: string, by: number, least: number | null = null, most: number | null = null, sixteenths = units.value === "inch"): string | null {
  const hour = /^(1[0-2]|[1-9]) ?o['’]?clock$/.exec(text.trim());
  if (hour !== null) return `${((((Number(hour[1]) - 1 + by) % 12) + 12) % 12) + 1} o'clock`;
  const read = readAmount(text);
  if (read === null) return null;
  const amount = { ...read, fraction: read.fraction || (sixteenths && INCH.test(read.unit) && Number.isInteger(read.value)) };
  if (/^(ga|ga\.|gauge)$/.test(amount.unit)) {
    const now = GAUGES.findIndex((gauge) => gauge >= amount.value);
    const next = GAUGES[Math.max(0, Math.min(GAUGES.length - 1, now + Math.sign(by)))];
    return next === undefined ? null : `${next}${amount.gap}${amount.unit}`;
  }
  const step = pace(amount);
  const raw = amount.value + by * step;
  // onto the raster of the step, so that 1520 goes to 1530 and 17.3 to 17.5
  let value = Math.round(raw / step) * step;
  if (amount.value > 0 && value <= 0 && least === null) value = amount.value > step ? step : amount.value;
  if (least !== null) value = Math.max(least, value);
  if (most !== null) value = Math.min(most, value);
  return `${written(value, amount)}${amount.gap}${amount.unit}`;
}

/** A number that was typed alone takes the unit that stood there before: the reader sees it at once. */
export function withUnit(text: string, before: string): string {
  const now = readAmount(text);
  const was = readAmount(before);
  if (now === null || now.unit !== "" || was === null || was.unit === "") return text;
  return `${text.trim()}${was.gap === "" && !/^["″”'′’%°]/u.test(was.unit) ? " " : was.gap}${was.unit}`;
}

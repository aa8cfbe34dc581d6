// SPDX-License-Identifier: GPL-3.0-or-later
// Findings put in order and alike ones gathered; which cures belong to which; what a cure costs.
import type { Cure, Finding, Gravity } from "../api";
import { area, length } from "../figures";
import type { Units } from "../store";

export interface Group {
  key: string;
  first: Finding;
  more: Finding[];
}

const GRAVEST: Record<Gravity, number> = { stop: 0, caution: 1, note: 2 };

export const isAccepted = (it: Finding): boolean => it.accepted !== null && it.accepted !== false && it.accepted !== "";
const rank = (it: Finding): number => (isAccepted(it) ? 3 : GRAVEST[it.gravity]);

/** Alike: one law, one gravity, both accepted or not. The order of the server is kept within. */
export function gather(findings: readonly Finding[]): Group[] {
  const groups = new Map<string, Group>();
  const ordered = findings.map((it, i) => ({ it, i })).sort((a, b) => rank(a.it) - rank(b.it) || a.i - b.i);
  for (const { it } of ordered) {
    const key = `${it.law}/${it.gravity}/${isAccepted(it) ? "accepted" : ""}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { key, first: it, more: [] });
    else group.more.push(it);
  }
  return [...groups.values()];
}

export const moreLikeThis = (n: number): string => (n === 1 ? "1 more like this" : `${n} more like this`);
export const placesOf = (n: number): string => (n === 1 ? "one place" : `${n} places`);

/** First letter large, for a sentence that starts a card. Words in quotes stay as they are. */
export const sentence = (text: string): string => (text === "" ? "" : text.charAt(0).toLocaleUpperCase("en") + text.slice(1));

/** The cures that take this finding away: those that make the sign whole first, each in the server's order. */
export function curesOf(finding: Finding, cures: readonly Cure[]): Cure[] {
  const mine = cures.filter((cure) => cure.takes.some((id) => String(id) === String(finding.id)));
  return [...mine].sort((a, b) => Number(b.best ?? false) - Number(a.best ?? false) || Number(b.whole) - Number(a.whole));
}

/** Cures of the sign as a whole: they stand above the findings, once, when there is more than one stop to cure. */
export function shelved(cures: readonly Cure[], stops: number): Cure[] {
  if (stops < 2) return [];
  return cures.filter((cure) => cure.whole).sort((a, b) => Number(b.best ?? false) - Number(a.best ?? false));
}

/** The cure that "take the best" will take: the server's choice, or the first that makes it whole. */
export const bestOf = (cures: readonly Cure[]): Cure | null =>
  cures.find((cure) => cure.best === true) ?? cures.find((cure) => cure.whole) ?? null;

/** "adds 310 mm² of metal, 12 ties; moves outlines by up to 1.8 mm" */
export function costOf(cure: Cure, units: Units): string {
  const words: string[] = [];
  if (cure.added >= 0.05) words.push(`adds ${area(cure.added, units)} of metal`);
  if (cure.removed >= 0.05) words.push(`takes ${area(cure.removed, units)} away`);
  if (cure.ties > 0) words.push(cure.ties === 1 ? "1 tie" : `${cure.ties} ties`);
  if (cure.shift >= 0.05) words.push(`moves outlines by up to ${length(cure.shift, units)}`);
  return words.length === 0 ? "changes next to nothing" : words.join(", ");
}

/** What is left of the sign's trouble after it. */
export function leavesOf(cure: Cure): string {
  if (cure.whole) return cure.cautions === 0 ? "then it is whole" : `then it is whole, ${cure.cautions === 1 ? "1 caution" : `${cure.cautions} cautions`} left`;
  return cure.stops === 1 ? "1 stop is left" : `${cure.stops} stops are left`;
}

/** Only what the law calls a caution can be accepted. */
export const canAccept = (it: Finding): boolean => it.gravity === "caution" && !isAccepted(it);

// SPDX-License-Identifier: GPL-3.0-or-later
// How the recipe's keys and choices are said on paper. What is not listed here is said by its key.

/** A choice in words, and what it means. */
export interface Said {
  word: string;
  about?: string;
}

type Choices = Record<string, Said>;

const YES: Record<string, [string, string]> = {
  "fill band": ["filling the band", "not filling the band"],
  staggered: ["every second row moved by half a step", "rows straight above each other"],
  hanging: ["the sign hangs by it", "the sign does not hang by it"],
  fill: ["filled", "left open"],
  enlarge: ["made larger", "left as they are"],
  thicken: ["made wider", "left as it is"],
  "house number": ["a house number", "no house number"],
  "within reach": ["within reach", "out of reach"],
};

const CHOICES: Record<string, Choices> = {
  as: { metal: { word: "metal", about: "adds metal" }, opening: { word: "cut through", about: "cuts an opening" } },
  mount: {
    none: { word: "nothing yet", about: "not said how it is held" },
    holes: { word: "holes" },
    studs: { word: "studs" },
    stake: { word: "a stake" },
    welded: { word: "welding" },
  },
  shape: {
    round: { word: "round" }, oval: { word: "oval" }, rectangle: { word: "rectangular" },
    rounded: { word: "round-cornered" }, "arch-topped": { word: "arch-topped" }, shield: { word: "shield-shaped" },
    polygon: { word: "many-sided" }, outline: { word: "close-fitting", about: "what stands on it, grown by a distance" },
  },
  align: { centre: { word: "centred" }, left: { word: "flush left" }, right: { word: "flush right" } },
  letters: { rigid: { word: "keep their shape" }, bent: { word: "bend with the arc" } },
  tops: {
    "by place": { word: "whichever way reads", about: "outward in the upper half, inward in the lower" },
    outward: { word: "outward" }, inward: { word: "inward" },
  },
  descenders: {
    pass: { word: "show below the bar", about: "a tail longer than the bar is high passes through" },
    join: { word: "end inside the bar" },
  },
  writing: { "by script": { word: "as the script runs" }, "left to right": { word: "left to right" }, "right to left": { word: "right to left" } },
  direction: {
    any: { word: "any way" }, upright: { word: "upright", about: "in a band: towards the rings" }, level: { word: "level" },
    "across the stroke": { word: "across the stroke" },
  },
};

export function yesNo(key: string): [string, string] {
  return YES[key] ?? ["yes", "no"];
}

export function said(key: string, choice: string): Said {
  return CHOICES[key]?.[choice] ?? { word: choice };
}

/** before and after the value, where a field is said by itself at the end of a sentence */
const CLAUSES: Record<string, [string, string?]> = {
  name: ["called"],
  as: ["as"],
  corner: ["corners rounded by"],
  inner: ["inside"],
  legs: ["on legs of"],
  clear: ["", "clear of it"],
  "font size": ["set at a size of"],
  language: ["in the language"],
  writing: ["running"],
  spacing: ["letters spaced by"],
  joint: ["joined by", "of metal"],
  "line spacing": ["lines", "apart"],
  align: ["", ""],
  letters: ["whose letters"],
  "arc radius": ["along an arc of", "radius"],
  tops: ["tops pointing"],
  bite: ["biting", "deep"],
  "give way": ["giving way by"],
  descenders: ["whose tails"],
  "split gap": ["with", "clear above and below them"],
  "split bar": ["between bars of"],
  depth: ["its inner tips at", "of the outer"],
  direction: ["running"],
  width: ["", "wide"],
  height: ["", "high"],
  length: ["", "long"],
  count: ["at least", "for each part"],
  "keep free": ["none at the"],
  "not on": ["none on"],
  crater: ["craters of"],
  row: ["by the row", "of the cut chart"],
};

export function clause(key: string): [string, string] {
  const [before, after] = CLAUSES[key] ?? [key];
  return [before, after ?? ""];
}

/** What an entry of a kind is called in a list of kinds. */
export const KINDS: Record<string, string> = {
  ring: "a ring", plate: "a plate", bar: "a bar", "gate arch": "a gate arch", words: "words", initial: "an initial",
  dot: "a dot", diamond: "a diamond", star: "a star", hole: "a hole", "hole pattern": "a pattern of holes", ear: "an ear",
  foot: "a foot", stake: "a stake", tie: "a tie, put by hand", ties: "ties, wherever a part would fall out",
  mend: "mending of thin and small places",
};

/** Keys as labels of the fields that unfold. */
const LABELS: Record<string, string> = {
  as: "metal or opening", outer: "outer diameter", inner: "inner diameter", "font size": "size of the font", "read from": "read from",
  em: "place in the letter", of: "of", at: "where", on: "on", alone: "may stand alone", accept: "accepted cautions", limits: "limits of its own",
  number: "order number", row: "row of the cut chart", tops: "letters’ tops", letters: "letters on an arc", descenders: "long tails",
  fill: "too small openings", enlarge: "openings too small to pierce", thicken: "thin metal", round: "sharp points rounded by",
};

export const label = (key: string): string => LABELS[key] ?? key;

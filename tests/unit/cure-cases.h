/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-cases.h - a sign for each thing that a family of cures does, and what must come of it.
 */
#pragma once
#include <glib.h>

#define HEAD  "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
#define BEBAS "font: Bebas Neue"

typedef enum { NOT_OFFERED, OFFERED, TAKES, MAKES_WHOLE } Outcome;

static const struct {
  const char *name, *key;
  Outcome outcome;
  const char *edit; /* (nullable) stands in the cured recipe */
  const char *text;
} cases[] = {
    {"ties", "ties", MAKES_WHOLE, "  - ties: {}\n",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: round, diameter: 200 mm}\n"
          "  - ring: {name: moat, outer: 120 mm, inner: 100 mm, as: opening}\n"},
    {"no-ties-for-a-stencil", "ties", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 500 mm, height: 200 mm}\n"
          "  - words: {text: BOARD, font: {family: Allerta, style: Stencil}, height: 90 mm, "
          "spacing: 10 %, as: opening}\n"},
    {"second-tie", "ties", TAKES, "count: 2",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 400 mm, height: 240 mm}\n"
          "  - words: {name: door, text: O, " BEBAS ", height: 120 mm, as: opening}\n"
          "  - tie: {name: top, of: O of door, opening: 1, em: [0.19, 0.65], direction: top, "
          "width: 6 mm}\n"},
    {"missed-pin", "ties", TAKES, "ties: {}",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 120 mm}\n"
          "  - words: {name: shop, text: SIT, " BEBAS ", height: 80 mm, as: opening}\n"
          "  - tie: {of: 2nd A of shop, opening: 1, em: [0.2, 0.1], direction: bottom}\n"},
    {"brace", "ties", OFFERED, "tie: {of: rail",
     HEAD
     "entries:\n"
     "  - plate: {name: left, shape: rectangle, width: 50 mm, height: 200 mm, shift: [-180 mm, "
     "0 mm]}\n"
     "  - plate: {name: right, shape: rectangle, width: 50 mm, height: 200 mm, shift: [180 mm, "
     "0 mm]}\n"
     "  - bar: {name: rail, length: 320 mm, height: 12 mm}\n"
     "  - bar: {name: upper, length: 320 mm, height: 40 mm, at: [0 mm, 60 mm]}\n"},
    {"joined", "joined", MAKES_WHOLE, "spacing: joined",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HELM, " BEBAS ", height: 100 mm, spacing: 2 mm}\n"},
    {"closer", "closer", MAKES_WHOLE, "spacing: -",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HEEL, " BEBAS ", height: 100 mm, spacing: 2 mm}\n"},
    {"closer-as-a-share", "closer", MAKES_WHOLE, " %",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HEEL, " BEBAS ", height: 100 mm, spacing: 2 %}\n"},
    {"closer-in-inches", "closer", MAKES_WHOLE, " in",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HEEL, " BEBAS ", height: 4 in}\n"},
    {"cut-through-is-never-closer", "closer", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 120 mm}\n"
          "  - words: {name: shop, text: BO, " BEBAS ", height: 80 mm, as: opening}\n"},
    {"further", "further", MAKES_WHOLE, "spacing: -",
     HEAD "entries:\n  - bar: {name: rail, length: 300 mm, height: 20 mm}\n"
          "  - words: {name: pier, text: HH, " BEBAS ", height: 80 mm, stand on: rail, "
          "spacing: -8 mm}\n"},
    {"bolder", "bolder", MAKES_WHOLE, "bolder: ",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 100 mm, height: 60 mm}\n"
          "  - words: {name: small, text: I, " BEBAS ", height: 26 mm, as: opening}\n"},
    {"larger", "larger", MAKES_WHOLE, " in, as",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: small, text: X, " BEBAS ", height: 1/2 in, as: opening}\n"},
    {"larger-by-font-size", "larger", MAKES_WHOLE, "font size: ",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: small, text: X, " BEBAS ", font size: 20 mm, as: opening}\n"},
    {"filled-has-no-height", "larger", NOT_OFFERED, NULL,
     HEAD "read from: 80 m\nentries:\n"
          "  - ring: {name: outer, outer: 400 mm, width: 16 mm}\n"
          "  - ring: {name: inner, outer: 240 mm, width: 16 mm}\n"
          "  - words: {name: club, text: ROWING, " BEBAS ", band: [inner, outer], fill band: yes, "
          "at: top}\n"},
    {"scale", "scale", MAKES_WHOLE, "diameter: 2",
     HEAD
     "entries:\n"
     "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
     "  - plate: {name: port, shape: round, diameter: 20 mm, as: opening, shift: [-11.45 mm, 0 "
     "mm]}\n"
     "  - plate: {name: starboard, shape: round, diameter: 20 mm, as: opening, at: [11.45 mm, 0 "
     "mm]}\n"},
    {"off-the-thin-web", "inward", MAKES_WHOLE, "at: [11.",
     HEAD
     "entries:\n"
     "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
     "  - plate: {name: port, shape: round, diameter: 20 mm, as: opening, shift: [-11.45 mm, 0 "
     "mm]}\n"
     "  - plate: {name: starboard, shape: round, diameter: 20 mm, as: opening, at: [11.45 mm, 0 "
     "mm]}\n"},
    {"hole-inward", "inward", MAKES_WHOLE, "shift: [0 mm, 4",
     HEAD "mount: holes\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - hole: {name: hook, diameter: 8 mm, shift: [0 mm, 43.1 mm]}\n"},
    {"nearer", "nearer", MAKES_WHOLE, "shift: [",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 100 mm, height: 100 mm}\n"
          "  - star: {name: star, diameter: 40 mm, shift: [80 mm, 0 mm]}\n"},
    {"nearer-by-its-gap", "nearer", MAKES_WHOLE, "gap: -",
     HEAD
     "entries:\n"
     "  - plate: {name: board, shape: rectangle, width: 100 mm, height: 100 mm}\n"
     "  - plate: {name: tag, shape: rectangle, width: 40 mm, height: 20 mm, below: board, gap: "
     "10 mm}\n"},
    {"a-piece-cut-off-moves-no-plate", "nearer", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - bar: {name: slot, length: 10 mm, height: 120 mm, as: opening, at: [70 mm, 0 mm]}\n"},
    {"words-apart", "further", MAKES_WHOLE, "at: [0 mm, -28 mm]",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: top, text: HILL, " BEBAS
          ", height: 50 mm, as: opening, spacing: 10 %, "
          "at: [0 mm, 26 mm]}\n"
          "  - words: {name: low, text: IT, " BEBAS ", height: 50 mm, as: opening, spacing: 10 %, "
          "at: [0 mm, -25 mm]}\n"},
    {"wider", "ring", MAKES_WHOLE, "width: ",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 10 mm}\n"
          "  - plate: {name: tag, shape: rectangle, width: 170 mm, height: 20 mm}\n"},
    {"ring-in-by-its-inner", "ring", MAKES_WHOLE, "inner: 1",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, inner: 180 mm}\n"
          "  - plate: {name: tag, shape: rectangle, width: 170 mm, height: 20 mm}\n"},
    {"fill-band", "fill", MAKES_WHOLE, "fill band: yes",
     HEAD "entries:\n"
          "  - ring: {name: outer, outer: 400 mm, width: 16 mm}\n"
          "  - ring: {name: inner, outer: 240 mm, width: 16 mm}\n"
          "  - words: {name: a, text: ROWING, " BEBAS ", band: [inner, outer], height: 40 mm, at: "
          "top, spacing: 20 %}\n"},
    {"star-fills-its-band", "fill", MAKES_WHOLE, "star: {name: stars, band",
     HEAD "entries:\n"
          "  - ring: {name: outer, outer: 400 mm, width: 16 mm}\n"
          "  - ring: {name: inner, outer: 240 mm, width: 16 mm}\n"
          "  - star: {name: stars, diameter: 40 mm, band: [inner, outer], "
          "at: [9 o'clock, 3 o'clock]}\n"},
    {"initial-reaches-its-ring", "fill", MAKES_WHOLE, "fill window of: hoop",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 12 mm}\n"
          "  - initial: {name: big, text: H, " BEBAS ", height: 100 mm}\n"},
    {"bite-not-clear", "fill", MAKES_WHOLE, "bite: ",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 12 mm}\n"
          "  - initial: {name: big, text: H, " BEBAS ", fill window of: hoop, clear: 8 mm}\n"},
    {"bar", "bar", MAKES_WHOLE, "stand on: rail",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HELM, " BEBAS ", height: 100 mm, at: [10 mm, 20 mm]}\n"},
    {"bar-through", "bar", MAKES_WHOLE, "bar: {name: through",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 200 mm}\n"
          "  - words: {name: door, text: DO, " BEBAS ", height: 60 mm, as: opening}\n"},
    {"no-bar-through-small-letters", "bar", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 160 mm}\n"
          "  - words: {name: door, text: Dock, " BEBAS ", height: 60 mm, as: opening}\n"},
    {"no-bar-through-han", "bar", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: door, text: 国道, font: IPAGothic, height: 90 mm, as: opening}\n"},
    {"to-the-middle", "middle", MAKES_WHOLE, "shift: [0 mm, 0 mm]",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 500 mm, height: 160 mm}\n"
          "  - words: {name: w, text: LIFT, " BEBAS ", height: 90 mm, as: opening, "
          "shift: [200 mm, 0 mm]}\n"},
    {"no-middle-without-room", "middle", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 160 mm}\n"
          "  - words: {name: w, text: SHELLFISH, " BEBAS ", height: 90 mm, as: opening}\n"},
    {"kin-smaller", "smaller", TAKES, "text: LIFT, font: Bebas Neue, height: 9",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 420 mm, height: 400 mm}\n"
          "  - words: {name: top, text: LIFT, " BEBAS ", height: 110 mm, as: opening, "
          "shift: [0 mm, 90 mm]}\n"
          "  - words: {name: low, text: SHELLFISH, " BEBAS ", height: 110 mm, as: opening, "
          "shift: [0 mm, -90 mm]}\n"},
    {"mid-strip", "arc", MAKES_WHOLE, "arc radius: 1",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 400 mm, width: 110 mm}\n"
          "  - words: {name: w, text: LILT, " BEBAS ", height: 40 mm, spacing: 15 %, "
          "arc radius: 70 mm, at: top, as: opening}\n"},
    {"mid-strip-further-apart", "arc", MAKES_WHOLE, "ties: {}",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 400 mm, width: 120 mm}\n"
          "  - words: {name: w, text: ROPE, " BEBAS ", height: 60 mm, arc radius: 120 mm, "
          "at: bottom, as: opening}\n"},
    {"off-the-rim", "arc", MAKES_WHOLE, "arc radius: 1",
     HEAD "entries:\n"
          "  - plate: {name: disc, shape: round, diameter: 400 mm}\n"
          "  - words: {name: w, text: LILT, " BEBAS ", height: 40 mm, spacing: 15 %, "
          "arc radius: 180 mm, at: top, as: opening}\n"},
    {"no-room-in-the-strip", "arc", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 400 mm, width: 45 mm}\n"
          "  - words: {name: w, text: LILT, " BEBAS ", height: 40 mm, spacing: 15 %, "
          "arc radius: 120 mm, at: top, as: opening}\n"},
    {"deeper-into-its-hoop", "arc", MAKES_WHOLE, "arc radius: 9",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 16 mm}\n"
          "  - words: {name: w, text: HILL, " BEBAS ", height: 40 mm, spacing: 15 %, "
          "arc radius: 101.5 mm, at: top}\n"},
    {"no-slim-ties-for-plain-letters", "slim", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - words: {name: lane, text: HELM, " BEBAS ", height: 100 mm}\n"},
    {"slim-ties-for-dots", "slim", MAKES_WHOLE, "ties: {width: 3.6 mm}",
     HEAD "entries:\n"
          "  - bar: {name: rail, length: 200 mm, height: 14 mm}\n"
          "  - words: {name: w, text: ii, font: {family: DejaVu Sans, style: Bold}, height: 80 mm, "
          "spacing: 10 mm, stand on: rail}\n"},
    {"bent-into-the-band", "fill", MAKES_WHOLE, "letters: bent",
     HEAD "entries:\n"
          "  - ring: {name: outer, outer: 207 mm, width: 10 mm}\n"
          "  - ring: {name: inner, outer: 78 mm, width: 10 mm}\n"
          "  - words: {name: w, text: HELM, font: {family: DejaVu Sans, style: Bold}, "
          "height: 40 mm, band: [inner, outer], at: bottom}\n"},
    {"longer-into-its-ring", "longer", MAKES_WHOLE, "length: 18",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 10 mm}\n"
          "  - bar: {name: rail, length: 160 mm, height: 12 mm}\n"},
    {"longer-at-one-end", "longer", MAKES_WHOLE, "shift: [",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 60 mm, height: 60 mm}\n"
          "  - bar: {name: arm, length: 80 mm, height: 14 mm, shift: [90 mm, 0 mm]}\n"},
    {"longer-and-the-rest-tied", "longer", MAKES_WHOLE, "ties: {}",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 300 mm, width: 12 mm}\n"
          "  - bar: {name: rail, length: 240 mm, height: 12 mm}\n"
          "  - words: {name: w, text: HIT, " BEBAS ", height: 60 mm, spacing: 10 mm, "
          "above: rail, gap: 2 mm}\n"},
    {"no-bar-to-the-far-side", "longer", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 300 mm, width: 12 mm}\n"
          "  - bar: {name: rail, length: 40 mm, height: 12 mm}\n"},
    {"rail-off-the-marks", "room", MAKES_WHOLE, "gap: ",
     HEAD "entries:\n"
          "  - words: {name: w, text: ạạ, font: {family: DejaVu Sans, style: Bold}, "
          "height: 90 mm, spacing: 4 mm}\n"
          "  - bar: {name: rail, length: 260 mm, height: 12 mm, below: w, gap: -4 mm}\n"},
    {"room-in-the-band", "room", MAKES_WHOLE, "width: 3.6 mm",
     HEAD "entries:\n"
          "  - ring: {name: outer, outer: 300 mm, width: 8 mm}\n"
          "  - ring: {name: inner, outer: 110 mm, width: 8 mm}\n"
          "  - words: {name: w, text: いか, font: IPAGothic, height: 86 mm, "
          "band: [inner, outer], at: top}\n"},
    {"slim-ties-in-kana", "slim", MAKES_WHOLE, "ties: {width: 3.6 mm}",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 10 mm}\n"
          "  - words: {name: w, text: い, font: IPAGothic, height: 110 mm}\n"},
    {"plates-that-part-slowly", "overlap", MAKES_WHOLE, "gap: -1",
     HEAD "entries:\n"
          "  - plate: {name: a, shape: rectangle, width: 100 mm, height: 200 mm}\n"
          "  - plate: {name: b, shape: rectangle, width: 100 mm, height: 200 mm, right of: a, "
          "gap: 0 mm, turn: -0.5 deg, shift: [-0.1 mm, 0 mm]}\n"},
    {"disc-into-the-wall", "overlap", MAKES_WHOLE, "at: [",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 400 mm, height: 300 mm}\n"
          "  - plate: {name: a, shape: round, diameter: 120 mm, as: opening, at: [0 mm, 0 mm]}\n"
          "  - plate: {name: b, shape: round, diameter: 116 mm, at: [2.5 mm, 0 mm]}\n"},
    {"covered-later", "opening", MAKES_WHOLE, "around: [w]}\n  - words: {name: w, text: LILT",
     HEAD "entries:\n"
          "  - words: {name: w, text: LILT, " BEBAS ", height: 107 mm}\n"
          "  - plate: {name: board, shape: outline, grow: 7 mm, around: [w]}\n"},
    {"bar-longer", "bar", MAKES_WHOLE, "rail, length: 1",
     HEAD "entries:\n"
          "  - bar: {name: rail, length: 60 mm, height: 12 mm}\n"
          "  - words: {name: lane, text: HHH, " BEBAS ", height: 80 mm, stand on: rail, "
          "spacing: 10 %}\n"},
    {"one-plate-under-two-words", "plate", MAKES_WHOLE,
     "plate: {name: board, shape: outline, grow: ",
     HEAD
     "entries:\n"
     "  - words: {name: inn, text: HIT IT, " BEBAS ", height: 60 mm, spacing: 10 %, as: opening}\n"
     "  - plate: {name: port, shape: round, diameter: 30 mm, as: opening, at: [0 mm, 140 mm]}\n"},
    {"link", "bar", MAKES_WHOLE, "turn: ",
     HEAD
     "mount: holes\nalone: [quay, boat]\nentries:\n"
     "  - plate: {name: quay, shape: rectangle, width: 100 mm, height: 60 mm}\n"
     "  - plate: {name: boat, shape: rectangle, width: 100 mm, height: 60 mm, shift: [120 mm, 0 "
     "mm]}\n"
     "  - hole: {diameter: 8 mm, shift: [0 mm, 20 mm]}\n"
     "  - hole: {diameter: 8 mm, shift: [120 mm, 20 mm]}\n"},
    {"ends", "ends", MAKES_WHOLE, "bar: {name: ends",
     HEAD "entries:\n"
          "  - bar: {name: lower, length: 400 mm, height: 16 mm}\n"
          "  - bar: {name: upper, length: 400 mm, height: 16 mm, at: [0 mm, 80 mm]}\n"},
    {"level", "level", TAKES, "shift: [0 mm, 40 mm]",
     HEAD "mount: holes\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - hole: {name: hook, diameter: 8 mm, shift: [2 mm, 40 mm]}\n"},
    {"level-ear", "level", TAKES, " deg",
     HEAD "mount: holes\nentries:\n"
          "  - ring: {name: hoop, outer: 300 mm, width: 20 mm}\n"
          "  - ear: {hole: 8 mm, on: hoop, at: 80 deg}\n"},
    {"level-one-of-a-list", "level", TAKES, "80 mm, 36 mm]",
     HEAD "mount: holes\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - hole: {diameter: 8 mm, at: [[-80 mm, 36 mm], [80 mm, 40 mm]]}\n"},
    {"feet", "feet", TAKES, "at: [",
     HEAD "mount: stake\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
          "  - foot: {name: heel, width: 40 mm, height: 20 mm, on: board, at: [70 mm, -50 mm]}\n"},
    {"ears", "ear", TAKES, "ear: {name: hooks",
     HEAD "mount: holes\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 100 mm}\n"},
    {"stake", "ear", TAKES, "stake: {name: stake",
     HEAD "mount: stake\nentries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 100 mm}\n"},
    {"hole", "hole", MAKES_WHOLE, "diameter: ",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 100 mm}\n"
          "  - hole: {diameter: 4.2 mm, hanging: no}\n"},
    {"opening", "opening", TAKES, "as: opening",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: yard, text: BOAT YARD, " BEBAS ", height: 60 mm}\n"},
    {"smaller", "smaller", MAKES_WHOLE, "height: ",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: long, text: III, " BEBAS
          ", height: 100 mm, spacing: 20 %, as: opening, "
          "at: [110 mm, 0 mm]}\n"},
    {"plate", "plate", MAKES_WHOLE, "shape: outline",
     HEAD "entries:\n"
          "  - plate: {name: window, shape: round, diameter: 100 mm, as: opening}\n"},
    {"acceptance", "acceptance", TAKES, NULL,
     HEAD "accept: [{finding: thin-web, reason: garden}]\nentries:\n"
          "  - plate: {name: board, shape: round, diameter: 100 mm}\n"},
    {"alone", "alone", MAKES_WHOLE, "alone: [boat]",
     HEAD "entries:\n"
          "  - plate: {name: quay, shape: round, diameter: 100 mm}\n"
          "  - plate: {name: boat, shape: round, diameter: 40 mm, at: [100 mm, 0 mm]}\n"},
    {"dots-alone", "alone", MAKES_WHOLE, "dots of number",
     HEAD "mount: studs\nalone: [number]\nentries:\n"
          "  - words: {name: number, text: ij, font: {family: DejaVu Sans, style: Bold}, height: "
          "100 mm, spacing: 20 mm}\n"},
    {"ring-under-an-arc", "bar", TAKES, "ring: {name: hoop",
     HEAD "entries:\n"
          "  - words: {name: lane, text: HELM, " BEBAS ", height: 40 mm, arc radius: 90 mm, at: "
          "top}\n"},
    {"bar-in-inches", "bar", MAKES_WHOLE, " in, height: ",
     HEAD "entries:\n"
          "  - words: {text: HELM, " BEBAS ", height: 4 in}\n"},
    {"letters-on-metal-tied", "opening", MAKES_WHOLE, "ties: {}",
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
          "  - words: {name: yard, text: BOAT YARD, " BEBAS ", height: 60 mm}\n"},
    {"bolder-not-beyond-the-face", "bolder", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 100 mm, height: 60 mm}\n"
          "  - words: {name: small, text: I, " BEBAS ", height: 10 mm, as: opening}\n"},
    {"lighter", "lighter", MAKES_WHOLE, "bolder: -",
     HEAD "entries:\n  - bar: {name: rail, length: 300 mm, height: 20 mm}\n"
          "  - words: {name: pier, text: HH, " BEBAS ", height: 80 mm, stand on: rail, "
          "spacing: -8 mm}\n"},
    {"a-stencil-plate-is-left-alone", "mend", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 500 mm, height: 200 mm}\n"
          "  - words: {text: BOARD, font: {family: Allerta, style: Stencil}, height: 90 mm, "
          "spacing: 10 %, as: opening}\n"},
    {"round-again-is-larger", "round", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: round, diameter: 200 mm}\n"},
    {"round", "round", TAKES, "mend: {round: ",
     HEAD "entries:\n"
          "  - star: {name: lamp, diameter: 120 mm, points: 5}\n"},
    {"mend", "mend", MAKES_WHOLE, "mend: {thicken: yes}",
     HEAD
     "entries:\n"
     "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n"
     "  - plate: {name: port, shape: round, diameter: 20 mm, as: opening, shift: [-11.45 mm, 0 "
     "mm]}\n"
     "  - plate: {name: starboard, shape: round, diameter: 20 mm, as: opening, at: [11.45 mm, 0 "
     "mm]}\n"},
    {"bite", "bite", MAKES_WHOLE, "bite: ",
     HEAD "entries:\n"
          "  - ring: {name: hoop, outer: 200 mm, width: 12 mm}\n"
          "  - initial: {name: big, text: X, font: {family: DejaVu Sans, style: Bold}, fill window "
          "of: hoop, bite: 0.1 mm}\n"},
    {"a-counter-is-never-alone", "alone", NOT_OFFERED, NULL,
     HEAD "entries:\n"
          "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 120 mm}\n"
          "  - words: {name: shop, text: BO, " BEBAS ", height: 80 mm, as: opening}\n"},
};

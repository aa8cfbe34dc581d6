/* SPDX-License-Identifier: GPL-3.0-or-later
 * Commented recipes to start from, one for each kind of sign. All names belong to the invented
 * harbour village of Saltmarsh Quay. A test reads each of them.
 */
#include "recipe/recipe.h"
#include <string.h>

#define HEAD(sign)                                                                                 \
  "# A recipe for holdfast. Change what you like; everything behind # is a remark.\n"              \
  "holdfast: 1                 # version of the format\n"                                          \
  "sign: " sign "\n"                                                                               \
  "metal: {kind: mild steel, thickness: 3 mm}   # a gauge will do too: 11 ga\n"                    \
  "process: {kerf: 1.5 mm}     # width of the cut. A guess: measure yours on a test cut\n"

static const struct {
  const char *kind, *line, *text;
} starters[] = {
    {"name", "a name whose letters stand on a bar, hung by two ears",
     HEAD("Saltmarsh Boats") "mount: holes\n"
                             "entries:\n"
                             "  - bar:\n"
                             "      name: rail\n"
                             "      length: 1520 mm\n"
                             "      height: 22 mm\n"
                             "  - words:\n"
                             "      name: boats\n"
                             "      text: Saltmarsh Boats\n"
                             "      font: {family: Lobster Two, style: Bold}   # holdfast fonts "
                             "lists what is installed\n"
                             "      height: 150 mm         # of the capitals\n"
                             "      stand on: rail         # each letter runs into the bar\n"
                             "      spacing: 2 %           # of the letter height; or joined: "
                             "neighbours run into each other\n"
                             "  - ear:\n"
                             "      on: rail\n"
                             "      at: [left end, right end]\n"
                             "      hole: 8 mm\n"},
    {"plate", "a plate with words cut through it",
     HEAD("Harbour Bakery") "mount: holes\n"
                            "entries:\n"
                            "  - plate:\n"
                            "      name: board\n"
                            "      shape: rounded         # round, oval, rectangle, arch-topped, "
                            "shield, polygon\n"
                            "      width: 720 mm\n"
                            "      height: 320 mm\n"
                            "      corner: 24 mm\n"
                            "  - words:\n"
                            "      name: bakery\n"
                            "      as: opening            # cut through\n"
                            "      text: [HARBOUR, BAKERY]\n"
                            "      font: {family: Allerta, style: Stencil}   # a stencil face: no "
                            "middle of an O falls out\n"
                            "      height: 84 mm\n"
                            "      spacing: 8 %           # of the letter height\n"
                            "      on: board\n"
                            "  - hole:\n"
                            "      on: board\n"
                            "      at: [[-330 mm, 130 mm], [330 mm, 130 mm]]   # right and up from "
                            "its centre\n"
                            "      diameter: 8 mm\n"},
    {"house-number", "digits that stand alone on studs",
     HEAD(
         "14 Ferry Steps") "mount: studs\n"
                           "house number: yes           # checks the size that fire codes ask for\n"
                           "read from: 15 m\n"
                           "alone: [number]             # each digit is a part of its own\n"
                           "entries:\n"
                           "  - words:\n"
                           "      name: number\n"
                           "      text: 14\n"
                           "      font: Bebas Neue\n"
                           "      height: 150 mm\n"
                           "      spacing: 12 mm\n"
                           "  - studs:                   # marks: places for a drilling template\n"
                           "      of: number\n"
                           "      diameter: 6 mm\n"
                           "      edge: 3 mm             # metal left round each\n"},
    {"badge", "words between two rings",
     HEAD("Quay Pottery") "mount: holes\n"
                          "entries:\n"
                          "  - ring: {name: outer, outer: 720 mm, width: 16 mm}\n"
                          "  - ring: {name: inner, outer: 500 mm, width: 16 mm}\n"
                          "  - words:\n"
                          "      name: pottery\n"
                          "      text: POTTERY\n"
                          "      font: Bebas Neue\n"
                          "      band: [inner, outer]\n"
                          "      at: top\n"
                          "      fill band: yes         # height is worked out so that letters "
                          "bite both rings\n"
                          "      spacing: 16 %\n"
                          "  - words:\n"
                          "      name: place\n"
                          "      text: ON THE QUAY\n"
                          "      font: Bebas Neue\n"
                          "      band: [inner, outer]\n"
                          "      at: bottom             # reads from left to right there too\n"
                          "      fill band: yes\n"
                          "      spacing: 16 %\n"
                          "  - diamond: {band: [inner, outer], at: [left, right]}   # as large as "
                          "bites both rings\n"
                          "  - ear: {on: outer, at: top, hole: 10 mm}\n"},
    {"stake", "a garden sign on a stake",
     HEAD("Kitchen garden") "mount: stake\n"
                            "within reach: yes           # sharp points are a stop\n"
                            "entries:\n"
                            "  - plate: {name: board, shape: oval, width: 460 mm, height: 180 mm}\n"
                            "  - words:\n"
                            "      name: herbs\n"
                            "      as: opening\n"
                            "      text: HERBS\n"
                            "      font: {family: Allerta, style: Stencil}\n"
                            "      height: 70 mm\n"
                            "      spacing: 8 %\n"
                            "      on: board\n"
                            "  - stake: {on: board, at: bottom, width: 20 mm, length: 280 mm, "
                            "point: 40 mm}\n"},
    {"gate-arch", "words between the two strips of a gate arch",
     HEAD("Harbour Gardens") "mount: welded\n"
                             "entries:\n"
                             "  - gate arch:\n"
                             "      name: lower\n"
                             "      chord: 2400 mm         # clear width between its legs\n"
                             "      rise: 420 mm           # of the curve over that width\n"
                             "      legs: 200 mm\n"
                             "      width: 40 mm\n"
                             "  - gate arch:\n"
                             "      name: upper\n"
                             "      over: lower            # about the same centre\n"
                             "      clear: 150 mm          # between the two strips\n"
                             "      width: 40 mm\n"
                             "  - words:\n"
                             "      name: gardens\n"
                             "      text: HARBOUR GARDENS\n"
                             "      font: Bebas Neue\n"
                             "      band: [lower, upper]\n"
                             "      at: top\n"
                             "      fill band: yes         # height is worked out so that letters "
                             "bite both strips\n"
                             "      bite: 4 mm\n"
                             "      spacing: 46 %\n"},
    {"initial", "one large letter in a ring",
     HEAD("S for Saltmarsh") "mount: holes\n"
                             "entries:\n"
                             "  - ring: {name: hoop, outer: 420 mm, width: 18 mm}\n"
                             "  - initial:\n"
                             "      text: S\n"
                             "      font: Lobster Two\n"
                             "      fill window of: hoop   # as large as meets the ring\n"
                             "      bite: 4 mm\n"
                             "  - hole: {on: hoop, at: top, diameter: 6 mm}\n"},
    {"monogram", "two letters interlaced in a ring",
     HEAD("S and Q") "mount: holes\n"
                     "entries:\n"
                     "  - ring: {name: hoop, outer: 420 mm, width: 18 mm}\n"
                     "  - initial:\n"
                     "      text: SQ\n"
                     "      font: Lobster Two\n"
                     "      interlace: 5 mm        # clear gap where they cross\n"
                     "      fill window of: hoop\n"
                     "      bite: 4 mm\n"
                     "  - hole: {on: hoop, at: [11 o'clock, 1 o'clock], diameter: 6 mm}\n"},
};

char *
hf_recipe_starter(const char *kind)
{
  g_return_val_if_fail(kind != NULL, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(starters); i++)
    if (strcmp(starters[i].kind, kind) == 0)
      return g_strdup(starters[i].text);
  return NULL;
}

const char *const *
hf_recipe_starter_kinds(void)
{
  static const char *kinds[2 * G_N_ELEMENTS(starters) + 1];
  static gsize done = 0;
  if (g_once_init_enter(&done)) {
    for (gsize i = 0; i < G_N_ELEMENTS(starters); i++) {
      kinds[2 * i] = starters[i].kind;
      kinds[2 * i + 1] = starters[i].line;
    }
    g_once_init_leave(&done, 1);
  }
  return kinds;
}

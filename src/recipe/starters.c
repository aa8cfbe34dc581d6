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
                             "      length: 1200 mm\n"
                             "      height: 20 mm\n"
                             "  - words:\n"
                             "      name: boats\n"
                             "      text: Saltmarsh Boats\n"
                             "      font: Lobster Two      # holdfast fonts lists what is "
                             "installed\n"
                             "      height: 140 mm         # of the capitals\n"
                             "      stand on: rail         # each letter runs into the bar\n"
                             "      spacing: joined        # neighbours touch, so that each letter "
                             "is held twice\n"
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
                            "      width: 620 mm\n"
                            "      height: 240 mm\n"
                            "      corner: 24 mm\n"
                            "  - words:\n"
                            "      name: bakery\n"
                            "      as: opening            # cut through; what is inside O and A "
                            "needs ties\n"
                            "      text: [HARBOUR, BAKERY]\n"
                            "      font: Bebas Neue\n"
                            "      height: 66 mm\n"
                            "      spacing: 6 %           # of the letter height\n"
                            "      on: board\n"
                            "  - hole:\n"
                            "      on: board\n"
                            "      at: [[-285 mm, 95 mm], [285 mm, 95 mm]]   # right and up from "
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
                           "      spacing: 12 mm\n"},
    {"badge", "words between two rings",
     HEAD("Quay Pottery") "mount: holes\n"
                          "entries:\n"
                          "  - ring: {name: outer, outer: 520 mm, width: 16 mm}\n"
                          "  - ring: {name: inner, outer: 330 mm, width: 14 mm}\n"
                          "  - words:\n"
                          "      name: pottery\n"
                          "      text: QUAY POTTERY\n"
                          "      font: Bebas Neue\n"
                          "      band: [inner, outer]\n"
                          "      at: top\n"
                          "      fill band: yes         # height is worked out so that letters "
                          "bite both rings\n"
                          "  - words:\n"
                          "      name: place\n"
                          "      text: SALTMARSH QUAY\n"
                          "      font: Bebas Neue\n"
                          "      band: [inner, outer]\n"
                          "      at: bottom             # reads from left to right there too\n"
                          "      fill band: yes\n"
                          "  - hole:\n"
                          "      on: outer\n"
                          "      at: [11 o'clock, 1 o'clock]\n"
                          "      diameter: 5 mm\n"},
    {"stake", "a garden sign on a stake",
     HEAD("Kitchen garden") "mount: stake\n"
                            "within reach: yes           # sharp points are a stop\n"
                            "entries:\n"
                            "  - plate: {name: board, shape: oval, width: 320 mm, height: 150 mm}\n"
                            "  - words:\n"
                            "      name: herbs\n"
                            "      as: opening\n"
                            "      text: HERBS\n"
                            "      font: Bebas Neue\n"
                            "      height: 72 mm\n"
                            "      spacing: 8 %\n"
                            "      on: board\n"
                            "  - stake: {on: board, at: bottom, width: 18 mm, length: 260 mm, "
                            "point: 40 mm}\n"},
    {"gate-arch", "words under the curved strip of a gate arch",
     HEAD("Lighthouse Lane") "mount: welded\n"
                             "entries:\n"
                             "  - gate arch:\n"
                             "      name: arch\n"
                             "      chord: 1100 mm         # clear width between its feet\n"
                             "      rise: 260 mm           # of the curve over that width\n"
                             "      legs: 120 mm\n"
                             "      width: 30 mm\n"
                             "  - bar: {name: rail, length: 1140 mm, height: 20 mm, on: arch, at: "
                             "centre}\n"
                             "  - words:\n"
                             "      name: lane\n"
                             "      text: Lighthouse Lane\n"
                             "      font: Lobster Two\n"
                             "      height: 90 mm\n"
                             "      stand on: rail\n"
                             "      spacing: joined\n"},
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
                     "  - hole: {on: hoop, at: top, diameter: 6 mm}\n"},
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

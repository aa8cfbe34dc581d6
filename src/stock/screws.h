/* SPDX-License-Identifier: GPL-3.0-or-later
 * screws.h - holes that screws go through, and how deep a countersunk head lies.
 *
 *      |<-- head -->|        countersink of 90 deg: its depth is half of what the head is
 *    __              __      wider than the hole:
 *      \            /                depth = (head - hole) / 2
 *       \__      __/
 *          |    | hole
 *
 * Lengths mm. Clearance holes: ISO 273; heads: ISO 10642, the theoretical diameter, which a
 * countersink must take up (ISO 15065).
 */
#pragma once
#include <glib.h>

/* How much wider than the screw: the three series of ISO 273. */
typedef enum { HF_FIT_FINE, HF_FIT_MEDIUM, HF_FIT_COARSE, HF_N_FITS } HfScrewFit;

typedef struct {
  const char *key;        /* "M6" */
  double hole[HF_N_FITS]; /* of its clearance hole */
  double head;            /* of a countersunk head, to a sharp edge */
} HfScrew;

/** hf_screw: (transfer none) (nullable) screw @i, from 1, the thinnest first. */
const HfScrew *hf_screw(int i);
/** hf_screw_fit: "fine", "medium", "coarse" */
const char *hf_screw_fit(HfScrewFit fit);
/** hf_countersink_depth: how deep a head of @head lies in a hole of @hole, at 90 degrees; 0 where
 *  the hole is as wide as the head. */
double hf_countersink_depth(double head, double hole);

/* SPDX-License-Identifier: GPL-3.0-or-later
 * mounts-private.h - every hole that something goes through, as report, papers and template tell
 * it.
 */
#pragma once
#include "base/json.h"
#include "sign/sign.h"
#include "stock/screws.h"

typedef struct {
  const char *kind;     /* static: "hole", "slot", "keyhole" */
  const char *name;     /* (borrowed) of the layout's shape: `hole "hook"` */
  HfPoint at;           /* its middle; keyhole: where the screw comes to rest */
  double diameter;      /* mm; slot and keyhole: its width there */
  double length;        /* mm; slot: from end to end; keyhole: from `at` to the middle of the head's
                           opening; NAN: it is round */
  double head;          /* mm; keyhole: diameter of the head's opening; else NAN */
  double turn;          /* rad, counter-clockwise, of what is not round; else 0 */
  const HfScrew *screw; /* (nullable) that its width was given by */
  HfScrewFit fit;
  gboolean countersink;
  guint shape; /* of the layout */
} HfMountHole;

/** hf_mount_holes: (transfer full) (element-type HfMountHole) holes, patterns of them, slots,
 *  keyholes and the holes of ears, in the layout's order. O(shapes). */
GArray *hf_mount_holes(const HfSign *what);

/** hf_mount_hole_size: (transfer full) "6.6 mm, for M6 (medium), countersunk 13.44 mm", "7 x 20 mm"
 */
char *hf_mount_hole_size(const HfMountHole *hole);

/** hf_mounts_write: the report's lists of holes and studs. */
void hf_mounts_write(HfJson *json, const HfSign *what);

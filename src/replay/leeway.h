/* SPDX-License-Identifier: GPL-3.0-or-later
 * leeway.h - the design with its edge a little farther out, as a round kerf can cut that.
 *
 *        \    /            In a narrow inside corner a hair's breadth of its sides is many of them
 *         \o /             along it: where the kerf comes to rest there (o) hangs on the last
 *          \/              micrometres of both edges, and no metal is the worse for it.
 *
 * Made when it is first asked for: most programs never do.
 */
#pragma once
#include "geom/index.h"
#include "geom/trace.h"

#define HF_LEEWAY_MM 0.02 /* that outlines and paths may be off; docs/replay.md */

typedef struct {
  const HfRegion *design; /* (borrowed) */
  double kerf;
  HfRegion *wide; /* (nullable) not made yet */
  HfIndex *index;
  HfTrace *trace;
  GArray *ids;
} HfLeeway;

/** hf_leeway_holds: does it have metal at @p? */
gboolean hf_leeway_holds(HfLeeway *leeway, HfPoint p);
/** hf_leeway_away: mm from @p to its edge; @most when that is farther. */
double hf_leeway_away(HfLeeway *leeway, HfPoint p, double most);
/** hf_leeway_clear: frees what was made. */
void hf_leeway_clear(HfLeeway *leeway);

/* SPDX-License-Identifier: GPL-3.0-or-later
 * outlines.c - the frame of the outline files and what they say of themselves.
 */
#include "out/outlines-private.h"
#include "out/say-private.h"
#include "stock/cautions.h"

HfOutlinesFrame
hf_outlines_frame(const HfSign *what)
{
  HfBox box = hf_box_width(what->frame) > 0 ? what->frame : hf_outline_box(what->fit->outline);
  if (hf_box_is_empty(box))
    return (HfOutlinesFrame){{0, 0}, 0, 0};
  double grid = HF_GRID_PER_MM, slack = 1e-6; /* a corner on the grid stays where it is */
  HfPoint low = {floor(box.min.x * grid + slack) / grid, floor(box.min.y * grid + slack) / grid};
  HfPoint high = {ceil(box.max.x * grid - slack) / grid, ceil(box.max.y * grid - slack) / grid};
  return (HfOutlinesFrame){low, high.x - low.x, high.y - low.y};
}

static void
add_stops(GPtrArray *says, const HfHold *hold)
{
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = g_ptr_array_index(hold->findings, i);
    if (finding->gravity == HF_STOP)
      g_ptr_array_add(says, hf_say_finding(finding));
  }
}

char **
hf_outlines_says(const HfSign *what)
{
  GPtrArray *says = g_ptr_array_new();
  const HfHold *hold = what->hold;
  g_ptr_array_add(says, g_strdup("holdfast " HF_VERSION ": " HF_SAY_OUTLINES));
  g_ptr_array_add(says, g_strconcat("verdict: ", hf_say_verdict(hold),
                                    hold->whole ? NULL : "; NOT TO BE CUT", NULL));
  add_stops(says, hold);
  g_ptr_array_add(says, g_strdup(hf_caution_line()));
  g_ptr_array_add(says, NULL);
  return (char **)g_ptr_array_free(says, FALSE);
}

gboolean
hf_outlines_part_made(const HfPart *part, const HfRing *ring)
{
  for (guint i = 0; ring->from != NULL && i < ring->n; i++)
    for (guint j = 0; j < part->shapes->len; j++)
      if (ring->from[i].shape == g_array_index(part->shapes, guint, j))
        return TRUE;
  return FALSE;
}

char *
hf_outlines_part_name(const HfSign *what, guint ring)
{
  const HfRing *outer = hf_region_ring(what->metal->region, ring);
  HfBox box = hf_box_grow(hf_ring_box(outer), 0.1);
  for (guint i = 0; i < what->hold->parts->len; i++) { /* the largest first */
    const HfPart *part = &g_array_index(what->hold->parts, HfPart, i);
    if (part->name != NULL && hf_box_contains(box, part->box.min) &&
        hf_box_contains(box, part->box.max) && hf_outlines_part_made(part, outer))
      return g_strdup(part->name);
  }
  return g_strdup("metal");
}

gboolean
hf_outlines_circle(const HfOutline *outline, guint i, HfPoint *ret_centre, double *ret_radius)
{
  guint n;
  const HfCurve *curve = hf_outline_contour(outline, i, &n);
  if (n != 1 || curve->kind != HF_CURVE_ARC || fabs(curve->sweep) < 2 * G_PI - 1e-9)
    return FALSE;
  *ret_centre = curve->c0;
  *ret_radius = hf_curve_radius(curve);
  return TRUE;
}

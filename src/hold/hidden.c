/* SPDX-License-Identifier: GPL-3.0-or-later
 * hidden.c - letters and holes that are in the recipe, and that nobody will see.
 *
 *      +-----------+        Metal on metal does not show, nor does an opening beside the plate:
 *    RB|OUR BAKE   |RY      what shows of a letter is the share of its outline that became an
 *      +-----------+        edge of the metal. Where it joins another the edge is gone too, so a
 *                           letter that stands on a bar shows less than all of itself.
 *
 * An initial counts as a whole, letter by letter: it may be made of several shapes.
 */
#include "base/text.h"
#include "geom/corner.h"
#include "hold/checks-private.h"
#include "recipe/kind.h"

/* Lengths are compared, not drawn: a tenth of a millimetre from the curve will do. */
#define COARSE_MM 0.1

#define ALL_OF_IT 99.5 /* %: an outline that shows so far is not covered */
#define BLOCKED   1.0  /* % of a hole: less is a rim that a bolt does not notice */

static double
length_of(const HfShape *shape, gboolean clean)
{
  g_autoptr(HfRegion) chords = hf_region_new();
  hf_region_flatten(chords, shape->outline, 0, COARSE_MM);
  if (!clean)
    return hf_region_perimeter(chords);
  g_autoptr(HfRegion) letter = hf_region_clean(chords);
  return hf_region_perimeter(letter);
}

static gboolean
is_wanted(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = hf_recipe_at(check->recipe, shape->entry);
  return shape->letter >= 0 || hf_entry_is(entry, HF_KIND_OPENS) ||
         (entry->kind == HF_ENTRY_EAR && shape->opening);
}

static gboolean
are_one(const HfCheck *check, const HfShape *a, const HfShape *b)
{
  const HfEntry *entry = hf_recipe_at(check->recipe, a->entry);
  return entry->kind == HF_ENTRY_INITIAL && a->entry == b->entry && a->letter == b->letter;
}

/* A letter that was made bolder where it was thin shows by its new edge. */
static guint
seen_as(const HfCheck *check, guint shape)
{
  guint mends =
      shape < check->layout->shapes->len ? hf_layout_shape(check->layout, shape)->mends : 0;
  return mends > 0 ? mends - 1 : shape;
}

/* Fills hold->shown. */
static void
measure_shown(HfCheck *check)
{
  const HfRegion *region = check->metal->region;
  guint n = check->layout->shapes->len;
  g_array_set_size(check->hold->shown, n);
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint v = 0; v < ring->n; v++) {
      guint shape = seen_as(check, hf_check_shape_at(check, (HfEdgeId){r, v}));
      if (shape < n)
        g_array_index(check->hold->shown, double, shape) +=
            hf_point_distance(hf_corner_vertex(ring, v), hf_corner_vertex(ring, (v + 1) % ring->n));
    }
  }
}

/* % of the outline of shape @s, with what is one with it, that shows. */
static double
share_of(const HfCheck *check, guint s, gboolean clean)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  const double *shown = (const double *)(const void *)check->hold->shown->data;
  double seen = shown[s], whole = length_of(shape, clean);
  for (guint i = s + 1; i < check->layout->shapes->len; i++) {
    const HfShape *other = hf_layout_shape(check->layout, i);
    if (!are_one(check, shape, other))
      continue;
    seen += shown[i];
    whole += length_of(other, clean);
  }
  return whole > 0 ? fmin(100 * seen / whole, 100) : 100;
}

static gboolean
is_first(const HfCheck *check, guint s)
{
  for (guint i = s; i-- > 0;)
    if (are_one(check, hf_layout_shape(check->layout, s), hf_layout_shape(check->layout, i)))
      return FALSE;
  return TRUE;
}

static void
add_hidden(HfCheck *check, guint s, double share)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  /* a hole may lie across an edge, as a notch; only one that is nowhere is a slip */
  if (shape->letter < 0 && share > check->hold->limits[HF_LAW_HIDDEN].stop)
    return;
  HfFinding *finding =
      hf_check_add(check, HF_LAW_HIDDEN, share, hf_box_centre(hf_outline_box(shape->outline)));
  if (finding == NULL)
    return;
  hf_finding_name(check, finding, s);
  if (share < 0.05)
    hf_finding_say(finding, "nothing of it shows");
  hf_finding_form(finding, shape->opening ? "opening" : "standing");
  hf_finding_fix(finding, shape->opening
                              ? "make it smaller or move it, so that it lies on the metal; what "
                                "comes later in the recipe covers what comes before"
                              : "say as: opening to cut it through, or move it off the metal "
                                "that it lies on");
  hf_room_say(check, finding, s);
}

/* ---- metal in a hole ------------------------------------------------------------------------- */

/* % of the hole, less a rim, that is metal: what came later and lies across it. */
static double
blocked_share(const HfCheck *check, const HfShape *hole)
{
  g_autoptr(HfRegion) chords = hf_region_new();
  hf_region_flatten(chords, hole->outline, HF_NO_SHAPE, HF_FLATTEN_MM);
  g_autoptr(HfRegion) within = hf_region_offset(chords, -COARSE_MM, COARSE_MM / 10);
  g_autoptr(HfRegion) metal = hf_region_intersect(within, check->metal->region);
  double whole = hf_region_area(within);
  return whole > 0 ? 100 * hf_region_area(metal) / whole : 0;
}

static gboolean
hangs_by(const HfCheck *check, HfPoint middle)
{
  for (guint i = 0; i < check->layout->hangs->len; i++) {
    const HfHang *hang = &g_array_index(check->layout->hangs, HfHang, i);
    if (hang->kind == HF_HANG_HOLE && hf_point_distance(hang->at, middle) < COARSE_MM)
      return TRUE;
  }
  return FALSE;
}

/* A bolt or a hook must go through: what a sign hangs by is no hole when metal lies in it. Of a
 * pattern of holes letters may cover what they like. */
static void
check_open(HfCheck *check, guint s, double share)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  const HfEntry *entry = hf_recipe_at(check->recipe, shape->entry);
  HfLimit limit = check->hold->limits[HF_LAW_HIDDEN];
  if (shape->letter >= 0 || entry->kind == HF_ENTRY_HOLES || share > ALL_OF_IT ||
      share < limit.stop)
    return;
  double blocked = blocked_share(check, shape);
  if (blocked < BLOCKED)
    return;
  HfPoint middle = hf_box_centre(hf_outline_box(shape->outline));
  gboolean hung = hangs_by(check, middle);
  HfFinding *finding =
      hf_check_add(check, HF_LAW_HIDDEN, hung ? limit.stop / 2 : limit.caution / 2, middle);
  if (finding == NULL)
    return;
  g_autofree char *part = hf_text_number(blocked, 0);
  finding->measured = share;
  finding->limit = NAN;
  hf_finding_name(check, finding, s);
  hf_finding_form(finding, "opening");
  hf_finding_say(finding, "metal lies in it, %s %% of the hole%s", part,
                 hung ? ": what the sign hangs by does not go through" : "");
  hf_finding_fix(finding, "move the hole, or what lies across it");
}

static gboolean
check_hidden(HfCheck *check, GError **error)
{
  measure_shown(check);
  for (guint s = 0; s < check->layout->shapes->len; s++) {
    if (!is_wanted(check, hf_layout_shape(check->layout, s)) || !is_first(check, s))
      continue;
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    double share = share_of(check, s, FALSE);
    if (share < check->hold->limits[HF_LAW_HIDDEN].caution) /* contours that cross count twice */
      share = share_of(check, s, TRUE);
    add_hidden(check, s, share);
    check_open(check, s, share);
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_hidden_law = {
    .key = "hidden",
    .quantity = "share of the outline of a letter or hole that shows",
    .unit = "%",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"5 %", "; metal in a hole to hang by"},
    .caution = {"50 %", ", of a letter; metal in a hole"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "the sign says something else than the recipe",
    .what = "only {measured} of its outline shows{worst}, {needs} {limit}",
    .fix = "move it to where it shows",
    .cures = HF_CURES("opening", "middle", "arc", "fit", "plate", "smaller"),
    .check = check_hidden,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
    .guards = TRUE,
};

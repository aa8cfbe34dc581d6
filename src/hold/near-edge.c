/* SPDX-License-Identifier: GPL-3.0-or-later
 * near-edge.c - the metal between a hole that something goes through and the nearest edge that is
 * not its own; and countersinks that are deeper than the sheet.
 *
 *   hole  a circle       slot  all within r of a line       keyhole  a circle and a slot
 *     (+)                     (+------+)                       (+)====+)
 */
#include "base/text.h"
#include "hold/checks-private.h"
#include "stock/screws.h"

/* The chords of a hole lie within this of its curve. */
#define ON_CURVE 0.02

/* All that lies within @radius of the line from @a to @b. */
typedef struct {
  HfPoint a, b;
  double radius;
} Bore;

enum { MOST_BORES = 2 };

typedef struct {
  Bore of[MOST_BORES];
  guint n;
} Opening;

static gboolean
cross(HfPoint a, HfPoint b, HfPoint p, HfPoint q)
{
  HfPoint ab = hf_point_sub(b, a), pq = hf_point_sub(q, p);
  double p_side = hf_point_cross(ab, hf_point_sub(p, a));
  double q_side = hf_point_cross(ab, hf_point_sub(q, a));
  double a_side = hf_point_cross(pq, hf_point_sub(a, p));
  double b_side = hf_point_cross(pq, hf_point_sub(b, p));
  return p_side * q_side < 0 && a_side * b_side < 0;
}

static double
from_line(HfPoint p, HfPoint a, HfPoint b)
{
  return hf_point_distance(hf_segment_nearest(a, b, p, NULL), p);
}

/* mm between an edge and the opening; < 0: it reaches into it. */
static double
apart(const Opening *opening, HfPoint p, HfPoint q)
{
  double least = INFINITY;
  for (guint i = 0; i < opening->n; i++) {
    const Bore *bore = &opening->of[i];
    double far = fmin(fmin(from_line(p, bore->a, bore->b), from_line(q, bore->a, bore->b)),
                      fmin(from_line(bore->a, p, q), from_line(bore->b, p, q)));
    far = cross(bore->a, bore->b, p, q) ? 0 : far;
    least = fmin(least, far - bore->radius);
  }
  return least;
}

static gboolean
is_on(const Opening *opening, HfPoint p)
{
  return fabs(apart(opening, p, p)) < ON_CURVE;
}

static HfBox
box_of(const Opening *opening, double grow)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < opening->n; i++) {
    HfBox own = {opening->of[i].a, opening->of[i].a};
    own = hf_box_add_point(own, opening->of[i].b);
    box = hf_box_union(box, hf_box_grow(own, opening->of[i].radius + grow));
  }
  return box;
}

static void
check_opening(HfCheck *check, const Opening *opening, guint shape, GArray *ids)
{
  const HfRegion *region = check->metal->region;
  double far = check->hold->limits[HF_LAW_HOLE_NEAR_EDGE].caution + 1, nearest = INFINITY;
  gboolean is_there = FALSE;
  hf_index_query(check->index, box_of(opening, far), ids);
  for (guint i = 0; i < ids->len; i++) {
    HfEdgeId id = g_array_index(ids, HfEdgeId, i);
    HfPoint p = hf_edge_start(region, id), q = hf_edge_end(region, id);
    if (is_on(opening, p) && is_on(opening, q)) {
      is_there = TRUE;
      continue;
    }
    nearest = fmin(nearest, apart(opening, p, q));
  }
  double metal = is_there ? fmax(nearest, 0) : 0;
  if (isinf(metal))
    return;
  HfFinding *finding = hf_check_add(check, HF_LAW_HOLE_NEAR_EDGE, metal, opening->of[0].a);
  if (finding == NULL)
    return;
  hf_finding_name(check, finding, shape);
  if (!is_there)
    hf_finding_say(finding, "the hole is not in the metal");
  else if (metal == 0)
    hf_finding_say(finding, "the hole breaks out of the edge");
}

/* ---- which openings ---------------------------------------------------------------------------
 */

/* @at, @diameter: of a round one. */
static Opening
opening_of(const HfCheck *check, guint s, HfPoint at, double diameter)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  const HfEntry *entry = hf_recipe_at(check->recipe, shape->entry);
  HfMatrix own = shape->em;
  if (entry->kind == HF_ENTRY_SLOT) {
    double radius = hf_bore_mm(&entry->slot.bore) / 2, half = entry->slot.length / 2 - radius;
    HfPoint a = hf_matrix_apply(own, hf_point(-half, 0));
    HfPoint b = hf_matrix_apply(own, hf_point(half, 0));
    return (Opening){{{a, b, radius}}, 1};
  }
  if (entry->kind == HF_ENTRY_KEYHOLE) {
    const HfKeyholeEntry *keyhole = &entry->keyhole;
    HfPoint rest = hf_matrix_apply(own, hf_point(0, 0));
    HfPoint head = hf_matrix_apply(own, hf_point(0, -hf_keyhole_length(keyhole)));
    return (Opening){{{rest, head, keyhole->shank / 2}, {head, head, keyhole->head / 2}}, 2};
  }
  return (Opening){{{at, at, diameter / 2}}, 1};
}

static gboolean
hangs_by(const HfCheck *check, guint shape)
{
  for (guint i = 0; i < check->layout->hangs->len; i++)
    if (g_array_index(check->layout->hangs, HfHang, i).shape == shape)
      return TRUE;
  return FALSE;
}

static gboolean
is_plain_hole(const HfCheck *check, guint s)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  HfEntryKind kind = hf_recipe_at(check->recipe, shape->entry)->kind;
  return (kind == HF_ENTRY_HOLE || kind == HF_ENTRY_SLOT || kind == HF_ENTRY_KEYHOLE) &&
         shape->opening && !hangs_by(check, s);
}

static gboolean
check_near_edge(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  /* what goes through several sheets holds them together, however the sign is mounted */
  if (check->recipe->mount != HF_MOUNT_HOLES && check->recipe->in_layer == HF_LAYER_UNSAID)
    return TRUE;
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  const GArray *hangs = check->layout->hangs;
  for (guint i = 0; i < hangs->len; i++) {
    const HfHang *hang = &g_array_index(hangs, HfHang, i);
    Opening opening = opening_of(check, hang->shape, hang->at, hang->diameter);
    if (hang->kind == HF_HANG_HOLE)
      check_opening(check, &opening, hang->shape, ids);
  }
  for (guint s = 0; s < check->layout->shapes->len; s++)
    if (is_plain_hole(check, s)) {
      HfBox box = hf_outline_box(hf_layout_shape(check->layout, s)->outline);
      Opening opening = opening_of(check, s, hf_box_centre(box), hf_box_width(box));
      check_opening(check, &opening, s, ids);
    }
  return TRUE;
}

/* ---- countersinks -----------------------------------------------------------------------------
 */

static gboolean
check_countersinks(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  for (guint s = 0; s < check->layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(check->layout, s);
    const HfBore *bore = hf_entry_bore(hf_recipe_at(check->recipe, shape->entry));
    const HfScrew *screw = bore != NULL && bore->countersink ? hf_screw(bore->screw) : NULL;
    if (screw == NULL)
      continue;
    double deep = hf_countersink_depth(screw->head, hf_bore_mm(bore));
    HfPoint at = hf_box_centre(hf_outline_box(shape->outline));
    HfFinding *finding = deep > check->hold->process.thickness
                             ? hf_check_add(check, HF_LAW_DEEP_COUNTERSINK, NAN, at)
                             : NULL;
    if (finding == NULL)
      continue;
    g_autofree char *mm = hf_text_length(deep, 2);
    hf_finding_name(check, finding, s);
    hf_finding_say(finding, "its countersink for %s is %s deep, more than the sheet is thick",
                   screw->key, mm);
  }
  return TRUE;
}

/* ---- the law ----------------------------------------------------------------------------------
 */

const HfLaw hf_hole_near_edge_law = {
    .key = "hole-near-edge",
    .quantity = "metal between a hole and the nearest edge",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"max(t, 1.5 k, 2 mm)"},
    .caution = {"max(1.5 t, 2 k, " HF_TIMES_THE_STOP ")"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "the hole tears out",
    .what = "hole is {measured} from an edge{worst}, {needs} {limit}",
    .fix = "move it inward, or make the metal round it larger",
    .cures = HF_CURES("inward", "wider", "plate"),
    .check = check_near_edge,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_METAL,
    .trouble = HF_TROUBLE_WEB,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_deep_countersink_law = {
    .key = "deep-countersink",
    .quantity = "countersink deeper than the sheet",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = "standard ISO 10642",
    .reference = "its theoretical head diameter, 90 degrees; that the sheet must be as thick: "
                 "geometry",
    .why = "the head stands out, and the drill makes the hole wider",
    .what = "its countersink is deeper than the sheet",
    .fix = "take a thinner screw or thicker sheet, or a screw with another head",
    .cures = HF_NO_CURES,
    .check = check_countersinks,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

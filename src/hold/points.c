/* SPDX-License-Identifier: GPL-3.0-or-later
 * points.c - outer points that can hurt: an angle under 60 degrees with a radius under 2 mm.
 *
 *        .            A boundary that walks round a point turns by 180 degrees less its angle. It
 *       / \           is sharp when it turns by more than 120 degrees along a stretch of the length
 *      ( r )          r x turn with r under 2 mm. A stretch may hold chords of a tight bend, but no
 *     /     \         straight longer than those: two right angles of a square end are no point.
 *    /       \        docs/maths.md#points
 *
 * Angle and radius come from the same walk: angle = pi - turn, radius = length / turn.
 */
#include "base/text.h"
#include "hold/hold-private.h"

/* The chord of a bend of 2 mm radius that keeps 0.005 mm is 0.28 mm long; twice the flattening
 * error leaves room for what the booleans did. */
#define LONGEST_CHORD 0.4
/* Nearer vertices are one: their direction is lost in the grid and in cuts of two outlines. */
#define THIN_OUT         0.01
#define AS_GOOD_AS_SHARP 0.05

typedef struct {
  HfPoint at;
  guint vertex;  /* of the ring: who made the edge that begins here */
  double turn;   /* radians, > 0 to the left: convex on an outer ring */
  double length; /* of the edge to the next corner */
} Corner;

/* The corners of a ring without vertices that lie nearly on each other. (transfer full) */
static GArray *
corners_of(const HfRing *ring)
{
  GArray *corners = g_array_sized_new(FALSE, TRUE, sizeof(Corner), ring->n);
  for (guint i = 0; i < ring->n; i++) {
    Corner corner = {.at = hf_grid_point(ring->at[i]), .vertex = i};
    if (corners->len > 0 &&
        hf_point_distance(corner.at, g_array_index(corners, Corner, corners->len - 1).at) <
            THIN_OUT)
      continue;
    g_array_append_val(corners, corner);
  }
  for (guint i = 0; i < corners->len; i++) {
    Corner *here = &g_array_index(corners, Corner, i);
    HfPoint before = g_array_index(corners, Corner, (i + corners->len - 1) % corners->len).at;
    HfPoint after = g_array_index(corners, Corner, (i + 1) % corners->len).at;
    HfPoint in = hf_point_sub(here->at, before), out = hf_point_sub(after, here->at);
    here->turn = atan2(hf_point_cross(in, out), hf_point_dot(in, out));
    here->length = hf_point_length(out);
  }
  return corners;
}

/* A stretch of corners and how the boundary turns along it. */
typedef struct {
  guint first, n;
  double turn, length;
} Stretch;

static const Corner *
corner(const GArray *corners, guint i)
{
  return &g_array_index(corners, Corner, i % corners->len);
}

/* Half of the chords beside a stretch belongs to its bend, where they are chords at all. */
static double
half_beside(const GArray *corners, guint first, guint last)
{
  double before = corner(corners, first + corners->len - 1)->length;
  double after = corner(corners, last)->length;
  return (before <= LONGEST_CHORD ? before / 2 : 0) + (after <= LONGEST_CHORD ? after / 2 : 0);
}

/* The sharpest stretch from corner @first on, of at most @most corners: the one with the most turn
 * of those that are tighter than @radius. */
static Stretch
sharpest_from(const GArray *corners, guint first, guint most, double radius)
{
  Stretch best = {first, 0, 0, 0};
  double turn = 0, length = 0;
  for (guint n = 1; n <= most; n++) {
    const Corner *last = corner(corners, first + n - 1);
    turn += last->turn;
    double whole = length + half_beside(corners, first, first + n - 1);
    if (turn > best.turn && whole < radius * turn)
      best = (Stretch){first, n, turn, whole};
    length += last->length;
    if (last->length > LONGEST_CHORD || length > radius * 2 * G_PI)
      break;
  }
  return best;
}

/* A stake is pointed by design: its point goes into the ground. */
static gboolean
is_of_stake(const HfCheck *check, guint shape)
{
  if (shape >= check->layout->shapes->len)
    return FALSE;
  const HfShape *of = hf_layout_shape(check->layout, shape);
  return hf_recipe_at(check->recipe, of->entry)->kind == HF_ENTRY_STAKE;
}

static void
report(HfCheck *check, const GArray *corners, guint ring, Stretch point)
{
  const Corner *tip = corner(corners, point.first + point.n / 2);
  guint shape = hf_check_shape_at(check, (HfEdgeId){ring, tip->vertex});
  if (is_of_stake(check, shape))
    return;
  double angle = fmax(0, 180 - point.turn * 180 / G_PI);
  HfFinding *finding = hf_check_add(check, HF_LAW_SHARP_POINT, angle, tip->at);
  if (finding == NULL)
    return;
  g_autofree char *wide = hf_text_angle(angle * G_PI / 180);
  double radius = point.length / point.turn;
  g_autofree char *millimetres = hf_text_mm(radius);
  hf_finding_name(check, finding, shape);
  if (radius < AS_GOOD_AS_SHARP)
    hf_finding_say(finding, "outer point of %s can hurt someone", wide);
  else
    hf_finding_say(finding, "outer point of %s with a radius of %s can hurt someone", wide,
                   millimetres);
}

/* Where a walk may begin without cutting a bend in two: behind a straight, else where it turns
 * least. */
static guint
quiet_start(const GArray *corners)
{
  guint least = 0;
  for (guint i = 0; i < corners->len; i++) {
    if (corner(corners, i)->length > LONGEST_CHORD)
      return i + 1;
    if (corner(corners, i)->turn < corner(corners, least)->turn)
      least = i;
  }
  return least;
}

/* Every stretch beyond the limit, of those that overlap the one that turns most. */
static void
check_ring(HfCheck *check, guint ring, double least_turn, double radius)
{
  g_autoptr(GArray) corners = corners_of(hf_region_ring(check->metal->region, ring));
  Stretch held = {0, 0, 0, 0};
  if (corners->len < 3)
    return;
  guint start = quiet_start(corners), end = start + corners->len;
  for (guint i = start; i < end; i++) {
    if (held.n > 0 && i >= held.first + held.n) {
      report(check, corners, ring, held);
      held.n = 0;
    }
    if (corner(corners, i)->turn <= 0)
      continue;
    Stretch one = sharpest_from(corners, i, end - i, radius);
    if (one.turn > least_turn && (held.n == 0 || one.turn > held.turn))
      held = one;
  }
  if (held.n > 0)
    report(check, corners, ring, held);
}

/* Metal within an opening of other metal is out of the hand's way, if it stays at all. */
static gboolean
is_enclosed(const HfRegion *region, const HfBox *boxes, guint outer)
{
  HfPoint p = hf_grid_point(hf_region_ring(region, outer)->at[0]);
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    if (ring->parent >= 0 && ring->parent != (gint)outer && hf_box_contains(boxes[i], p) &&
        hf_ring_holds(ring, p))
      return TRUE;
  }
  return FALSE;
}

static gboolean
check_points(HfCheck *check, GError **error)
{
  const HfRegion *region = check->metal->region;
  double least_turn = G_PI - check->hold->limits[HF_LAW_SHARP_POINT].caution * G_PI / 180;
  double radius = check->hold->figures[HF_FIGURE_POINT_RADIUS];
  g_autofree HfBox *boxes = g_new(HfBox, region->rings->len + 1);
  for (guint i = 0; i < region->rings->len; i++)
    boxes[i] = hf_ring_box(hf_region_ring(region, i));
  for (guint i = 0; i < region->rings->len; i++) {
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    if (hf_region_ring(region, i)->parent < 0 && !is_enclosed(region, boxes, i))
      check_ring(check, i, least_turn, radius);
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_sharp_point_law = {
    .key = "sharp-point",
    .quantity = "angle of an outer point",
    .unit = "deg",
    .at_least = TRUE,
    .gravity = HF_CAUTION,
    .stop = {"60 deg", ", when the recipe says within reach"},
    .caution = {"60 deg", ", where its radius is under {sharp-point radius}"},
    .stop_within_reach = TRUE,
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "it can hurt someone",
    .what = "outer point of {measured} can hurt someone, {needs} {limit}",
    .fix = "round it to 3 mm",
    .cures = HF_CURES("round"),
    .check = check_points,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_POINT,
};

const HfFigureRow hf_point_radius_figure = {
    .law = HF_LAW_SHARP_POINT,
    .key = "sharp-point radius",
    .value = 2,
    .unit = "mm",
    .meaning = "an outer point rounder than this does not hurt",
};

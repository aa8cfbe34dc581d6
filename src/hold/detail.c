/* SPDX-License-Identifier: GPL-3.0-or-later
 * detail.c - what a round kerf leaves standing in inside corners; docs/maths.md#lost-detail.
 *
 *        metal  |         A circle of the kerf's radius r rolls along the edge and touches both
 *      _________|  .      sides of the corner; between it and the corner metal stays. Straight
 *      lost -> ( \   )    sides that turn by T:  r^2 (tan(T/2) - T/2).
 *               '---'
 *
 * Corners may have a short floor or be bent: sides are walked outward until the circle touches
 * within them, and the lost area is that of feet, corner and centre less the circle's sector.
 */
#include "geom/corner.h"
#include "hold/checks-private.h"

#define ALONGSIDE  (175 * G_PI / 180)
#define LEAST_TURN (8 * G_PI / 180) /* chords of a curve that the kerf can follow turn by less */

static double
lost_in(const HfCorner *c)
{
  double twice = 0;
  HfPoint last = c->foot_i;
  for (guint v = (c->i + 1) % c->ring->n;; v = (v + 1) % c->ring->n) {
    HfPoint p = hf_corner_vertex(c->ring, v);
    twice += hf_point_cross(hf_point_sub(last, c->centre), hf_point_sub(p, c->centre));
    last = p;
    if (v == c->j)
      break;
  }
  twice += hf_point_cross(hf_point_sub(last, c->centre), hf_point_sub(c->foot_j, c->centre));
  return fmax(fabs(twice) / 2 - c->r * c->r * c->turn / 2, 0);
}

/* Sides that run all but alongside, a hair more than a kerf apart: the circle that touches both
 * would lie far behind the corner, or beyond the sign. There is room for the kerf, and what it
 * leaves stands in the corners of the floor. */
static gboolean
lies_behind(const HfCorner *c)
{
  HfPoint a = hf_corner_vertex(c->ring, c->i), b = hf_corner_vertex(c->ring, c->j);
  HfPoint u = hf_corner_direction(c->ring, c->i), w = hf_corner_direction(c->ring, c->j);
  double length = hf_point_distance(a, hf_corner_vertex(c->ring, c->i + 1));
  double on_i = hf_point_dot(hf_point_sub(c->foot_i, a), u);
  double on_j = hf_point_dot(hf_point_sub(c->foot_j, b), w);
  double apart = fabs(hf_point_cross(u, hf_point_sub(b, a)));
  return c->turn > ALONGSIDE && apart >= 2 * c->r && (on_i > length + 2 * c->r || on_j < -2 * c->r);
}

typedef struct {
  double area, most;
  HfPoint at;
} Lost;

static guint
letter_of(const HfCheck *check, guint r, const HfCorner *c)
{
  guint a = hf_check_shape_at(check, (HfEdgeId){r, c->i});
  guint b = hf_check_shape_at(check, (HfEdgeId){r, c->j}), n = check->layout->shapes->len;
  if (a < n && hf_layout_shape(check->layout, a)->letter >= 0)
    return a;
  return b < n && hf_layout_shape(check->layout, b)->letter >= 0 ? b : HF_NO_SHAPE;
}

static void
add_ring(const HfCheck *check, guint r, Lost *lost)
{
  const HfRing *ring = hf_region_ring(check->metal->region, r);
  for (guint v = 0; v < ring->n;) {
    guint at = v++;
    if (!hf_corner_turns(ring, at, -1, LEAST_TURN) || hf_corner_turn(ring, at, -1) < LEAST_TURN)
      continue;
    HfCorner c;
    if (!hf_corner_settle(ring, at, check->hold->process.kerf / 2, -1, &c))
      continue;
    guint letter = letter_of(check, r, &c);
    if (c.j > at) /* the corner's other vertices are done */
      v = c.j + 1;
    if (letter == HF_NO_SHAPE || lies_behind(&c))
      continue;
    double area = lost_in(&c);
    lost[letter].area += area;
    if (area > lost[letter].most) {
      lost[letter].most = area;
      lost[letter].at = hf_corner_vertex(ring, at);
    }
  }
}

/* Squares of the kerf's radius: a larger letter has room for it somewhere. */
static const double SMALL_LETTER = 200;

/* A letter that is cut through, and so small that the kerf fits in nowhere. */
static gboolean
is_lost_whole(const HfShape *shape, double whole, double r)
{
  if (!shape->opening || whole > SMALL_LETTER * r * r)
    return FALSE;
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, shape->outline, 0, r / 100);
  g_autoptr(HfRegion) clean = hf_region_clean(raw);
  g_autoptr(HfRegion) room = hf_region_offset(clean, -r, r / 100);
  return hf_region_is_empty(room);
}

static gboolean
check_lost_detail(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  guint n = check->layout->shapes->len;
  g_autofree Lost *lost = g_new0(Lost, n + 1);
  for (guint r = 0; r < check->metal->region->rings->len; r++)
    add_ring(check, r, lost);
  for (guint s = 0; s < n; s++) {
    double whole = fabs(hf_outline_area(hf_layout_shape(check->layout, s)->outline));
    if (lost[s].area <= 0 || whole <= 0)
      continue;
    if (is_lost_whole(hf_layout_shape(check->layout, s), whole, check->hold->process.kerf / 2))
      lost[s].area = whole;
    lost[s].area = fmin(lost[s].area, whole); /* where corners reach past each other */
    HfFinding *finding =
        hf_check_add(check, HF_LAW_LOST_DETAIL, 100 * lost[s].area / whole, lost[s].at);
    if (finding == NULL)
      continue;
    finding->area = lost[s].area;
    hf_finding_name(check, finding, s);
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_lost_detail_law = {
    .key = "lost-detail",
    .quantity = "share of a letter that a round kerf can't cut",
    .unit = "%",
    .note_within = TRUE,
    .gravity = HF_CAUTION,
    .caution = {"1 %", " of the letter's area"},
    .source = HF_COMMON_PRACTICE,
    .reference = "what is lost is computed: inside corners come out rounded to k/2",
    .why = "the letter looks different from the proof",
    .what =
        "inside corners come out rounded by the kerf: {measured} of the letter is lost{worst}[, "
        "{area}]",
    .fix = "make it larger, or cut with a finer kerf",
    .cures = HF_CURES("larger", "scale"),
    .check = check_lost_detail,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_GAP,
    .mends = HF_MENDS_NOTHING,
};

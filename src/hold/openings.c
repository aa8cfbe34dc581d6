/* SPDX-License-Identifier: GPL-3.0-or-later
 * openings.c - is there room for the pierce in every opening, and is every round hole large enough?
 *
 *    +---------+      The largest circle in the opening, islands of metal taken off, must hold
 *    |  .-.    |      the crater of the pierce. Most openings are obviously large: a point that
 *    | ( x )   |      has no edge within the limit settles it. Only the others are measured.
 *    |  '-'    |
 *    +---------+
 */
#include "geom/axis.h"
#include "hold/checks-private.h"

#define ACCURACY 0.004 /* mm, of a radius */
#define TRIES    7     /* points tried each way */

/* ---- whose ring ------------------------------------------------------------------------------ */

typedef struct {
  guint shape;
  double length;
} Share;

static int
longest_first(gconstpointer p, gconstpointer q)
{
  const Share *a = p, *b = q;
  if (a->length != b->length)
    return a->length > b->length ? -1 : 1;
  return (a->shape > b->shape) - (a->shape < b->shape);
}

void
hf_check_name_ring(HfCheck *check, HfFinding *finding, guint r)
{
  const HfRing *ring = hf_region_ring(check->metal->region, r);
  g_autoptr(GArray) shares = g_array_new(FALSE, FALSE, sizeof(Share));
  for (guint v = 0; v < ring->n; v++) {
    Share new = {
        hf_check_shape_at(check, (HfEdgeId){r, v}),
        hf_point_distance(hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]))};
    guint i = 0;
    while (i < shares->len && g_array_index(shares, Share, i).shape != new.shape)
      i++;
    if (i < shares->len)
      g_array_index(shares, Share, i).length += new.length;
    else
      g_array_append_val(shares, new);
  }
  g_array_sort(shares, longest_first);
  for (guint i = 0; i < shares->len; i++)
    hf_finding_name(check, finding, g_array_index(shares, Share, i).shape);
}

static const HfCurve *
curve_of(const HfCheck *check, const HfEdge *from)
{
  if (from->shape >= check->layout->shapes->len)
    return NULL;
  const HfShape *shape = hf_layout_shape(check->layout, from->shape);
  if (from->curve >= shape->outline->curves->len)
    return NULL;
  return &g_array_index(shape->outline->curves, HfCurve, from->curve);
}

/* The drawn circle that all of ring @r is; %NULL: it is none. */
static const HfCurve *
circle_of(const HfCheck *check, guint r)
{
  const HfRing *ring = hf_region_ring(check->metal->region, r);
  if (ring->from == NULL)
    return NULL;
  const HfCurve *curve = curve_of(check, &ring->from[0]);
  if (curve == NULL || curve->kind != HF_CURVE_ARC || fabs(curve->sweep) < 2 * G_PI - 1e-6)
    return NULL;
  for (guint v = 1; v < ring->n; v++)
    if (curve_of(check, &ring->from[v]) != curve)
      return NULL;
  return curve;
}

double
hf_check_round_hole(const HfCheck *check, guint r)
{
  const HfRing *ring = hf_region_ring(check->metal->region, r);
  const HfCurve *circle = ring->parent < 0 ? NULL : circle_of(check, r);
  gboolean cut = circle != NULL && hf_layout_shape(check->layout, ring->from[0].shape)->opening;
  return cut ? 2 * hf_curve_radius(circle) : 0;
}

/* ---- islands --------------------------------------------------------------------------------- */

/* The smallest opening that holds the metal of outer ring @r, none of its own; -1: none. */
static gint
opening_round(const HfCheck *check, guint r, const double *area, GArray *ids)
{
  const HfRegion *region = check->metal->region;
  double smallest = INFINITY;
  gint opening = -1;
  hf_index_rings_round(check->index, hf_ring_beside(hf_region_ring(region, r), 1e-6), ids);
  for (guint i = 0; i < ids->len; i++) {
    guint h = g_array_index(ids, HfEdgeId, i).ring;
    gint parent = hf_region_ring(region, h)->parent;
    if (parent < 0 || parent == (gint)r || area[h] >= smallest)
      continue;
    smallest = area[h];
    opening = (gint)h;
  }
  return opening;
}

gint *
hf_check_opening_of(const HfCheck *check)
{
  const HfRegion *region = check->metal->region;
  guint n = region->rings->len;
  gint *opening = g_new(gint, n + 1);
  g_autofree double *area = g_new(double, n + 1);
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < n; r++)
    area[r] = fabs(hf_ring_area(hf_region_ring(region, r)));
  for (guint r = 0; r < n; r++)
    opening[r] =
        hf_region_ring(region, r)->parent >= 0 ? (gint)r : opening_round(check, r, area, ids);
  return opening;
}

/* The islands of each opening, in order of rings: of[first[hole]] .. of[first[hole + 1]]. */
typedef struct {
  guint *first, *of;
} Islands;

static Islands
islands_new(const HfRegion *region, const gint *opening)
{
  guint n = region->rings->len;
  Islands islands = {g_new0(guint, n + 2), g_new(guint, n + 1)};
  for (guint r = 0; r < n; r++)
    if (opening[r] >= 0 && (guint)opening[r] != r)
      islands.first[opening[r] + 2]++;
  for (guint h = 0; h <= n; h++)
    islands.first[h + 1] += islands.first[h];
  for (guint r = 0; r < n; r++)
    if (opening[r] >= 0 && (guint)opening[r] != r)
      islands.of[islands.first[opening[r] + 1]++] = r;
  return islands;
}

static void
islands_clear(Islands *islands)
{
  g_free(islands->first);
  g_free(islands->of);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Islands, islands_clear)

static gboolean
has_island(const Islands *islands, guint hole)
{
  return islands->first[hole] < islands->first[hole + 1];
}

/* The opening as a region of its own: its ring turned round, islands as its openings. */
static void
add_turned(HfRegion *to, const HfRing *ring, gint parent)
{
  g_autofree HfGrid *at = g_new(HfGrid, ring->n);
  for (guint v = 0; v < ring->n; v++)
    at[v] = ring->at[ring->n - 1 - v];
  hf_region_add_ring(to, at, NULL, ring->n);
  hf_region_ring(to, to->rings->len - 1)->parent = parent;
}

static HfRegion *
opening_region(const HfRegion *region, const Islands *islands, guint hole)
{
  HfRegion *result = hf_region_new();
  add_turned(result, hf_region_ring(region, hole), -1);
  for (guint i = islands->first[hole]; i < islands->first[hole + 1]; i++)
    add_turned(result, hf_region_ring(region, islands->of[i]), 0);
  return result;
}

/* ---- room ------------------------------------------------------------------------------------ */

static gboolean
in_opening(const HfRegion *region, const Islands *islands, guint hole, HfPoint p)
{
  if (!hf_ring_holds(hf_region_ring(region, hole), p))
    return FALSE;
  for (guint i = islands->first[hole]; i < islands->first[hole + 1]; i++)
    if (hf_ring_holds(hf_region_ring(region, islands->of[i]), p))
      return FALSE;
  return TRUE;
}

static gboolean
clear_round(const HfCheck *check, HfPoint p, double radius, GArray *found)
{
  HfBox box = hf_box_grow((HfBox){p, p}, radius);
  hf_index_query(check->index, box, found);
  for (guint i = 0; i < found->len; i++) {
    HfEdgeId id = g_array_index(found, HfEdgeId, i);
    HfPoint a = hf_edge_start(check->metal->region, id), b = hf_edge_end(check->metal->region, id);
    if (hf_point_distance(p, hf_segment_nearest(a, b, p, NULL)) < radius)
      return FALSE;
  }
  return TRUE;
}

/* All corners turn the same way, or none. */
static gboolean
is_convex(const HfRing *ring)
{
  gboolean left = FALSE, right = FALSE;
  HfGrid a = ring->at[ring->n - 2], b = ring->at[ring->n - 1];
  for (guint v = 0; v < ring->n && !(left && right); v++) {
    HfGrid c = ring->at[v];
    gint64 turn = (gint64)(b.x - a.x) * (c.y - b.y) - (gint64)(b.y - a.y) * (c.x - b.x);
    left |= turn > 0;
    right |= turn < 0;
    a = b;
    b = c;
  }
  return !(left && right);
}

/* Its box, its area or, where it is convex, its outline leave no circle of @radius any room: seen
 * from the middle of the circle, triangles over all edges are as high as it or higher, so that
 * area >= radius * outline / 2. Islands make it smaller yet. */
static gboolean
obviously_small(const HfRing *ring, HfBox box, double radius)
{
  double area = fabs(hf_ring_area(ring));
  return fmin(hf_box_width(box), hf_box_height(box)) < 2 * radius ||
         area < G_PI * radius * radius ||
         (is_convex(ring) && area < radius * hf_ring_perimeter(ring) / 2);
}

static gboolean
obviously_large(const HfCheck *check, const Islands *islands, guint hole, double radius)
{
  const HfRegion *region = check->metal->region;
  HfBox box = hf_ring_box(hf_region_ring(region, hole));
  if (obviously_small(hf_region_ring(region, hole), box, radius))
    return FALSE;
  g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (int k = 0; k < TRIES * TRIES; k++) {
    int i = (k + TRIES * TRIES / 2) % (TRIES * TRIES); /* from the middle on */
    int column = i % TRIES, row = i / TRIES;
    HfPoint p = {box.min.x + hf_box_width(box) * (column + 1) / (TRIES + 1),
                 box.min.y + hf_box_height(box) * (row + 1) / (TRIES + 1)};
    if (clear_round(check, p, radius, found) && in_opening(region, islands, hole, p))
      return TRUE;
  }
  return FALSE;
}

/* Round a round island in a round opening, where both are drawn circles: on the far side of the
 * line through their middles, (R - r + d) / 2. %FALSE: they are not. */
static gboolean
room_round(const HfCheck *check, const Islands *islands, guint hole, double *ret_radius,
           HfPoint *ret_centre)
{
  if (islands->first[hole] + 1 != islands->first[hole + 1])
    return FALSE;
  const HfCurve *outer = circle_of(check, hole);
  const HfCurve *inner = circle_of(check, islands->of[islands->first[hole]]);
  if (outer == NULL || inner == NULL)
    return FALSE;
  double off = hf_point_distance(outer->c0, inner->c0);
  double least = hf_curve_radius(inner), most = hf_curve_radius(outer) + off;
  HfPoint way = {1, 0}; /* any, where they have one middle */
  if (off > 0)
    way = hf_point_scale(hf_point_sub(outer->c0, inner->c0), 1 / off);
  *ret_radius = (most - least) / 2;
  *ret_centre = hf_point_add(inner->c0, hf_point_scale(way, (least + most) / 2));
  return TRUE;
}

static void
check_room(HfCheck *check, const Islands *islands, guint hole)
{
  HfLimit limit = check->hold->limits[HF_LAW_SMALL_OPENING];
  double enough = fmax(limit.stop, limit.caution);
  if (obviously_large(check, islands, hole, enough))
    return;
  g_autoptr(HfRegion) region = opening_region(check->metal->region, islands, hole);
  HfPoint centre;
  double radius;
  if (!room_round(check, islands, hole, &radius, &centre))
    radius = hf_region_inscribed_until(region, 0, ACCURACY, enough, &centre);
  HfFinding *finding = hf_check_add(check, HF_LAW_SMALL_OPENING, radius, centre);
  if (finding == NULL)
    return;
  finding->area = hf_region_area(region);
  finding->box = hf_ring_box(hf_region_ring(region, 0));
  hf_check_name_ring(check, finding, hole);
}

static void
check_round(HfCheck *check, guint hole, double diameter)
{
  HfBox box = hf_ring_box(hf_region_ring(check->metal->region, hole));
  HfFinding *finding = hf_check_add(check, HF_LAW_SMALL_HOLE, diameter, hf_box_centre(box));
  if (finding == NULL)
    return;
  finding->box = box;
  hf_check_name_ring(check, finding, hole);
}

static gboolean
check_openings(HfCheck *check, GError **error)
{
  g_autofree gint *opening = hf_check_opening_of(check);
  g_auto(Islands) islands = islands_new(check->metal->region, opening);
  for (guint r = 0; r < check->metal->region->rings->len; r++) {
    if (hf_region_ring(check->metal->region, r)->parent < 0)
      continue;
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    double diameter = hf_check_round_hole(check, r);
    if (diameter > 0)
      check_round(check, r, diameter);
    if (!(diameter > 0) || has_island(&islands, r))
      check_room(check, &islands, r);
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_small_opening_law = {
    .key = "small-opening",
    .quantity = "radius of the largest circle inside an opening",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"c + 0.5 mm"},
    .caution = {"c + k/2 + 1 mm"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "there is no room for the crater of the pierce",
    .what =
        "opening is too small to pierce: room for a circle of {measured} radius{worst}, {needs} "
        "{limit}",
    .fix = "make it larger or fill it",
    .cures = HF_CURES("mend", "lighter", "bolder", "hole", "arc", "further", "closer", "fill",
                      "larger", "scale", "grown"),
    .check = check_openings,
    .measures = HF_MEASURES_OPENING,
    .trouble = HF_TROUBLE_OPENING,
    .mends = HF_MENDS_OPENING,
};

const HfLaw hf_small_hole_law = {
    .key = "small-hole",
    .quantity = "diameter of a round hole",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"max(1.5 t, 3 k, 4.5 mm)"},
    .caution = {"max(2 t, 4 k, 6 mm)"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "it comes out tapered and out of round",
    .what = "round hole is {measured} across{worst}, {needs} {limit}",
    .fix = "make it larger, or mark it and drill it",
    .cures = HF_CURES("hole"),
    .check = check_openings,
    .measures = HF_MEASURES_OPENING,
    .trouble = HF_TROUBLE_OPENING,
    .mends = HF_MENDS_HOLE,
};

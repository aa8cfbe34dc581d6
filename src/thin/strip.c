/* SPDX-License-Identifier: GPL-3.0-or-later
 * strip.c - finds long thin strips by looking across.
 *
 *          joint                 free length L                    joint
 *       ____||______________________________________________________||____
 *      |  : : : : :->: : : : : : : : : : : : : : : : : : : : : : : : : :  |   width up to `widest`
 *      |_____________________________________________________________ ____|
 *         one looks across from every place of the boundary, straight into the metal
 *
 * A strip is where the look across meets an opposite edge that runs along with the near one, no
 * farther than `widest` away. It ends where the look goes deeper: at a joint. Only strips of some
 * length matter, so a wide stride finds them and a narrow one measures them. docs/maths.md#strips
 *
 * Invariant: a row of looks is one strip, each on an edge that turns by less than 45 degrees from
 * the one before.
 */
#include "thin/strip.h"
#include "thin/splice.h"

#define STRIDES     8    /* looks in the shortest strip that matters */
#define PIECE       5.0  /* mm of a look at a time */
#define ALONG       0.94 /* cosine of 20 degrees: the opposite edge runs along with the near one */
#define CORNER      0.7  /* cosine of 45 degrees: from one look to the next */
#define BEYOND      0.75 /* widths beyond the end: is there metal? */
#define AS_WIDE     0.95 /* of its width: metal beyond the end that holds */
#define SAME_CIRCLE 1e-3 /* mm that vertices may lie beside a circle */
#define FINE        0.1  /* of the radius: chords so short turn by 6 degrees each */
#define CHORD       0.02 /* mm that a look may be longer than from circle to circle ... */
#define SLANTED     1.01 /* ... for each mm of that: 1 / cos of 8 degrees */
#define STEP        0.3  /* of the radius, from one look to the next: 17 degrees */

typedef struct {
  const HfRegion *region;
  HfIndex *index;
  GArray *ids; /* of the index, used again and again */
  HfStripWish wish;
  double stride;
  GArray *found; /* HfStrip */
} Search;

/* One ring of the boundary, to be walked by the distance from its first vertex. */
typedef struct {
  const HfRegion *region;
  guint ring, n;
  double *upto; /* n + 1: length up to each vertex */
} Walk;

typedef struct {
  HfPoint on, across; /* the place, and where the look meets the other side */
  HfPoint along;      /* direction of the boundary */
  double width;
  HfEdgeId edge;
} Look;

static void
walk_begin(Walk *walk, const HfRegion *region, guint ring)
{
  walk->region = region;
  walk->ring = ring;
  walk->n = hf_region_ring(region, ring)->n;
  walk->upto = g_new(double, walk->n + 1);
  walk->upto[0] = 0;
  for (guint i = 0; i < walk->n; i++) {
    HfEdgeId id = {ring, i};
    walk->upto[i + 1] =
        walk->upto[i] + hf_point_distance(hf_edge_start(region, id), hf_edge_end(region, id));
  }
}

static double
walk_length(const Walk *walk)
{
  return walk->upto[walk->n];
}

/* The edge that @s lies on, 0 <= s < length. */
static guint
walk_edge(const Walk *walk, double s)
{
  guint low = 0, high = walk->n;
  while (high - low > 1) {
    guint middle = (low + high) / 2;
    if (walk->upto[middle] <= s)
      low = middle;
    else
      high = middle;
  }
  return low;
}

/* Where the ray from @from along unit vector @into first meets edge a-b; INFINITY when it misses.
 */
static double
ray_meets(HfPoint from, HfPoint into, HfPoint a, HfPoint b)
{
  HfPoint edge = hf_point_sub(b, a), to = hf_point_sub(a, from);
  double turned = hf_point_cross(into, edge);
  if (turned == 0)
    return INFINITY;
  double far = hf_point_cross(to, edge) / turned, t = hf_point_cross(to, into) / turned;
  return t >= 0 && t <= 1 && far > 1e-6 ? far : INFINITY;
}

/* The edge that the ray from @on along @into meets first, no farther than @widest; its distance.
 * Goes forward by pieces, since most looks end soon. */
static double
first_met(Search *search, const HfRegion *region, HfEdgeId near, HfPoint on, HfPoint into,
          HfEdgeId *ret_met)
{
  double width = INFINITY;
  for (double from = 0; from < search->wish.widest; from += PIECE) {
    HfPoint a = hf_point_add(on, hf_point_scale(into, from));
    HfPoint b = hf_point_add(on, hf_point_scale(into, from + PIECE));
    HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
    hf_index_query(search->index, box, search->ids);
    for (guint i = 0; i < search->ids->len; i++) {
      HfEdgeId id = g_array_index(search->ids, HfEdgeId, i);
      if (id.ring == near.ring && id.vertex == near.vertex)
        continue;
      double far = ray_meets(on, into, hf_edge_start(region, id), hf_edge_end(region, id));
      if (far < width) {
        width = far;
        *ret_met = id;
      }
    }
    if (width <= from + PIECE)
      break;
  }
  return width;
}

/* Looks across from distance @s of the walk. %FALSE: no strip there. */
static gboolean
look_across(Search *search, const Walk *walk, double s, Look *ret_look)
{
  double whole = walk_length(walk);
  s -= floor(s / whole) * whole;
  HfEdgeId near = {walk->ring, walk_edge(walk, s)}, met = near;
  HfPoint a = hf_edge_start(walk->region, near), b = hf_edge_end(walk->region, near);
  double length = hf_point_distance(a, b);
  if (length == 0)
    return FALSE;
  HfPoint along = hf_point_scale(hf_point_sub(b, a), 1 / length);
  HfPoint into = {-along.y, along.x}; /* metal lies to the left */
  HfPoint on = hf_point_add(a, hf_point_scale(along, s - walk->upto[near.vertex]));
  double width = first_met(search, walk->region, near, on, into, &met);
  if (width > search->wish.widest)
    return FALSE;
  HfPoint p = hf_edge_start(walk->region, met), q = hf_edge_end(walk->region, met);
  if (-hf_point_dot(hf_point_sub(q, p), along) < ALONG * hf_point_distance(p, q))
    return FALSE;
  *ret_look = (Look){on, hf_point_add(on, hf_point_scale(into, width)), along, width, near};
  return TRUE;
}

static HfPoint
middle_of(const Look *look)
{
  return hf_point_mix(look->on, look->across, 0.5);
}

/* mm of metal to one side of @from, as far as it matters. */
static double
metal_beside(Search *search, HfPoint from, HfPoint way)
{
  HfEdgeId none = {G_MAXUINT, 0}, met;
  return first_met(search, search->region, none, from, way, &met);
}

/* Is there metal beyond the end of a strip, as wide as it is? Not beyond a free end, nor in the
 * point of a stake, whose sides only run together too fast for a strip. */
static gboolean
is_held(Search *search, const Look *end, double forward)
{
  HfPoint ahead = hf_point_scale(end->along, forward * (search->wish.fine + BEYOND * end->width));
  HfPoint at = hf_point_add(middle_of(end), ahead), into = {-end->along.y, end->along.x};
  return hf_index_holds(search->index, at, search->ids) &&
         metal_beside(search, at, into) + metal_beside(search, at, hf_point_scale(into, -1)) >
             AS_WIDE * end->width;
}

/* The same strip was seen from its other side when that one's middle lies within this one, not far
 * along. */
static gboolean
is_known(const Search *search, const HfStrip *strip)
{
  for (guint i = 0; i < search->found->len; i++) {
    const HfStrip *other = &g_array_index(search->found, HfStrip, i);
    HfPoint apart = hf_point_sub(other->middle, strip->middle);
    double across = fabs(hf_point_cross(strip->along, apart));
    double along = fabs(hf_point_dot(strip->along, apart));
    if (across < strip->width / 2 + search->wish.fine && along < strip->length / 10)
      return TRUE;
  }
  return FALSE;
}

/* A row of looks is a strip, measured along its middle. */
static void
keep_strip(Search *search, const GArray *looks)
{
  if (looks->len < 2)
    return;
  const Look *first = &g_array_index(looks, Look, 0);
  const Look *last = &g_array_index(looks, Look, looks->len - 1);
  const Look *half = &g_array_index(looks, Look, looks->len / 2);
  HfStrip strip = {middle_of(half), half->along, search->wish.fine, 0,
                   half->edge}; /* half a step at either end */
  for (guint i = 0; i < looks->len; i++) {
    const Look *one = &g_array_index(looks, Look, i);
    strip.width += one->width / looks->len;
    if (i > 0)
      strip.length += hf_point_distance(middle_of(one), middle_of(one - 1));
  }
  if (strip.length < search->wish.shortest || is_known(search, &strip))
    return;
  if (is_held(search, first, -1) && is_held(search, last, 1))
    g_array_append_val(search->found, strip);
}

/* Where the boundary turns a corner another strip begins: a tie off a rail. */
static gboolean
turns_off(const Look *last, const Look *next)
{
  return hf_point_dot(last->along, next->along) < CORNER;
}

/* Measures what the wide stride saw between @from and @to. */
static void
measure(Search *search, const Walk *walk, double from, double to)
{
  g_autoptr(GArray) looks = g_array_new(FALSE, FALSE, sizeof(Look));
  guint steps = (guint)ceil((to - from) / search->wish.fine);
  for (guint i = 0; i <= steps; i++) {
    Look one;
    gboolean sees = look_across(search, walk, from + i * search->wish.fine, &one);
    if (looks->len > 0 && (!sees || turns_off(&g_array_index(looks, Look, looks->len - 1), &one))) {
      keep_strip(search, looks);
      g_array_set_size(looks, 0);
    }
    if (sees)
      g_array_append_val(looks, one);
  }
  keep_strip(search, looks);
}

/* All round a ring the wide stride saw a strip: measures from a joint that it stepped over or from
 * a corner, if there is one. A round ring without any joint is free to grow and does not bow. */
static void
measure_round(Search *search, const Walk *walk)
{
  Look last, one;
  double whole = walk_length(walk);
  gboolean saw = FALSE;
  for (double s = 0; s < whole; s += search->wish.fine) {
    gboolean sees = look_across(search, walk, s, &one);
    if (!sees || (saw && turns_off(&last, &one))) {
      measure(search, walk, s, s + whole);
      return;
    }
    saw = TRUE;
    last = one;
  }
}

/* ---- circles in circles ---------------------------------------------------------------------- */

/* Do all vertices of @ring lie on one circle about @centre? Its radius; NAN: no. */
static double
radius_about(const HfRing *ring, HfPoint centre)
{
  double r = hf_point_distance(hf_grid_point(ring->at[0]), centre);
  for (guint v = 1; v < ring->n; v++)
    if (fabs(hf_point_distance(hf_grid_point(ring->at[v]), centre) - r) > SAME_CIRCLE)
      return NAN;
  return r;
}

/* No chord turns by more than this from the one before it: no look across meets another one at a
 * slant. */
static gboolean
is_fine(const HfRing *ring, double radius)
{
  for (guint v = 0; v < ring->n; v++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    if (hf_point_distance(a, b) > FINE * radius)
      return FALSE;
  }
  return TRUE;
}

/* The only opening of the part that ring @outer bounds; -1: none, or several. */
static gint
only_opening(const HfRegion *region, gint outer)
{
  gint found = -1;
  for (guint r = 0; r < region->rings->len; r++) {
    if (hf_region_ring(region, r)->parent != outer)
      continue;
    if (found >= 0)
      return -1;
    found = (gint)r;
  }
  return found;
}

/* A part between two circles about one point: every look across it sees the other circle, within
 * 3 degrees of the way to the centre, its chord turned by 9 at most. */
static gboolean
is_plain_ring(const HfRegion *region, guint ring, HfStripWish wish)
{
  guint outer = hf_region_root(region, ring);
  gint opening = only_opening(region, (gint)outer);
  if (opening < 0)
    return FALSE;
  const HfRing *out = hf_region_ring(region, outer), *in = hf_region_ring(region, (guint)opening);
  HfBox box = hf_ring_box(out);
  HfPoint centre = hf_point_mix(box.min, box.max, 0.5);
  double r_out = radius_about(out, centre), r_in = radius_about(in, centre), width = r_out - r_in;
  return width > 0 && CHORD + SLANTED * width < wish.widest && r_in > r_out / 2 &&
         wish.fine < STEP * r_in && is_fine(out, r_out) && is_fine(in, r_in);
}

/* The wide stride: rows of looks that all see a strip are measured. A row may run over the place
 * where the walk begins, so it goes round from a place that sees none. */
static void
search_ring(Search *search, guint ring)
{
  Walk walk;
  Look one;
  walk_begin(&walk, search->region, ring);
  G_GNUC_UNUSED g_autofree double *upto = walk.upto; /* is freed at the end */
  double whole = walk_length(&walk);
  if (whole < search->wish.shortest)
    return;
  guint n = (guint)ceil(whole / search->stride), start = n;
  double stride = whole / n;
  g_autofree gboolean *sees = g_new(gboolean, n);
  for (guint i = 0; i < n; i++) {
    sees[i] = look_across(search, &walk, i * stride, &one);
    start = sees[i] ? start : i;
  }
  if (start == n && !is_plain_ring(search->region, ring, search->wish))
    measure_round(search, &walk);
  guint row = 0;
  for (guint i = start; start < n && i <= start + n; i++) {
    if (sees[i % n]) {
      row++;
      continue;
    }
    if (row + 2 >= STRIDES)
      measure(search, &walk, (i - row - 1.0) * stride, i * stride);
    row = 0;
  }
}

GArray *
hf_strips_find(const HfRegion *region, HfIndex *index, HfStripWish wish, const HfCancel *cancel,
               GError **error)
{
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(HfStrip));
  Search search = {region, index, ids, wish, wish.shortest / STRIDES, found};
  for (guint i = 0; i < region->rings->len; i++) {
    if (!hf_cancel_check(cancel, error))
      return NULL;
    search_ring(&search, i);
  }
  return g_steal_pointer(&found);
}

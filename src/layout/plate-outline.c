/* SPDX-License-Identifier: GPL-3.0-or-later
 * plate-outline.c - a plate that is the outline of what stands on it, grown by a distance.
 *
 *    H O P E   -- union, grow, keep the outer rings -->   (the same, 15 mm larger, filled)
 *
 * Growing works on chords, so the result is led back to true curves: from each vertex on, the
 * longest run that one arc or one line follows within 2 um (three points make the circle, all
 * others are held against it). docs/maths.md#outline-plate
 */
#include "base/text.h"
#include "geom/region.h"
#include "layout/group-private.h"

#define FOLLOW 0.002      /* mm */
#define CORNER (G_PI / 6) /* a turn by more is a corner */
#define FLAT   20000.0    /* mm: a circle larger than this is a line */

typedef struct {
  HfPoint *at; /* n + 1: the first again at the end */
  guint n;
} Run;

static gboolean
circle_through(HfPoint a, HfPoint b, HfPoint c, HfPoint *ret_centre, double *ret_radius)
{
  HfPoint u = hf_point_sub(b, a), v = hf_point_sub(c, a);
  double cross = 2 * hf_point_cross(u, v);
  if (cross == 0)
    return FALSE;
  double uu = hf_point_dot(u, u), vv = hf_point_dot(v, v);
  HfPoint off = {(v.y * uu - u.y * vv) / cross, (u.x * vv - v.x * uu) / cross};
  *ret_radius = hf_point_length(off);
  *ret_centre = hf_point_add(a, off);
  return *ret_radius < FLAT;
}

/* Signed angle from a to b about the centre, the short way. */
static double
sweep_between(HfPoint centre, HfPoint a, HfPoint b)
{
  HfPoint u = hf_point_sub(a, centre), v = hf_point_sub(b, centre);
  return atan2(hf_point_cross(u, v), hf_point_dot(u, v));
}

static gboolean
follows_line(const Run *run, guint from, guint to)
{
  HfPoint a = run->at[from], along = hf_point_sub(run->at[to], a);
  double length = hf_point_length(along);
  for (guint i = from + 1; i < to; i++)
    if (fabs(hf_point_cross(along, hf_point_sub(run->at[i], a))) > FOLLOW * length)
      return FALSE;
  return length > 0;
}

/* All vertices on the circle, all steps the same way round, no step's chord far inside it. */
static gboolean
follows_arc(const Run *run, guint from, guint to, HfPoint *ret_centre, double *ret_sweep)
{
  HfPoint centre;
  double radius, sweep = 0;
  if (!circle_through(run->at[from], run->at[(from + to) / 2], run->at[to], &centre, &radius))
    return FALSE;
  double way = hf_point_cross(hf_point_sub(run->at[from + 1], run->at[from]),
                              hf_point_sub(run->at[to], run->at[from + 1]));
  for (guint i = from; i < to; i++) {
    double step = sweep_between(centre, run->at[i], run->at[i + 1]);
    if (step * way <= 0 || radius * (1 - cos(step / 2)) > 4 * HF_FLATTEN_MM ||
        fabs(hf_point_distance(centre, run->at[i]) - radius) > FOLLOW)
      return FALSE;
    sweep += step;
  }
  *ret_centre = centre;
  *ret_sweep = sweep;
  return fabs(sweep) < 1.9 * G_PI;
}

static gboolean
follows(const Run *run, guint from, guint to)
{
  HfPoint centre;
  double sweep;
  return to == from + 1 || follows_line(run, from, to) ||
         (to > from + 2 && follows_arc(run, from, to, &centre, &sweep));
}

/* Doubles the run while it follows, then halves down to its end. */
static guint
longest_run(const Run *run, guint from)
{
  guint good = from + 1, step = 2;
  /* four vertices make the shortest arc, so three may fail where more succeed */
  while (from + step <= run->n && (follows(run, from, from + step) || step < 4)) {
    if (follows(run, from, from + step))
      good = from + step;
    step *= 2;
  }
  guint bad = MIN(from + step, run->n + 1);
  while (bad > good + 1) {
    guint middle = good + (bad - good) / 2;
    if (follows(run, from, middle))
      good = middle;
    else
      bad = middle;
  }
  return good;
}

/* Where a ring is best begun, so that no curve is cut in two: at its sharpest corner, or where its
 * longest edge begins when it is smooth all round. */
static guint
best_begin(const HfRing *ring)
{
  guint n = ring->n, corner = 0, edge = 0;
  double sharpest = 0, longest = 0;
  for (guint i = 0; i < n; i++) {
    HfPoint here = hf_grid_point(ring->at[i]);
    HfPoint in = hf_point_sub(here, hf_grid_point(ring->at[(i + n - 1) % n]));
    HfPoint out = hf_point_sub(hf_grid_point(ring->at[(i + 1) % n]), here);
    double turn = fabs(atan2(hf_point_cross(in, out), hf_point_dot(in, out)));
    if (turn > sharpest + 1e-9) {
      sharpest = turn;
      corner = i;
    }
    if (hf_point_length(out) > longest + 1e-9) {
      longest = hf_point_length(out);
      edge = i;
    }
  }
  return sharpest > CORNER ? corner : edge;
}

static Run
run_new(const HfRing *ring)
{
  guint n = ring->n, begin = best_begin(ring);
  Run run = {g_new(HfPoint, n + 1), n};
  for (guint i = 0; i <= n; i++)
    run.at[i] = hf_grid_point(ring->at[(begin + i) % n]);
  return run;
}

static void
draw_ring(HfOutline *own, const HfRing *ring)
{
  Run run = run_new(ring);
  hf_outline_begin(own, run.at[0]);
  for (guint i = 0; i < run.n;) {
    guint end = longest_run(&run, i);
    HfPoint centre;
    double sweep;
    if (end > i + 2 && !follows_line(&run, i, end) && follows_arc(&run, i, end, &centre, &sweep))
      hf_outline_arc_to(own, centre, sweep, run.at[end]);
    else
      hf_outline_line_to(own, run.at[end]);
    i = end;
  }
  hf_outline_close(own);
  g_free(run.at);
}

/* What lies round all of it: openings, and what lies in them, fill up as it grows. */
static HfRegion *
without_openings(const HfRegion *region)
{
  HfRegion *outer = hf_region_new();
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    if (ring->parent < 0)
      hf_region_add_ring(outer, ring->at, NULL, ring->n);
  }
  return outer;
}

/* Each shape grows by itself: (A u B) + disc = (A + disc) u (B + disc), and the edges of a letter
 * that cross while it grows meet none of the others'. */
static void
add_grown(const HfLaying *laying, guint entry, double grow, GPtrArray *regions)
{
  g_autoptr(GPtrArray) ink = hf_lay_ink(laying, entry);
  for (guint i = 0; i < ink->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(ink, i);
    g_autoptr(HfRegion) raw = hf_region_new();
    hf_region_flatten(raw, shape->outline, HF_NO_SHAPE, HF_FLATTEN_MM / 2);
    g_autoptr(HfRegion) clean = hf_region_clean(raw);
    g_autoptr(HfRegion) outer = without_openings(clean);
    g_ptr_array_add(regions, hf_region_offset(outer, grow, HF_FLATTEN_MM / 2));
  }
}

static void
region_free(gpointer region)
{
  hf_region_free((HfRegion *)region);
}

/* Metal and openings alike: words that are cut through make the plate round them too. */
static HfRegion *
grown_region(const HfLaying *laying, guint entry, double grow)
{
  g_autoptr(GPtrArray) regions = g_ptr_array_new_with_free_func(region_free);
  for (guint i = 0; i < laying->recipe->entries->len; i++)
    if (hf_lay_is_around(laying->recipe, entry, i) && hf_cancel_check(laying->cancel, NULL))
      add_grown(laying, i, grow, regions);
  if (regions->len == 0 || !hf_cancel_check(laying->cancel, NULL))
    return NULL;
  return hf_region_union((const HfRegion *const *)regions->pdata, regions->len);
}

static void
note_pieces(HfLaying *laying, guint entry, guint pieces)
{
  g_autofree char *label = hf_lay_label(laying, entry, 0);
  g_ptr_array_add(laying->layout->notes,
                  g_strdup_printf("%s comes out in %u pieces: let it grow by more, or add a bar",
                                  label, pieces));
}

gboolean
hf_lay_plate_outline(HfLaying *laying, guint entry, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  if (hf_place_is_said(&e->place))
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "leave its place out, or only shift it",
                         "a plate that follows an outline lies where that outline lies");
  g_autoptr(HfRegion) grown = grown_region(laying, entry, isnan(e->plate.grow) ? 0 : e->plate.grow);
  if (grown == NULL || hf_region_is_empty(grown))
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "name what it goes round, as in 'around: [NAME]'",
                         "nothing stands on this plate, so it has no outline");
  g_autoptr(HfOutline) own = hf_outline_new();
  for (guint i = 0; i < grown->rings->len; i++)
    if (hf_region_ring(grown, i)->parent < 0)
      draw_ring(own, hf_region_ring(grown, i));
  if (hf_outline_n_contours(own) > 1)
    note_pieces(laying, entry, hf_outline_n_contours(own));
  if (!hf_lay_frames(laying, entry, hf_outline_box(own), error))
    return FALSE;
  laying->laid[entry].centre = hf_box_centre(hf_outline_box(own));
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}

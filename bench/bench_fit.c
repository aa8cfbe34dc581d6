/* SPDX-License-Identifier: GPL-3.0-or-later
 * bench_fit.c - pieces of the arc fit against the fewest chords that keep 5 um, and its time.
 *
 * The chords have their ends on the true curves, as every flattening has; each is as long as 5 um
 * allow, over smooth joints of curves too, which makes them the fewest. The whole boundary of the
 * sign counts, rings included; letters alone: tests/oracle/test_outlines.py.
 *
 * usage: bench_fit RECIPE...
 */
#include "base/text.h"
#include "run/run.h"

enum { ROUNDS = 11, FINE = 48 }; /* FINE: points on the true curve for each chord of the region */

static gint
compare_doubles(gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double
fit_ms(const HfSign *sign)
{
  double ms[ROUNDS];
  for (int i = 0; i < ROUNDS; i++) {
    gint64 from = g_get_monotonic_time();
    g_autoptr(HfFit) fit = hf_fit_new(sign->metal, sign->layout, 0.01);
    ms[i] = (double)(g_get_monotonic_time() - from) / 1000;
  }
  qsort(ms, ROUNDS, sizeof ms[0], compare_doubles);
  return ms[ROUNDS / 2];
}

/* ---- the fewest chords --------------------------------------------------------------------- */

/* Does the chord from i to j keep 5 um to the points between? */
static gboolean
chord_holds(const HfPoint *p, guint i, guint j)
{
  HfPoint d = hf_point_sub(p[j], p[i]);
  double most = HF_FLATTEN_MM * hf_point_length(d);
  for (guint k = i + 1; k < j; k++)
    if (fabs(hf_point_cross(d, hf_point_sub(p[k], p[i]))) > most)
      return FALSE;
  return TRUE;
}

/* Farthest first, by doubling and halving. */
static guint
fewest_chords(const GArray *points)
{
  const HfPoint *p = (const HfPoint *)(const void *)points->data;
  guint n = 0, last = points->len - 1;
  for (guint i = 0; i < last; n++) {
    guint good = i + 1, step = 1, bad = last + 1;
    while (good < last && bad > last) {
      guint j = MIN(good + step, last);
      if (chord_holds(p, i, j))
        good = j;
      else
        bad = j;
      step *= 2;
    }
    while (bad <= last && bad > good + 1) {
      guint j = (good + bad) / 2;
      *(chord_holds(p, i, j) ? &good : &bad) = j;
    }
    i = good;
  }
  return n;
}

static const HfCurve *
curve_of(const HfLayout *layout, const HfEdge *edge)
{
  if (edge->shape == HF_NO_SHAPE)
    return NULL;
  return &g_array_index(hf_layout_shape(layout, edge->shape)->outline->curves, HfCurve,
                        edge->curve);
}

static HfPoint
tangent(const HfCurve *curve, double t, gboolean along)
{
  HfPoint d = hf_curve_derivative(curve, CLAMP(t, 1e-4, 1 - 1e-4));
  return along ? d : hf_point_scale(d, -1);
}

static gboolean
is_smooth(const HfLayout *layout, const HfEdge *a, const HfEdge *b)
{
  const HfCurve *p = curve_of(layout, a), *q = curve_of(layout, b);
  if (p == NULL || q == NULL || a->shape != b->shape ||
      hf_point_distance(hf_curve_point(p, a->t1), hf_curve_point(q, b->t0)) > 0.002)
    return FALSE;
  HfPoint u = tangent(p, a->t1, a->t1 > a->t0), v = tangent(q, b->t0, b->t1 > b->t0);
  return fabs(atan2(hf_point_cross(u, v), hf_point_dot(u, v))) <= G_PI / 180;
}

static void
push_edge(GArray *points, const HfLayout *layout, const HfRing *ring, guint i)
{
  const HfEdge *edge = &ring->from[i];
  const HfCurve *curve = curve_of(layout, edge);
  for (guint k = 1; k <= FINE; k++) {
    double part = k / (double)FINE;
    HfPoint p = curve == NULL ? hf_point_mix(hf_grid_point(ring->at[i]),
                                             hf_grid_point(ring->at[(i + 1) % ring->n]), part)
                              : hf_curve_point(curve, edge->t0 + (edge->t1 - edge->t0) * part);
    g_array_append_val(points, p);
  }
}

static guint
ring_chords(const HfLayout *layout, const HfRing *ring)
{
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  guint begin = 0, n = 0;
  while (begin < ring->n &&
         is_smooth(layout, &ring->from[(begin + ring->n - 1) % ring->n], &ring->from[begin]))
    begin++;
  begin %= ring->n;
  for (guint i = 0; i < ring->n; i++) {
    guint edge = (begin + i) % ring->n, before = (edge + ring->n - 1) % ring->n;
    if (i == 0 || !is_smooth(layout, &ring->from[before], &ring->from[edge])) {
      if (points->len > 1)
        n += fewest_chords(points);
      g_array_set_size(points, 0);
      HfPoint start = hf_grid_point(ring->at[edge]);
      g_array_append_val(points, start);
    }
    push_edge(points, layout, ring, edge);
  }
  return n + fewest_chords(points);
}

/* ---- report -------------------------------------------------------------------------------- */

static void
measure(const char *file)
{
  g_autoptr(GError) error = NULL;
  HfRunOptions options = {NULL, NULL, FALSE};
  g_autoptr(HfSign) sign = hf_run_file(file, &options, &error);
  if (sign == NULL) {
    g_printerr("%s: %s\n", file, error->message);
    return;
  }
  guint chords = 0;
  for (guint i = 0; i < sign->metal->region->rings->len; i++)
    chords += ring_chords(sign->layout, hf_region_ring(sign->metal->region, i));
  g_autoptr(HfFit) fit = hf_fit_new(sign->metal, sign->layout, 0.01);
  guint pieces = fit->outline->curves->len;
  g_print("%s\n  region %u edges, fewest chords %u, fit %u lines and arcs: %.3f of the chords "
          "(at most 0.2)\n  fit %.1f ms\n",
          file, hf_region_n_edges(sign->metal->region), chords, pieces, (double)pieces / chords,
          fit_ms(sign));
}

int
main(int argc, char **argv)
{
  for (int i = 1; i < argc; i++)
    measure(argv[i]);
  if (argc < 2)
    g_printerr("usage: bench_fit RECIPE...\n");
  return argc > 1 ? 0 : 2;
}

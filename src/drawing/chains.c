/* SPDX-License-Identifier: GPL-3.0-or-later
 * chains.c - what joining gave: its remarks, and loops that are drawn twice.
 *
 * Two loops are the same when their boxes are, and every corner and middle of a curve of the one
 * lies on the other. The search for where it lies begins where the last one was found, so loops
 * with the same corners cost O(curves).
 */
#include "drawing/join-private.h"

void
hf_chain_free(HfChain *chain)
{
  g_array_unref(chain->curves);
  g_free(chain);
}

void
hf_joined_free(HfJoined *joined)
{
  if (joined == NULL)
    return;
  g_ptr_array_unref(joined->loops);
  g_ptr_array_unref(joined->open);
  g_array_unref(joined->remarks);
  g_free(joined);
}

void
hf_join_remark(HfJoined *joined, HfJoinKind kind, HfPoint at, double size, guint source)
{
  HfJoinRemark remark = {kind, at, size, source};
  if (joined->times[kind]++ < HF_JOIN_MOST_REMARKS)
    g_array_append_val(joined->remarks, remark);
}

/* ---- chords ---------------------------------------------------------------------------------- */

/* The corners of @run, flattened to a fifth of @tolerance. */
static GArray *
corners_of(const GArray *run, double tolerance)
{
  GArray *at = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  for (guint i = 0; i < run->len; i++) {
    const HfCurve *curve = &g_array_index(run, HfCurve, i);
    guint n = hf_curve_steps(curve, tolerance / 5);
    for (guint j = 0; j < n; j++) {
      HfPoint p = hf_curve_point(curve, j / (double)n);
      g_array_append_val(at, p);
    }
  }
  return at;
}

static double
distance_to_chord(HfPoint p, HfPoint a, HfPoint b)
{
  HfPoint d = hf_point_sub(b, a);
  double square = hf_point_dot(d, d);
  double t = square > 0 ? CLAMP(hf_point_dot(hf_point_sub(p, a), d) / square, 0, 1) : 0;
  return hf_point_distance(p, hf_point_mix(a, b, t));
}

/* Does @p lie on the ring @at? Looked for from chord *@last on, both ways in turn. */
static gboolean
lies_on(HfPoint p, const GArray *at, double tolerance, guint *last)
{
  guint n = at->len;
  for (guint i = 0; i < n; i++) {
    guint step = (i + 1) / 2, k = (i % 2 == 1 ? *last + step : *last + n - step) % n;
    if (distance_to_chord(p, g_array_index(at, HfPoint, k),
                          g_array_index(at, HfPoint, (k + 1) % n)) <= tolerance) {
      *last = k;
      return TRUE;
    }
  }
  return FALSE;
}

static gboolean
all_on(const GArray *from, const GArray *to, double tolerance)
{
  guint last = 0;
  for (guint i = 0; i < from->len; i++) {
    HfPoint a = g_array_index(from, HfPoint, i);
    HfPoint b = g_array_index(from, HfPoint, (i + 1) % from->len);
    if (!lies_on(a, to, tolerance, &last) ||
        !lies_on(hf_point_mix(a, b, 0.5), to, tolerance, &last))
      return FALSE;
  }
  return TRUE;
}

/* ---- loops twice ----------------------------------------------------------------------------- */

typedef struct {
  HfBox box;
  guint loop;
} Boxed;

static int
by_left_side(gconstpointer a, gconstpointer b)
{
  const Boxed *s = (const Boxed *)a, *t = (const Boxed *)b;
  if (s->box.min.x != t->box.min.x)
    return s->box.min.x < t->box.min.x ? -1 : 1;
  return (s->loop > t->loop) - (s->loop < t->loop);
}

static HfBox
box_of(const GArray *run)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < run->len; i++)
    box = hf_box_union(box, hf_curve_box(&g_array_index(run, HfCurve, i)));
  return box;
}

static gboolean
boxes_alike(HfBox a, HfBox b, double tolerance)
{
  return hf_point_distance(a.min, b.min) <= tolerance &&
         hf_point_distance(a.max, b.max) <= tolerance;
}

static GArray *
loops_in_boxes(const HfJoined *joined)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(Boxed));
  for (guint i = 0; i < joined->loops->len; i++) {
    const HfChain *loop = (const HfChain *)joined->loops->pdata[i];
    Boxed boxed = {box_of(loop->curves), i};
    g_array_append_val(all, boxed);
  }
  g_array_sort(all, by_left_side);
  return all;
}

static gboolean
loops_alike(const HfChain *a, const HfChain *b, double tolerance)
{
  g_autoptr(GArray) p = corners_of(a->curves, tolerance), q = corners_of(b->curves, tolerance);
  return all_on(p, q, tolerance) && all_on(q, p, tolerance);
}

void
hf_join_drop_doubles(HfJoined *joined, double tolerance)
{
  enum { MOST_TRIED = 64 };
  g_autoptr(GArray) all = loops_in_boxes(joined);
  g_autofree gboolean *twice = g_new0(gboolean, joined->loops->len + 1);
  for (guint i = 0; i < all->len; i++) {
    const Boxed *a = &g_array_index(all, Boxed, i);
    for (guint j = i + 1, tried = 0; j < all->len && tried < MOST_TRIED && !twice[a->loop]; j++) {
      const Boxed *b = &g_array_index(all, Boxed, j);
      if (b->box.min.x > a->box.min.x + tolerance)
        break;
      if (twice[b->loop] || !boxes_alike(a->box, b->box, tolerance))
        continue;
      tried++;
      if (loops_alike(joined->loops->pdata[a->loop], joined->loops->pdata[b->loop], tolerance))
        twice[MAX(a->loop, b->loop)] = TRUE;
    }
  }
  for (guint i = joined->loops->len; i > 0; i--) {
    const HfChain *loop = (const HfChain *)joined->loops->pdata[i - 1];
    if (!twice[i - 1])
      continue;
    hf_join_remark(joined, HF_JOIN_DOUBLE, g_array_index(loop->curves, HfCurve, 0).p0, 0,
                   loop->source);
    g_ptr_array_remove_index(joined->loops, i - 1);
  }
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * joint.c - the width of the joint between two letters; see joint-private.h for the picture.
 *
 * At a crossing where B enters A (B's direction turns to the left of A's), the outline of the union
 * goes on along A behind the crossing and along B before it; where B leaves A, along B behind it
 * and A before it. These four strands, two at either end of a mouth, are its banks; the width is
 * the least distance between a strand of the one end and a strand of the other.
 */
#include "geom/index.h"
#include "layout/joint-private.h"

/* B is moved by so little before measuring: edges that lie exactly on each other (feet on one
 * baseline) then cross or don't, instead of being undecided. */
static const HfPoint NUDGE = {1.3e-6, 3.1e-6};

enum { MOST_CROSSINGS = 128, SLICES = 64 };

typedef struct {
  guint a, b;        /* edges: index of their first points */
  double on_a, on_b; /* where on them, 0..1 */
  HfPoint at;
  gboolean enters; /* B enters A here (and A leaves B) */
} Crossing;

/* ---- polygons ------------------------------------------------------------------------------- */

static HfPolygons *
polygons_alloc(void)
{
  HfPolygons *p = g_new0(HfPolygons, 1);
  p->points = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  p->starts = g_array_new(FALSE, FALSE, sizeof(guint));
  p->box = HF_BOX_EMPTY;
  return p;
}

HfPolygons *
hf_polygons_new(const HfOutline *outline, HfMatrix m, double tolerance)
{
  HfPolygons *p = polygons_alloc();
  double scale = sqrt(fabs(m.xx * m.yy - m.xy * m.yx));
  for (guint i = 0; outline != NULL && i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(outline, i, &n);
    g_array_append_val(p->starts, p->points->len);
    for (guint k = 0; k < n; k++) {
      guint steps = hf_curve_steps(&curve[k], tolerance / scale);
      for (guint s = 0; s < steps; s++) {
        HfPoint at = hf_matrix_apply(m, hf_curve_point(&curve[k], (double)s / steps));
        g_array_append_val(p->points, at);
        p->box = hf_box_add_point(p->box, at);
      }
    }
  }
  return p;
}

void
hf_polygons_free(HfPolygons *p)
{
  if (p == NULL)
    return;
  g_array_unref(p->points);
  g_array_unref(p->starts);
  g_free(p);
}

void
hf_polygons_moved(HfPolygons *to, const HfPolygons *from, HfMatrix m)
{
  g_array_set_size(to->points, from->points->len);
  g_array_set_size(to->starts, 0);
  g_array_append_vals(to->starts, from->starts->data, from->starts->len);
  to->box = HF_BOX_EMPTY;
  for (guint i = 0; i < from->points->len; i++) {
    HfPoint at = hf_matrix_apply(m, g_array_index(from->points, HfPoint, i));
    g_array_index(to->points, HfPoint, i) = at;
    to->box = hf_box_add_point(to->box, at);
  }
}

static HfPoint
point_at(const HfPolygons *p, guint i)
{
  return g_array_index(p->points, HfPoint, i);
}

/* First and behind the last point of the contour that point @i is on. */
static void
contour_of(const HfPolygons *p, guint i, guint *first, guint *end)
{
  guint k = 0;
  while (k + 1 < p->starts->len && g_array_index(p->starts, guint, k + 1) <= i)
    k++;
  *first = g_array_index(p->starts, guint, k);
  *end = k + 1 < p->starts->len ? g_array_index(p->starts, guint, k + 1) : p->points->len;
}

static guint
next_point(const HfPolygons *p, guint i)
{
  guint first, end;
  contour_of(p, i, &first, &end);
  return i + 1 < end ? i + 1 : first;
}

static guint
previous_point(const HfPolygons *p, guint i)
{
  guint first, end;
  contour_of(p, i, &first, &end);
  return i > first ? i - 1 : end - 1;
}

/* Edges (by first point) whose boxes meet @box. */
static GArray *
edges_near(const HfPolygons *p, HfBox box)
{
  GArray *edges = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint k = 0; k < p->starts->len; k++) {
    guint first = g_array_index(p->starts, guint, k);
    guint end = k + 1 < p->starts->len ? g_array_index(p->starts, guint, k + 1) : p->points->len;
    for (guint i = first; i < end; i++) {
      HfPoint a = point_at(p, i), b = point_at(p, i + 1 < end ? i + 1 : first);
      if (MIN(a.x, b.x) <= box.max.x && MAX(a.x, b.x) >= box.min.x && MIN(a.y, b.y) <= box.max.y &&
          MAX(a.y, b.y) >= box.min.y)
        g_array_append_val(edges, i);
    }
  }
  return edges;
}

/* ---- crossings ------------------------------------------------------------------------------ */

static gboolean
cross(HfPoint a, HfPoint b, HfPoint c, HfPoint d, double *on_ab, double *on_cd)
{
  HfPoint ab = hf_point_sub(b, a), cd = hf_point_sub(d, c), ac = hf_point_sub(c, a);
  double det = hf_point_cross(ab, cd);
  if (det == 0)
    return FALSE;
  *on_ab = hf_point_cross(ac, cd) / det;
  *on_cd = hf_point_cross(ac, ab) / det;
  return *on_ab >= 0 && *on_ab < 1 && *on_cd >= 0 && *on_cd < 1;
}

/* Edges of B sorted into level slices, so that only edges at one height are compared. */
typedef struct {
  double low, high;
  gint heads[SLICES]; /* first entry; -1: none */
  GArray *entries;    /* Entry */
} Slices;

typedef struct {
  guint edge;
  gint next;
} Entry;

static int
slice_of(const Slices *slices, double y)
{
  double slice = (y - slices->low) / (slices->high - slices->low) * SLICES;
  return (int)CLAMP(slice, 0, SLICES - 1);
}

static void
slices_init(Slices *slices, const HfPolygons *b, const GArray *edges, HfBox both)
{
  slices->low = both.min.y;
  slices->high = MAX(both.max.y, both.min.y + 1e-9);
  slices->entries = g_array_sized_new(FALSE, FALSE, sizeof(Entry), 2 * edges->len);
  for (int i = 0; i < SLICES; i++)
    slices->heads[i] = -1;
  for (guint k = 0; k < edges->len; k++) {
    guint edge = g_array_index(edges, guint, k);
    double y0 = point_at(b, edge).y + NUDGE.y, y1 = point_at(b, next_point(b, edge)).y + NUDGE.y;
    for (int i = slice_of(slices, MIN(y0, y1)); i <= slice_of(slices, MAX(y0, y1)); i++) {
      Entry entry = {edge, slices->heads[i]};
      slices->heads[i] = (gint)slices->entries->len;
      g_array_append_val(slices->entries, entry);
    }
  }
}

/* Crossings of edge @ia with the edges of one slice; each is taken in the slice that it lies in. */
static guint
cross_slice(const HfPolygons *a, guint ia, const HfPolygons *b, const Slices *slices, int slice,
            Crossing *found, guint n)
{
  HfPoint a0 = point_at(a, ia), a1 = point_at(a, next_point(a, ia));
  double min_x = MIN(a0.x, a1.x), max_x = MAX(a0.x, a1.x);
  for (gint e = slices->heads[slice]; e >= 0 && n < MOST_CROSSINGS;) {
    Entry entry = g_array_index(slices->entries, Entry, e);
    e = entry.next;
    HfPoint b0 = hf_point_add(point_at(b, entry.edge), NUDGE);
    HfPoint b1 = hf_point_add(point_at(b, next_point(b, entry.edge)), NUDGE);
    if (MAX(b0.x, b1.x) < min_x || MIN(b0.x, b1.x) > max_x)
      continue;
    Crossing c = {.a = ia, .b = entry.edge};
    if (!cross(a0, a1, b0, b1, &c.on_a, &c.on_b))
      continue;
    c.at = hf_point_mix(a0, a1, c.on_a);
    c.enters = hf_point_cross(hf_point_sub(a1, a0), hf_point_sub(b1, b0)) > 0;
    if (slice_of(slices, c.at.y) == slice)
      found[n++] = c;
  }
  return n;
}

static guint
find_crossings(const HfPolygons *a, const HfPolygons *b, HfBox both, Crossing *found)
{
  g_autoptr(GArray) of_a = edges_near(a, both);
  g_autoptr(GArray) of_b = edges_near(b, both);
  Slices slices;
  slices_init(&slices, b, of_b, both);
  guint n = 0;
  for (guint i = 0; i < of_a->len; i++) {
    guint ia = g_array_index(of_a, guint, i);
    double y0 = point_at(a, ia).y, y1 = point_at(a, next_point(a, ia)).y;
    int last = slice_of(&slices, MAX(y0, y1));
    for (int slice = slice_of(&slices, MIN(y0, y1)); slice <= last; slice++)
      n = cross_slice(a, ia, b, &slices, slice, found, n);
  }
  g_array_unref(slices.entries);
  return n;
}

/* ---- strands -------------------------------------------------------------------------------- */

enum { MOST_STRAND = 96 };

typedef struct {
  HfPoint at[MOST_STRAND];
  guint n;
} Strand;

/* Where on @p's contour crossing @c is, counted in edges; and the edge. */
static double
place_on(const Crossing *c, gboolean on_a)
{
  return on_a ? c->a + c->on_a : c->b + c->on_b;
}

/* Distance in edges from @from along the contour to the next crossing of that contour. */
static double
way_to_next(const HfPolygons *p, const Crossing *all, guint n, const Crossing *from, gboolean on_a,
            gboolean forward, const Crossing **ret_next)
{
  guint first, end;
  contour_of(p, on_a ? from->a : from->b, &first, &end);
  double length = end - first, best = length;
  *ret_next = from;
  for (guint i = 0; i < n; i++) {
    guint edge = on_a ? all[i].a : all[i].b;
    if (&all[i] == from || edge < first || edge >= end)
      continue;
    double way = place_on(&all[i], on_a) - place_on(from, on_a);
    if (!forward)
      way = -way;
    if (way < 0)
      way += length;
    if (way < best) {
      best = way;
      *ret_next = &all[i];
    }
  }
  return best;
}

/* Length of that way in mm, as far as it matters: up to @most. */
static double
length_of(const HfPolygons *p, guint edge, double on, gboolean forward, double way, double most)
{
  double length = 0, left = way;
  HfPoint from = hf_point_mix(point_at(p, edge), point_at(p, next_point(p, edge)), on);
  double step = forward ? 1 - on : on;
  while (left > 0 && length < most) {
    guint to = forward ? next_point(p, edge) : edge;
    HfPoint at = point_at(p, to);
    if (left < step) {
      HfPoint start = point_at(p, edge), end = point_at(p, next_point(p, edge));
      at = forward ? hf_point_mix(start, end, 1 - step + left)
                   : hf_point_mix(end, start, 1 - step + left);
    }
    length += hf_point_distance(from, at);
    left -= step;
    from = at;
    edge = forward ? to : previous_point(p, edge);
    step = 1;
  }
  return length;
}

/* The outline of @p from @c on, at most @most mm. */
static void
follow(const HfPolygons *p, guint edge, HfPoint from, gboolean forward, double most, HfPoint nudge,
       Strand *strand)
{
  strand->n = 0;
  strand->at[strand->n++] = from;
  while (most > 0 && strand->n < MOST_STRAND) {
    guint to = forward ? next_point(p, edge) : edge;
    HfPoint at = hf_point_add(point_at(p, to), nudge);
    double length = hf_point_distance(from, at);
    if (length > most)
      at = hf_point_mix(from, at, most / length);
    if (length > 0)
      strand->at[strand->n++] = at;
    most -= length;
    from = at;
    edge = forward ? to : previous_point(p, edge);
  }
}

/* Strand of @p at crossing @c; it ends before the next crossing, and where its contour comes back
 * to the mouth it is kept from meeting itself. */
static void
bank(const HfPolygons *p, const Crossing *all, guint n, const Crossing *c, gboolean on_a,
     gboolean forward, double reach, Strand *strand)
{
  const Crossing *next;
  double way = way_to_next(p, all, n, c, on_a, forward, &next);
  double length =
      length_of(p, on_a ? c->a : c->b, on_a ? c->on_a : c->on_b, forward, way, 3 * reach);
  HfPoint nudge = on_a ? hf_point(0, 0) : NUDGE;
  follow(p, on_a ? c->a : c->b, c->at, forward, MIN(reach, length / 3), nudge, strand);
}

static void
narrowest(const Strand *p, const Strand *q, double *best, HfPoint *at)
{
  for (guint i = 0; i < MAX(p->n, 2) - 1; i++)
    for (guint k = 0; k < MAX(q->n, 2) - 1; k++) {
      HfPoint on_p, on_q;
      double far = hf_point_distance(p->at[i], q->at[k]);
      if (far > *best + hf_point_distance(p->at[i], p->at[MIN(i + 1, p->n - 1)]) +
                    hf_point_distance(q->at[k], q->at[MIN(k + 1, q->n - 1)]))
        continue;
      double gap = hf_segment_gap(p->at[i], p->at[MIN(i + 1, p->n - 1)], q->at[k],
                                  q->at[MIN(k + 1, q->n - 1)], &on_p, &on_q);
      if (gap < *best) {
        *best = gap;
        *at = hf_point_mix(on_p, on_q, 0.5);
      }
    }
}

/* The mouth from @in, where B enters A, to @out, where it leaves. */
static double
mouth_width(const HfPolygons *a, const HfPolygons *b, const Crossing *all, guint n,
            const Crossing *in, const Crossing *out, double reach, HfPoint *at)
{
  Strand in_a, in_b, out_a, out_b;
  bank(a, all, n, in, TRUE, TRUE, reach, &in_a);
  bank(b, all, n, in, FALSE, FALSE, reach, &in_b);
  bank(a, all, n, out, TRUE, FALSE, reach, &out_a);
  bank(b, all, n, out, FALSE, TRUE, reach, &out_b);
  double best = hf_point_distance(in->at, out->at);
  *at = hf_point_mix(in->at, out->at, 0.5);
  narrowest(&in_a, &out_a, &best, at);
  narrowest(&in_a, &out_b, &best, at);
  narrowest(&in_b, &out_a, &best, at);
  narrowest(&in_b, &out_b, &best, at);
  return best;
}

/* A lobe: one connected piece of the overlap, with the widest mouth on either side. */
typedef struct {
  double by_b, by_a; /* through B's edge to the rest of A; through A's edge to the rest of B */
  HfPoint at_b, at_a;
} Lobe;

/* Gives crossings of one piece of the overlap one number. */
static void
unite(guint *lobe_of, guint n, guint i, guint k)
{
  guint from = lobe_of[k], to = lobe_of[i];
  for (guint j = 0; j < n; j++)
    if (lobe_of[j] == from)
      lobe_of[j] = to;
}

static void
widen_lobe(double *widest, HfPoint *at, double width, HfPoint here)
{
  if (width > *widest) {
    *widest = width;
    *at = here;
  }
}

static double
widest_lobe(const Lobe *lobes, guint n, HfPoint *ret_at)
{
  double widest = 0;
  for (guint i = 0; i < n; i++) {
    double width = MIN(lobes[i].by_a, lobes[i].by_b);
    if (width <= widest)
      continue;
    widest = width;
    if (ret_at != NULL)
      *ret_at = lobes[i].by_a < lobes[i].by_b ? lobes[i].at_a : lobes[i].at_b;
  }
  return widest;
}

static double
width_of_crossings(const HfPolygons *a, const HfPolygons *b, const Crossing *all, guint n,
                   double reach, HfPoint *ret_at)
{
  guint lobe_of[MOST_CROSSINGS];
  const Crossing *by_b[MOST_CROSSINGS], *by_a[MOST_CROSSINGS];
  for (guint i = 0; i < n; i++)
    lobe_of[i] = i;
  for (guint i = 0; i < n; i++) {
    if (!all[i].enters)
      continue;
    way_to_next(b, all, n, &all[i], FALSE, TRUE, &by_b[i]); /* B inside A, from here on */
    way_to_next(a, all, n, &all[i], TRUE, FALSE, &by_a[i]); /* A inside B, up to here */
    unite(lobe_of, n, i, (guint)(by_b[i] - all));
    unite(lobe_of, n, i, (guint)(by_a[i] - all));
  }
  Lobe lobes[MOST_CROSSINGS] = {0};
  for (guint i = 0; i < n; i++) {
    if (!all[i].enters)
      continue;
    Lobe *lobe = &lobes[lobe_of[i]];
    HfPoint at;
    double width = mouth_width(a, b, all, n, &all[i], by_b[i], reach, &at);
    widen_lobe(&lobe->by_b, &lobe->at_b, width, at);
    if (by_a[i] != by_b[i])
      width = mouth_width(a, b, all, n, &all[i], by_a[i], reach, &at);
    widen_lobe(&lobe->by_a, &lobe->at_a, width, at);
  }
  return widest_lobe(lobes, n, ret_at);
}

double
hf_joint_width(const HfPolygons *a, const HfPolygons *b, double reach, HfPoint *ret_at)
{
  HfBox both = {{MAX(a->box.min.x, b->box.min.x), MAX(a->box.min.y, b->box.min.y)},
                {MIN(a->box.max.x, b->box.max.x), MIN(a->box.max.y, b->box.max.y)}};
  if (hf_box_is_empty(both))
    return 0;
  Crossing all[MOST_CROSSINGS];
  guint n = find_crossings(a, b, hf_box_grow(both, 1e-5), all);
  return n < 2 ? 0 : width_of_crossings(a, b, all, n, reach, ret_at);
}

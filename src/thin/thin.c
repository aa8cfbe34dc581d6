/* SPDX-License-Identifier: GPL-3.0-or-later
 * thin.c - the axis where it matters: near edges that face each other across a narrow place.
 *
 * A circle of diameter <= w about an axis point of a zone lies within 1.5 w of the facing stretch
 * of an edge (docs/maths.md#near), so the axis of all edges that near is exact there.
 */
#include "thin/thin-private.h"

#define NEAR     1.51
#define SLACK    1e-6  /* mm of radius, over what is asked for: more than rounding */
#define SHARED   1.15  /* of the larger: so many edges, or fewer, are worth one diagram for both */
#define STRAIGHT 0.766 /* cosine of 40 degrees: chords of one curve turn by less */

typedef struct {
  HfPoint p, q;
} Stretch;

/* The stretch of edge @id where it faces another. */
static Stretch
facing_stretch(const HfThin *thin, HfEdgeId id, guint number)
{
  HfPoint a = hf_edge_start(thin->region, id), b = hf_edge_end(thin->region, id);
  return (Stretch){hf_point_mix(a, b, thin->from[number]), hf_point_mix(a, b, thin->to[number])};
}

/* Does edge @id come within @reach of @s? Mostly its start tells. */
static gboolean
is_within(const HfThin *thin, HfEdgeId id, Stretch s, double reach)
{
  HfPoint a = hf_edge_start(thin->region, id);
  return hf_point_distance(s.p, a) <= reach ||
         hf_segment_gap(s.p, s.q, a, hf_edge_end(thin->region, id), NULL, NULL) <= reach;
}

/* Edges that lie within reach of a facing stretch; the index gives more than that. */
static void
mark_near_stretch(HfThin *thin, HfIndex *index, HfEdgeId facing, guint number, GArray *found)
{
  double reach = NEAR * thin->widest;
  Stretch s = facing_stretch(thin, facing, number);
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, s.p), s.q);
  hf_index_query(index, hf_box_grow(box, reach), found);
  for (guint i = 0; i < found->len; i++) {
    HfEdgeId id = g_array_index(found, HfEdgeId, i);
    guint8 *flags = &thin->facing[hf_thin_number(thin, id)];
    if (!(*flags & HF_NEAR) && is_within(thin, id, s, reach))
      *flags |= HF_NEAR;
  }
}

/* The same, asked by an edge that faces none: is there a facing stretch within reach? */
static void
mark_if_near(HfThin *thin, HfIndex *index, HfEdgeId id, guint number, GArray *found)
{
  double reach = NEAR * thin->widest;
  HfPoint a = hf_edge_start(thin->region, id), b = hf_edge_end(thin->region, id);
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
  hf_index_query(index, hf_box_grow(box, reach), found);
  for (guint i = 0; i < found->len; i++) {
    HfEdgeId other = g_array_index(found, HfEdgeId, i);
    guint at = hf_thin_number(thin, other);
    if ((thin->facing[at] & HF_FACING) &&
        is_within(thin, id, facing_stretch(thin, other, at), reach)) {
      thin->facing[number] |= HF_NEAR;
      return;
    }
  }
}

/* A facing edge is near itself. Of the others each asks, or is asked: whichever are fewer. */
static gboolean
others_ask(HfThin *thin)
{
  guint n = hf_region_n_edges(thin->region), facing = 0;
  for (guint e = 0; e < n; e++)
    facing += thin->facing[e] & HF_FACING ? 1 : 0;
  for (guint e = 0; e < n; e++)
    thin->facing[e] |= thin->facing[e] & HF_FACING ? HF_NEAR : 0;
  return facing > n - facing;
}

static void
mark_near(HfThin *thin, HfIndex *index, const HfCancel *cancel)
{
  g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  gboolean ask = others_ask(thin);
  for (guint r = 0; r < thin->region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(thin->region, r)->n; v++) {
      HfEdgeId id = {r, v};
      guint number = hf_thin_number(thin, id);
      gboolean faces = thin->facing[number] & HF_FACING;
      if (faces == ask)
        continue;
      if (number % HF_LOOK_EVERY == 0 && !hf_cancel_check(cancel, NULL))
        return;
      if (ask)
        mark_if_near(thin, index, id, number, found);
      else
        mark_near_stretch(thin, index, id, number, found);
    }
}

static void
collect_near(HfThin *thin)
{
  for (guint r = 0; r < thin->region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(thin->region, r)->n; v++) {
      HfEdgeId id = {r, v};
      if (thin->facing[hf_thin_number(thin, id)] & HF_NEAR)
        g_array_append_val(thin->near, id);
    }
}

/* Two chords of one smooth curve: the axis between them ends at their joint and says nothing. */
static gboolean
is_twig(const HfThin *thin, const HfAxisEdge *edge)
{
  HfEdgeId a = edge->site_a, b = edge->site_b;
  const HfRing *ring = hf_region_ring(thin->region, a.ring);
  if (a.ring != b.ring)
    return FALSE;
  if ((a.vertex + 1) % ring->n != b.vertex) {
    if ((b.vertex + 1) % ring->n != a.vertex)
      return FALSE;
    a = edge->site_b;
    b = edge->site_a;
  }
  HfPoint along = hf_point_sub(hf_edge_end(thin->region, a), hf_edge_start(thin->region, a));
  HfPoint next = hf_point_sub(hf_edge_end(thin->region, b), hf_edge_start(thin->region, b));
  double lengths = hf_point_length(along) * hf_point_length(next);
  return hf_point_cross(along, next) > 0 && hf_point_dot(along, next) > STRAIGHT * lengths;
}

/* The largest rise of the radius over the least before it, from the first point or from the last.
 */
static double
rise_of(const HfAxisPoint *p, guint n, gboolean from_first)
{
  double least = INFINITY, rise = 0;
  for (guint i = 0; i < n; i++) {
    double r = p[from_first ? i : n - 1 - i].radius;
    least = fmin(least, r);
    rise = fmax(rise, r - least);
  }
  return rise;
}

static HfEdgeFacts
facts_of(const HfAxis *axis, const HfAxisEdge *edge)
{
  const HfAxisPoint *p = &g_array_index(axis->points, HfAxisPoint, edge->first);
  double a = g_array_index(axis->nodes, HfAxisNode, edge->node_a).radius;
  double b = g_array_index(axis->nodes, HfAxisNode, edge->node_b).radius;
  HfEdgeFacts facts = {fmin(a, b), fmax(a, b), INFINITY, 0, {0, 0}, 0};
  for (guint i = 0; i < edge->n; i++) {
    facts.low = fmin(facts.low, p[i].radius);
    facts.high = fmax(facts.high, p[i].radius);
    if (i > 0)
      facts.length += hf_point_distance(p[i - 1].at, p[i].at);
    if (i > 0 && i + 1 < edge->n) {
      facts.least = fmin(facts.least, p[i].radius);
      facts.most = fmax(facts.most, p[i].radius);
    }
  }
  facts.rise[0] = rise_of(p, edge->n, TRUE);
  facts.rise[1] = rise_of(p, edge->n, FALSE);
  return facts;
}

static void
know_edges(HfThin *thin)
{
  thin->facts = g_new(HfEdgeFacts, thin->axis->edges->len + 1);
  thin->least = g_new(double, thin->axis->edges->len + 1);
  for (guint e = 0; e < thin->axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(thin->axis->edges, HfAxisEdge, e);
    thin->facts[e] = facts_of(thin->axis, edge);
    thin->least[e] = is_twig(thin, edge) ? INFINITY : thin->facts[e].least;
  }
}

static HfThin *
thin_new(const HfRegion *region, double widest)
{
  HfThin *thin = g_new0(HfThin, 1);
  thin->region = region;
  thin->widest = widest;
  thin->first = g_new0(guint, region->rings->len + 1);
  for (guint r = 0; r < region->rings->len; r++)
    thin->first[r + 1] = thin->first[r] + hf_region_ring(region, r)->n;
  thin->facing = g_new0(guint8, hf_region_n_edges(region) + 1);
  guint n = hf_region_n_edges(region);
  thin->from = g_new0(double, n + 1);
  thin->to = g_new0(double, n + 1);
  thin->live_from = g_new0(double, n + 1);
  thin->live_to = g_new0(double, n + 1);
  for (guint e = 0; e < n; e++)
    thin->live_to[e] = 1;
  thin->near = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  return thin;
}

HfThin *
hf_thin_begin(const HfRegion *region, HfIndex *index, double widest, gboolean tapers,
              const HfCancel *cancel)
{
  HfThin *thin = thin_new(region, widest);
  thin->cancel = cancel;
  hf_thin_close_pockets(thin, index, tapers, cancel);
  hf_thin_mark_facing(thin, index, cancel);
  mark_near(thin, index, cancel);
  collect_near(thin);
  return thin;
}

/* @diagram: of the region of @thin, or (@turned) of the one that it was turned round from. */
static void
take_axis(HfThin *thin, const HfDiagram *diagram, gboolean turned)
{
  thin->axis = hf_axis_of(diagram, &(HfAxisOf){.region = thin->region,
                                               .turned = turned,
                                               .most = thin->widest / 2 + SLACK,
                                               .flags = thin->facing,
                                               .flag = HF_NEAR,
                                               .first = thin->first});
  know_edges(thin);
}

void
hf_thin_finish(HfThin *thin)
{
  g_autoptr(HfDiagram) diagram = hf_diagram_new(thin->region, thin->near, thin->cancel);
  take_axis(thin, diagram, FALSE);
}

HfThin *
hf_thin_new(const HfRegion *region, HfIndex *index, double widest, gboolean tapers,
            const HfCancel *cancel)
{
  HfThin *thin = hf_thin_begin(region, index, widest, tapers, cancel);
  hf_thin_finish(thin);
  return thin;
}

/* ---- both sides of one boundary -------------------------------------------------------------- */

/* The edges that take part on either side, of the metal. */
static GArray *
near_either(const HfThin *metal, const HfThin *beyond)
{
  GArray *near = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < metal->region->rings->len; r++) {
    guint n = hf_region_ring(metal->region, r)->n, first = metal->first[r];
    for (guint v = 0; v < n; v++) {
      HfEdgeId id = {r, v};
      if ((metal->facing[first + v] | beyond->facing[first + (2 * n - 2 - v) % n]) & HF_NEAR)
        g_array_append_val(near, id);
    }
  }
  return near;
}

static gpointer
finish_beyond(gpointer data)
{
  HfThin *beyond = data;
  if (beyond->diagram == NULL)
    hf_thin_finish(beyond);
  else
    take_axis(beyond, beyond->diagram, TRUE);
  g_clear_pointer(&beyond->diagram, hf_diagram_free);
  return NULL;
}

HfBeside
hf_thin_finish_both(HfThin *metal, HfThin *beyond)
{
  g_autoptr(GArray) near = near_either(metal, beyond);
  if (near->len > SHARED * MAX(metal->near->len, beyond->near->len)) {
    HfBeside other = hf_beside("gaps", finish_beyond, beyond);
    hf_thin_finish(metal);
    return other;
  }
  HfDiagram *diagram = hf_diagram_new(metal->region, near, metal->cancel);
  beyond->diagram = diagram;
  take_axis(metal, diagram, FALSE);
  return hf_beside("gaps", finish_beyond, beyond);
}

HfThin *
hf_thin_new_full(const HfRegion *region, HfIndex *index G_GNUC_UNUSED, double widest)
{
  HfThin *thin = thin_new(region, widest);
  for (guint e = 0; e < hf_region_n_edges(region); e++) {
    thin->facing[e] = HF_FACING | HF_NEAR;
    thin->to[e] = 1;
  }
  collect_near(thin);
  thin->axis = hf_axis_new(region, thin->near, NULL);
  know_edges(thin);
  return thin;
}

const HfAxis *
hf_thin_axis(const HfThin *thin)
{
  return thin->axis;
}

guint
hf_thin_sites(const HfThin *thin)
{
  return thin->near->len;
}

void
hf_thin_free(HfThin *thin)
{
  if (thin == NULL)
    return;
  g_free(thin->first);
  g_free(thin->facing);
  g_free(thin->from);
  g_free(thin->to);
  g_free(thin->live_from);
  g_free(thin->live_to);
  g_free(thin->least);
  g_free(thin->facts);
  g_array_unref(thin->near);
  hf_axis_free(thin->axis);
  hf_diagram_free(thin->diagram);
  g_free(thin);
}

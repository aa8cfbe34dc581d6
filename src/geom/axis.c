/* SPDX-License-Identifier: GPL-3.0-or-later
 * axis.c - the part of the Voronoi diagram that lies in the metal, sampled; docs/maths.md#axis.
 *
 * A diagram edge belongs to the axis when, seen from its middle, both nearest sites are met from
 * the metal side: a boundary edge from its left, a boundary vertex within the cone between the
 * normals of its two edges (which only a reflex vertex has on the metal side):
 *
 *      .  cone  .
 *       .      .            Radius and feet are computed from the sites, never from the samples
 *    ____.    .____         beside: they are as exact as the grid is.
 *   metal  \v/  metal
 */
#include "geom/axis.h"
#include "geom/voronoi-private.h"

#define CHORD_MM                                                                                   \
  0.0005 /* largest gap between a curved axis edge and its samples: radii as well                  \
          */
#define MAX_STEPS 2048

/* One site in mm: the edge a-b, or the vertex a whose edges run along `before` and `behind`. */
typedef struct {
  gboolean vertex;
  HfEdgeId id; /* the edge, or the edge that begins at the vertex */
  HfPoint a, b;
  HfPoint before, behind;
} Site;

typedef struct {
  const HfRegion *region;
  HfEdgeId *ids; /* of each segment */
  guint n;       /* from there on the frame */
  HfVoronoi *voronoi;
  HfAxis *axis;
  guint *node_of; /* of each Voronoi vertex, plus one */
} Builder;

static Site
site_new(const Builder *b, HfSite from)
{
  HfEdgeId id = b->ids[from.segment];
  const HfRing *ring = hf_region_ring(b->region, id.ring);
  Site site = {.vertex = from.kind != HF_SITE_SEGMENT, .id = id};
  if (from.kind == HF_SITE_END)
    site.id.vertex = (id.vertex + 1) % ring->n;
  site.a = hf_edge_start(b->region, site.id);
  site.b = hf_edge_end(b->region, site.id);
  if (site.vertex) {
    HfPoint last = hf_grid_point(ring->at[(site.id.vertex + ring->n - 1) % ring->n]);
    site.before = hf_point_sub(site.a, last);
    site.behind = hf_point_sub(site.b, site.a);
  }
  return site;
}

/* Is p seen from the metal side of the site? */
static gboolean
site_faces(const Site *site, HfPoint p)
{
  HfPoint d = hf_point_sub(p, site->a);
  if (!site->vertex)
    return hf_point_cross(hf_point_sub(site->b, site->a), d) > 0;
  double slack = 1e-9 * hf_point_length(d);
  return hf_point_cross(site->before, site->behind) < 0 &&
         hf_point_dot(d, site->before) >= -slack * hf_point_length(site->before) &&
         hf_point_dot(d, site->behind) <= slack * hf_point_length(site->behind);
}

/* Where the circle about p touches the site. A site edge reaches as far as the diagram says. */
static HfPoint
site_foot(const Site *site, HfPoint p)
{
  return site->vertex ? site->a : hf_segment_nearest(site->a, site->b, p, NULL);
}

/* The parabola between a vertex and an edge, in the frame of the edge: u along, v to the left. */
typedef struct {
  HfPoint origin, along, across; /* unit vectors */
  double focus_u, focus_v;
} Parabola;

static Parabola
parabola_new(const Site *vertex, const Site *edge)
{
  HfPoint along = hf_point_sub(edge->b, edge->a);
  along = hf_point_scale(along, 1 / hf_point_length(along));
  HfPoint across = {-along.y, along.x}, to = hf_point_sub(vertex->a, edge->a);
  return (Parabola){edge->a, along, across, hf_point_dot(to, along), hf_point_dot(to, across)};
}

static HfPoint
parabola_at(const Parabola *p, double u)
{
  double v = (u - p->focus_u) * (u - p->focus_u) / (2 * p->focus_v) + p->focus_v / 2;
  return hf_point_add(p->origin,
                      hf_point_add(hf_point_scale(p->along, u), hf_point_scale(p->across, v)));
}

static void
add_point(Builder *b, const Site *left, const Site *right, HfPoint at)
{
  HfAxisPoint point = {at, 0, site_foot(left, at), site_foot(right, at)};
  point.radius = hf_point_distance(at, left->vertex ? point.foot_a : point.foot_b);
  if (!left->vertex && !right->vertex)
    point.radius = (hf_point_distance(at, point.foot_a) + point.radius) / 2;
  g_array_append_val(b->axis->points, point);
}

typedef HfPoint (*CurveAt)(const void *curve, double u);

/* How far a step may go at the distance u from the narrowest place: a curve bent by 1 / h there,
 * and less farther out, leaves a chord of step d by d^2 / (8 h sqrt(1 + (u / h)^2)) at most. */
static double
step_at(double u, double h)
{
  return sqrt(8 * h * CHORD_MM) * sqrt(sqrt(1 + (u / h) * (u / h)));
}

/* Samples after u0 up to u1, both on one side of the narrowest place; in whichever order, steps
 * are laid out from the end that is nearer to it, so that a long edge is coarse far out only. */
static void
sample_side(Builder *b, const Site *left, const Site *right, double u0, double u1, double narrowest,
            double h, CurveAt at, const void *curve)
{
  double stops[MAX_STEPS];
  gboolean outward = fabs(u0 - narrowest) <= fabs(u1 - narrowest);
  double from = outward ? u0 : u1, to = outward ? u1 : u0, way = to > from ? 1 : -1;
  int n = 0;
  for (double u = from; (to - u) * way > 0 && n < MAX_STEPS; n++) {
    stops[n] = u;
    u += way * step_at(u - narrowest, h);
  }
  for (int i = 1; outward && i < n; i++)
    add_point(b, left, right, at(curve, stops[i]));
  for (int i = n - 1; !outward && i > 0; i--)
    add_point(b, left, right, at(curve, stops[i]));
  add_point(b, left, right, at(curve, u1));
}

/* Samples on a curve given by a parameter; the narrowest place is one of them. */
static void
sample(Builder *b, const Site *left, const Site *right, double u0, double u1, double narrowest,
       double h, CurveAt at, const void *curve)
{
  add_point(b, left, right, at(curve, u0));
  if ((narrowest - u0) * (narrowest - u1) < 0) {
    sample_side(b, left, right, u0, narrowest, narrowest, h, at, curve);
    u0 = narrowest;
  }
  sample_side(b, left, right, u0, u1, narrowest, h, at, curve);
}

static HfPoint
curve_parabola(const void *curve, double u)
{
  return parabola_at(curve, u);
}

/* A straight line from its first point along a unit vector. */
typedef struct {
  HfPoint from, along;
} Line;

static HfPoint
curve_line(const void *curve, double u)
{
  const Line *line = curve;
  return hf_point_add(line->from, hf_point_scale(line->along, u));
}

static void
sample_vertex_edge(Builder *b, const Site *left, const Site *right, HfPoint p0, HfPoint p1)
{
  const Site *edge = left->vertex ? right : left;
  Parabola parabola = parabola_new(left->vertex ? left : right, edge);
  double u0 = hf_point_dot(hf_point_sub(p0, edge->a), parabola.along);
  double u1 = hf_point_dot(hf_point_sub(p1, edge->a), parabola.along);
  if (parabola.focus_v < 1e-10) { /* a vertex on the edge itself: no room for a curve */
    add_point(b, left, right, p0);
    add_point(b, left, right, p1);
    return;
  }
  sample(b, left, right, u0, u1, parabola.focus_u, parabola.focus_v, curve_parabola, &parabola);
}

static void
sample_vertices(Builder *b, const Site *left, const Site *right, HfPoint p0, HfPoint p1)
{
  double length = hf_point_distance(p0, p1);
  Line line = {p0, hf_point_scale(hf_point_sub(p1, p0), 1 / fmax(length, 1e-12))};
  HfPoint middle = hf_point_mix(left->a, right->a, 0.5);
  double narrowest = hf_point_dot(hf_point_sub(middle, p0), line.along);
  double h = fmax(hf_point_distance(left->a, right->a) / 2, 1e-10);
  sample(b, left, right, 0, length, narrowest, h, curve_line, &line);
}

static void
sample_edges(Builder *b, const Site *left, const Site *right, HfPoint p0, HfPoint p1)
{
  add_point(b, left, right, p0);
  add_point(b, left, right, p1);
}

static HfPoint
vertex_mm(const Builder *b, guint v)
{
  HfVoronoiVertex vertex = g_array_index(b->voronoi->vertices, HfVoronoiVertex, v);
  return (HfPoint){vertex.x / HF_GRID_PER_MM, vertex.y / HF_GRID_PER_MM};
}

static guint
node_at(Builder *b, guint v, double radius)
{
  if (b->node_of[v] == 0) {
    HfAxisNode node = {vertex_mm(b, v), radius, 0};
    g_array_append_val(b->axis->nodes, node);
    b->node_of[v] = b->axis->nodes->len;
  }
  g_array_index(b->axis->nodes, HfAxisNode, b->node_of[v] - 1).degree++;
  return b->node_of[v] - 1;
}

static HfPoint
middle_of(const Site *left, const Site *right, HfPoint p0, HfPoint p1)
{
  if (left->vertex == right->vertex)
    return hf_point_mix(p0, p1, 0.5);
  const Site *edge = left->vertex ? right : left;
  Parabola parabola = parabola_new(left->vertex ? left : right, edge);
  if (fabs(parabola.focus_v) < 1e-10)
    return hf_point_mix(p0, p1, 0.5);
  HfPoint middle = hf_point_sub(hf_point_mix(p0, p1, 0.5), edge->a);
  return parabola_at(&parabola, hf_point_dot(middle, parabola.along));
}

static void
add_edge(Builder *b, const HfVoronoiEdge *from)
{
  if (from->left.segment >= b->n || from->right.segment >= b->n)
    return;
  Site left = site_new(b, from->left), right = site_new(b, from->right);
  HfPoint p0 = vertex_mm(b, from->v0), p1 = vertex_mm(b, from->v1);
  HfPoint middle = middle_of(&left, &right, p0, p1);
  if (!site_faces(&left, middle) || !site_faces(&right, middle))
    return;
  HfAxisEdge edge = {.site_a = left.id, .site_b = right.id, .first = b->axis->points->len};
  if (left.vertex && right.vertex)
    sample_vertices(b, &left, &right, p0, p1);
  else if (left.vertex || right.vertex)
    sample_vertex_edge(b, &left, &right, p0, p1);
  else
    sample_edges(b, &left, &right, p0, p1);
  edge.n = b->axis->points->len - edge.first;
  const HfAxisPoint *points = &g_array_index(b->axis->points, HfAxisPoint, edge.first);
  edge.node_a = node_at(b, from->v0, points[0].radius);
  edge.node_b = node_at(b, from->v1, points[edge.n - 1].radius);
  g_array_append_val(b->axis->edges, edge);
}

/* Four segments far round all others: without them an axis that runs on for ever, as between two
 * corners with nothing beyond, would not be in the diagram. Edges next to them are left out. */
#define N_FRAME 4

static void
put_frame(HfVoronoiSegment *segments, guint n)
{
  gint32 x0 = segments[0].x0, x1 = x0, y0 = segments[0].y0, y1 = y0;
  for (guint i = 0; i < n; i++) {
    x0 = MIN(x0, MIN(segments[i].x0, segments[i].x1));
    x1 = MAX(x1, MAX(segments[i].x0, segments[i].x1));
    y0 = MIN(y0, MIN(segments[i].y0, segments[i].y1));
    y1 = MAX(y1, MAX(segments[i].y0, segments[i].y1));
  }
  gint32 far = MAX(x1 - x0, y1 - y0) + 100 * HF_GRID_PER_MM;
  x0 -= far, y0 -= far, x1 += far, y1 += far;
  segments[n] = (HfVoronoiSegment){x0, y0, x1, y0};
  segments[n + 1] = (HfVoronoiSegment){x1, y0, x1, y1};
  segments[n + 2] = (HfVoronoiSegment){x1, y1, x0, y1};
  segments[n + 3] = (HfVoronoiSegment){x0, y1, x0, y0};
}

static HfVoronoiSegment
segment_of(const HfRegion *region, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(region, id.ring);
  HfGrid a = ring->at[id.vertex], b = ring->at[(id.vertex + 1) % ring->n];
  return (HfVoronoiSegment){a.x, a.y, b.x, b.y};
}

static GArray *
all_edges(const HfRegion *region)
{
  GArray *edges = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      HfEdgeId id = {r, v};
      g_array_append_val(edges, id);
    }
  return edges;
}

static void
make_room(GArray *array, guint n)
{
  g_array_set_size(array, n);
  g_array_set_size(array, 0);
}

HfAxis *
hf_axis_new(const HfRegion *region, const GArray *edges, const HfCancel *cancel)
{
  g_autoptr(GArray) all = edges == NULL ? all_edges(region) : NULL;
  const GArray *from = edges == NULL ? all : edges;
  HfAxis *axis = g_new0(HfAxis, 1);
  axis->nodes = g_array_new(FALSE, FALSE, sizeof(HfAxisNode));
  axis->edges = g_array_new(FALSE, FALSE, sizeof(HfAxisEdge));
  axis->points = g_array_new(FALSE, FALSE, sizeof(HfAxisPoint));
  if (from->len == 0)
    return axis;
  g_autofree HfVoronoiSegment *segments = g_new(HfVoronoiSegment, from->len + N_FRAME);
  for (guint i = 0; i < from->len; i++)
    segments[i] = segment_of(region, g_array_index(from, HfEdgeId, i));
  put_frame(segments, from->len);
  g_autoptr(HfVoronoi) voronoi = hf_voronoi_new(segments, from->len + N_FRAME, cancel);
  make_room(axis->nodes, voronoi->vertices->len / 2);
  make_room(axis->edges, voronoi->edges->len / 2);
  make_room(axis->points, voronoi->edges->len);
  g_autofree guint *node_of = g_new0(guint, voronoi->vertices->len + 1);
  Builder builder = {region, (HfEdgeId *)(void *)from->data, from->len, voronoi, axis, node_of};
  for (guint i = 0; i < voronoi->edges->len; i++)
    add_edge(&builder, &g_array_index(voronoi->edges, HfVoronoiEdge, i));
  return axis;
}

void
hf_axis_free(HfAxis *axis)
{
  if (axis == NULL)
    return;
  g_array_unref(axis->nodes);
  g_array_unref(axis->edges);
  g_array_unref(axis->points);
  g_free(axis);
}

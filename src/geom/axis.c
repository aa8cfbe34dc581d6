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
#include "geom/diagram-private.h"

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
  const HfDiagram *diagram;
  const HfAxisOf *of;
  HfAxis *axis;
  guint *node_of; /* of each Voronoi vertex, plus one */
} Builder;

/* The edge, or the one that begins at the vertex. A ring that is turned round ends its edges where
 * they began. */
static HfEdgeId
site_id(const Builder *b, HfSite from)
{
  HfEdgeId id = b->diagram->ids[from.segment];
  guint n = hf_region_ring(b->of->region, id.ring)->n;
  if (b->of->turned)
    id.vertex = (2 * n - 2 - id.vertex) % n;
  if (from.kind == (b->of->turned ? HF_SITE_START : HF_SITE_END))
    id.vertex = id.vertex + 1 < n ? id.vertex + 1 : 0;
  return id;
}

static Site
site_new(const Builder *b, HfSite from)
{
  const HfRegion *region = b->of->region;
  Site site = {.vertex = from.kind != HF_SITE_SEGMENT, .id = site_id(b, from)};
  const HfRing *ring = hf_region_ring(region, site.id.ring);
  site.a = hf_edge_start(region, site.id);
  site.b = hf_edge_end(region, site.id);
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

/* An axis edge by a parameter: u mm beside its narrowest place. */
typedef struct {
  HfPoint (*at)(const void *curve, double u);
  const void *curve;
  double narrowest; /* u there */
  double h;         /* 1 / its bend there */
  double reach;     /* mm of u from there to where its radius is HfAxisOf.most; 0: it is more */
} Course;

/* How far a step may go at the distance u from the narrowest place: a curve bent by 1 / h there,
 * and less farther out, leaves a chord of step d by d^2 / (8 h sqrt(1 + (u / h)^2)) at most. */
static double
step_at(double u, double h)
{
  return sqrt(8 * h * CHORD_MM) * sqrt(sqrt(1 + (u / h) * (u / h)));
}

/* Samples after u0 up to u1, both on one side of the narrowest place; in whichever order, steps
 * are laid out from the end that is nearer to it, so that a long edge is coarse far out only: from
 * @reach on, where nobody looks, a single step. */
static void
sample_side(Builder *b, const Site *left, const Site *right, double u0, double u1,
            const Course *course)
{
  double stops[MAX_STEPS], narrowest = course->narrowest;
  gboolean outward = fabs(u0 - narrowest) <= fabs(u1 - narrowest);
  double from = outward ? u0 : u1, to = outward ? u1 : u0, way = to > from ? 1 : -1;
  int n = 0;
  for (double u = from; (to - u) * way > 0 && n < MAX_STEPS;) {
    stops[n++] = u;
    if (fabs(u - narrowest) > course->reach)
      break;
    u += way * step_at(u - narrowest, course->h);
  }
  for (int i = 1; outward && i < n; i++)
    add_point(b, left, right, course->at(course->curve, stops[i]));
  for (int i = n - 1; !outward && i > 0; i--)
    add_point(b, left, right, course->at(course->curve, stops[i]));
  add_point(b, left, right, course->at(course->curve, u1));
}

/* Samples on a curve given by a parameter; the narrowest place is one of them. */
static void
sample(Builder *b, const Site *left, const Site *right, double u0, double u1, const Course *course)
{
  double narrowest = course->narrowest;
  add_point(b, left, right, course->at(course->curve, u0));
  if ((narrowest - u0) * (narrowest - u1) < 0) {
    sample_side(b, left, right, u0, narrowest, course);
    u0 = narrowest;
  }
  sample_side(b, left, right, u0, u1, course);
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
  double h = parabola.focus_v, square = 2 * h * (b->of->most - h / 2); /* r = u^2 / 2 h + h / 2 */
  Course course = {curve_parabola, &parabola, parabola.focus_u, h, sqrt(fmax(square, 0))};
  sample(b, left, right, u0, u1, &course);
}

static void
sample_vertices(Builder *b, const Site *left, const Site *right, HfPoint p0, HfPoint p1)
{
  double length = hf_point_distance(p0, p1);
  Line line = {p0, hf_point_scale(hf_point_sub(p1, p0), 1 / fmax(length, 1e-12))};
  HfPoint middle = hf_point_mix(left->a, right->a, 0.5);
  double narrowest = hf_point_dot(hf_point_sub(middle, p0), line.along);
  double h = fmax(hf_point_distance(left->a, right->a) / 2, 1e-10);
  double square = b->of->most * b->of->most - h * h; /* r^2 = u^2 + h^2 */
  Course course = {curve_line, &line, narrowest, h, sqrt(fmax(square, 0))};
  sample(b, left, right, 0, length, &course);
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
  HfVoronoiVertex vertex = g_array_index(b->diagram->voronoi->vertices, HfVoronoiVertex, v);
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

/* Is the edge whose points begin with @first wider than anyone asks for? Its narrowest place is
 * one of them. */
static gboolean
all_wide(const Builder *b, guint first)
{
  for (guint i = first; i < b->axis->points->len; i++)
    if (!(g_array_index(b->axis->points, HfAxisPoint, i).radius > b->of->most))
      return FALSE;
  return TRUE;
}

/* An edge that takes part, or a vertex of one. */
static gboolean
takes_part(const Builder *b, const Site *site)
{
  const HfAxisOf *of = b->of;
  if (of->flags == NULL)
    return TRUE;
  guint first = of->first[site->id.ring], n = of->first[site->id.ring + 1] - first;
  guint before = site->id.vertex > 0 ? site->id.vertex - 1 : n - 1;
  return (of->flags[first + site->id.vertex] & of->flag) ||
         (site->vertex && (of->flags[first + before] & of->flag));
}

static void
add_edge(Builder *b, const HfVoronoiEdge *from)
{
  if (from->left.segment >= b->diagram->n || from->right.segment >= b->diagram->n)
    return;
  Site left = site_new(b, from->left), right = site_new(b, from->right);
  if (!takes_part(b, &left) || !takes_part(b, &right))
    return;
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
  if (all_wide(b, edge.first)) {
    g_array_set_size(b->axis->points, edge.first);
    return;
  }
  const HfAxisPoint *points = &g_array_index(b->axis->points, HfAxisPoint, edge.first);
  edge.node_a = node_at(b, from->v0, points[0].radius);
  edge.node_b = node_at(b, from->v1, points[edge.n - 1].radius);
  g_array_append_val(b->axis->edges, edge);
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
  g_autoptr(HfDiagram) diagram = hf_diagram_new(region, edges, cancel);
  return hf_axis_of(diagram, &(HfAxisOf){.region = region, .most = INFINITY});
}

HfAxis *
hf_axis_of(const HfDiagram *diagram, const HfAxisOf *of)
{
  HfAxis *axis = g_new0(HfAxis, 1);
  const HfVoronoi *voronoi = diagram->voronoi;
  axis->nodes = g_array_new(FALSE, FALSE, sizeof(HfAxisNode));
  axis->edges = g_array_new(FALSE, FALSE, sizeof(HfAxisEdge));
  axis->points = g_array_new(FALSE, FALSE, sizeof(HfAxisPoint));
  make_room(axis->nodes, voronoi->vertices->len / 2);
  make_room(axis->edges, voronoi->edges->len / 2);
  make_room(axis->points, voronoi->edges->len);
  g_autofree guint *node_of = g_new0(guint, voronoi->vertices->len + 1);
  Builder builder = {diagram, of, axis, node_of};
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

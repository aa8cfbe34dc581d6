/* SPDX-License-Identifier: GPL-3.0-or-later
 * facing.c - finds the boundary edges that may face each other across a narrow place.
 *
 *      n_f |          A circle of diameter < w that touches at p and q, seen 120 degrees or more
 *    ______v__q__ f   apart, has its chord p-q within 30 degrees of either normal. So f reaches
 *      \      /       into the slab over e that opens by 30 degrees to either side, no higher
 *       \    /  30    than w, and the normals point against each other by 120 degrees or more.
 *    ____\__/p___ e   A reflex vertex has a cone of normals: a small one (a joint of chords)
 *         ^ n_e       widens the slabs of its two edges, a large one is a feature of its own.
 *
 * The test may let through too much, never too little; proof in docs/maths.md#facing.
 */
#include "thin/thin-private.h"

#define SMALL_TURN  (10 * G_PI / 180) /* a reflex vertex up to this belongs to its edges */
#define SLACK       1e-3              /* radians: far more than the grid turns an edge */
#define LEAST_APART -0.499            /* cosine of 120 degrees less SLACK */
#define EVER_APART  -0.172            /* no more: of 120 degrees less two small turns and SLACK */
/* cos(120 degrees - turns - SLACK) curves up from no turns to two small ones: it lies between its
 * tangent at none, of slope sin(120 degrees) and more, and its chord, (0.499 - 0.172) / 0.349. */
#define TANGENT_SLOPE 0.866
#define CHORD_SLOPE   0.9375
#define COS_LEAST     -0.49913372474057383 /* of 120 degrees less SLACK */
#define SIN_LEAST     0.86652497068843959
#define USUAL         64   /* pairs for each edge are in the price of the axis */
#define PAIRS         256  /* of the others are held against each other in a unit of work */
#define HEIGHT        1e-9 /* mm: less is the same point, as at a common vertex */

typedef struct {
  HfPoint at, normal, along; /* start; unit vectors */
  double length;
  double from, to; /* live stretch, in shares of the edge; none: from > to */
  double turn;     /* largest small cone at its ends, radians */
  HfPoint turned;  /* its cosine and sine */
  double spread;   /* of the slab over it, to either side, for each mm of height */
  HfPoint cone;    /* its start vertex, when a feature of its own: middle of the cone */
  double half;     /* half the cone, radians; 0: no feature */
  HfPoint sees;    /* cosine and sine of what the cone may face an edge within, turns left out */
  guint before;    /* number of the edge before it on its ring */
} Feature;

/* The normals of all edges in a cell of the index lie within a cone. */
typedef struct {
  HfPoint middle; /* its axis, a unit vector */
  double most;    /* cosine of what a normal that may face one of them is away from it, at most */
} Cone;

typedef struct {
  HfThin *thin;
  HfIndex *index;
  Feature *features;
  HfPoint *normals; /* of each feature: most pairs are settled by them alone */
  Cone *cones;      /* of each cell of the index */
  guint n;
  GArray *found; /* guint: numbers of edges */
  guint64 held;  /* pairs so far */
} Facing;

static void
feature_edge(Feature *f, HfPoint a, HfPoint b, double from, double to)
{
  HfPoint d = hf_point_sub(b, a);
  double length = hf_point_length(d);
  f->along = hf_point_scale(d, 1 / length);
  f->normal = hf_point(-f->along.y, f->along.x);
  f->from = from;
  f->to = to;
  f->at = hf_point_mix(a, b, from);
  f->length = length * (to - from);
}

static gboolean
feature_lives(const Feature *f)
{
  return f->to - f->from > 1e-9;
}

/* The cone of normals at the vertex between two edges; a convex vertex has none. */
static void
feature_vertex(Feature *before, Feature *behind)
{
  double cross = hf_point_cross(before->along, behind->along);
  if (cross >= 0)
    return;
  double turn = atan2(-cross, hf_point_dot(before->along, behind->along));
  if (turn <= SMALL_TURN) {
    before->turn = fmax(before->turn, turn);
    behind->turn = fmax(behind->turn, turn);
    return;
  }
  if (behind->from > 0 || behind->to < 0) /* in a pocket */
    return;
  double middle = hf_angle_of(before->normal) - turn / 2;
  behind->cone = hf_point(cos(middle), sin(middle));
  behind->half = turn / 2;
  double most = G_PI / 3 + behind->half + SLACK; /* < 151 degrees */
  behind->sees = hf_point(cos(most), sin(most));
}

static void
feature_finish(Feature *f)
{
  f->spread = tan(G_PI / 6 + f->turn + SLACK);
  f->turned = f->turn == 0 ? hf_point(1, 0) : hf_point(cos(f->turn), sin(f->turn));
}

static void
features_new(Facing *facing)
{
  const HfRegion *region = facing->thin->region;
  facing->features = g_new0(Feature, facing->n + 1);
  facing->normals = g_new(HfPoint, facing->n + 1);
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    Feature *f = facing->features + facing->thin->first[r];
    const double *from = facing->thin->live_from + facing->thin->first[r];
    const double *to = facing->thin->live_to + facing->thin->first[r];
    for (guint v = 0; v < ring->n; v++)
      feature_edge(&f[v], hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]),
                   from[v], to[v]);
    for (guint v = 0; v < ring->n; v++)
      feature_vertex(&f[(v + ring->n - 1) % ring->n], &f[v]);
    for (guint v = 0; v < ring->n; v++) {
      feature_finish(&f[v]);
      f[v].before = facing->thin->first[r] + (v + ring->n - 1) % ring->n;
      facing->normals[facing->thin->first[r] + v] = f[v].normal;
    }
  }
}

/* ---- cells in which nothing can face an edge --------------------------------------------------
 *
 *      \ | /    Where a round outline was joined from many shapes a cell holds a thousand edges,
 *    ___\|/___  and all their normals lie within a few degrees: none of them face each other.
 */

static Cone
cone_of(const Facing *facing, guint cell)
{
  guint n;
  const guint *edges = hf_index_cell_numbers(facing->index, cell, &n);
  HfPoint sum = {0, 0};
  for (guint i = 0; i < n; i++)
    sum = hf_point_add(sum, facing->normals[edges[i]]);
  double length = hf_point_length(sum), least = 1;
  if (length < 1e-3) /* every way, or no edge */
    return (Cone){hf_point(1, 0), 2};
  HfPoint middle = hf_point_scale(sum, 1 / length);
  for (guint i = 0; i < n; i++)
    least = hf_lesser(least, hf_point_dot(middle, facing->normals[edges[i]]));
  double away = acos(EVER_APART) - acos(hf_larger(least, -1));
  return (Cone){middle, away > 0 ? cos(away) + SLACK : 2};
}

static void
cones_new(Facing *facing)
{
  guint n = hf_index_n_cells(facing->index);
  facing->cones = g_new(Cone, n);
  for (guint cell = 0; cell < n; cell++)
    facing->cones[cell] = cone_of(facing, cell);
}

typedef struct {
  const Cone *cones;
  HfPoint normal;
} Asking;

static gboolean
cell_may_face(guint cell, gconstpointer data)
{
  const Asking *asking = data;
  const Cone *cone = &asking->cones[cell];
  return hf_point_dot(asking->normal, cone->middle) <= cone->most;
}

/* ---- pairs ------------------------------------------------------------------------------------
 */

/* Angle between unit vectors at most @most? */
static gboolean
within(HfPoint a, HfPoint b, double most)
{
  return hf_point_dot(a, b) >= cos(most);
}

/* A stretch of an edge, in shares of its length. */
typedef struct {
  double from, to;
} Stretch;

/* Does the segment p-q reach into the slab over e: 0 < height <= w, spreading to either side? And
 * where along p-q? */
static gboolean
reaches(const Feature *e, HfPoint p, HfPoint q, double w, double spread, Stretch *ret_where)
{
  HfPoint a = hf_point_sub(p, e->at), b = hf_point_sub(q, e->at);
  double ax = hf_point_dot(a, e->along), ay = hf_point_dot(a, e->normal);
  double bx = hf_point_dot(b, e->along), by = hf_point_dot(b, e->normal);
  double side[4][2] = {{ay - HEIGHT, by - HEIGHT},
                       {w - ay, w - by},
                       {ax + ay * spread, bx + by * spread},
                       {e->length - ax + ay * spread, e->length - bx + by * spread}};
  double t0 = 0, t1 = 1; /* the stretch of p-q on the inner side of all four */
  for (int i = 0; i < 4; i++) {
    double s0 = side[i][0], s1 = side[i][1];
    if (s0 < 0 && s1 < 0)
      return FALSE;
    if (s0 < 0)
      t0 = hf_larger(t0, s0 / (s0 - s1));
    else if (s1 < 0)
      t1 = hf_lesser(t1, s0 / (s0 - s1));
  }
  *ret_where = (Stretch){hf_lesser(t0, t1), hf_larger(t0, t1)};
  return t0 <= t1 + 1e-9;
}

static HfPoint
feature_end(const Feature *f)
{
  return hf_point_add(f->at, hf_point_scale(f->along, f->length));
}

/* A circle of diameter < w whose feet lie `apart` has the one at most so high over the other. */
static double
highest(double w, double cos_apart)
{
  return w / 2 * (1 - cos_apart) * (1 + SLACK);
}

/* Cosine and sine of the turns of both: for a + b. */
static HfPoint
both_turned(const Feature *e, const Feature *f)
{
  return hf_point(e->turned.x * f->turned.x - e->turned.y * f->turned.y,
                  e->turned.y * f->turned.x + e->turned.x * f->turned.y);
}

/* Do normals so far apart, by EVER_APART or more, face each other, given that cones at the ends
 * turn them by @turns? What is settled without them is left to no cosine. */
static gboolean
may_face(double cos_apart, double turns, const Feature *e, const Feature *f)
{
  if (turns == 0)
    return cos_apart <= LEAST_APART;
  if (cos_apart > LEAST_APART + CHORD_SLOPE * turns)
    return FALSE;
  if (cos_apart <= -0.5 + TANGENT_SLOPE * turns)
    return TRUE;
  HfPoint turned =
      both_turned(e, f); /* cos(a - t) = cos a cos t + sin a sin t, a + SLACK 120 degrees */
  return cos_apart <= COS_LEAST * turned.x + SIN_LEAST * turned.y;
}

/* The cosine of that angle and both their turns more, half a turn at most: for a + t
 * cos a cos t - sin a sin t. */
static double
turned_on(double cos_apart, const Feature *e, const Feature *f)
{
  HfPoint turned = both_turned(e, f);
  if (cos_apart <= -turned.x)
    return turned.y == 0 ? cos_apart : -1;
  return cos_apart * turned.x - sqrt(1 - cos_apart * cos_apart) * turned.y;
}

static gboolean
edges_face(const Feature *e, const Feature *f, double w, Stretch *ret_on_e, Stretch *ret_on_f)
{
  double turns = e->turn + f->turn, cos_apart = hf_point_dot(e->normal, f->normal);
  if (!may_face(cos_apart, turns, e, f))
    return FALSE;
  double h = highest(w, turned_on(cos_apart, e, f));
  return reaches(e, f->at, feature_end(f), h, e->spread, ret_on_f) &&
         reaches(f, e->at, feature_end(e), h, f->spread, ret_on_e);
}

static gboolean
vertex_faces_edge(const Feature *v, const Feature *f, double w, Stretch *ret_on_f)
{
  Stretch at_vertex;
  if (-hf_point_dot(v->cone, f->normal) < v->sees.x * f->turned.x - v->sees.y * f->turned.y ||
      !reaches(f, v->at, v->at, w, f->spread, &at_vertex))
    return FALSE;
  HfPoint to = hf_point_sub(v->at, f->at); /* the foot lies within the spread below the vertex */
  double along = hf_point_dot(to, f->along), wide = hf_point_dot(to, f->normal) * f->spread;
  *ret_on_f =
      (Stretch){fmax(along - wide, 0) / f->length, fmin(along + wide, f->length) / f->length};
  return TRUE;
}

static gboolean
vertices_face(const Feature *v, const Feature *u, double w)
{
  HfPoint way = hf_point_sub(u->at, v->at);
  double length = hf_point_length(way);
  if (length > w || length == 0)
    return FALSE;
  way = hf_point_scale(way, 1 / length);
  return within(v->cone, way, G_PI / 6 + v->half + SLACK) &&
         within(u->cone, hf_point_scale(way, -1), G_PI / 6 + u->half + SLACK);
}

static void
mark(Facing *facing, guint edge, Stretch where)
{
  HfThin *thin = facing->thin;
  const Feature *f = &facing->features[edge]; /* whose live stretch `where` is a part of */
  where.from = f->from + where.from * (f->to - f->from);
  where.to = f->from + where.to * (f->to - f->from);
  if (!(thin->facing[edge] & HF_FACING)) {
    thin->from[edge] = where.from;
    thin->to[edge] = where.to;
  }
  thin->facing[edge] |= HF_FACING;
  thin->from[edge] = fmin(thin->from[edge], where.from);
  thin->to[edge] = fmax(thin->to[edge], where.to);
}

/* A vertex is a foot: the start of its edge and the end of the one before. */
static void
mark_vertex(Facing *facing, guint number)
{
  mark(facing, number, (Stretch){0, 0});
  mark(facing, facing->features[number].before, (Stretch){1, 1});
}

/* What the slab over an edge can reach. */
static HfBox
slab_box(const Feature *e, double w)
{
  HfPoint out = hf_point_scale(e->along, w * e->spread), up = hf_point_scale(e->normal, w);
  HfPoint a = e->at, b = feature_end(e);
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
  box = hf_box_add_point(box, hf_point_add(hf_point_sub(a, out), up));
  return hf_box_add_point(box, hf_point_add(hf_point_add(b, out), up));
}

static void
face_edge(Facing *facing, guint number)
{
  const Feature *e = &facing->features[number];
  double w = facing->thin->widest;
  if (!feature_lives(e))
    return;
  Asking asking = {facing->cones, e->normal};
  hf_index_query_cells(facing->index, slab_box(e, w), cell_may_face, &asking, facing->found);
  facing->held += facing->found->len;
  const guint *found = (const guint *)(const void *)facing->found->data;
  for (guint i = 0; i < facing->found->len; i++) {
    guint other = found[i];
    if (other <= number || hf_point_dot(e->normal, facing->normals[other]) > EVER_APART)
      continue;
    Stretch on_e, on_f;
    const Feature *f = &facing->features[other];
    if (feature_lives(f) && edges_face(e, f, w, &on_e, &on_f)) {
      mark(facing, number, on_e);
      mark(facing, other, on_f);
    }
  }
}

static void
face_vertex(Facing *facing, guint number)
{
  const Feature *v = &facing->features[number];
  double w = facing->thin->widest;
  hf_index_query_numbers(facing->index,
                         (HfBox){{v->at.x - w, v->at.y - w}, {v->at.x + w, v->at.y + w}},
                         facing->found);
  facing->held += facing->found->len;
  for (guint i = 0; i < facing->found->len; i++) {
    guint other = g_array_index(facing->found, guint, i);
    const Feature *f = &facing->features[other];
    if (f->half > 0 && f > v && vertices_face(v, f, w)) {
      mark_vertex(facing, number);
      mark_vertex(facing, other);
    }
    Stretch on_f;
    if (feature_lives(f) && vertex_faces_edge(v, f, w, &on_f)) {
      mark_vertex(facing, number);
      mark(facing, other, on_f);
    }
  }
}

void
hf_thin_mark_facing(HfThin *thin, HfIndex *index, const HfCancel *cancel)
{
  g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(guint));
  Facing facing = {thin, index, NULL, NULL, NULL, hf_region_n_edges(thin->region), found, 0};
  features_new(&facing);
  cones_new(&facing);
  for (guint r = 0; r < thin->region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(thin->region, r)->n; v++) {
      guint number = thin->first[r] + v;
      if (number % HF_LOOK_EVERY == 0 && !hf_cancel_check(cancel, NULL))
        break;
      face_edge(&facing, number);
      if (facing.features[number].half > 0)
        face_vertex(&facing, number);
    }
  guint64 usual = (guint64)USUAL * facing.n;
  if (facing.held > usual)
    hf_cancel_count(cancel, (guint)MIN((facing.held - usual) / PAIRS, G_MAXINT));
  g_free(facing.features);
  g_free(facing.normals);
  g_free(facing.cones);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * zones.c - connected zones of the axis under a limit; docs/maths.md#webs.
 *
 *   axis edges --cut at r = limit / 2--> pieces --joined at nodes--> zones
 *
 *        mouth |-----o-----------o-----x-----| mouth     o node, x narrowest
 *                     \
 *                      o tip
 */
#include "thin/thin-private.h"

#define MOUTH   G_MAXUINT
#define BULGE   0.1   /* of the limit */
#define NARROWS 0.005 /* mm: less is the noise of chords */
#define POINT   0.1   /* of the limit: what ends as narrow as this runs into a tip */
/* Of its length a straight wedge has 0.6 below 0.6 limits, two arcs that touch 0.77, a slot that is
 * two limits deep 0.88. */
#define SHARP    0.55 /* limits: 2 sin 14.5 degrees is the width one limit away from a long tip */
#define NARROWED 0.6  /* limits, a little more than that */
#define STEADY   0.82 /* of its length */
/* Times its narrowest. A wedge that ends in a point is 1.5 times as wide as one limit from its tip
 * for 1.5 limits, no longer; one with a blunt end for longer, the slower it opens. */
#define EVEN_TIP   1.5
#define EVEN_BLUNT 1.1
#define MIN_APART  -0.4995 /* cosine of the angle between the feet: 120 degrees, rounded down */

/* A stretch of an axis edge under the limit, with its points, cut to the limit. */
typedef struct {
  guint end[2]; /* nodes, or MOUTH */
  HfStretch stretch;
  guint first, n; /* in Work.points */
  double length;
  double tip[2]; /* how far from either end (mm) it belongs to a tip */
  guint zone;
} Piece;

typedef struct {
  const HfThin *thin;
  double limit;
  GArray *pieces; /* Piece */
  GArray *points; /* HfAxisPoint */
  GArray *wheres; /* double: number of each point on its axis edge */
  guint *root;    /* union-find over nodes, then over mouth-to-mouth pieces */
  guint *fan;     /* of each node n: its pieces are spokes[fan[n]] .. spokes[fan[n + 1]] */
  guint *spokes;
  HfZones *result;
} Work;

static const HfAxisPoint *
work_points(const Work *work, const Piece *piece)
{
  return &g_array_index(work->points, HfAxisPoint, piece->first);
}

static Piece *
work_piece(const Work *work, guint i)
{
  return &g_array_index(work->pieces, Piece, i);
}

/* ---- pieces ---------------------------------------------------------------------------------- */

static const HfAxisPoint *
axis_point(const HfAxis *axis, const HfAxisEdge *edge, guint i)
{
  return &g_array_index(axis->points, HfAxisPoint, edge->first + i);
}

static HfAxisPoint
point_between(const HfAxisPoint *p, const HfAxisPoint *q, double t)
{
  return (HfAxisPoint){hf_point_mix(p->at, q->at, t), p->radius + (q->radius - p->radius) * t,
                       hf_point_mix(p->foot_a, q->foot_a, t),
                       hf_point_mix(p->foot_b, q->foot_b, t)};
}

static void
put_point(Work *work, HfAxisPoint point, double where)
{
  g_array_append_val(work->points, point);
  g_array_append_val(work->wheres, where);
}

static void
piece_close(Work *work, Piece *piece)
{
  piece->n = work->points->len - piece->first;
  const HfAxisPoint *p = work_points(work, piece);
  for (guint i = 1; i < piece->n; i++)
    piece->length += hf_point_distance(p[i - 1].at, p[i].at);
  piece->stretch.from = g_array_index(work->wheres, double, piece->first);
  piece->stretch.to = g_array_index(work->wheres, double, piece->first + piece->n - 1);
  g_array_append_val(work->pieces, *piece);
}

/* At its ends an edge has its node's radius, so that all edges of a node agree on the limit. */
static double
radius_at(const HfAxis *axis, const HfAxisEdge *edge, guint i)
{
  if (i == 0)
    return g_array_index(axis->nodes, HfAxisNode, edge->node_a).radius;
  if (i == edge->n - 1)
    return g_array_index(axis->nodes, HfAxisNode, edge->node_b).radius;
  return axis_point(axis, edge, i)->radius;
}

/* Cuts one axis edge into the stretches where r < limit / 2. */
static void
cut_edge(Work *work, guint number)
{
  const HfAxis *axis = work->thin->axis;
  const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, number);
  double r = work->limit / 2;
  Piece piece = {0};
  gboolean open = FALSE;
  for (guint i = 0; i < edge->n; i++) {
    const HfAxisPoint *p = axis_point(axis, edge, i);
    double here = radius_at(axis, edge, i);
    gboolean under = here < r;
    if (i > 0) {
      const HfAxisPoint *last = axis_point(axis, edge, i - 1);
      double before = radius_at(axis, edge, i - 1);
      double t = here != before ? (r - before) / (here - before) : 0;
      if (under && !open) {
        piece = (Piece){.end = {MOUTH, MOUTH}, .stretch.edge = number, .first = work->points->len};
        put_point(work, point_between(last, p, t), i - 1 + t);
        open = TRUE;
      } else if (!under && open) {
        put_point(work, point_between(last, p, t), i - 1 + t);
        piece_close(work, &piece);
        open = FALSE;
      }
    } else if (under) {
      piece =
          (Piece){.end = {edge->node_a, MOUTH}, .stretch.edge = number, .first = work->points->len};
      open = TRUE;
    }
    if (under)
      put_point(work, *p, i);
  }
  if (open) {
    piece.end[1] = edge->node_b;
    piece_close(work, &piece);
  }
}

static void
cut_edges(Work *work)
{
  for (guint e = 0; e < work->thin->axis->edges->len; e++)
    if (!work->thin->twig[e])
      cut_edge(work, e);
}

/* ---- components ------------------------------------------------------------------------------ */

static guint
find_root(guint *root, guint i)
{
  while (root[i] != i)
    i = root[i] = root[root[i]];
  return i;
}

static void
join_pieces(Work *work)
{
  guint n = work->thin->axis->nodes->len;
  work->root = g_new(guint, n + 1);
  for (guint i = 0; i < n; i++)
    work->root[i] = i;
  work->fan = g_new0(guint, n + 2);
  for (guint i = 0; i < work->pieces->len; i++) {
    const Piece *piece = work_piece(work, i);
    if (piece->end[0] != MOUTH && piece->end[1] != MOUTH)
      work->root[find_root(work->root, piece->end[0])] = find_root(work->root, piece->end[1]);
    for (int k = 0; k < 2; k++)
      if (piece->end[k] != MOUTH)
        work->fan[piece->end[k] + 2]++;
  }
  for (guint i = 2; i < n + 2; i++)
    work->fan[i] += work->fan[i - 1];
  work->spokes = g_new(guint, work->fan[n + 1] + 1);
  for (guint i = 0; i < work->pieces->len; i++)
    for (int k = 0; k < 2; k++)
      if (work_piece(work, i)->end[k] != MOUTH)
        work->spokes[work->fan[work_piece(work, i)->end[k] + 1]++] = i;
}

static guint
node_degree(const Work *work, guint node)
{
  return work->fan[node + 1] - work->fan[node];
}

static gboolean
is_leaf(const Work *work, guint end)
{
  return end != MOUTH && node_degree(work, end) == 1;
}

/* The zone number of every piece; a piece from mouth to mouth is a zone of its own. */
static guint
number_zones(Work *work)
{
  guint n_nodes = work->thin->axis->nodes->len, n = 0;
  g_autofree guint *zone_of = g_new(guint, n_nodes + 1);
  for (guint i = 0; i < n_nodes; i++)
    zone_of[i] = G_MAXUINT;
  for (guint i = 0; i < work->pieces->len; i++) {
    Piece *piece = work_piece(work, i);
    guint node = piece->end[0] != MOUTH ? piece->end[0] : piece->end[1];
    if (node == MOUTH) {
      piece->zone = n++;
      continue;
    }
    guint root = find_root(work->root, node);
    if (zone_of[root] == G_MAXUINT)
      zone_of[root] = n++;
    piece->zone = zone_of[root];
  }
  return n;
}

/* ---- tips ------------------------------------------------------------------------------------ */

/* From a dead end inward while it widens, up to a limit's length or the first fork. */
static void
mark_tip(Work *work, Piece *piece, int from)
{
  double left = work->limit, widest = 0;
  for (;;) {
    const HfAxisPoint *p = work_points(work, piece);
    double walked = 0;
    guint n = piece->n, i = 1;
    widest = fmax(widest, p[from == 0 ? 0 : n - 1].radius);
    for (; i < n; i++) {
      const HfAxisPoint *a = &p[from == 0 ? i - 1 : n - i], *b = &p[from == 0 ? i : n - 1 - i];
      double step = hf_point_distance(a->at, b->at);
      if (b->radius < widest - NARROWS || walked + step > left)
        break;
      widest = fmax(widest, b->radius);
      walked += step;
    }
    if (i < n) {
      gboolean too_far = p[from == 0 ? i : n - 1 - i].radius >= widest - NARROWS;
      piece->tip[from] = fmax(piece->tip[from], too_far ? left : walked);
      return;
    }
    piece->tip[from] = piece->length;
    left -= walked;
    guint node = piece->end[1 - from];
    if (node == MOUTH || node_degree(work, node) != 2)
      return;
    guint *spokes = work->spokes + work->fan[node];
    guint here = (guint)(piece - work_piece(work, 0));
    Piece *next = work_piece(work, spokes[0] == here ? spokes[1] : spokes[0]);
    if (next == piece)
      return;
    piece = next;
    from = piece->end[0] == node ? 0 : 1;
  }
}

static void
mark_tips(Work *work)
{
  for (guint i = 0; i < work->pieces->len; i++)
    for (int k = 0; k < 2; k++)
      if (is_leaf(work, work_piece(work, i)->end[k]))
        mark_tip(work, work_piece(work, i), k);
}

/* ---- one zone -------------------------------------------------------------------------------- */

typedef struct {
  const guint *pieces; /* numbers */
  guint n;
} Members;

static gboolean
feet_apart(const HfAxisPoint *p)
{
  HfPoint a = hf_point_sub(p->foot_a, p->at), b = hf_point_sub(p->foot_b, p->at);
  double lengths = hf_point_length(a) * hf_point_length(b);
  return lengths > 0 && hf_point_dot(a, b) <= MIN_APART * lengths;
}

/* Does a foot lie where its edge is known to face another? A true foot of this kind does. */
static gboolean
foot_faces(const HfThin *thin, HfEdgeId site, HfPoint foot)
{
  guint number = hf_thin_number(thin, site);
  if (!(thin->facing[number] & HF_FACING))
    return FALSE;
  double t, slack;
  HfPoint a = hf_edge_start(thin->region, site), b = hf_edge_end(thin->region, site);
  hf_segment_nearest(a, b, foot, &t);
  slack = 0.001 / fmax(hf_point_distance(a, b), 1e-4);
  return t >= thin->from[number] - slack && t <= thin->to[number] + slack;
}

/* Somewhere the feet lie 120 degrees apart, and there the axis is known to be exact. */
static gboolean
has_core(const Work *work, Members members)
{
  for (guint m = 0; m < members.n; m++) {
    const Piece *piece = work_piece(work, members.pieces[m]);
    const HfAxisEdge *edge =
        &g_array_index(work->thin->axis->edges, HfAxisEdge, piece->stretch.edge);
    const HfAxisPoint *p = work_points(work, piece);
    for (guint i = 0; i < piece->n; i++)
      if (feet_apart(&p[i]) && foot_faces(work->thin, edge->site_a, p[i].foot_a) &&
          foot_faces(work->thin, edge->site_b, p[i].foot_b))
        return TRUE;
  }
  return FALSE;
}

typedef struct {
  guint piece;
  double along; /* mm from its first point */
  double radius;
} Place;

/* The point of a piece after so many mm, and its number on the axis edge. */
static HfAxisPoint
piece_at(const Work *work, const Piece *piece, double along, double *ret_where)
{
  const HfAxisPoint *p = work_points(work, piece);
  const double *where = &g_array_index(work->wheres, double, piece->first);
  for (guint i = 1; i < piece->n; i++) {
    double step = hf_point_distance(p[i - 1].at, p[i].at);
    if (along <= step + 1e-12 || i == piece->n - 1) {
      double t = step > 0 ? CLAMP(along / step, 0, 1) : 0;
      *ret_where = where[i - 1] + (where[i] - where[i - 1]) * t;
      return point_between(&p[i - 1], &p[i], t);
    }
    along -= step;
  }
  *ret_where = where[0];
  return p[0];
}

/* Of equally narrow places the one nearest to the middle of its piece. */
static void
consider(const Work *work, guint number, double along, double radius, Place *best)
{
  const Piece *piece = work_piece(work, number);
  if (radius > best->radius + 1e-7)
    return;
  double side = fabs(along - piece->length / 2) - piece->length / 2;
  if (radius > best->radius - 1e-7) {
    const Piece *other = work_piece(work, best->piece);
    if (side >= fabs(best->along - other->length / 2) - other->length / 2 - 1e-7)
      return;
  }
  *best = (Place){number, along, radius};
}

/* The narrowest point outside the tips. */
static Place
narrowest(const Work *work, Members members)
{
  Place best = {members.pieces[0], 0, INFINITY};
  for (guint m = 0; m < members.n; m++) {
    const Piece *piece = work_piece(work, members.pieces[m]);
    const HfAxisPoint *p = work_points(work, piece);
    double from = piece->tip[0], to = piece->length - piece->tip[1], along = 0, where;
    if (from > to || (from > 0 && from >= piece->length) || to <= 0)
      continue;
    for (guint i = 0; i < piece->n; i++) {
      if (i > 0)
        along += hf_point_distance(p[i - 1].at, p[i].at);
      if (along >= from - 1e-9 && along <= to + 1e-9)
        consider(work, members.pieces[m], along, p[i].radius, &best);
    }
    consider(work, members.pieces[m], from, piece_at(work, piece, from, &where).radius, &best);
    consider(work, members.pieces[m], to, piece_at(work, piece, to, &where).radius, &best);
  }
  return best;
}

/* The tip's own place when there is nothing else: where it is widest. */
static Place
widest_place(const Work *work, Members members)
{
  Place best = {members.pieces[0], 0, -1};
  for (guint m = 0; m < members.n; m++) {
    const Piece *piece = work_piece(work, members.pieces[m]);
    const HfAxisPoint *p = work_points(work, piece);
    double along = 0;
    for (guint i = 0; i < piece->n; i++) {
      if (i > 0)
        along += hf_point_distance(p[i - 1].at, p[i].at);
      if (p[i].radius > best.radius)
        best = (Place){members.pieces[m], along, p[i].radius};
    }
  }
  return best;
}

/* Walks from one end of a piece over all pieces but @without; calls @visit with the way so far. */
typedef struct {
  guint piece;
  int from;      /* the end that it is entered by */
  double length; /* way so far */
  double least;  /* smallest radius so far */
} Step;

typedef struct {
  guint mouths;
  double farthest; /* way to the farthest end */
  Step last;       /* the piece that holds it */
  double rise;     /* largest rise of the radius over the least before it */
} Walked;

static void
walk_piece(const Work *work, Step *step, Walked *walked)
{
  const Piece *piece = work_piece(work, step->piece);
  const HfAxisPoint *p = work_points(work, piece);
  for (guint i = 0; i < piece->n; i++) {
    double r = p[step->from == 0 ? i : piece->n - 1 - i].radius;
    step->least = fmin(step->least, r);
    walked->rise = fmax(walked->rise, r - step->least);
  }
  step->length += piece->length;
}

static Walked
walk(const Work *work, const Step *starts, guint n_starts, guint without)
{
  Walked walked = {0};
  g_autoptr(GArray) open = g_array_new(FALSE, FALSE, sizeof(Step));
  g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL);
  g_array_append_vals(open, starts, n_starts);
  if (without != MOUTH)
    g_hash_table_add(seen, GUINT_TO_POINTER(without));
  while (open->len > 0) {
    Step step = g_array_index(open, Step, open->len - 1);
    g_array_set_size(open, open->len - 1);
    if (!g_hash_table_add(seen, GUINT_TO_POINTER(step.piece)))
      continue;
    walk_piece(work, &step, &walked);
    if (step.length > walked.farthest) {
      walked.farthest = step.length;
      walked.last = step;
    }
    guint node = work_piece(work, step.piece)->end[1 - step.from];
    if (node == MOUTH) {
      walked.mouths++;
      continue;
    }
    for (guint s = work->fan[node]; s < work->fan[node + 1]; s++) {
      guint next = work->spokes[s];
      int from = work_piece(work, next)->end[0] == node ? 0 : 1;
      Step go = {next, from, step.length, step.least};
      g_array_append_val(open, go);
    }
  }
  return walked;
}

/* All pieces that leave a node, as starts of a walk. */
static guint
starts_at(const Work *work, guint node, guint without, Step *starts, guint most)
{
  guint n = 0;
  if (node == MOUTH)
    return 0;
  for (guint s = work->fan[node]; s < work->fan[node + 1] && n < most; s++)
    if (work->spokes[s] != without) {
      guint piece = work->spokes[s];
      starts[n++] = (Step){piece, work_piece(work, piece)->end[0] == node ? 0 : 1, 0, INFINITY};
    }
  return n;
}

static guint
mouths_beyond(const Work *work, guint piece, int end)
{
  guint node = work_piece(work, piece)->end[end];
  if (node == MOUTH)
    return 1;
  Step starts[16];
  guint n = starts_at(work, node, piece, starts, G_N_ELEMENTS(starts));
  return walk(work, starts, n, piece).mouths;
}

static void
measure_tree(const Work *work, Members members, HfZone *zone)
{
  guint ends = 0, nodes = 0, starts_mouth = MOUTH;
  int from = 0;
  zone->mouths = 0;
  for (guint m = 0; m < members.n; m++) {
    const Piece *piece = work_piece(work, members.pieces[m]);
    for (int k = 0; k < 2; k++) {
      ends++;
      if (piece->end[k] != MOUTH)
        continue;
      zone->mouths++;
      starts_mouth = members.pieces[m];
      from = k;
    }
  }
  /* every node is counted once at each spoke: sum of 1 / degree */
  double share = 0;
  for (guint m = 0; m < members.n; m++)
    for (int k = 0; k < 2; k++) {
      guint node = work_piece(work, members.pieces[m])->end[k];
      if (node != MOUTH)
        share += 1.0 / node_degree(work, node);
    }
  nodes = (guint)lrint(share) + zone->mouths;
  zone->tree = members.n + 1 == nodes;
  Step any = {members.pieces[0], 0, 0, INFINITY};
  if (starts_mouth != MOUTH)
    any = (Step){starts_mouth, from, 0, INFINITY};
  Walked there = walk(work, &any, 1, MOUTH);
  zone->bulges = zone->mouths == 1 && 2 * there.rise > BULGE * work->limit;
  zone->length = there.farthest;
  if (zone->tree && zone->mouths != 1) {
    Step back = {there.last.piece, 1 - there.last.from, 0, INFINITY};
    zone->length = fmax(zone->length, walk(work, &back, 1, MOUTH).farthest);
  }
}

static void
measure_net(const Work *work, Members members, HfZone *zone)
{
  if (zone->tree)
    return;
  zone->length = 0;
  for (guint m = 0; m < members.n; m++) {
    const Piece *piece = work_piece(work, members.pieces[m]);
    if (!is_leaf(work, piece->end[0]) && !is_leaf(work, piece->end[1]))
      zone->length += piece->length;
  }
}

/* How wide it still is where its outermost corners fork off. */
static double
floor_of(const Work *work, Members members)
{
  double floor = INFINITY;
  for (guint m = 0; m < members.n; m++) {
    const Piece *piece = work_piece(work, members.pieces[m]);
    for (int k = 0; k < 2; k++) {
      if (!is_leaf(work, piece->end[k]))
        continue;
      const HfAxisPoint *p = work_points(work, piece);
      double tip = p[k == 0 ? 0 : piece->n - 1].radius;
      gboolean forks = piece->end[1 - k] != MOUTH && node_degree(work, piece->end[1 - k]) > 2;
      floor = fmin(floor, 2 * (forks ? p[k == 0 ? piece->n - 1 : 0].radius : tip));
    }
  }
  return isinf(floor) ? 0 : floor;
}

static void
add_stretches(const Work *work, Members members, HfZone *zone)
{
  zone->first = work->result->stretches->len;
  zone->n = members.n;
  for (guint m = 0; m < members.n; m++) {
    const Piece *piece = work_piece(work, members.pieces[m]);
    HfStretch stretch = piece->stretch;
    double from = piece->tip[0], to = piece->length - piece->tip[1];
    piece_at(work, piece, from, &stretch.inner_from);
    piece_at(work, piece, to, &stretch.inner_to);
    if (from > to || (from > 0 && from >= piece->length) || to <= 0)
      stretch.inner_to = stretch.inner_from - 1;
    g_array_append_val(work->result->stretches, stretch);
  }
}

static void
add_zone(const Work *work, Members members)
{
  if (!has_core(work, members))
    return;
  HfZone zone = {0};
  Place place = narrowest(work, members);
  zone.tips_only = isinf(place.radius);
  if (zone.tips_only)
    place = widest_place(work, members);
  const Piece *piece = work_piece(work, place.piece);
  const HfAxisEdge *edge = &g_array_index(work->thin->axis->edges, HfAxisEdge, piece->stretch.edge);
  zone.place = piece_at(work, piece, place.along, &zone.where);
  zone.site_a = edge->site_a;
  zone.site_b = edge->site_b;
  zone.edge = piece->stretch.edge;
  zone.width = 2 * zone.place.radius;
  zone.widest = 2 * widest_place(work, members).radius;
  zone.floor = floor_of(work, members);
  measure_tree(work, members, &zone);
  measure_net(work, members, &zone);
  zone.mouths_a = mouths_beyond(work, place.piece, 0);
  zone.mouths_b = mouths_beyond(work, place.piece, 1);
  add_stretches(work, members, &zone);
  g_array_append_val(work->result->zones, zone);
}

/* ---- the door -------------------------------------------------------------------------------- */

static void
add_zones(Work *work)
{
  guint n_zones = number_zones(work), n = work->pieces->len;
  g_autofree guint *first = g_new0(guint, n_zones + 2);
  g_autofree guint *order = g_new(guint, n + 1);
  for (guint i = 0; i < n; i++)
    first[work_piece(work, i)->zone + 2]++;
  for (guint z = 2; z < n_zones + 2; z++)
    first[z] += first[z - 1];
  for (guint i = 0; i < n; i++)
    order[first[work_piece(work, i)->zone + 1]++] = i;
  for (guint z = 0; z < n_zones; z++)
    add_zone(work, (Members){order + first[z], first[z + 1] - first[z]});
}

static int
narrowest_first(gconstpointer p, gconstpointer q)
{
  const HfZone *a = p, *b = q;
  if (a->width != b->width)
    return a->width < b->width ? -1 : 1;
  if (a->place.at.x != b->place.at.x)
    return a->place.at.x < b->place.at.x ? -1 : 1;
  return (a->place.at.y > b->place.at.y) - (a->place.at.y < b->place.at.y);
}

HfZones *
hf_zones_new(const HfThin *thin, double limit)
{
  g_assert(limit <= thin->widest + 1e-9);
  HfZones *zones = g_new0(HfZones, 1);
  zones->thin = thin;
  zones->limit = limit;
  zones->zones = g_array_new(FALSE, FALSE, sizeof(HfZone));
  zones->stretches = g_array_new(FALSE, FALSE, sizeof(HfStretch));
  g_autoptr(GArray) pieces = g_array_new(FALSE, FALSE, sizeof(Piece));
  g_autoptr(GArray) points = g_array_new(FALSE, FALSE, sizeof(HfAxisPoint));
  g_autoptr(GArray) wheres = g_array_new(FALSE, FALSE, sizeof(double));
  Work work = {thin, limit, pieces, points, wheres, NULL, NULL, NULL, zones};
  cut_edges(&work);
  join_pieces(&work);
  mark_tips(&work);
  add_zones(&work);
  g_array_sort(zones->zones, narrowest_first);
  g_free(work.root);
  g_free(work.fan);
  g_free(work.spokes);
  return zones;
}

void
hf_zones_free(HfZones *zones)
{
  if (zones == NULL)
    return;
  g_array_unref(zones->zones);
  g_array_unref(zones->stretches);
  g_free(zones);
}

gboolean
hf_zone_covers(const HfZones *zones, const HfZone *zone, guint edge, double where)
{
  for (guint i = 0; i < zone->n; i++) {
    HfStretch s = g_array_index(zones->stretches, HfStretch, zone->first + i);
    if (s.edge == edge && s.from <= where && where <= s.to)
      return TRUE;
  }
  return FALSE;
}

/* The point of an axis edge by its (fractional) number. */
static HfAxisPoint
edge_at(const HfAxis *axis, const HfAxisEdge *edge, double where)
{
  guint i = MIN((guint)fmax(where, 0), edge->n - 2);
  return point_between(axis_point(axis, edge, i), axis_point(axis, edge, i + 1), where - i);
}

gboolean
hf_zone_at(const HfZones *zones, const HfZone *zone, guint i, HfZone *ret_zone)
{
  HfStretch s = g_array_index(zones->stretches, HfStretch, zone->first + i);
  const HfAxis *axis = zones->thin->axis;
  const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, s.edge);
  if (s.inner_from > s.inner_to || edge->n < 2)
    return FALSE;
  double best = s.inner_from;
  HfAxisPoint place = edge_at(axis, edge, best);
  for (guint k = (guint)ceil(s.inner_from); k <= s.inner_to + 1; k++) {
    double where = fmin(k, s.inner_to);
    HfAxisPoint p = edge_at(axis, edge, where);
    if (p.radius < place.radius) {
      place = p;
      best = where;
    }
  }
  *ret_zone = *zone;
  ret_zone->place = place;
  ret_zone->site_a = edge->site_a;
  ret_zone->site_b = edge->site_b;
  ret_zone->edge = s.edge;
  ret_zone->where = best;
  ret_zone->width = 2 * place.radius;
  return TRUE;
}

enum { MOST_SPOTS = 40000 };
static const double SPOT_APART = 0.25; /* mm */

static void
add_spot(GArray *spots, HfAxisPoint p, gboolean first)
{
  HfWebSpot spot = {p.at, 2 * p.radius, first};
  g_array_append_val(spots, spot);
}

static void
stretch_spots(const HfZones *zones, const HfStretch *s, GArray *spots)
{
  const HfAxis *axis = zones->thin->axis;
  const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, s->edge);
  HfPoint last = edge_at(axis, edge, s->from).at;
  add_spot(spots, edge_at(axis, edge, s->from), TRUE);
  for (guint k = (guint)floor(s->from) + 1; k < s->to; k++) {
    HfAxisPoint p = edge_at(axis, edge, k);
    if (hf_point_distance(p.at, last) < SPOT_APART)
      continue;
    add_spot(spots, p, FALSE);
    last = p.at;
  }
  add_spot(spots, edge_at(axis, edge, s->to), FALSE);
}

void
hf_zone_spots(const HfZones *zones, const HfZone *zone, GArray *spots)
{
  for (guint i = 0; i < zone->n && spots->len < MOST_SPOTS; i++)
    stretch_spots(zones, &g_array_index(zones->stretches, HfStretch, zone->first + i), spots);
}

gboolean
hf_zone_is_corner(const HfZones *zones, const HfZone *zone)
{
  return zone->mouths == 1 && zone->tree && !zone->bulges && zone->length < 2 * zones->limit;
}

const char *
hf_zone_form(const HfZone *zone)
{
  if (!hf_zone_divides(zone))
    return "loop";
  return zone->mouths_a > 0 && zone->mouths_b > 0 ? "neck" : "tail";
}

/* The longest zone under @limit within @zone. */
static double
length_within(const HfZones *zones, const HfZone *zone, double limit)
{
  HfZones *inner = hf_zones_new(zones->thin, limit);
  double length = 0;
  for (guint i = 0; i < inner->zones->len; i++) {
    const HfZone *one = &g_array_index(inner->zones, HfZone, i);
    if (hf_zone_covers(zones, zone, one->edge, one->where))
      length = fmax(length, one->length);
  }
  hf_zones_free(inner);
  return length;
}

static gboolean
is_dead_end(const HfZone *zone)
{
  return zone->mouths == 1 && zone->tree && !zone->bulges;
}

/* Even, though its end may run into a sharp corner:
 *   ________________________
 *                          /    nearly as narrow as at its narrowest for two limits or more
 *   ______________________/
 */
static gboolean
is_slot(const HfZones *zones, const HfZone *zone, double even)
{
  double width = fmin(even * zone->width, zones->limit);
  return length_within(zones, zone, width) >= 2 * zones->limit;
}

gboolean
hf_zone_narrows(const HfZones *zones, const HfZone *zone)
{
  if (!is_dead_end(zone) || zone->width > SHARP * zones->limit)
    return FALSE;
  return length_within(zones, zone, NARROWED * zones->limit) <= STEADY * zone->length &&
         !is_slot(zones, zone, EVEN_BLUNT);
}

gboolean
hf_zone_only_tapers(const HfZones *zones, const HfZone *zone)
{
  if (hf_zone_is_corner(zones, zone))
    return TRUE;
  if (hf_zone_narrows(zones, zone))
    return TRUE;
  return is_dead_end(zone) && zone->floor <= POINT * zones->limit &&
         !is_slot(zones, zone, EVEN_TIP);
}

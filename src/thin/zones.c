/* SPDX-License-Identifier: GPL-3.0-or-later
 * zones.c - where a region is narrower than a limit: its zones, and what is measured of each.
 *
 *        mouth |-----o-----------o-----x-----| mouth     o node, x narrowest place outside tips
 *                     \
 *                      o tip                             length: the longest way through
 *
 * level.c cuts the axis at the limit; a zone is a connected component of its pieces, and by the
 * invariant there its ends, mouths and ways round can simply be counted. Each zone is measured by
 * at most four walks over its own pieces: all of it costs O(n log n) in the points of the axis.
 *
 * Longest way of a tree: what is farthest from any leaf is an end of a longest way (double sweep).
 * Without a mouth the first sweep sets out from within, by one side of a piece: where the longest
 * way lies on the other side altogether, the length comes out short, though never under half of it.
 * Of a dead end it is the way from its mouth; of a net, which has no longest way, the sum of its
 * pieces but for those that end in a leaf.
 */
#include "thin/level-private.h"
#include "thin/zones-private.h"

#define BULGE     0.1     /* of the limit: docs/maths.md#webs, Corners */
#define MIN_APART -0.4995 /* cosine of the angle between the feet: 120 degrees, rounded down */
#define FOOT_OFF  0.001   /* mm that a foot may lie beside the stretch where its edge faces */
#define SAME_R    1e-7    /* mm: radii this near are equal, the middle of the piece decides */

typedef struct {
  const HfLevel *level;
  HfZones *result;
  GArray *open; /* Step: of walk(), used again and again */
  guint *seen;  /* of each piece: the last walk that came by */
  guint walks;
} Work;

/* ---- core ------------------------------------------------------------------------------------ */

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
  double t;
  HfPoint a = hf_edge_start(thin->region, site), b = hf_edge_end(thin->region, site);
  hf_segment_nearest(a, b, foot, &t);
  double slack = FOOT_OFF / fmax(hf_point_distance(a, b), 1e-4);
  return t >= thin->from[number] - slack && t <= thin->to[number] + slack;
}

/* Somewhere the feet lie 120 degrees apart, and there the axis is known to be exact. What has no
 * such place is a plain corner. */
static gboolean
has_core(const HfLevel *level, const HfMembers *members)
{
  for (guint m = 0; m < members->n; m++) {
    const HfPieceOfAxis *piece = hf_level_piece(level, members->pieces[m]);
    const HfAxisEdge *edge = hf_axis_edge(level->thin->axis, piece->stretch.edge);
    const HfAxisPoint *p = hf_level_points(level, piece);
    for (guint i = 0; i < piece->n; i++)
      if (feet_apart(&p[i]) && foot_faces(level->thin, edge->site_a, p[i].foot_a) &&
          foot_faces(level->thin, edge->site_b, p[i].foot_b))
        return TRUE;
  }
  return FALSE;
}

/* ---- the place ------------------------------------------------------------------------------- */

typedef struct {
  guint piece;
  double along; /* mm from its first point */
  double radius;
} Place;

/* mm from the middle of its piece, less half the piece: never > 0. */
static double
off_middle(const HfLevel *level, const Place *place)
{
  double half = hf_level_piece(level, place->piece)->length / 2;
  return fabs(place->along - half) - half;
}

/* Of equally narrow places the one nearest to the middle of its piece. */
static void
consider(const HfLevel *level, Place place, Place *best)
{
  if (place.radius > best->radius + SAME_R)
    return;
  if (place.radius > best->radius - SAME_R &&
      off_middle(level, &place) >= off_middle(level, best) - SAME_R)
    return;
  *best = place;
}

/* The narrowest place outside tips; radius INFINITY: there is none. */
static Place
narrowest(const HfLevel *level, const HfMembers *members)
{
  Place best = {members->pieces[0], 0, INFINITY};
  for (guint m = 0; m < members->n; m++) {
    guint number = members->pieces[m];
    const HfPieceOfAxis *piece = hf_level_piece(level, number);
    const HfAxisPoint *p = hf_level_points(level, piece);
    const HfEdgeFacts *facts = hf_piece_facts(level, piece);
    double from, to, along = 0, where;
    if (facts != NULL && facts->low > best.radius + 2 * SAME_R) /* nothing of it is considered */
      continue;
    if (!hf_piece_inner(piece, &from, &to))
      continue;
    for (guint i = 0; i < piece->n; i++) {
      if (i > 0)
        along += hf_point_distance(p[i - 1].at, p[i].at);
      if (along >= from - 1e-9 && along <= to + 1e-9)
        consider(level, (Place){number, along, p[i].radius}, &best);
    }
    const double cut_off[] = {from, to};
    for (int k = 0; k < 2; k++)
      consider(level,
               (Place){number, cut_off[k], hf_piece_at(level, piece, cut_off[k], &where).radius},
               &best);
  }
  return best;
}

static Place
widest(const HfLevel *level, const HfMembers *members)
{
  Place best = {members->pieces[0], 0, -1};
  for (guint m = 0; m < members->n; m++) {
    const HfPieceOfAxis *piece = hf_level_piece(level, members->pieces[m]);
    const HfAxisPoint *p = hf_level_points(level, piece);
    const HfEdgeFacts *facts = hf_piece_facts(level, piece);
    double along = 0;
    if (facts != NULL && facts->high <= best.radius)
      continue;
    for (guint i = 0; i < piece->n; i++) {
      if (i > 0)
        along += hf_point_distance(p[i - 1].at, p[i].at);
      if (p[i].radius > best.radius)
        best = (Place){members->pieces[m], along, p[i].radius};
    }
  }
  return best;
}

/* ---- ways ------------------------------------------------------------------------------------ */

typedef struct {
  guint spoke;   /* the piece, and the end that it is entered by */
  double length; /* way so far */
  double least;  /* smallest radius so far */
} Step;

typedef struct {
  guint mouths;    /* that were reached */
  double farthest; /* mm to the end that is farthest */
  guint last;      /* the spoke that leads back from there */
  double rise;     /* largest rise of the radius over the least before it */
} Walked;

static void
enter(const HfLevel *level, Step *step, Walked *walked)
{
  const HfPieceOfAxis *piece = hf_level_piece(level, step->spoke / 2);
  const HfAxisPoint *p = hf_level_points(level, piece);
  const HfEdgeFacts *facts = hf_piece_facts(level, piece);
  step->length += piece->length;
  if (facts != NULL) {
    walked->rise =
        fmax(walked->rise, fmax(facts->rise[step->spoke % 2], facts->high - step->least));
    step->least = fmin(step->least, facts->low);
    return;
  }
  for (guint i = 0; i < piece->n; i++) {
    double r = p[step->spoke % 2 == 0 ? i : piece->n - 1 - i].radius;
    step->least = fmin(step->least, r);
    walked->rise = fmax(walked->rise, r - step->least);
  }
}

static void
leave_by(Work *work, guint end, double length, double least)
{
  const HfEndOfPiece *at = hf_level_end(work->level, end);
  for (guint s = 0; s < at->n; s++) {
    Step step = {work->level->spokes[at->first + s], length, least};
    g_array_append_val(work->open, step);
  }
}

/* Takes every step that is open, and what comes after, each piece once. */
static Walked
walk(Work *work)
{
  const HfLevel *level = work->level;
  Walked walked = {0};
  if (work->open->len > 0)
    walked.last = g_array_index(work->open, Step, 0).spoke;
  while (work->open->len > 0) {
    Step step = g_array_index(work->open, Step, work->open->len - 1);
    g_array_set_size(work->open, work->open->len - 1);
    guint number = step.spoke / 2;
    if (work->seen[number] == work->walks)
      continue;
    work->seen[number] = work->walks;
    enter(level, &step, &walked);
    guint other = hf_level_piece(level, number)->end[1 - step.spoke % 2];
    if (step.length > walked.farthest) {
      walked.farthest = step.length;
      walked.last = step.spoke ^ 1;
    }
    if (hf_level_end(level, other)->mouth)
      walked.mouths++;
    else
      leave_by(work, other, step.length, step.least);
  }
  return walked;
}

/* Into a piece by one of its ends, and on. */
static Walked
walk_into(Work *work, guint spoke)
{
  Step step = {spoke, 0, INFINITY};
  work->walks++;
  g_array_append_val(work->open, step);
  return walk(work);
}

/* From @end over every piece but @without. */
static Walked
walk_from(Work *work, guint end, guint without)
{
  work->seen[without] = ++work->walks;
  leave_by(work, end, 0, INFINITY);
  return walk(work);
}

/* Where to go into the zone: by a mouth where there is one. */
static guint
way_in(const HfLevel *level, const HfMembers *members)
{
  for (guint m = members->n; m-- > 0;)
    for (guint side = 2; side-- > 0;)
      if (hf_level_end(level, hf_level_piece(level, members->pieces[m])->end[side])->mouth)
        return 2 * members->pieces[m] + side;
  return 2 * members->pieces[0];
}

static double
length_of_net(const HfLevel *level, const HfMembers *members)
{
  double length = 0;
  for (guint m = 0; m < members->n; m++) {
    const HfPieceOfAxis *piece = hf_level_piece(level, members->pieces[m]);
    if (!hf_level_is_leaf(level, piece->end[0]) && !hf_level_is_leaf(level, piece->end[1]))
      length += piece->length;
  }
  return length;
}

static void
measure_ways(Work *work, const HfMembers *members, HfZone *zone)
{
  zone->mouths = members->n_mouths;
  zone->tree = members->n_ends == members->n + 1;
  Walked there = {0};
  if (zone->tree || zone->mouths == 1)
    there = walk_into(work, way_in(work->level, members));
  zone->bulges = zone->mouths == 1 && 2 * there.rise > BULGE * work->level->limit;
  if (!zone->tree)
    zone->length = length_of_net(work->level, members);
  else if (zone->mouths == 1)
    zone->length = there.farthest;
  else
    zone->length = fmax(there.farthest, walk_into(work, there.last).farthest);
}

/* Mouths on the one side of a piece when it is cut. */
static guint
mouths_beyond(Work *work, guint number, int side)
{
  guint end = hf_level_piece(work->level, number)->end[side];
  return hf_level_end(work->level, end)->mouth ? 1 : walk_from(work, end, number).mouths;
}

static void
measure_mouths(Work *work, guint number, HfZone *zone)
{
  if (zone->mouths == 0)
    return;
  zone->mouths_a = mouths_beyond(work, number, 0);
  zone->mouths_b = mouths_beyond(work, number, 1);
}

/* ---- the rest -------------------------------------------------------------------------------- */

/* How wide it still is where its outermost corners fork off. */
static double
floor_of(const HfLevel *level, const HfMembers *members)
{
  double floor = INFINITY;
  for (guint m = 0; m < members->n; m++) {
    const HfPieceOfAxis *piece = hf_level_piece(level, members->pieces[m]);
    const HfAxisPoint *p = hf_level_points(level, piece);
    for (int side = 0; side < 2; side++) {
      if (!hf_level_is_leaf(level, piece->end[side]))
        continue;
      gboolean forks = hf_level_end(level, piece->end[1 - side])->n > 2;
      floor = fmin(floor, 2 * p[(side == 0) != forks ? 0 : piece->n - 1].radius);
    }
  }
  return isinf(floor) ? 0 : floor;
}

static void
add_stretches(Work *work, const HfMembers *members, HfZone *zone)
{
  zone->first = work->result->stretches->len;
  zone->n = members->n;
  for (guint m = 0; m < members->n; m++) {
    const HfPieceOfAxis *piece = hf_level_piece(work->level, members->pieces[m]);
    HfStretch stretch = piece->stretch;
    double from, to;
    gboolean inner = hf_piece_inner(piece, &from, &to);
    hf_piece_at(work->level, piece, from, &stretch.inner_from);
    hf_piece_at(work->level, piece, to, &stretch.inner_to);
    if (!inner)
      stretch.inner_to = stretch.inner_from - 1;
    g_array_append_val(work->result->stretches, stretch);
  }
}

static void
add_zone(Work *work, const HfMembers *members)
{
  const HfLevel *level = work->level;
  if (!has_core(level, members))
    return;
  Place place = narrowest(level, members), wide = widest(level, members);
  HfZone zone = {.tips_only = isinf(place.radius)};
  if (zone.tips_only)
    place = wide;
  const HfPieceOfAxis *piece = hf_level_piece(level, place.piece);
  const HfAxisEdge *edge = hf_axis_edge(level->thin->axis, piece->stretch.edge);
  zone.place = hf_piece_at(level, piece, place.along, &zone.where);
  zone.site_a = edge->site_a;
  zone.site_b = edge->site_b;
  zone.edge = piece->stretch.edge;
  zone.width = 2 * zone.place.radius;
  zone.widest = 2 * wide.radius;
  zone.floor = floor_of(level, members);
  measure_ways(work, members, &zone);
  measure_mouths(work, place.piece, &zone);
  add_stretches(work, members, &zone);
  g_array_append_val(work->result->zones, zone);
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

static gboolean
is_said(const HfLevel *level, const HfMembers *members, const HfZoneSet *said)
{
  for (guint m = 0; said != NULL && m < members->n; m++) {
    HfStretch s = hf_level_piece(level, members->pieces[m])->stretch;
    if (hf_zone_set_has_place(said, s.edge, s.from, s.to))
      return TRUE;
  }
  return FALSE;
}

/* @edges, @said: (nullable) */
static HfZones *
zones_of(const HfThin *thin, double limit, const guint *edges, guint n, const HfZoneSet *said)
{
  HfZones *zones = g_new0(HfZones, 1);
  zones->thin = thin;
  zones->limit = limit;
  zones->zones = g_array_new(FALSE, FALSE, sizeof(HfZone));
  g_auto(HfLevel) level;
  hf_level_init(&level, thin, limit, edges, n);
  zones->stretches = g_array_new(FALSE, FALSE, sizeof(HfStretch));
  hf_level_mark_tips(&level);
  g_autoptr(GArray) open = g_array_new(FALSE, FALSE, sizeof(Step));
  g_autofree guint *seen = g_new0(guint, level.pieces->len + 1);
  Work work = {&level, zones, open, seen, 0};
  for (guint z = 0; z < level.n_zones; z++)
    if (!is_said(&level, &level.zones[z], said))
      add_zone(&work, &level.zones[z]);
  g_array_sort(zones->zones, narrowest_first);
  return zones;
}

HfZones *
hf_zones_along(const HfThin *thin, double limit, const guint *edges, guint n)
{
  return zones_of(thin, limit, edges, n, NULL);
}

HfZones *
hf_zones_new(const HfThin *thin, double limit)
{
  return hf_zones_unsaid(thin, limit, NULL);
}

HfZones *
hf_zones_unsaid(const HfThin *thin, double limit, const HfZoneSet *said)
{
  g_assert(limit <= thin->widest + 1e-9);
  return zones_of(thin, limit, NULL, 0, said);
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

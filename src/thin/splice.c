/* SPDX-License-Identifier: GPL-3.0-or-later
 * splice.c - leads rings across chords.
 *
 * Stations are the vertices of all rings plus the feet, each with the station that follows on its
 * ring and its chords, sorted counter-clockwise from the way on:
 *
 *         c2  c1
 *      \   |  /       whoever arrives by one spoke leaves by the next one clockwise:
 *   in  \  | /        in -> c2, c2 -> c1, c1 -> out; so the metal stays on the left
 *    ----->o-----> out
 */
#include "thin/splice.h"
#include <string.h>

typedef struct {
  HfGrid at;
  HfEdge from; /* source of the way on */
  guint next;
  guint ring;
} Station;

typedef struct {
  guint station, other; /* from, to */
  double turn;          /* counter-clockwise from the station's way on */
  gboolean used;
} Chord;

/* A foot on its way into the list of its ring. */
typedef struct {
  guint ring, vertex;
  double t;
  guint cut; /* 2 * number + (0 foot a, 1 foot b) */
} Foot;

typedef struct {
  GArray *stations; /* Station */
  GArray *chords;   /* Chord, sorted by station, then by turn */
  guint *at_foot;   /* station of each foot */
  guint8 *used;     /* of each station: its way on was taken */
} Splice;

static Foot
foot_new(const HfRegion *region, HfEdgeId site, HfPoint p, guint cut)
{
  double t;
  hf_segment_nearest(hf_edge_start(region, site), hf_edge_end(region, site), p, &t);
  HfGrid foot = hf_grid_snap(p), start = hf_region_ring(region, site.ring)->at[site.vertex];
  const HfRing *ring = hf_region_ring(region, site.ring);
  guint next = (site.vertex + 1) % ring->n;
  if (foot.x == start.x && foot.y == start.y)
    t = 0;
  if (foot.x == ring->at[next].x && foot.y == ring->at[next].y) {
    site.vertex = next;
    t = 0;
  }
  return (Foot){site.ring, site.vertex, t, cut};
}

static int
by_place(gconstpointer p, gconstpointer q)
{
  const Foot *a = p, *b = q;
  if (a->ring != b->ring)
    return a->ring < b->ring ? -1 : 1;
  if (a->vertex != b->vertex)
    return a->vertex < b->vertex ? -1 : 1;
  if (a->t != b->t)
    return a->t < b->t ? -1 : 1;
  return (a->cut > b->cut) - (a->cut < b->cut);
}

static GArray *
feet_of(const HfRegion *region, const GArray *cuts)
{
  GArray *feet = g_array_new(FALSE, FALSE, sizeof(Foot));
  for (guint i = 0; i < cuts->len; i++) {
    const HfCut *cut = &g_array_index(cuts, HfCut, i);
    Foot a = foot_new(region, cut->site_a, cut->a, 2 * i);
    Foot b = foot_new(region, cut->site_b, cut->b, 2 * i + 1);
    g_array_append_val(feet, a);
    g_array_append_val(feet, b);
  }
  g_array_sort(feet, by_place);
  return feet;
}

static HfGrid
foot_grid(const GArray *cuts, const Foot *foot)
{
  const HfCut *cut = &g_array_index(cuts, HfCut, foot->cut / 2);
  return hf_grid_snap(foot->cut % 2 == 0 ? cut->a : cut->b);
}

/* Stations of one ring; equal feet share one. */
static void
add_ring(Splice *splice, const HfRegion *region, const GArray *cuts, guint r, const GArray *feet,
         guint *next_foot)
{
  const HfRing *ring = hf_region_ring(region, r);
  guint first = splice->stations->len;
  for (guint v = 0; v < ring->n; v++) {
    HfEdge from = ring->from != NULL ? ring->from[v] : (HfEdge){HF_NO_SHAPE, 0, 0, 0};
    Station station = {ring->at[v], from, splice->stations->len + 1, r};
    g_array_append_val(splice->stations, station);
    for (; *next_foot < feet->len; (*next_foot)++) {
      const Foot *foot = &g_array_index(feet, Foot, *next_foot);
      if (foot->ring != r || foot->vertex != v)
        break;
      HfGrid at = foot->t == 0 ? ring->at[v] : foot_grid(cuts, foot);
      Station *last = &g_array_index(splice->stations, Station, splice->stations->len - 1);
      if (at.x != last->at.x || at.y != last->at.y) {
        double whole = from.t1 - from.t0;
        station = (Station){at, from, splice->stations->len + 1, r};
        station.from.t0 = from.t0 + whole * foot->t;
        last->from.t1 = station.from.t0;
        g_array_append_val(splice->stations, station);
      }
      splice->at_foot[foot->cut] = splice->stations->len - 1;
    }
  }
  g_array_index(splice->stations, Station, splice->stations->len - 1).next = first;
}

static const Station *
station_at(const Splice *splice, guint i)
{
  return &g_array_index(splice->stations, Station, i);
}

static double
turn_from(HfGrid at, HfGrid zero, HfGrid to)
{
  double angle = atan2((double)to.y - at.y, (double)to.x - at.x) -
                 atan2((double)zero.y - at.y, (double)zero.x - at.x);
  return angle <= 0 ? angle + 2 * G_PI : angle;
}

static int
by_turn(gconstpointer p, gconstpointer q)
{
  const Chord *a = p, *b = q;
  if (a->station != b->station)
    return a->station < b->station ? -1 : 1;
  if (a->turn != b->turn)
    return a->turn < b->turn ? -1 : 1;
  return (a->other > b->other) - (a->other < b->other);
}

static void
add_chords(Splice *splice, guint n_cuts)
{
  for (guint i = 0; i < n_cuts; i++) {
    guint a = splice->at_foot[2 * i], b = splice->at_foot[2 * i + 1];
    const Station *sa = station_at(splice, a), *sb = station_at(splice, b);
    if (a == b || memcmp(&sa->at, &sb->at, sizeof sa->at) == 0)
      continue;
    Chord there = {a, b, turn_from(sa->at, station_at(splice, sa->next)->at, sb->at), FALSE};
    Chord back = {b, a, turn_from(sb->at, station_at(splice, sb->next)->at, sa->at), FALSE};
    g_array_append_val(splice->chords, there);
    g_array_append_val(splice->chords, back);
  }
  g_array_sort(splice->chords, by_turn);
}

/* The first chord of @station or of one after it: they are sorted by station. */
static guint
first_chord(const Splice *splice, guint station)
{
  guint low = 0, high = splice->chords->len;
  while (low < high) {
    guint middle = (low + high) / 2;
    if (g_array_index(splice->chords, Chord, middle).station < station)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

/* Which chord leaves @station next clockwise from the one to @from (or from the way in); NULL: the
 * way on. */
static Chord *
next_chord(const Splice *splice, guint station, const Chord *arrived)
{
  Chord *all = (Chord *)(void *)splice->chords->data, *best = NULL;
  guint i = first_chord(splice, station);
  for (; i < splice->chords->len && all[i].station == station; i++) {
    if (arrived != NULL && all[i].other == arrived->station)
      return best; /* chords are sorted: the one before is the next clockwise */
    best = &all[i];
  }
  return best;
}

static void
take_loop(Splice *splice, guint start, HfRegion *result)
{
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  g_autoptr(GArray) from = g_array_new(FALSE, FALSE, sizeof(HfEdge));
  guint station = start;
  do { /* leave by the way on, then follow chords while there are any */
    const Station *s = station_at(splice, station);
    g_array_append_val(at, s->at);
    g_array_append_val(from, s->from);
    splice->used[station] = TRUE;
    station = s->next;
    const Chord *arrived = NULL;
    for (;;) {
      Chord *chord = next_chord(splice, station, arrived);
      if (chord == NULL)
        break;
      chord->used = TRUE;
      HfEdge none = {HF_NO_SHAPE, 0, 0, 0};
      g_array_append_val(at, station_at(splice, station)->at);
      g_array_append_val(from, none);
      station = chord->other;
      arrived = chord;
    }
  } while (station != start);
  if (at->len >= 3)
    hf_region_add_ring(result, (HfGrid *)(void *)at->data, (HfEdge *)(void *)from->data, at->len);
}

/* Openings to the smallest outer ring that holds the metal beside them. */
static void
nest(HfRegion *region)
{
  guint n = region->rings->len;
  g_autofree double *area = g_new(double, n + 1);
  g_autoptr(HfIndex) index = hf_index_new(region, hf_index_cell(region));
  g_autoptr(GArray) round = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint i = 0; i < n; i++)
    area[i] = hf_ring_area(hf_region_ring(region, i));
  for (guint i = 0; i < n; i++) {
    HfRing *ring = hf_region_ring(region, i);
    ring->parent = -1;
    if (area[i] > 0)
      continue;
    hf_index_rings_round(index, hf_ring_beside(ring, 1e-6), round);
    for (guint k = 0; k < round->len; k++) {
      guint o = g_array_index(round, HfEdgeId, k).ring;
      if (area[o] > 0 && (ring->parent < 0 || area[o] < area[ring->parent]))
        ring->parent = (gint)o;
    }
  }
}

/* Loops of no area: a chord along an edge. And an opening that nothing holds is such a loop too. */
static HfRegion *
without_crumbs(const HfRegion *region)
{
  HfRegion *result = hf_region_new();
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    if (fabs(hf_ring_area(ring)) > 1e-6)
      hf_region_add_ring(result, ring->at, ring->from, ring->n);
  }
  return result;
}

HfRegion *
hf_region_splice(const HfRegion *region, const GArray *cuts)
{
  if (cuts->len == 0)
    return hf_region_copy(region);
  g_autoptr(GArray) feet = feet_of(region, cuts);
  g_autoptr(GArray) stations = g_array_new(FALSE, FALSE, sizeof(Station));
  g_autoptr(GArray) chords = g_array_new(FALSE, FALSE, sizeof(Chord));
  g_autofree guint *at_foot = g_new0(guint, 2 * cuts->len + 1);
  Splice splice = {stations, chords, at_foot, NULL};
  guint next_foot = 0;
  for (guint r = 0; r < region->rings->len; r++)
    add_ring(&splice, region, cuts, r, feet, &next_foot);
  add_chords(&splice, cuts->len);
  g_autofree guint8 *used = g_new0(guint8, stations->len + 1);
  splice.used = used;
  g_autoptr(HfRegion) loops = hf_region_new();
  for (guint s = 0; s < stations->len; s++)
    if (!used[s])
      take_loop(&splice, s, loops);
  HfRegion *result = without_crumbs(loops);
  nest(result);
  return result;
}

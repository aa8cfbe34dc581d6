/* SPDX-License-Identifier: GPL-3.0-or-later
 * against.c - what is left against the design.
 *
 *      design  |_         A round kerf can't cut an inside corner out: the design is first opened
 * to as cut  |_)        it (its openings, that is: grown by half a kerf and shrunk again), and what
 *                         stays in the corners is a figure of its own, no error.
 *
 * Every place on the edge of the sign that is left is held against the nearest edge of the design:
 * inward where metal is missing, outward where there is too much. And the other way round, as a
 * contour that was never cut has no edge at all.
 */
#include "base/text.h"
#include "replay/leeway.h"
#include "replay/replay-private.h"

enum { MOST_LAID_BY = 1000, MOST_WIDTHS = 20 };
#define NEAR_CUT   0.1  /* a contour of which less than this share is cut near it is not cut */
#define STILL_HELD 0.02 /* of the design's area, in the skeleton */

/* ---- how far ----------------------------------------------------------------------------------
 */

/* Edges of a region, asked for their distance; far ones are looked for in wider and wider reach. */
typedef struct {
  const HfRegion *region;
  HfTrace *trace;
  double reach; /* mm, of the first try */
} Edges;

static Edges
edges_of(const HfRegion *region, double reach)
{
  return (Edges){region, hf_trace_new(region, hf_index_cell(region)), reach};
}

/* The foot of the way from a place to the nearest edge. */
typedef struct {
  double away, share; /* mm; where on the edge, 0..1 */
  HfEdgeId id;
} Foot;

static Foot
foot_of(const Edges *edges, HfPoint p, double most)
{
  Foot foot;
  for (double reach = edges->reach; reach < most; reach *= 4)
    if (hf_trace_nearest(edges->trace, p, reach, &foot.id, &foot.share, &foot.away))
      return foot;
  if (!hf_trace_nearest(edges->trace, p, most, &foot.id, &foot.share, &foot.away))
    foot = (Foot){.away = most};
  return foot;
}

static double
distance_to(const Edges *edges, HfPoint p, double most)
{
  return foot_of(edges, p, most).away;
}

/* Does @what(p, edge of the ring) at its vertices and in between every @step mm. */
typedef void (*AtPlace)(HfPoint p, const HfEdge *from, gpointer data);

static void
walk_ring(const HfRing *ring, double step, AtPlace what, gpointer data)
{
  for (guint v = 0; v < ring->n; v++) {
    HfPoint a = hf_grid_point(ring->at[v]),
            b = hf_grid_point(ring->at[v + 1 < ring->n ? v + 1 : 0]);
    guint n = (guint)ceil(hf_point_distance(a, b) / step);
    for (guint i = 0; i < n; i++)
      what(hf_point_mix(a, b, i / (double)n), ring->from != NULL ? &ring->from[v] : NULL, data);
  }
}

/* ---- where the design lies --------------------------------------------------------------------
 */

/* The less, the better it lies there: how far the design's edge is from that of what is left. */
static double
misfit(const HfReplay *replay, const Edges *left, const HfRegion *design, HfPoint by)
{
  guint n = hf_region_n_edges(design), every = n / MOST_LAID_BY + 1, k = 0;
  double sum = 0;
  for (guint r = 0; r < design->rings->len; r++) {
    const HfRing *ring = hf_region_ring(design, r);
    for (guint v = 0; v < ring->n; v++)
      if (k++ % every == 0)
        sum += distance_to(left, hf_point_add(hf_grid_point(ring->at[v]), by), 2 * replay->kerf);
  }
  return sum;
}

/* Of all pieces that came out; of all that was cut where none did. */
static HfBox
box_of_pieces(const HfReplay *replay)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < replay->pieces->len; i++)
    if (hf_replay_piece(replay, i)->kind != HF_PIECE_SKELETON)
      box = hf_box_union(box, hf_replay_piece(replay, i)->box);
  return hf_box_is_empty(box) ? hf_region_box(replay->cut) : box;
}

/* As it is drawn, or where its box fits what came out, or what was cut. */
static HfPoint
find_way(const HfReplayWork *work)
{
  const HfReplay *replay = work->replay;
  const HfRegion *design = work->options->design;
  HfBox own = hf_region_box(design), box = box_of_pieces(replay), cut = hf_region_box(replay->cut);
  if (isfinite(work->options->at.x))
    return hf_point_sub(work->options->at, own.min);
  HfPoint ways[] = {{0, 0},
                    hf_point_sub(hf_box_centre(box), hf_box_centre(own)),
                    hf_point_sub(box.min, own.min),
                    hf_point_sub(hf_box_centre(cut), hf_box_centre(own))};
  Edges left = edges_of(replay->left, replay->kerf / 4);
  guint best = 0;
  double least = INFINITY;
  for (guint i = 0; i < G_N_ELEMENTS(ways); i++) {
    double here = misfit(replay, &left, design, ways[i]);
    if (here < least * (1 - 1e-9)) {
      least = here;
      best = i;
    }
  }
  hf_trace_free(left.trace);
  return ways[best];
}

static HfRegion *
moved(const HfRegion *region, HfPoint by)
{
  HfRegion *result = hf_region_copy(region);
  HfGrid step = hf_grid_snap(by);
  for (guint r = 0; r < result->rings->len; r++) {
    HfRing *ring = hf_region_ring(result, r);
    for (guint v = 0; v < ring->n; v++) {
      ring->at[v].x += step.x;
      ring->at[v].y += step.y;
    }
  }
  return result;
}

void
hf_replay_lay(HfReplayWork *work)
{
  HfReplay *replay = work->replay;
  HfRegion *laid = work->drawn = moved(work->options->design, find_way(work));
  g_autoptr(HfRegion) wide = hf_region_offset(laid, replay->kerf / 2, 0.001);
  replay->design = hf_region_offset(wide, -replay->kerf / 2, 0.001);
  replay->laid = hf_region_box(laid).min;
  replay->kept_corners = fmax(hf_region_area(replay->design) - hf_region_area(laid), 0);
}

/* ---- whose piece ------------------------------------------------------------------------------
 */

static void
share_out(HfReplayWork *work)
{
  HfReplay *replay = work->replay;
  g_autoptr(HfRegion) both = hf_region_intersect(replay->left, replay->design);
  g_autoptr(HfIndex) index = hf_index_new(replay->left, hf_index_cell(replay->left));
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  g_autofree double *of_ring = g_new0(double, replay->left->rings->len + 1);
  for (guint i = 0; i < both->rings->len; i++) {
    const HfRing *ring = hf_region_ring(both, i);
    hf_index_rings_round(index, hf_ring_beside(ring, 0.0005), ids);
    double least = INFINITY; /* the innermost outer ring about it is the piece's */
    guint inner = G_MAXUINT;
    for (guint j = 0; j < ids->len; j++) {
      guint r = g_array_index(ids, HfEdgeId, j).ring;
      double area = hf_ring_area(hf_region_ring(replay->left, r));
      if (area > 0 && area < least) {
        least = area;
        inner = r;
      }
    }
    if (inner != G_MAXUINT)
      of_ring[inner] += hf_ring_area(ring);
  }
  for (guint i = 0; i < replay->pieces->len; i++) {
    HfPiece *piece = hf_replay_piece(replay, i);
    piece->of_design = of_ring[piece->ring];
    if (piece->kind != HF_PIECE_SKELETON)
      piece->kind = piece->of_design > piece->area / 2 ? HF_PIECE_SIGN : HF_PIECE_DROP;
  }
}

static guint
parts_of(const HfRegion *region)
{
  guint n = 0;
  for (guint i = 0; i < region->rings->len; i++)
    n += hf_region_ring(region, i)->parent < 0 ? 1 : 0;
  return n;
}

static const HfPiece *
smallest_of_sign(const HfReplay *replay)
{
  const HfPiece *least = NULL;
  for (guint i = 0; i < replay->pieces->len; i++) {
    const HfPiece *piece = hf_replay_piece(replay, i);
    if (piece->kind == HF_PIECE_SIGN && (least == NULL || piece->area < least->area))
      least = piece;
  }
  return least;
}

static const HfPiece *
held_by_skeleton(const HfReplay *replay)
{
  double area = replay->design != NULL ? hf_region_area(replay->design) : INFINITY;
  for (guint i = 0; i < replay->pieces->len; i++) {
    const HfPiece *piece = hf_replay_piece(replay, i);
    if (piece->kind == HF_PIECE_SKELETON && piece->of_design > STILL_HELD * area)
      return piece;
  }
  return NULL;
}

static void
judge_parts(HfReplay *replay)
{
  guint parts = hf_replay_count(replay, HF_PIECE_SIGN), wanted = parts_of(replay->design);
  const HfPiece *least = smallest_of_sign(replay), *held = held_by_skeleton(replay);
  g_autofree char *area = least != NULL ? hf_text_area(least->area) : NULL;
  if (least != NULL && parts > wanted)
    hf_replay_say(replay, "in-parts", HF_STOP, 0, least->at, NAN,
                  "the sign falls into %u parts and should be %u; the smallest has %s", parts,
                  wanted, area);
  if (held != NULL)
    hf_replay_say(replay, "held", HF_STOP, 0, hf_point(NAN, NAN), NAN,
                  "%d %% of the sign still hang on the sheet",
                  (int)rint(100 * held->of_design / hf_region_area(replay->design)));
}

/* ---- what is left against the design ----------------------------------------------------------
 */

typedef struct {
  double away;
  HfPoint at;
  guint point; /* of the path; G_MAXUINT: none */
} Worst;

typedef struct {
  HfReplay *replay;
  Edges design;
  HfIndex *index; /* of the design */
  GArray *ids;
  HfLeeway *leeway;
  Edges drawn; /* the design before a kerf rounds its corners, and what of it is metal */
  HfIndex *drawn_index;
  gboolean only_inward;
  double within;
  Worst *inward, *outward; /* of each burn; one more for what no burn made */
  Worst in, out;
} Compare;

static void
keep_worst(Worst *worst, const Worst *here)
{
  if (here->away > worst->away)
    *worst = *here;
}

/* Metal lies to the left of the nearest edge; by a ray where that is an edge's end. */
static gboolean
is_in_design(const Compare *c, HfPoint p, const Foot *foot)
{
  if (!(foot->share > 0.001 && foot->share < 0.999))
    return hf_index_holds(c->index, p, c->ids);
  HfPoint a = hf_edge_start(c->design.region, foot->id),
          b = hf_edge_end(c->design.region, foot->id);
  return hf_point_cross(hf_point_sub(b, a), hf_point_sub(p, a)) > 0;
}

/* How far @p is into what was drawn: what only a round kerf would have left may be cut. */
static double
into_drawn(const Compare *c, HfPoint p)
{
  return hf_index_holds(c->drawn_index, p, c->ids) ? distance_to(&c->drawn, p, 1e5) : 0;
}

static void
compare_place(HfPoint p, const HfEdge *from, gpointer data)
{
  Compare *c = data;
  guint n_burns = c->replay->burns->len;
  gboolean known = from != NULL && from->shape < n_burns;
  guint burn = known ? from->shape : n_burns;
  Foot foot = foot_of(&c->design, p, 1e5);
  Worst here = {foot.away, p, known ? from->curve : G_MAXUINT};
  /* of each burn only what is too far counts; of all the farthest either way */
  if (here.away <= c->within && here.away <= fmin(c->in.away, c->out.away))
    return;
  gboolean in = is_in_design(c, p, &foot);
  if (!in && c->only_inward)
    return;
  if (!in && here.away > c->within && hf_leeway_holds(c->leeway, p))
    here.away = c->within;
  if (in && here.away > c->within)
    here.away = fmin(here.away, into_drawn(c, p));
  if (here.away > c->within)
    keep_worst(in ? &c->inward[burn] : &c->outward[burn], &here);
  keep_worst(in ? &c->in : &c->out, &here);
}

static void
compare_piece(Compare *c, const HfPiece *piece)
{
  const HfRegion *left = c->replay->left;
  c->only_inward = piece->kind == HF_PIECE_SKELETON;
  for (guint r = 0; r < left->rings->len; r++) {
    const HfRing *ring = hf_region_ring(left, r);
    if (r == piece->ring ? !c->only_inward : ring->parent == (gint)piece->ring)
      walk_ring(ring, c->replay->kerf, compare_place, c);
  }
}

/* ---- how wide the metal is there --------------------------------------------------------------
 */

/* mm from @p along @way to the next edge. */
static double
free_way(const HfRegion *region, HfPoint p, HfPoint way)
{
  double nearest = INFINITY;
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint v = 0; v < ring->n; v++) {
      HfPoint a = hf_point_sub(hf_grid_point(ring->at[v]), p),
              b = hf_point_sub(hf_grid_point(ring->at[v + 1 < ring->n ? v + 1 : 0]), p);
      double sa = hf_point_cross(way, a), sb = hf_point_cross(way, b);
      if ((sa > 0) == (sb > 0))
        continue;
      double t = hf_point_dot(way, hf_point_mix(a, b, sa / (sa - sb)));
      if (t > 0.001 && t < nearest)
        nearest = t;
    }
  }
  return nearest;
}

/* `; the metal beside it is 1.2 mm wide, planned are 2.7 mm`, where it is thinner. (transfer full)
 */
static char *
thinner(const HfReplay *replay, const Worst *worst)
{
  HfBurnPoint a = *hf_replay_point(replay, worst->point - 1),
              b = *hf_replay_point(replay, worst->point);
  HfPoint foot = hf_segment_nearest(a.at, b.at, worst->at, NULL),
          away = hf_point_sub(worst->at, foot);
  double length = hf_point_length(away);
  if (!(length > 1e-6))
    return g_strdup("");
  HfPoint way = hf_point_scale(away, 1 / length), back = hf_point_scale(way, -1);
  double is = free_way(replay->left, worst->at, way);
  double planned =
      free_way(replay->design, worst->at, way) + free_way(replay->design, worst->at, back);
  if (!(isfinite(is) && isfinite(planned) && is < planned))
    return g_strdup("");
  g_autofree char *now = hf_text_mm(is), *then = hf_text_mm(planned);
  return g_strdup_printf("; the metal beside it is %s wide, planned are %s", now, then);
}

static void
say_worst(const Compare *c, const Worst *worst, gboolean in, guint *widths)
{
  HfReplay *replay = c->replay;
  if (!(worst->away > c->within))
    return;
  g_autofree char *by = hf_text_mm(worst->away);
  gboolean known = worst->point != G_MAXUINT && worst->point > 0;
  g_autofree char *width =
      in && known && (*widths)++ < MOST_WIDTHS ? thinner(replay, worst) : g_strdup("");
  guint line = known ? hf_replay_line(replay, worst->point) : 0;
  if (in)
    hf_replay_say(replay, "inward", HF_STOP, line, worst->at, worst->away,
                  "the cut goes %s into the sign%s", by, width);
  else
    hf_replay_say(replay, "outward", HF_STOP, line, worst->at, worst->away,
                  "the cut leaves %s more than the design has", by);
}

/* ---- the design against what is left ----------------------------------------------------------
 */

typedef struct {
  const HfReplay *replay;
  const Edges *left;
  HfIndex *left_index;
  GArray *ids;
  HfLeeway *leeway;
  double within;
  Worst worst;
  guint n, near_cut;
  HfPoint first;
} Sought;

static void
seek_place(HfPoint p, const HfEdge *from G_GNUC_UNUSED, gpointer data)
{
  Sought *s = data;
  Worst here = {distance_to(s->left, p, 1e5), p, G_MAXUINT};
  if (s->n++ == 0)
    s->first = p;
  s->near_cut += here.away <= 2 * s->replay->kerf ? 1 : 0;
  if (here.away > s->within && !hf_index_holds(s->left_index, p, s->ids))
    here.away = s->within; /* it is burnt: whether it should be is asked elsewhere */
  if (here.away > s->within && here.away - hf_leeway_away(s->leeway, p, here.away) <= s->within)
    here.away = s->within;
  keep_worst(&s->worst, &here);
}

static void
seek_ring(HfReplay *replay, const HfRing *ring, const Sought *about, double found)
{
  Sought s = *about;
  double within = s.within;
  walk_ring(ring, replay->kerf, seek_place, &s);
  g_autofree char *by = hf_text_mm(s.worst.away);
  HfBox box = hf_ring_box(ring);
  g_autofree char *size = hf_text_size(hf_box_width(box), hf_box_height(box));
  if (s.near_cut < NEAR_CUT * s.n)
    hf_replay_say(replay, "uncut", HF_STOP, 0, s.first, NAN, "%s of %s is not cut",
                  ring->parent < 0 ? "the outside" : "an opening", size);
  else if (s.worst.away > within && s.worst.away > 1.2 * found)
    hf_replay_say(replay, "uncut", HF_STOP, 0, s.worst.at, s.worst.away,
                  "%s of %s is not cut all round: the nearest cut is %s away",
                  ring->parent < 0 ? "the outside" : "an opening", size, by);
  else
    return;
  if (s.worst.away > replay->outward) {
    replay->outward = s.worst.away;
    replay->outward_at = s.worst.at;
  }
}

/* ---- all --------------------------------------------------------------------------------------
 */

static void
compare_all(HfReplayWork *work, Compare *c)
{
  HfReplay *replay = work->replay;
  const HfPiece *held = held_by_skeleton(replay);
  for (guint i = 0; i < replay->pieces->len; i++) {
    const HfPiece *piece = hf_replay_piece(replay, i);
    if (piece->kind == HF_PIECE_SIGN || piece == held)
      compare_piece(c, piece);
  }
  guint widths = 0;
  for (guint i = 0; i <= replay->burns->len; i++) {
    say_worst(c, &c->inward[i], TRUE, &widths);
    say_worst(c, &c->outward[i], FALSE, &widths);
  }
  replay->inward = c->in.away;
  replay->inward_at = c->in.at;
  replay->outward = c->out.away;
  replay->outward_at = c->out.at;
}

static void
compare(HfReplayWork *work)
{
  HfReplay *replay = work->replay;
  g_autoptr(HfIndex) index = hf_index_new(replay->design, hf_index_cell(replay->design));
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  g_autofree Worst *inward = g_new0(Worst, replay->burns->len + 1);
  g_autofree Worst *outward = g_new0(Worst, replay->burns->len + 1);
  HfLeeway leeway = {.design = replay->design, .kerf = replay->kerf};
  g_autoptr(HfIndex) drawn = hf_index_new(work->drawn, hf_index_cell(work->drawn));
  Compare c = {.replay = replay,
               .leeway = &leeway,
               .drawn = edges_of(work->drawn, replay->kerf / 8),
               .drawn_index = drawn,
               .design = edges_of(replay->design, replay->kerf / 8),
               .index = index,
               .ids = ids,
               .within = work->options->within,
               .inward = inward,
               .outward = outward};
  compare_all(work, &c);
  hf_trace_free(c.design.trace);
  hf_trace_free(c.drawn.trace);
  Edges left = edges_of(replay->left, replay->kerf / 8);
  g_autoptr(HfIndex) left_index = hf_index_new(replay->left, hf_index_cell(replay->left));
  Sought about = {.replay = replay,
                  .left = &left,
                  .left_index = left_index,
                  .ids = ids,
                  .leeway = &leeway,
                  .within = work->options->within};
  double found = fmax(replay->inward, replay->outward);
  for (guint r = 0; r < replay->design->rings->len; r++)
    seek_ring(replay, hf_region_ring(replay->design, r), &about, found);
  hf_trace_free(left.trace);
  hf_leeway_clear(&leeway);
}

gboolean
hf_replay_judge(HfReplayWork *work, GError **error)
{
  HfReplay *replay = work->replay;
  if (replay->design == NULL) {
    if (hf_replay_count(replay, HF_PIECE_SIGN) == 0)
      hf_replay_say(replay, "held", HF_STOP, 0, hf_point(NAN, NAN), NAN,
                    "nothing comes loose: no contour is cut all round");
    return hf_cancel_check(work->cancel, error);
  }
  share_out(work);
  judge_parts(replay);
  if (hf_cancel_check(work->cancel, NULL))
    compare(work);
  return hf_cancel_check(work->cancel, error);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * crossed.c - where the torch goes that it should not: over cuts that were made before, over drops
 * that may have tipped, off the table, burning where it travels.
 */
#include "base/text.h"
#include "replay/replay-private.h"

/* A cut that only crosses another runs about a kerf along it, at a flat angle some more. */
#define ALONG_KERFS 3.0

/* ---- burns over burns ------------------------------------------------------------------------ */

typedef struct {
  double length; /* mm of the burn's path that lie in what earlier ones took */
  guint point;   /* the first of it */
} Along;

/* In steps of a quarter of a kerf. */
static void
measure_step(const HfReplay *replay, const HfRegion *earlier, guint point, Along *along)
{
  HfPoint a = hf_replay_point(replay, point - 1)->at, b = hf_replay_point(replay, point)->at;
  double length = hf_point_distance(a, b);
  guint n = (guint)ceil(length / (replay->kerf / 4));
  for (guint i = 0; i < n; i++)
    if (hf_region_contains(earlier, hf_point_mix(a, b, (i + 0.5) / n))) {
      if (along->length == 0)
        along->point = point;
      along->length += length / n;
    }
}

static Along
measure_along(const HfReplayWork *work, guint burn, guint earlier)
{
  const HfReplay *replay = work->replay;
  const HfBurn *b = hf_replay_burn(replay, burn);
  const HfRegion *take = (const HfRegion *)work->takes->pdata[earlier];
  HfBox box = hf_region_box(take);
  Along along = {0, b->first};
  for (guint i = b->first + 1; i < b->first + b->n; i++) {
    HfBox step =
        hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, hf_replay_point(replay, i - 1)->at),
                         hf_replay_point(replay, i)->at);
    if (hf_box_overlaps(step, box))
      measure_step(replay, take, i, &along);
  }
  return along;
}

static void
judge_burn(HfReplayWork *work, guint burn)
{
  HfReplay *replay = work->replay;
  const GArray *over = (const GArray *)work->over->pdata[burn];
  for (guint i = 0; i < over->len; i++) {
    guint earlier = g_array_index(over, guint, i), line = hf_replay_burn(replay, earlier)->line_on;
    Along along = measure_along(work, burn, earlier);
    if (along.length == 0)
      continue;
    HfPoint at = hf_replay_point(replay, along.point)->at;
    g_autofree char *length = hf_text_mm(along.length);
    if (along.length > ALONG_KERFS * replay->kerf)
      hf_replay_say(replay, "nothing-to-cut", HF_CAUTION, hf_replay_line(replay, along.point), at,
                    along.length,
                    "the torch burns for %s along the cut of line %u, where nothing is left to cut",
                    length, line);
    else
      hf_replay_say(replay, "crosses", HF_CAUTION, hf_replay_line(replay, along.point), at,
                    along.length, "the cut crosses the one of line %u", line);
  }
}

static void
judge_way(HfReplay *replay, const HfBurn *burn)
{
  HfPoint at = hf_replay_point(replay, burn->first)->at;
  if (burn->n == 1)
    hf_replay_say(replay, "only-pierced", HF_CAUTION, burn->line_on, at, NAN,
                  "the torch pierces and cuts nothing");
  for (guint i = burn->move_on; i <= burn->move_off; i++) {
    const HfMove *move = hf_program_move(replay->program, i);
    if (move->kind != HF_MOVE_TRAVEL || !move->lit || hf_move_length(move) == 0)
      continue;
    hf_replay_say(replay, "burning-travel", HF_STOP, move->line,
                  hf_point(move->from[0], move->from[1]), NAN,
                  "the torch burns while it travels (G0); turn it off before");
  }
}

/* ---- travels --------------------------------------------------------------------------------- */

static gboolean
ring_is_met(const HfRing *ring, HfPoint a, HfPoint b)
{
  for (guint v = 0; v < ring->n; v++)
    if (hf_segment_gap(a, b, hf_grid_point(ring->at[v]),
                       hf_grid_point(ring->at[v + 1 < ring->n ? v + 1 : 0]), NULL, NULL) == 0)
      return TRUE;
  return hf_ring_holds(ring, a);
}

static gboolean
segment_meets_box(HfPoint a, HfPoint b, HfBox box)
{
  double from = 0, to = 1, start[2] = {a.x, a.y}, by[2] = {b.x - a.x, b.y - a.y};
  double least[2] = {box.min.x, box.min.y}, most[2] = {box.max.x, box.max.y};
  for (int i = 0; i < 2; i++) {
    if (by[i] == 0) {
      if (start[i] < least[i] || start[i] > most[i])
        return FALSE;
      continue;
    }
    double s = (least[i] - start[i]) / by[i], t = (most[i] - start[i]) / by[i];
    from = fmax(from, fmin(s, t));
    to = fmin(to, fmax(s, t));
  }
  return from <= to;
}

typedef struct {
  guint n, line;
  HfPoint at;
} Crossed;

/* Only the drops that lay loose before burn number @done are in the way. */
static void
judge_travel(const HfReplay *replay, const HfMove *move, guint done, Crossed *crossed)
{
  HfPoint a = hf_point(move->from[0], move->from[1]), b = hf_point(move->to[0], move->to[1]);
  for (guint i = 0; i < replay->pieces->len; i++) {
    const HfPiece *piece = hf_replay_piece(replay, i);
    if (piece->kind != HF_PIECE_DROP || piece->loosened == 0 || piece->loosened > done ||
        !segment_meets_box(a, b, piece->box) ||
        !ring_is_met(hf_region_ring(replay->left, piece->ring), a, b))
      continue;
    if (crossed->n++ == 0) {
      crossed->line = move->line;
      crossed->at = piece->at;
    }
    return;
  }
}

static void
judge_travels(HfReplay *replay)
{
  Crossed crossed = {0};
  guint done = 0;
  for (guint i = 0; i < replay->program->moves->len; i++) {
    const HfMove *move = hf_program_move(replay->program, i);
    while (done < replay->burns->len && hf_replay_burn(replay, done)->move_off < i)
      done++;
    if (!move->lit && move->kind <= HF_MOVE_ROUND)
      judge_travel(replay, move, done, &crossed);
  }
  if (crossed.n > 0)
    hf_replay_say(
        replay, "over-drops", HF_NOTE, crossed.line, crossed.at, NAN,
        "the torch travels over drops that may have tipped up, %u time%s in all; see that "
        "it travels high enough",
        crossed.n, crossed.n > 1 ? "s" : "");
}

/* ---- table ----------------------------------------------------------------------------------- */

static HfBox
box_of_move(const HfMove *move)
{
  HfPoint a = hf_point(move->from[0], move->from[1]), b = hf_point(move->to[0], move->to[1]);
  if (move->kind != HF_MOVE_ROUND || move->plane != HF_PLANE_XY)
    return hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
  HfCurve arc = {HF_CURVE_ARC, a, b, move->centre, {0, 0}, move->sweep};
  return hf_curve_box(&arc);
}

static double
beyond(HfBox box, HfBox table)
{
  return fmax(fmax(table.min.x - box.min.x, box.max.x - table.max.x),
              fmax(table.min.y - box.min.y, box.max.y - table.max.y));
}

static void
judge_table(HfReplay *replay, HfBox table)
{
  double most = 1e-6;
  const HfMove *worst = NULL;
  for (guint i = 0; !hf_box_is_empty(table) && i < replay->program->moves->len; i++) {
    double by = beyond(box_of_move(hf_program_move(replay->program, i)), table);
    if (worst == NULL ? by > most : by > most + 1e-6) {
      most = by;
      worst = hf_program_move(replay->program, i);
    }
  }
  if (worst == NULL)
    return;
  g_autofree char *by = hf_text_mm(most);
  hf_replay_say(replay, "off-table", HF_STOP, worst->line, hf_point(worst->to[0], worst->to[1]),
                most, "the torch goes %s off the table", by);
}

gboolean
hf_replay_cross(HfReplayWork *work, GError **error)
{
  HfReplay *replay = work->replay;
  for (guint i = 0; i < replay->burns->len; i++) {
    judge_burn(work, i);
    judge_way(replay, hf_replay_burn(replay, i));
  }
  judge_travels(replay);
  judge_table(replay, work->options->table);
  return hf_cancel_check(work->cancel, error);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * burns.c - the moves between torch on and torch off as one path each, and how long all takes.
 */
#include "base/text.h"
#include "replay/replay-private.h"

guint
hf_replay_line(const HfReplay *replay, guint point)
{
  return hf_program_move(replay->program, hf_replay_point(replay, point)->move)->line;
}

static HfPoint
plan(const double *xyz)
{
  return hf_point(xyz[0], xyz[1]);
}

static void
push(HfReplay *replay, HfBurn *burn, HfPoint p, guint move)
{
  HfBurnPoint point = {p, move};
  if (burn->n > 0) {
    double step = hf_point_distance(hf_replay_point(replay, replay->path->len - 1)->at, p);
    if (step < 1e-6) /* straight up or down, or nothing */
      return;
    burn->length += step;
  }
  g_array_append_val(replay->path, point);
  burn->n++;
  burn->box = hf_box_add_point(burn->box, p);
}

/* Chords with their ends on the arc; where the ends are off one circle, on a spiral between them.
 */
static void
push_arc(HfReplay *replay, HfBurn *burn, const HfMove *move, guint number)
{
  HfPoint from = plan(move->from), to = plan(move->to), c = move->centre;
  double r0 = hf_point_distance(from, c), r1 = hf_point_distance(to, c);
  double larger = fmax(r0, r1), step = 2 * acos(fmax(1 - HF_BURN_CHORD_MM / larger, 0));
  guint n = (guint)ceil(fabs(move->sweep) / fmax(step, 1e-5));
  double start = hf_angle_of(hf_point_sub(from, c));
  for (guint i = 1; i < n; i++) {
    double t = i / (double)n;
    push(replay, burn, hf_point_polar(c, r0 + (r1 - r0) * t, start + move->sweep * t), number);
  }
  push(replay, burn, to, number);
}

static gboolean
refuse(const HfReplay *replay, const HfMove *move, GError **error)
{
  g_autofree char *where = g_strdup_printf("%s:%u:1", replay->program->file, move->line);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, "cut arcs in G17",
               "the torch burns in an arc that does not lie level");
  return FALSE;
}

static gboolean
add_move(HfReplay *replay, HfBurn *burn, guint i, GError **error)
{
  const HfMove *move = hf_program_move(replay->program, i);
  if (burn->n == 0)
    push(replay, burn, plan(move->from), i);
  if (move->kind == HF_MOVE_ROUND && move->plane != HF_PLANE_XY)
    return refuse(replay, move, error);
  if (move->kind == HF_MOVE_ROUND)
    push_arc(replay, burn, move, i);
  else
    push(replay, burn, plan(move->to), i);
  burn->move_off = i;
  burn->line_off = move->line;
  return TRUE;
}

static void
add_figures(HfReplay *replay, const HfMove *move)
{
  double seconds = hf_move_seconds(move);
  if (move->kind == HF_MOVE_WAIT)
    replay->wait_seconds += seconds;
  else
    replay->cut_seconds += seconds;
  if (!move->lit && move->kind <= HF_MOVE_ROUND)
    replay->travel += hf_point_distance(plan(move->from), plan(move->to));
}

static void
end_burn(HfReplay *replay, HfBurn *burn)
{
  if (burn->n == 0)
    return;
  g_array_append_val(replay->burns, *burn);
  replay->cut_length += burn->length;
  burn->n = 0;
}

static HfBurn
begin_burn(const HfReplay *replay, guint i)
{
  guint line = hf_program_move(replay->program, i)->line;
  return (HfBurn){.first = replay->path->len,
                  .move_on = i,
                  .move_off = i,
                  .line_on = line,
                  .line_off = line,
                  .box = HF_BOX_EMPTY};
}

/* A torch that only pierces burns a hole, too. */
gboolean
hf_replay_find_burns(HfReplayWork *work, GError **error)
{
  HfReplay *replay = work->replay;
  HfBurn burn = {.n = 0};
  for (guint i = 0; i < replay->program->moves->len; i++) {
    const HfMove *move = hf_program_move(replay->program, i);
    add_figures(replay, move);
    if (move->kind == HF_MOVE_TORCH_ON) {
      end_burn(replay, &burn);
      burn = begin_burn(replay, i);
    }
    if (move->lit && !add_move(replay, &burn, i, error))
      return FALSE;
    if (move->kind == HF_MOVE_TORCH_OFF)
      end_burn(replay, &burn);
  }
  end_burn(replay, &burn);
  if (replay->burns->len > 0)
    return TRUE;
  hf_error_set(error, HF_ERROR_BAD_VALUE, replay->program->file,
               "turn the torch on by M3 where it is to cut, and off by M5",
               "the program burns nothing");
  return FALSE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * replay.c - the steps of a replay, one after the other.
 */
#include "replay/replay-private.h"

static void
finding_free(gpointer data)
{
  HfReplayFinding *finding = data;
  g_free(finding->says);
  g_free(finding);
}

void
hf_replay_free(HfReplay *replay)
{
  if (replay == NULL)
    return;
  g_clear_pointer(&replay->burns, g_array_unref);
  g_clear_pointer(&replay->path, g_array_unref);
  g_clear_pointer(&replay->pieces, g_array_unref);
  g_clear_pointer(&replay->findings, g_ptr_array_unref);
  hf_region_free(replay->cut);
  hf_region_free(replay->left);
  hf_region_free(replay->design);
  g_free(replay);
}

static HfReplay *
replay_new(const HfProgram *program, const HfReplayOptions *options)
{
  HfReplay *replay = g_new0(HfReplay, 1);
  replay->program = program;
  replay->kerf = options->kerf;
  replay->burns = g_array_new(FALSE, FALSE, sizeof(HfBurn));
  replay->path = g_array_new(FALSE, FALSE, sizeof(HfBurnPoint));
  replay->pieces = g_array_new(FALSE, FALSE, sizeof(HfPiece));
  replay->findings = g_ptr_array_new_with_free_func(finding_free);
  replay->inward = replay->outward = NAN;
  return replay;
}

void
hf_replay_say(HfReplay *replay, const char *key, HfGravity gravity, guint line, HfPoint at,
              double amount, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  HfReplayFinding *finding = g_new0(HfReplayFinding, 1);
  *finding = (HfReplayFinding){key, gravity, line, at, amount, g_strdup_vprintf(format, args)};
  va_end(args);
  g_ptr_array_add(replay->findings, finding);
}

gboolean
hf_replay_is_good(const HfReplay *replay)
{
  for (guint i = 0; i < replay->findings->len; i++)
    if (((const HfReplayFinding *)replay->findings->pdata[i])->gravity == HF_STOP)
      return FALSE;
  return TRUE;
}

guint
hf_replay_count(const HfReplay *replay, HfPieceKind kind)
{
  guint n = 0;
  for (guint i = 0; i < replay->pieces->len; i++)
    n += hf_replay_piece(replay, i)->kind == kind ? 1 : 0;
  return n;
}

/* ---- steps ----------------------------------------------------------------------------------- */

/* The design is laid by what came out; where it reaches farther, the sheet does, too. */
static gboolean
leave_all(HfReplayWork *work, GError **error)
{
  HfReplay *replay = work->replay;
  if (!hf_replay_leave(work, error))
    return FALSE;
  if (work->options->design == NULL)
    return TRUE;
  hf_replay_lay(work);
  HfBox box = hf_region_box(replay->design);
  if (hf_box_contains(replay->sheet, box.min) && hf_box_contains(replay->sheet, box.max))
    return TRUE;
  g_clear_pointer(&replay->left, hf_region_free);
  g_array_set_size(replay->pieces, 0);
  return hf_replay_leave(work, error);
}

static gint
by_line(gconstpointer a, gconstpointer b)
{
  const HfReplayFinding *const *p = a, *const *q = b;
  if ((*p)->gravity != (*q)->gravity)
    return (*p)->gravity < (*q)->gravity ? 1 : -1;
  return (*p)->line < (*q)->line ? -1 : (*p)->line > (*q)->line;
}

static gboolean
run(HfReplayWork *work, GError **error)
{
  if (!hf_replay_find_burns(work, error) || !hf_replay_sweep(work, error) ||
      !leave_all(work, error) || !hf_replay_judge(work, error) || !hf_replay_loosen(work, error) ||
      !hf_replay_cross(work, error))
    return FALSE;
  g_ptr_array_sort(work->replay->findings, by_line);
  return TRUE;
}

HfReplay *
hf_replay_new(const HfProgram *program, const HfReplayOptions *options, const HfCancel *cancel,
              GError **error)
{
  g_return_val_if_fail(program != NULL && options->kerf > 0 && options->within > 0, NULL);
  HfReplay *replay = replay_new(program, options);
  HfReplayWork work = {
      .replay = replay,
      .options = options,
      .cancel = cancel,
      .takes = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free),
      .outline = hf_region_new(),
      .over = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref),
  };
  if (!run(&work, error))
    g_clear_pointer(&replay, hf_replay_free);
  g_ptr_array_unref(work.takes);
  g_ptr_array_unref(work.over);
  hf_region_free(work.outline);
  hf_region_free(work.drawn);
  return replay;
}

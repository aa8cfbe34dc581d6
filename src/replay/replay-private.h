/* SPDX-License-Identifier: GPL-3.0-or-later
 * replay-private.h - what the files of the replay share.
 *
 *   burns.c        moves to burns            loose.c    when each piece comes loose
 *   swept.c        burns to what they take   against.c  what differs from the design
 *   left-pieces.c  what is left, in pieces   crossed.c  burns over burns, travels over drops, table
 */
#pragma once
#include "geom/trace.h"
#include "replay/replay.h"

#define HF_BURN_CHORD_MM 0.0005

typedef struct {
  HfReplay *replay; /* as far as it is made */
  const HfReplayOptions *options;
  const HfCancel *cancel;
  GPtrArray *takes;  /* HfRegion *: what each burn takes, clean, without sources */
  HfRegion *outline; /* the same raw, with sources, all burns in one */
  HfRegion *drawn;   /* (nullable) the design as it is drawn, where it was laid */
  GPtrArray *over;   /* GArray *: of each burn the earlier ones that it runs into */
} HfReplayWork;

static inline const HfBurn *
hf_replay_burn(const HfReplay *replay, guint i)
{
  return &g_array_index(replay->burns, HfBurn, i);
}
static inline const HfBurnPoint *
hf_replay_point(const HfReplay *replay, guint i)
{
  return &g_array_index(replay->path, HfBurnPoint, i);
}
static inline HfPiece *
hf_replay_piece(const HfReplay *replay, guint i)
{
  return &g_array_index(replay->pieces, HfPiece, i);
}
/** hf_replay_line: of the move that led to point @point of the path. */
guint hf_replay_line(const HfReplay *replay, guint point);

/** hf_replay_find_burns: fills burns and path, lengths and times. */
gboolean hf_replay_find_burns(HfReplayWork *work, GError **error);
/** hf_replay_sweep: fills takes and outline, and `cut`. */
gboolean hf_replay_sweep(HfReplayWork *work, GError **error);
/** hf_replay_meet: fills `over`. */
void hf_replay_meet(HfReplayWork *work);
/** hf_replay_leave: fills sheet, left and pieces; @design: (nullable) laid. */
gboolean hf_replay_leave(HfReplayWork *work, GError **error);
/** hf_replay_loosen: says of each piece when it comes loose, and what was cut on it then. */
gboolean hf_replay_loosen(HfReplayWork *work, GError **error);
/** hf_replay_lay: puts the design where it belongs, as a round kerf can cut it. */
void hf_replay_lay(HfReplayWork *work);
/** hf_replay_judge: which pieces are the sign, and what differs from the design. */
gboolean hf_replay_judge(HfReplayWork *work, GError **error);
/** hf_replay_cross: burns over burns, travels over drops, moves off the table. */
gboolean hf_replay_cross(HfReplayWork *work, GError **error);

/** hf_replay_say: adds a finding. @at: NAN: nowhere. */
void hf_replay_say(HfReplay *replay, const char *key, HfGravity gravity, guint line, HfPoint at,
                   double amount, const char *format, ...) G_GNUC_PRINTF(7, 8);

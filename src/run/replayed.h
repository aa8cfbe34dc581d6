/* SPDX-License-Identifier: GPL-3.0-or-later
 * replayed.h - a program's file read back: what it leaves, against a recipe's sign or by itself.
 */
#pragma once
#include "replay/replay.h"
#include "run/run.h"

typedef struct {
  double kerf;                      /* mm; NAN: as the recipe is cut */
  const char *against;              /* (nullable) a recipe's file */
  HfLayerAt layer;                  /* which of its sheets; UNSAID: it has one */
  double within;                    /* mm */
  HfPoint at;                       /* of the sign's lower left corner; NAN: it is found */
  double table_width, table_height; /* mm; 0: as the recipe's shop has it, if there is one */
} HfReplayedWish;

typedef struct {
  HfProgram *program;
  HfSign *sign;        /* (nullable) */
  const HfSign *sheet; /* (nullable) that sheet of it */
  guint left_out;      /* lines with words of the shop's own that can't be read */
  HfReplay *replay;
} HfReplayed;

/** hf_replayed_file: (transfer full) the program in @file; %NULL with the error of what could not
 *  be read or made. @options: of the recipe's run. */
HfReplayed *hf_replayed_file(const char *file, const HfReplayedWish *wish,
                             const HfRunOptions *options, GError **error);
/** hf_replayed_free: frees it and all that it owns; %NULL: nothing. */
void hf_replayed_free(HfReplayed *replayed);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfReplayed, hf_replayed_free)

/** hf_replayed_is_good: is nothing found that must not be cut? */
gboolean hf_replayed_is_good(const HfReplayed *replayed);
/** hf_replayed_words: (transfer full) figures, findings and what it comes to, for a terminal. */
char *hf_replayed_words(const HfReplayed *replayed);
/** hf_replayed_json: (transfer full) the same for a program, docs/replay.md. */
GBytes *hf_replayed_json(const HfReplayed *replayed);
/** hf_replayed_picture: (transfer full) hf_replay_picture() of it. */
GBytes *hf_replayed_picture(const HfReplayed *replayed);

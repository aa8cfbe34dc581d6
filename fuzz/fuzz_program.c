/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_program.c - any bytes as a cutting program: refused in words at a place, or moves that are
 * somewhere, each beginning where the one before it ended; and what a short one takes away is a
 * valid region.
 */
#include "replay/replay.h"

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

static void
check_move(const HfProgram *program, guint i)
{
  const HfMove *move = hf_program_move(program, i);
  for (guint axis = 0; axis < 3; axis++) {
    g_assert(fabs(move->to[axis]) <= HF_PROGRAM_FARTHEST_MM);
    g_assert(move->from[axis] == (i > 0 ? hf_program_move(program, i - 1)->to[axis] : 0));
  }
  g_assert(move->line >= 1 && move->line <= program->lines);
  g_assert(move->named <= program->names->len);
  g_assert(isfinite(move->centre.x) && isfinite(move->centre.y) && fabs(move->sweep) <= 2 * G_PI);
  g_assert(hf_move_length(move) >= 0 && hf_move_seconds(move) >= 0);
  gboolean cuts = move->kind == HF_MOVE_LINE || move->kind == HF_MOVE_ROUND;
  g_assert(cuts == (move->feed > 0) || hf_move_length(move) == 0);
}

enum { SHORT = 40 };

/* Not what would take a second: long ways in tiny arcs. */
static void
run_back(const HfProgram *program)
{
  double length = 0;
  for (guint i = 0; i < program->moves->len; i++)
    length += hf_move_length(hf_program_move(program, i));
  if (program->moves->len > SHORT || length > 2000)
    return;
  HfReplayOptions options = {.kerf = 1.5, .within = 0.05, .at = {NAN, NAN}, .table = HF_BOX_EMPTY};
  g_autoptr(GError) error = NULL;
  g_autoptr(HfReplay) replay = hf_replay_new(program, &options, NULL, &error);
  g_assert((replay == NULL) == (error != NULL));
  if (replay == NULL)
    return;
  g_assert(hf_region_is_valid(replay->cut, NULL) && hf_region_is_valid(replay->left, NULL));
  double left = 0;
  for (guint i = 0; i < replay->pieces->len; i++)
    left += g_array_index(replay->pieces, HfPiece, i).area;
  double sheet = hf_box_width(replay->sheet) * hf_box_height(replay->sheet);
  g_assert(fabs(sheet - left - hf_region_area(replay->cut)) < 1e-3 * sheet);
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfProgram) program = hf_program_read("p.nc", (const char *)data, size, NULL, &error);
  g_assert((program == NULL) == (error != NULL));
  if (error != NULL) {
    g_assert(error->domain == HF_ERROR && error->code == HF_ERROR_BAD_VALUE);
    g_assert(hf_error_where(error) != NULL && hf_error_fix(error) != NULL);
    return 0;
  }
  for (guint i = 0; i < program->moves->len; i++)
    check_move(program, i);
  run_back(program);
  return 0;
}

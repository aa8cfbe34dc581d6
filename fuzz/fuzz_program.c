/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_program.c - any bytes as a cutting program: refused in words at a place, or moves that are
 * somewhere, each beginning where the one before it ended.
 */
#include "program/program.h"

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
  return 0;
}

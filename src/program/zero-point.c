/* SPDX-License-Identifier: GPL-3.0-or-later
 * zero-point.c - where zero is: G10 L2 sets the systems G54 to G59.3, G92 moves all of them, and
 * parameters 5161 to 5386 tell of it (NISTIR 6556, 3.2 and 3.5.5 to 3.5.18).
 *
 *   machine = word + system's origin + shift of G92
 */
#include "program/program-private.h"
#include <string.h>

gboolean
hf_reader_unit(const HfReader *reader, guint axis, guint column, double *ret_unit, GError **error)
{
  *ret_unit = axis < 3 ? reader->unit : 1;
  return *ret_unit > 0 ||
         hf_reader_refuse(reader, column, "put G21 (mm) or G20 (inches) before the first move",
                          error, "nothing says whether lengths are mm or inches");
}

/* 5211 to 5216: G92's; from 5221 on, twenty apart: those of G54, G55, ... */
gboolean
hf_reader_system_parameter(const HfReader *reader, guint number, double *ret_value)
{
  const double *from = reader->kept;
  guint axis = number - 5211;
  if (number == 5220) {
    *ret_value = reader->system + 1;
    return TRUE;
  }
  if (number >= 5221 && number < 5221 + 20 * HF_SYSTEMS) {
    from = reader->origin[(number - 5221) / 20];
    axis = (number - 5221) % 20;
  }
  if (number < 5211 || axis >= HF_AXES)
    return FALSE;
  double unit = axis < 3 ? reader->unit : 1;
  *ret_value = unit > 0 ? from[axis] / unit : 0; /* nothing is set before a unit is said */
  return TRUE;
}

/* The axis words of the line, in mm, into @to; the others stay. */
static gboolean
set_by_words(const HfReader *reader, const HfBlock *block, double *to, GError **error)
{
  for (guint axis = 0; axis < HF_AXES; axis++) {
    char letter = hf_axis_letters[axis];
    double unit;
    if (!hf_block_has(block, letter))
      continue;
    if (!hf_reader_unit(reader, axis, hf_block_column(block, letter), &unit, error))
      return FALSE;
    to[axis] = hf_block_value(block, letter) * unit;
  }
  return TRUE;
}

/* G10 L2 P1 X Y Z */
static gboolean
set_system(HfReader *reader, const HfBlock *block, guint column, GError **error)
{
  int l, system;
  if (!hf_block_has(block, 'L') || !hf_block_has(block, 'P'))
    return hf_reader_refuse(reader, column, "write G10 L2 P1 X0 Y0", error,
                            "G10 needs an L and a P word");
  if (!hf_reader_whole(reader, block, 'L', 2, 2, &l, error) ||
      !hf_reader_whole(reader, block, 'P', 1, HF_SYSTEMS, &system, error))
    return FALSE;
  return set_by_words(reader, block, reader->origin[system - 1], error);
}

/* G92 X Y Z: here is called so. */
static gboolean
shift_all(HfReader *reader, const HfBlock *block, guint column, GError **error)
{
  double here[HF_AXES];
  if (hf_block_first_axis(block) == 0)
    return hf_reader_refuse(reader, column, "say what to call this place: G92 X0 Y0", error,
                            "G92 has no axis word");
  for (guint axis = 0; axis < HF_AXES; axis++)
    here[axis] = reader->at[axis] - reader->origin[reader->system][axis] - reader->shift[axis];
  if (!set_by_words(reader, block, here, error))
    return FALSE;
  for (guint axis = 0; axis < HF_AXES; axis++)
    reader->shift[axis] = reader->kept[axis] =
        reader->at[axis] - reader->origin[reader->system][axis] - here[axis];
  return TRUE;
}

gboolean
hf_reader_zero(HfReader *reader, const HfBlock *block, GError **error)
{
  const HfCode *code = &block->of[HF_GROUP_ONCE];
  if (code->column == 0)
    return TRUE;
  switch (code->code) {
  case 100:
    return set_system(reader, block, code->column, error);
  case 920:
    return shift_all(reader, block, code->column, error);
  case 921: /* also forgets it */
    memset(reader->kept, 0, sizeof reader->kept);
    memset(reader->shift, 0, sizeof reader->shift);
    return TRUE;
  case 922:
    memset(reader->shift, 0, sizeof reader->shift);
    return TRUE;
  case 923:
    memcpy(reader->shift, reader->kept, sizeof reader->shift);
    return TRUE;
  default: /* G4 and G53 have their own places in the order */
    return TRUE;
  }
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * interpret.c - does one block: first what words may stand there, then each step in the order of
 * Table 8 of NISTIR 6556, whatever their order on the line (3.3.6).
 */
#include "program/program-private.h"

static gboolean
is_code(const HfBlock *block, HfGroup group, int code)
{
  return block->of[group].column != 0 && block->of[group].code == code;
}

/* ---- words that nothing uses ---------------------------------------------------------------- */

static gboolean
moves_round(const HfReader *reader, const HfBlock *block)
{
  const HfCode *said = &block->of[HF_GROUP_MOTION];
  int motion = said->column != 0 ? said->code : reader->motion;
  return (motion == 20 || motion == 30) && hf_block_first_axis(block) != 0;
}

static gboolean
sets_system(const HfReader *reader G_GNUC_UNUSED, const HfBlock *block)
{
  return is_code(block, HF_GROUP_ONCE, 100);
}

static gboolean
waits_or_sets(const HfReader *reader G_GNUC_UNUSED, const HfBlock *block)
{
  return is_code(block, HF_GROUP_ONCE, 40) || is_code(block, HF_GROUP_ONCE, 100);
}

static gboolean
corrects_length(const HfReader *reader G_GNUC_UNUSED, const HfBlock *block)
{
  return is_code(block, HF_GROUP_LENGTH, 430);
}

static gboolean
is_no_use(const HfReader *reader G_GNUC_UNUSED, const HfBlock *block G_GNUC_UNUSED)
{
  return FALSE;
}

static const struct {
  char letter;
  gboolean (*is_used)(const HfReader *reader, const HfBlock *block);
  const char *with;
} companions[] = {
    {'I', moves_round, "G2 or G3"},
    {'J', moves_round, "G2 or G3"},
    {'K', moves_round, "G2 or G3"},
    {'R', moves_round, "G2 or G3"},
    {'L', sets_system, "G10"},
    {'P', waits_or_sets, "G4 or G10"},
    {'H', corrects_length, "G43"},
    {'D', is_no_use, "G41 or G42, which are not read"},
    {'Q', is_no_use, "drilling cycles, which are not read"},
};

static gboolean
check_companions(const HfReader *reader, const HfBlock *block, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS(companions); i++) {
    char letter = companions[i].letter;
    if (hf_block_has(block, letter) && !companions[i].is_used(reader, block))
      return hf_reader_refuse(reader, hf_block_column(block, letter),
                              "take it out, or add the other", error, "%c belongs to %s", letter,
                              companions[i].with);
  }
  return TRUE;
}

/* ---- steps ---------------------------------------------------------------------------------- */

typedef gboolean (*Step)(HfReader *reader, const HfBlock *block, GError **error);

static gboolean
do_comment(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  if (block->comment == NULL)
    return TRUE;
  g_autofree char *raw = g_strndup(block->comment, block->n_comment);
  char *name = g_utf8_make_valid(raw, -1);
  g_ptr_array_add(reader->program->names, g_strstrip(name));
  reader->named = reader->program->names->len;
  return TRUE;
}

/* A feed said before is none in the other mode. */
static gboolean
do_feed_mode(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  if (block->of[HF_GROUP_FEED_MODE].column == 0)
    return TRUE;
  gboolean inverse = block->of[HF_GROUP_FEED_MODE].code == 930;
  if (inverse != reader->inverse)
    reader->feed = NAN;
  reader->inverse = inverse;
  return TRUE;
}

static gboolean
check_not_below(const HfReader *reader, const HfBlock *block, char letter, const char *fix,
                GError **error)
{
  if (!hf_block_has(block, letter) || hf_block_value(block, letter) >= 0)
    return TRUE;
  g_autofree char *figure = hf_reader_figure(hf_block_value(block, letter));
  return hf_reader_refuse(reader, hf_block_column(block, letter), fix, error, "%c is %s", letter,
                          figure);
}

static gboolean
do_feed(HfReader *reader, const HfBlock *block, GError **error)
{
  if (!check_not_below(reader, block, 'F', "give a feed above 0", error))
    return FALSE;
  if (hf_block_has(block, 'F'))
    reader->feed = hf_block_value(block, 'F');
  return TRUE;
}

static gboolean
do_speed(HfReader *reader, const HfBlock *block, GError **error)
{
  return check_not_below(reader, block, 'S', "give none below 0", error);
}

static gboolean
do_tool(HfReader *reader, const HfBlock *block, GError **error)
{
  int whole;
  if (hf_block_has(block, 'T') && !hf_reader_whole(reader, block, 'T', 0, 99999, &whole, error))
    return FALSE;
  return !hf_block_has(block, 'H') || hf_reader_whole(reader, block, 'H', 0, 99999, &whole, error);
}

static void
switch_torch(HfReader *reader, gboolean on)
{
  if (reader->lit == on)
    return;
  reader->lit = on;
  hf_reader_put(reader, on ? HF_MOVE_TORCH_ON : HF_MOVE_TORCH_OFF, reader->at);
}

static gboolean
do_tool_change(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  if (block->of[HF_GROUP_TOOL].column != 0) /* 3.6.3: it ends with the spindle stopped */
    switch_torch(reader, FALSE);
  return TRUE;
}

static gboolean
do_torch(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  if (block->of[HF_GROUP_SPINDLE].column != 0)
    switch_torch(reader, block->of[HF_GROUP_SPINDLE].code != 50);
  return TRUE;
}

static gboolean
do_wait(HfReader *reader, const HfBlock *block, GError **error)
{
  if (!is_code(block, HF_GROUP_ONCE, 40))
    return TRUE;
  if (!hf_block_has(block, 'P') || !(hf_block_value(block, 'P') >= 0))
    return hf_reader_refuse(reader, block->of[HF_GROUP_ONCE].column,
                            "write G4 P0.5 for half a second", error,
                            "G4 needs a P word, in seconds, not below 0");
  hf_reader_put(reader, HF_MOVE_WAIT, reader->at)->seconds = hf_block_value(block, 'P');
  return TRUE;
}

static gboolean
do_plane(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  if (block->of[HF_GROUP_PLANE].column != 0)
    reader->plane = (HfPlane)(block->of[HF_GROUP_PLANE].code / 10 - 17);
  return TRUE;
}

/* A feed said in the other unit is none any more; one on this very line, or before any unit, is
 * meant in the unit said here. */
static gboolean
do_units(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  if (block->of[HF_GROUP_UNITS].column == 0)
    return TRUE;
  double unit = block->of[HF_GROUP_UNITS].code == 200 ? 25.4 : 1;
  if (reader->unit > 0 && reader->unit != unit && !hf_block_has(block, 'F'))
    reader->feed = NAN;
  reader->unit = unit;
  reader->program->inches = unit != 1;
  return TRUE;
}

static gboolean
do_system(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  const HfCode *said = &block->of[HF_GROUP_SYSTEM];
  if (said->column != 0)
    reader->system = said->code <= 590 ? (guint)(said->code / 10 - 54) : (guint)(said->code - 585);
  return TRUE;
}

static gboolean
do_distance(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  if (block->of[HF_GROUP_DISTANCE].column != 0)
    reader->incremental = block->of[HF_GROUP_DISTANCE].code == 910;
  return TRUE;
}

/* M2 and M30 end it, with the torch off (3.6.1); M0, M1 and M60 wait for somebody. */
static gboolean
do_stop(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  if (is_code(block, HF_GROUP_STOP, 20) || is_code(block, HF_GROUP_STOP, 300)) {
    switch_torch(reader, FALSE);
    reader->over = TRUE;
  }
  return TRUE;
}

/* Settings take effect once all of the line was read (3.3.3). */
static gboolean
do_settings(HfReader *reader, const HfBlock *block, GError **error G_GNUC_UNUSED)
{
  for (guint i = 0; i < block->n_settings; i++) {
    reader->parameters[block->settings[i].number] = block->settings[i].value;
    reader->set[block->settings[i].number] = 1;
  }
  return TRUE;
}

/* Coolant, overrides, tool length, path mode and G98 to G99 change nothing that is worked out. */
static const Step steps[] = {do_settings, do_comment,     do_feed_mode,   do_feed,
                             do_speed,    do_tool,        do_tool_change, do_torch,
                             do_wait,     do_plane,       do_units,       do_system,
                             do_distance, hf_reader_zero, hf_reader_move, do_stop};

gboolean
hf_reader_do(HfReader *reader, const HfBlock *block, GError **error)
{
  if (!check_companions(reader, block, error))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS(steps); i++)
    if (!steps[i](reader, block, error))
      return FALSE;
  return TRUE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * replayed.c - a program's file and, if wished, a recipe's sign, brought together.
 */
#include "run/replayed.h"
#include "base/file.h"

void
hf_replayed_free(HfReplayed *replayed)
{
  if (replayed == NULL)
    return;
  hf_replay_free(replayed->replay);
  hf_sign_free(replayed->sign);
  hf_program_free(replayed->program);
  g_free(replayed);
}

gboolean
hf_replayed_is_good(const HfReplayed *replayed)
{
  return hf_replay_is_good(replayed->replay);
}

GBytes *
hf_replayed_picture(const HfReplayed *replayed)
{
  return hf_replay_picture(replayed->replay);
}

static HfProgram *
read_program(const char *file, const HfCancel *cancel, GError **error)
{
  g_autoptr(GBytes) bytes = hf_file_read(file, HF_PROGRAM_MOST_BYTES, error);
  gsize length = 0;
  if (bytes == NULL)
    return NULL;
  const char *text = g_bytes_get_data(bytes, &length);
  return hf_program_read(file, text, length, cancel, error);
}

static gboolean
read_sign(HfReplayed *replayed, const HfReplayedWish *wish, const HfRunOptions *options,
          GError **error)
{
  if (wish->against == NULL)
    return TRUE;
  replayed->sign = hf_run_file(wish->against, options, error);
  if (replayed->sign == NULL)
    return FALSE;
  if (hf_sign_n_layers(replayed->sign) == 1 && !hf_region_is_empty(replayed->sign->metal->region))
    return TRUE;
  hf_error_set(error, HF_ERROR_BAD_VALUE, wish->against, "give a recipe of one sheet with metal",
               "a program is held against one sheet, and this recipe has %s",
               hf_sign_n_layers(replayed->sign) == 1 ? "no metal" : "several");
  return FALSE;
}

static HfBox
table_of(const HfReplayed *replayed, const HfReplayedWish *wish)
{
  double width = wish->table_width, height = wish->table_height;
  if (!(width > 0) && replayed->sign != NULL) {
    width = replayed->sign->shop->table_width;
    height = replayed->sign->shop->table_height;
  }
  return width > 0 && height > 0 ? (HfBox){{0, 0}, {width, height}} : HF_BOX_EMPTY;
}

static gboolean
run_back(HfReplayed *replayed, const HfReplayedWish *wish, const HfCancel *cancel, GError **error)
{
  const HfSign *sign = replayed->sign;
  HfReplayOptions options = {.kerf = wish->kerf,
                             .design = sign != NULL ? sign->metal->region : NULL,
                             .within = wish->within,
                             .at = wish->at,
                             .table = table_of(replayed, wish)};
  if (!(options.kerf > 0) && sign != NULL)
    options.kerf = sign->hold->process.kerf;
  if (!(options.kerf > 0)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "measure yours and say --kerf \"1.5 mm\"",
                 "what is left hangs on the kerf, which no program says");
    return FALSE;
  }
  replayed->replay = hf_replay_new(replayed->program, &options, cancel, error);
  return replayed->replay != NULL;
}

HfReplayed *
hf_replayed_file(const char *file, const HfReplayedWish *wish, const HfRunOptions *options,
                 GError **error)
{
  g_autoptr(HfReplayed) replayed = g_new0(HfReplayed, 1);
  replayed->program = read_program(file, options->cancel, error);
  if (replayed->program == NULL || !read_sign(replayed, wish, options, error))
    return NULL;
  g_auto(HfUnitsScope) scope =
      hf_units_scope(replayed->sign != NULL ? replayed->sign->recipe->units : hf_units_now());
  return run_back(replayed, wish, options->cancel, error) ? g_steal_pointer(&replayed) : NULL;
}

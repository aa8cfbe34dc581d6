/* SPDX-License-Identifier: GPL-3.0-or-later
 * replayed.c - a program's file and, if wished, a recipe's sign, brought together.
 */
#include "run/replayed.h"
#include "base/file.h"
#include "run/own-words-private.h"
#include <string.h>

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

/* Words of the shop's own are left out where they are in the way. What the first reading was
 * refused for is what is told, should that not help. */
static gboolean
read_program(HfReplayed *replayed, const char *file, const HfShop *shop, const HfCancel *cancel,
             GError **error)
{
  g_autoptr(GBytes) bytes = hf_file_read(file, HF_PROGRAM_MOST_BYTES, error);
  gsize length = 0;
  if (bytes == NULL)
    return FALSE;
  const char *text = g_bytes_get_data(bytes, &length);
  g_autoptr(GError) first = NULL;
  replayed->program = hf_program_read(file, text, length, cancel, &first);
  if (replayed->program == NULL && first->code == HF_ERROR_BAD_VALUE &&
      memchr(text, 0, length) == NULL) {
    g_autofree char *whole = g_strndup(text, length);
    g_autofree char *readable = hf_own_words_out(shop, whole, &replayed->left_out);
    if (replayed->left_out > 0)
      replayed->program = hf_program_read(file, readable, strlen(readable), cancel, NULL);
  }
  if (replayed->program == NULL)
    g_propagate_error(error, g_steal_pointer(&first));
  return replayed->program != NULL;
}

/* The sheet that is meant. */
static const HfSign *
sheet_of(const HfSign *sign, const HfReplayedWish *wish, GError **error)
{
  guint n = hf_sign_n_layers(sign);
  for (guint i = 0; i < n; i++)
    if (n == 1 || hf_sign_layer(sign, i)->recipe->in_layer == wish->layer)
      return hf_sign_layer(sign, i);
  g_autofree char *words = hf_sign_layer_words(sign);
  hf_error_set(error, HF_ERROR_BAD_VALUE, wish->against, "say which with --layer",
               "a program is held against one sheet, and this recipe has several: %s", words);
  return NULL;
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
  replayed->sheet = sheet_of(replayed->sign, wish, error);
  if (replayed->sheet == NULL)
    return FALSE;
  if (!hf_region_is_empty(replayed->sheet->metal->region))
    return TRUE;
  hf_error_set(error, HF_ERROR_BAD_VALUE, wish->against, "give a recipe with metal",
               "a program is held against a sign, and this recipe has no metal");
  return FALSE;
}

/* Without a recipe: the one that is found beside the program. */
static HfShop *
find_shop(const char *file, const HfRunOptions *options, GError **error)
{
  return options->shop_file != NULL ? hf_shop_read_file(options->shop_file, error)
                                    : hf_shop_find(file, error);
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
  const HfSign *sign = replayed->sheet;
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
  if (!read_sign(replayed, wish, options, error))
    return NULL;
  g_autoptr(HfShop) found = replayed->sign == NULL ? find_shop(file, options, error) : NULL;
  const HfShop *shop = replayed->sign != NULL ? replayed->sign->shop : found;
  if (shop == NULL || !read_program(replayed, file, shop, options->cancel, error))
    return NULL;
  g_auto(HfUnitsScope) scope =
      hf_units_scope(replayed->sign != NULL ? replayed->sign->recipe->units : hf_units_now());
  return run_back(replayed, wish, options->cancel, error) ? g_steal_pointer(&replayed) : NULL;
}

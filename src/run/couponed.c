/* SPDX-License-Identifier: GPL-3.0-or-later
 * couponed.c - a coupon for a sheet as the shop cuts it; results into the shop file.
 */
#include "run/couponed.h"
#include "base/file.h"
#include "run/couponed-private.h"
#include "stock/metals.h"
#include "type/type.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A stencil face that may be installed: for the row of letters, which can be done without. */
#define LETTERS       "Allerta"
#define LETTERS_STYLE "Stencil"

static gboolean
has_letters(void)
{
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  HfFaceWanted wanted = {.family = LETTERS, .style = LETTERS_STYLE};
  return hf_fonts_open(fonts, &wanted, "coupon", NULL) != NULL;
}

gboolean
hf_coupon_make(const HfCouponWish *wish, const char *shop_file, gboolean shop_said,
               char **ret_recipe, char **ret_results, GError **error)
{
  g_autoptr(HfShop) shop =
      shop_said ? hf_shop_read_file(shop_file, error) : hf_shop_find(shop_file, error);
  if (shop == NULL)
    return FALSE;
  const HfMetalKind *metal = hf_metal(wish->metal);
  if (metal == NULL) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, "--metal", "say mild steel, stainless steel, aluminium",
                 "there is no metal \"%s\"", wish->metal);
    return FALSE;
  }
  HfRecipe sheet = {.metal = (char *)metal->key,
                    .thickness = wish->thickness,
                    .kerf = wish->kerf,
                    .crater = NAN,
                    .row = (char *)wish->row};
  HfProcess process;
  if (!hf_process_of(&sheet, shop, &process, error))
    return FALSE;
  g_autoptr(HfCoupon) coupon = hf_coupon_new(&process);
  const char *style = wish->font != NULL ? NULL : LETTERS_STYLE;
  const char *font = wish->font != NULL ? wish->font : has_letters() ? LETTERS : NULL;
  *ret_recipe = hf_coupon_recipe(coupon, font, style);
  *ret_results = hf_coupon_results(coupon);
  return TRUE;
}

/* (transfer full) (nullable) the text of a file as one. */
static char *
read_text(const char *file, GError **error)
{
  g_autoptr(GBytes) bytes = hf_file_read(file, HF_RECIPE_MAX_BYTES, error);
  gsize length;
  if (bytes == NULL)
    return NULL;
  const char *text = g_bytes_get_data(bytes, &length);
  if (text != NULL && memchr(text, 0, length) == NULL)
    return g_strndup(text, length);
  if (length == 0)
    return g_strdup("");
  hf_error_set(error, HF_ERROR_BAD_VALUE, file, "give a file of text", "this is no text");
  return NULL;
}

/* (transfer full) where the shop file is, or is to be. */
static char *
shop_file_of(const char *results, const char *said, GError **error)
{
  if (said != NULL)
    return g_strdup(said);
  g_autoptr(HfShop) shop = hf_shop_find(results, error);
  if (shop == NULL)
    return NULL;
  return shop->file != NULL ? g_strdup(shop->file) : hf_shop_own_file();
}

/* (transfer full) where @file leads. */
static char *
real_file(const char *file)
{
  char *real = realpath(file, NULL);
  char *copy = g_strdup(real != NULL ? real : file);
  free(real);
  return copy;
}

char *
hf_coupon_take_text(const char *text, const char *file, const char *shop_said, char **told,
                    GError **error)
{
  g_autoptr(HfCouponResults) results = hf_coupon_results_read(text, strlen(text), file, error);
  g_autofree char *shop_file = results != NULL ? shop_file_of(file, shop_said, error) : NULL;
  if (shop_file == NULL)
    return NULL;
  gboolean is_new = !g_file_test(shop_file, G_FILE_TEST_EXISTS);
  g_autofree char *shop = is_new ? g_strdup("") : read_text(shop_file, error);
  g_autofree char *words = NULL;
  g_autofree char *changed =
      shop != NULL ? hf_coupon_learn(results, shop, shop_file, &words, error) : NULL;
  /* a link stays one: what it leads to is written */
  g_autofree char *led = is_new ? g_strdup(shop_file) : real_file(shop_file);
  g_autofree char *folder = g_path_get_dirname(shop_file);
  if (changed == NULL || (is_new && !hf_file_make_folder(folder, error)) ||
      !hf_file_write(led, changed, strlen(changed), error))
    return NULL;
  *told = g_steal_pointer(&words);
  return g_steal_pointer(&shop_file);
}

char *
hf_coupon_take(const char *file, const char *shop_said, char **told, GError **error)
{
  g_autofree char *text = read_text(file, error);
  return text != NULL ? hf_coupon_take_text(text, file, shop_said, told, error) : NULL;
}

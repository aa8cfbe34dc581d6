/* SPDX-License-Identifier: GPL-3.0-or-later
 * treated.c - a recipe file with its cures: read, searched, saved, drawn, made.
 */
#include "run/treated.h"
#include "base/file.h"
#include "out/change.h"
#include "recipe/kind.h"
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

enum { PICTURE_PIXELS = 480, SHEET_PIXELS = 1200 };

HfTreated *
hf_treated_file(const char *file, const HfRunOptions *options, HfSearch search,
                const HfCuresOptions *cures, GError **error)
{
  g_autoptr(HfTreated) treated = g_new0(HfTreated, 1);
  treated->file = g_strdup(file);
  treated->cures = g_ptr_array_new_with_free_func((GDestroyNotify)hf_cured_free);
  treated->text = hf_run_given(file, options->order, error);
  if (treated->text == NULL)
    return NULL;
  gsize length = 0;
  const char *text = g_bytes_get_data(treated->text, &length);
  treated->given = hf_run_text(text, length, file, options, error);
  if (treated->given == NULL)
    return NULL;
  if (search == HF_SEARCH_FOR_WHOLE && treated->given->hold->whole)
    return g_steal_pointer(&treated);
  HfCuresOptions heard = *cures;
  heard.ret_no_further = &treated->no_further;
  GPtrArray *found = hf_run_cures(treated->given, text, length, &heard, error);
  if (found == NULL)
    return NULL;
  g_ptr_array_unref(treated->cures);
  treated->cures = found;
  treated->searched = TRUE;
  return g_steal_pointer(&treated);
}

void
hf_treated_free(HfTreated *treated)
{
  if (treated == NULL)
    return;
  g_ptr_array_unref(treated->cures);
  hf_sign_free(treated->given);
  if (treated->text != NULL)
    g_bytes_unref(treated->text);
  g_free(treated->file);
  g_free(treated);
}

/* ---- saving -----------------------------------------------------------------------------------
 */

static gboolean
same_folder(const char *a, const char *b)
{
  g_autofree char *of_a = g_path_get_dirname(a), *of_b = g_path_get_dirname(b);
  struct stat x, y;
  return stat(of_a, &x) == 0 && stat(of_b, &y) == 0 && x.st_dev == y.st_dev && x.st_ino == y.st_ino;
}

static gboolean
has_font_files(const HfRecipe *recipe)
{
  for (guint i = 0; i < recipe->entries->len; i++) {
    const HfFontWish *font = hf_entry_font(hf_recipe_at(recipe, i));
    if (font != NULL && font->file != NULL && !g_path_is_absolute(font->file))
      return TRUE;
  }
  return FALSE;
}

const char *
hf_treated_beside(const HfTreated *treated, const char *file)
{
  if (same_folder(treated->file, file))
    return NULL;
  gboolean fonts = has_font_files(treated->given->recipe);
  if (treated->given->layout->drawings->len > 0)
    return fonts ? "the drawings and font files" : "the drawings";
  if (fonts)
    return "the font files";
  const char *shop = treated->given->shop->file;
  return shop != NULL && same_folder(shop, treated->file) ? "shop.yaml" : NULL;
}

/* By whatever name: a link of either kind leads to the same file. */
static gboolean
is_same_file(const char *a, const char *b)
{
  struct stat x, y;
  return stat(a, &x) == 0 && stat(b, &y) == 0 && x.st_dev == y.st_dev && x.st_ino == y.st_ino;
}

gboolean
hf_treated_save(const HfTreated *treated, const HfCured *cured, const char *file, gboolean over,
                GError **error)
{
  struct stat info;
  if (is_same_file(treated->file, file)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "name another file", "%s is the recipe itself",
                 file);
    return FALSE;
  }
  if (!over && lstat(file, &info) == 0) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "name another file, or add --over",
                 "%s is there already", file);
    return FALSE;
  }
  gsize length = 0;
  const char *text = g_bytes_get_data(treated->text, &length);
  if (cured != NULL) {
    text = cured->recipe;
    length = cured->length;
  }
  return (over ? hf_file_write : hf_file_write_new)(file, text, length, error);
}

/* ---- drawing ----------------------------------------------------------------------------------
 */

/* Takes @bytes. */
static gboolean
write_picture(const char *folder, const char *name, GBytes *bytes, GError **error)
{
  g_autoptr(GBytes) own = bytes;
  g_autofree char *path = g_build_filename(folder, name, NULL);
  return hf_file_write(path, g_bytes_get_data(own, NULL), g_bytes_get_size(own), error);
}

/* cure-N.svg with N above @n. */
static gboolean
is_left_over(const char *name, guint n)
{
  const char *digits = name + strlen("cure-");
  if (!g_str_has_prefix(name, "cure-") || !g_ascii_isdigit(*digits))
    return FALSE;
  char *end = NULL;
  guint64 number = g_ascii_strtoull(digits, &end, 10);
  return strcmp(end, ".svg") == 0 && number > n;
}

static void
remove_left_over(const char *folder, guint n)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name(dir)) != NULL)
    if (is_left_over(name, n)) {
      g_autofree char *path = g_build_filename(folder, name, NULL);
      g_unlink(path);
    }
}

static gboolean
draw_sheet(const HfTreated *treated, const char *folder, GError **error)
{
  guint n = treated->cures->len;
  double apart = hf_spread_of(treated->given);
  g_autoptr(HfRegion) before = hf_sign_spread(treated->given, apart);
  g_autoptr(GPtrArray) after = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = 0; i < n; i++)
    g_ptr_array_add(after,
                    hf_sign_spread(((const HfCured *)treated->cures->pdata[i])->sign, apart));
  GBytes *sheet = hf_out_changes(before, (const HfRegion *const *)after->pdata, n, SHEET_PIXELS);
  return write_picture(folder, "cures.svg", sheet, error);
}

gboolean
hf_treated_draw(const HfTreated *treated, const char *folder, GError **error)
{
  if (!hf_file_make_folder(folder, error))
    return FALSE;
  g_autoptr(HfFolderLock) lock = hf_folder_lock(folder, 30, error);
  if (lock == NULL)
    return FALSE;
  remove_left_over(folder, treated->cures->len);
  for (guint i = 0; i < treated->cures->len; i++) {
    g_autofree char *name = g_strdup_printf("cure-%u.svg", i + 1);
    GBytes *picture = hf_cured_picture(treated->given, treated->cures->pdata[i], PICTURE_PIXELS);
    if (!write_picture(folder, name, picture, error))
      return FALSE;
  }
  return draw_sheet(treated, folder, error);
}

/* ---- the report -------------------------------------------------------------------------------
 */

static const char **
texts_of(const HfTreated *treated, const HfCured *cured)
{
  const char **texts = g_new0(const char *, cured->takes->len + 1);
  for (guint i = 0; i < cured->takes->len; i++) {
    guint finding = g_array_index(cured->takes, guint, i);
    texts[i] = hf_sign_finding(treated->given, finding)->text;
  }
  return texts;
}

static void
told_clear(gpointer data)
{
  g_free((gpointer)((HfCureTold *)data)->takes);
}

/* The cures as the report tells them; @taken is the one whose sign is told of. */
static GArray *
told_of(const HfTreated *treated, const HfCured *taken)
{
  GArray *told = g_array_new(FALSE, FALSE, sizeof(HfCureTold));
  g_array_set_clear_func(told, told_clear);
  for (guint i = 0; i < treated->cures->len; i++) {
    const HfCured *c = treated->cures->pdata[i];
    HfCureTold one = {.key = c->key,
                      .sentence = c->sentence,
                      .added = c->added,
                      .removed = c->removed,
                      .shift = c->shift,
                      .cost = c->cost,
                      .ties = c->ties,
                      .stops = c->stops,
                      .cautions = c->cautions,
                      .notes = c->notes,
                      .whole = c->whole,
                      .taken = c == taken,
                      .takes = texts_of(treated, c)};
    g_array_append_val(told, one);
  }
  return told;
}

HfJob *
hf_treated_job(const HfTreated *treated, const HfCured *cured, HfWishes wishes)
{
  HfJob *job = hf_job_new(cured != NULL ? cured->sign : treated->given, wishes);
  if (treated->searched)
    job->cures = told_of(treated, cured);
  if (cured != NULL)
    job->cured = g_bytes_new(cured->recipe, cured->length);
  return job;
}

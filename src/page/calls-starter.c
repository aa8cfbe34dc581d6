/* SPDX-License-Identifier: GPL-3.0-or-later
 * calls-starter.c - the pictures of the signs that one may begin with: drawn once, then kept.
 */
#include "page/page-private.h"

struct HfStarters {
  GMutex lock;
  GHashTable *pictures; /* kind -> GBytes; as many as there are kinds */
};

typedef struct {
  HfStarters *starters;
  char *kind, *file;
} Starter;

HfStarters *
hf_starters_new(void)
{
  HfStarters *starters = g_new0(HfStarters, 1);
  g_mutex_init(&starters->lock);
  starters->pictures =
      g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_bytes_unref);
  return starters;
}

void
hf_starters_free(HfStarters *starters)
{
  if (starters == NULL)
    return;
  g_hash_table_unref(starters->pictures);
  g_mutex_clear(&starters->lock);
  g_free(starters);
}

static void
starter_free(gpointer data)
{
  Starter *starter = data;
  g_free(starter->kind);
  g_free(starter->file);
  g_free(starter);
}

static GBytes *
picture_kept(HfStarters *starters, const char *kind)
{
  g_mutex_lock(&starters->lock);
  GBytes *picture = g_hash_table_lookup(starters->pictures, kind);
  if (picture != NULL)
    g_bytes_ref(picture);
  g_mutex_unlock(&starters->lock);
  return picture;
}

static void
keep_picture(HfStarters *starters, const char *kind, GBytes *picture)
{
  g_mutex_lock(&starters->lock);
  g_hash_table_replace(starters->pictures, g_strdup(kind), g_bytes_ref(picture));
  g_mutex_unlock(&starters->lock);
}

static GBytes *
draw_starter(gpointer data, const char **ret_type, const HfCancel *cancel, GError **error)
{
  const Starter *starter = data;
  *ret_type = "image/svg+xml";
  GBytes *picture = picture_kept(starter->starters, starter->kind);
  if (picture != NULL)
    return picture;
  g_autofree char *text = hf_recipe_starter(starter->kind);
  HfRunOptions options = {NULL, cancel, FALSE};
  g_autoptr(HfSign) sign = hf_run_text(text, strlen(text), starter->file, &options, error);
  if (sign == NULL)
    return NULL;
  picture = hf_run_thumb(sign);
  keep_picture(starter->starters, starter->kind, picture);
  return picture;
}

void
hf_call_starter_svg(HfPage *page, const HfAsked *asked)
{
  gsize length = strlen(asked->rest);
  g_autofree char *kind =
      g_str_has_suffix(asked->rest, ".svg") ? g_strndup(asked->rest, length - 4) : NULL;
  g_autofree char *text = kind != NULL ? hf_recipe_starter(kind) : NULL;
  if (text == NULL) {
    hf_answer_refusal(asked->message, SOUP_STATUS_NOT_FOUND, "there is no such kind of sign", NULL);
    return;
  }
  Starter *starter = g_new(Starter, 1);
  *starter = (Starter){page->starters, g_steal_pointer(&kind),
                       g_build_filename(page->home, "starter.yaml", NULL)};
  hf_later(page, asked->message, draw_starter, NULL, starter, starter_free);
}

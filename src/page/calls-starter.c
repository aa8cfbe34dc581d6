/* SPDX-License-Identifier: GPL-3.0-or-later
 * calls-starter.c - pictures of recipes of our own, drawn once, then kept: the signs that one may
 * begin with, and what a choice of shapes has to offer.
 */
#include "page/page-private.h"

struct HfStarters {
  GMutex lock;
  GHashTable *pictures; /* address -> GBytes; as many as there are starters and choices */
};

typedef struct {
  HfStarters *starters;
  char *address, *text, *file;
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
  g_free(starter->address);
  g_free(starter->text);
  g_free(starter->file);
  g_free(starter);
}

static GBytes *
picture_kept(HfStarters *starters, const char *address)
{
  g_mutex_lock(&starters->lock);
  GBytes *picture = g_hash_table_lookup(starters->pictures, address);
  if (picture != NULL)
    g_bytes_ref(picture);
  g_mutex_unlock(&starters->lock);
  return picture;
}

static void
keep_picture(HfStarters *starters, const char *address, GBytes *picture)
{
  g_mutex_lock(&starters->lock);
  g_hash_table_replace(starters->pictures, g_strdup(address), g_bytes_ref(picture));
  g_mutex_unlock(&starters->lock);
}

static GBytes *
draw_starter(gpointer data, const char **ret_type, const HfCancel *cancel, GError **error)
{
  const Starter *starter = data;
  *ret_type = "image/svg+xml";
  GBytes *picture = picture_kept(starter->starters, starter->address);
  if (picture != NULL)
    return picture;
  HfRunOptions options = {NULL, cancel, FALSE};
  g_autoptr(HfSign) sign =
      hf_run_text(starter->text, strlen(starter->text), starter->file, &options, error);
  if (sign == NULL)
    return NULL;
  picture = hf_run_thumb(sign);
  keep_picture(starter->starters, starter->address, picture);
  return picture;
}

/* @text: (transfer full) (nullable) */
static void
answer_picture(HfPage *page, const HfAsked *asked, const char *of, char *text)
{
  if (text == NULL) {
    hf_answer_refusal(asked->message, SOUP_STATUS_NOT_FOUND, "there is no such picture", NULL);
    return;
  }
  Starter *starter = g_new(Starter, 1);
  *starter = (Starter){page->starters, g_strconcat(of, asked->rest, NULL), text,
                       g_build_filename(page->home, "starter.yaml", NULL)};
  hf_later(page, asked->message, draw_starter, NULL, starter, starter_free);
}

/* (transfer full) (nullable): what stands before `.svg` */
static char *
stem_of(const char *name)
{
  return g_str_has_suffix(name, ".svg") ? g_strndup(name, strlen(name) - strlen(".svg")) : NULL;
}

void
hf_call_starter_svg(HfPage *page, const HfAsked *asked)
{
  g_autofree char *kind = stem_of(asked->rest);
  answer_picture(page, asked, "starter/", kind != NULL ? hf_recipe_starter(kind) : NULL);
}

void
hf_call_choice_svg(HfPage *page, const HfAsked *asked)
{
  g_autofree char *stem = stem_of(asked->rest);
  g_auto(GStrv) parts = g_strsplit(stem != NULL ? stem : "", "/", 3);
  gboolean three = g_strv_length(parts) == 3;
  answer_picture(page, asked, "choice/",
                 three ? hf_recipe_shown(parts[0], parts[1], parts[2]) : NULL);
}

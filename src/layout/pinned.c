/* SPDX-License-Identifier: GPL-3.0-or-later
 * pinned.c - which letter or entry a pin or a rule means.
 *
 *   "letter 2 of NAME", "2nd A of NAME", "A of NAME", NAME: the name is behind the last " of ",
 *   unless the whole is a name.
 *
 * A rule that names a letter which is not there would be silent, and look obeyed: that is recorded.
 */
#include "layout/layout-private.h"
#include <string.h>

typedef struct {
  int entry;       /* -1: there is none of that name */
  guint number;    /* letter of that number, from 1; or the one so many of `character` on */
  char *character; /* NULL: by number alone */
  gboolean whole;  /* the entry itself */
} Wish;

static int
entry_called(const HfRecipe *recipe, const char *name)
{
  for (guint i = 0; i < recipe->entries->len; i++)
    if (g_strcmp0(hf_recipe_at(recipe, i)->name, name) == 0)
      return (int)i;
  return -1;
}

static void
wish_which(Wish *wish, const char *which)
{
  if (g_str_has_prefix(which, "letter ")) {
    wish->number = (guint)g_ascii_strtoull(which + strlen("letter "), NULL, 10);
    return;
  }
  char *rest = NULL;
  guint64 number = g_ascii_strtoull(which, &rest, 10);
  const char *space = rest != which ? strchr(rest, ' ') : NULL;
  gboolean counted = number > 0 && number <= HF_RECIPE_MAX_TEXT && space != NULL;
  wish->number = counted ? (guint)number : 1;
  wish->character = g_strdup(counted ? space + 1 : which);
}

static Wish
wish_read(const HfRecipe *recipe, const char *text)
{
  Wish wish = {.entry = entry_called(recipe, text), .whole = TRUE};
  const char *of = g_strrstr(text, " of ");
  if (wish.entry >= 0 || of == NULL)
    return wish;
  g_autofree char *which = g_strndup(text, (gsize)(of - text));
  wish.whole = FALSE;
  wish.entry = entry_called(recipe, of + strlen(" of "));
  wish_which(&wish, which);
  return wish;
}

/* The number of the letter (in visual order, from 0) that is meant: the n-th of its character. */
static int
wish_letter(const Wish *wish, const GPtrArray *shapes)
{
  if (wish->character == NULL)
    return (int)wish->number - 1;
  g_autofree char *named = g_strdup_printf("letter '%s'", wish->character);
  guint left = wish->number;
  for (guint i = 0; i < shapes->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(shapes, i);
    if (shape->entry == (guint)wish->entry && shape->copy == 0 && shape->letter >= 0 &&
        strstr(shape->label, named) != NULL && --left == 0)
      return shape->letter;
  }
  return -1;
}

GArray *
hf_shapes_meant(const HfRecipe *recipe, const GPtrArray *shapes, const char *text, int *ret_entry)
{
  Wish wish = wish_read(recipe, text);
  GArray *meant = g_array_new(FALSE, FALSE, sizeof(guint));
  int letter = wish.whole || wish.entry < 0 ? -1 : wish_letter(&wish, shapes);
  gboolean grouped =
      wish.entry >= 0 && hf_entry_is(hf_recipe_at(recipe, (guint)wish.entry), HF_KIND_GROUP);
  for (guint i = 0; wish.entry >= 0 && (wish.whole || letter >= 0) && i < shapes->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(shapes, i);
    gboolean own = shape->entry == (guint)wish.entry;
    if ((own && (wish.whole || shape->letter == letter)) ||
        (wish.whole && !own && grouped && hf_recipe_is_called(recipe, shape->entry, text)))
      g_array_append_val(meant, i);
  }
  *ret_entry = wish.entry;
  g_free(wish.character);
  return meant;
}

GArray *
hf_layout_meant(const HfRecipe *recipe, const HfLayout *layout, const char *text)
{
  int entry = -1;
  return hf_shapes_meant(recipe, layout->shapes, text, &entry);
}

static void
miss_letters(HfLayout *layout, const HfRecipe *recipe, guint entry, const GPtrArray *texts)
{
  for (guint i = 0; texts != NULL && i < texts->len; i++) {
    const char *text = texts->pdata[i];
    g_autoptr(GArray) meant = hf_layout_meant(recipe, layout, text);
    if (meant->len > 0 || entry_called(recipe, text) >= 0)
      continue;
    g_autofree char *why = g_strdup_printf("it names \"%s\", and there is none", text);
    hf_layout_add_missed(layout, entry, layout->centre, NULL, why,
                         "name a letter that is there, or take this one out of the rule");
  }
}

void
hf_lay_miss_letters(HfLayout *layout, const HfRecipe *recipe)
{
  for (guint i = 0; i < recipe->entries->len; i++) {
    const HfEntry *entry = hf_recipe_at(recipe, i);
    if (entry->kind == HF_ENTRY_TIES) {
      miss_letters(layout, recipe, i, entry->ties.of);
      miss_letters(layout, recipe, i, entry->ties.not_on);
    } else if (entry->kind == HF_ENTRY_MEND) {
      miss_letters(layout, recipe, i, entry->mend.of);
    } else if (entry->kind == HF_ENTRY_STUDS) {
      miss_letters(layout, recipe, i, entry->studs.of);
    }
  }
}

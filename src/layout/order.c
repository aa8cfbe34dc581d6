/* SPDX-License-Identifier: GPL-3.0-or-later
 * order.c - in which order entries are laid: each after those that it names.
 *
 *   recipe: words (stand on rail) | rail | ear (on rail)      laid: rail, words, ear
 *
 * A plate that is the outline of what stands on it turns the arrow round: it comes after them.
 * Ties look at all the metal, so they come last. Otherwise the recipe's order is kept: of those
 * that may be laid next, the first is (Kahn's algorithm on at most 500 entries).
 */
#include "base/text.h"
#include "layout/layout-private.h"

static gboolean
is_outline(const HfEntry *entry)
{
  return entry->kind == HF_ENTRY_PLATE && entry->plate.shape == HF_PLATE_OUTLINE;
}

/* What is fixed to a plate's edge, or cut into it, does not make its outline. */
static gboolean
makes_outline(const HfEntry *entry)
{
  return !hf_entry_is(entry, HF_KINDS_PICTURE_NOT);
}

/* Ties and mending look at all the metal there is. */
static gboolean
is_last(const HfEntry *entry)
{
  return hf_entry_is(entry, HF_KINDS_LAST);
}

static gboolean
stands_on(const HfEntry *entry, const char *name)
{
  return hf_entry_names(entry, HF_ROLE_STAND, name);
}

/* Does @entry name @name otherwise than by standing on it, or by going round it? */
static gboolean
names_otherwise(const HfEntry *entry, const char *name)
{
  return hf_entry_names(entry, HF_ROLES_WAIT, name);
}

static gboolean
anything_stands_on(const HfRecipe *recipe, const char *name)
{
  for (guint i = 0; i < recipe->entries->len; i++)
    if (makes_outline(hf_recipe_at(recipe, i)) && stands_on(hf_recipe_at(recipe, i), name))
      return TRUE;
  return FALSE;
}

gboolean
hf_lay_is_around(const HfRecipe *recipe, guint plate, guint other)
{
  const HfEntry *own = hf_recipe_at(recipe, plate), *entry = hf_recipe_at(recipe, other);
  if (!is_outline(own) || plate == other)
    return FALSE;
  if (own->plate.around != NULL && own->plate.around->len > 0)
    return hf_entry_names(own, HF_ROLE_AROUND, entry->name);
  if (!makes_outline(entry))
    return FALSE;
  if (anything_stands_on(recipe, own->name))
    return stands_on(entry, own->name);
  return !is_outline(entry) && !names_otherwise(entry, own->name);
}

/* Must @entry wait for @other? */
static gboolean
waits_for(const HfRecipe *recipe, guint entry, guint other)
{
  const HfEntry *a = hf_recipe_at(recipe, entry), *b = hf_recipe_at(recipe, other);
  if (entry == other)
    return names_otherwise(a, a->name) || stands_on(a, a->name);
  if (is_last(a))
    return !is_last(b);
  if (hf_lay_is_around(recipe, entry, other))
    return TRUE;
  if (names_otherwise(a, b->name))
    return TRUE;
  return stands_on(a, b->name) && !hf_lay_is_around(recipe, other, entry);
}

static GArray *
refuse_circle(const HfRecipe *recipe, const gboolean *done, GError **error)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  const HfEntry *first = NULL;
  for (guint i = 0; i < recipe->entries->len; i++) {
    const HfEntry *entry = hf_recipe_at(recipe, i);
    if (done[i] || is_last(entry))
      continue;
    first = first != NULL ? first : entry;
    g_ptr_array_add(names, entry->name);
  }
  g_ptr_array_add(names, NULL);
  g_autofree char *list =
      hf_text_list_some((const char *const *)names->pdata, names->len - 1, 12, "and");
  g_autofree char *where = first != NULL ? hf_recipe_where(recipe, first->mark) : NULL;
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, "place one of them by itself",
               "these entries are placed by each other in a circle: %s", list);
  return NULL;
}

/* Ties look at all the metal there is, so nothing can be placed by one. */
static gboolean
check_ties(const HfRecipe *recipe, GError **error)
{
  for (guint i = 0; i < recipe->entries->len; i++)
    for (guint k = 0; k < recipe->entries->len; k++) {
      const HfEntry *entry = hf_recipe_at(recipe, i), *tie = hf_recipe_at(recipe, k);
      if (!is_last(tie) || is_last(entry) ||
          !(names_otherwise(entry, tie->name) || stands_on(entry, tie->name)))
        continue;
      g_autofree char *where = hf_recipe_where(recipe, entry->mark);
      hf_error_set(error, HF_ERROR_BAD_VALUE, where, "place it by another entry",
                   "\"%s\" is laid last of all, so nothing can be placed by it", tie->name);
      return FALSE;
    }
  return TRUE;
}

GArray *
hf_lay_order(const HfRecipe *recipe, GError **error)
{
  guint n = recipe->entries->len;
  if (!check_ties(recipe, error))
    return NULL;
  g_autofree gboolean *done = g_new0(gboolean, n + 1);
  g_autofree guint *waiting = g_new0(guint, n + 1);
  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < n; k++)
      waiting[i] += waits_for(recipe, i, k) ? 1 : 0;
  GArray *order = g_array_sized_new(FALSE, FALSE, sizeof(guint), n);
  while (order->len < n) {
    guint next = 0;
    while (next < n && (done[next] || waiting[next] > 0))
      next++;
    if (next == n) {
      g_array_unref(order);
      return refuse_circle(recipe, done, error);
    }
    done[next] = TRUE;
    g_array_append_val(order, next);
    for (guint i = 0; i < n; i++)
      waiting[i] -= !done[i] && waits_for(recipe, i, next);
  }
  return order;
}

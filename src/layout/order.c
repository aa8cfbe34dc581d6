/* SPDX-License-Identifier: GPL-3.0-or-later
 * order.c - in which order entries are laid: each after those that it names.
 *
 *   recipe: words (stand on rail) | rail | ear (on rail)      laid: rail, words, ear
 *
 * A plate or ring that goes round what stands on it turns the arrow round: it comes after them.
 * Ties look at all the metal, so they come last. Otherwise the recipe's order is kept: of those
 * that may be laid next, the first is (Kahn's algorithm on at most 1,000 entries).
 */
#include "base/text.h"
#include "layout/layout-private.h"

/* Does its form or size follow from what it goes round? */
static gboolean
goes_round(const HfEntry *entry)
{
  if (entry->kind == HF_ENTRY_RING)
    return entry->ring.around->len > 0;
  return entry->kind == HF_ENTRY_PLATE &&
         (entry->plate.shape == HF_PLATE_OUTLINE || !isnan(entry->plate.margin[0]));
}

static const GPtrArray *
around_of(const HfEntry *entry)
{
  return entry->kind == HF_ENTRY_RING ? entry->ring.around : entry->plate.around;
}

/* What is fixed to a plate's edge, or cut into it, does not make its outline. */
static gboolean
makes_outline(const HfEntry *entry)
{
  return !hf_entry_is(entry, HF_KINDS_PICTURE_NOT);
}

/* Words along the edge of a plate have their line from it: it can't go round them. */
static gboolean
has_line_from(const HfEntry *entry, const char *name)
{
  return entry->kind == HF_ENTRY_WORDS && g_strcmp0(entry->words.edge_of, name) == 0;
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
    if (makes_outline(hf_recipe_at(recipe, i)) && stands_on(hf_recipe_at(recipe, i), name) &&
        !has_line_from(hf_recipe_at(recipe, i), name))
      return TRUE;
  return FALSE;
}

gboolean
hf_lay_is_around(const HfRecipe *recipe, guint plate, guint other)
{
  const HfEntry *own = hf_recipe_at(recipe, plate), *entry = hf_recipe_at(recipe, other);
  if (!goes_round(own) || plate == other)
    return FALSE;
  if (around_of(own) != NULL && around_of(own)->len > 0)
    return hf_entry_names(own, HF_ROLE_AROUND, entry->name);
  if (!makes_outline(entry) || has_line_from(entry, own->name))
    return FALSE;
  if (anything_stands_on(recipe, own->name))
    return stands_on(entry, own->name);
  return !goes_round(entry) && !names_otherwise(entry, own->name);
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
  return stands_on(a, b->name) &&
         (has_line_from(a, b->name) || !hf_lay_is_around(recipe, other, entry));
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

/* Spares asking of most pairs: @named are all names in @entry. */
static gboolean
may_wait(const HfEntry *entry, const char *name, GHashTable *named)
{
  return is_last(entry) || goes_round(entry) || g_hash_table_contains(named, name) ||
         g_strcmp0(entry->name, name) == 0;
}

/* Whoever is placed by a member of a group, and is no member of it, waits for the group: it moves
 * its members. */
static void
wait_for_groups(const HfRecipe *recipe, guint entry, const gint *group_of, GHashTable *named,
                guint8 *waits)
{
  const HfEntry *a = hf_recipe_at(recipe, entry);
  guint n = recipe->entries->len;
  for (guint b = 0; b < n; b++) {
    const char *name = hf_recipe_at(recipe, b)->name;
    if (group_of[b] < 0 || !may_wait(a, name, named) ||
        !(names_otherwise(a, name) || stands_on(a, name) || hf_lay_is_around(recipe, entry, b)))
      continue;
    for (gint g = group_of[b]; g >= 0; g = group_of[g]) {
      gboolean within = (guint)g == entry;
      for (gint own = group_of[entry]; own >= 0; own = group_of[own])
        within |= own == g;
      if (!within && waits[entry * n + (guint)g] == 0)
        waits[entry * n + (guint)g] = 1;
    }
  }
}

/* waits[i n + k]: entry i must come after entry k. (transfer full) */
static guint8 *
find_waits(const HfRecipe *recipe)
{
  guint n = recipe->entries->len;
  guint8 *waits = g_new0(guint8, (gsize)n * n + 1);
  g_autofree gint *group_of = g_new(gint, n + 1);
  gboolean any = FALSE;
  for (guint i = 0; i < n; i++)
    any |= hf_entry_is(hf_recipe_at(recipe, i), HF_KIND_GROUP);
  for (guint i = 0; i < n; i++)
    group_of[i] = any ? hf_recipe_group(recipe, i) : -1;
  for (guint i = 0; i < n; i++) {
    const HfEntry *entry = hf_recipe_at(recipe, i);
    g_autoptr(GHashTable) named = hf_entry_all_names(entry);
    for (guint k = 0; k < n; k++)
      waits[i * n + k] =
          may_wait(entry, hf_recipe_at(recipe, k)->name, named) && waits_for(recipe, i, k) ? 1 : 0;
    if (any && !is_last(entry))
      wait_for_groups(recipe, i, group_of, named, waits);
  }
  return waits;
}

GArray *
hf_lay_order(const HfRecipe *recipe, GError **error)
{
  guint n = recipe->entries->len;
  if (!check_ties(recipe, error))
    return NULL;
  g_autofree gboolean *done = g_new0(gboolean, n + 1);
  g_autofree guint *waiting = g_new0(guint, n + 1);
  g_autofree guint8 *waits = find_waits(recipe);
  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < n; k++)
      waiting[i] += waits[i * n + k];
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
      waiting[i] -= done[i] ? 0 : waits[i * n + next];
  }
  return order;
}

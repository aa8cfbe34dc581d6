/* SPDX-License-Identifier: GPL-3.0-or-later
 * groups.c - who is a member of which row or stack, and what a member may not say.
 *
 *   title  = row of [tide, and, timber]        a member has one group, and its place from there;
 *   lockup = stack of [title, year]            it may lean on another member of the same group
 */
#include "recipe/kind-private.h"
#include <string.h>

static gboolean
has_member(const HfEntry *group, const char *name)
{
  return hf_entry_is(group, HF_KIND_GROUP) && hf_entry_names(group, HF_ROLE_MEMBERS, name);
}

gint
hf_recipe_group(const HfRecipe *recipe, guint i)
{
  for (guint g = 0; g < recipe->entries->len; g++)
    if (has_member(hf_recipe_at(recipe, g), hf_recipe_at(recipe, i)->name))
      return (gint)g;
  return -1;
}

gboolean
hf_recipe_is_called(const HfRecipe *recipe, guint i, const char *name)
{
  gint at = (gint)i;
  for (guint depth = 0; at >= 0 && depth <= recipe->entries->len; depth++) {
    if (strcmp(hf_recipe_at(recipe, (guint)at)->name, name) == 0)
      return TRUE;
    at = hf_recipe_group(recipe, (guint)at);
  }
  return FALSE;
}

/* Does it say a place of its own, not that of another member of its group? */
static const char *
own_place(const HfEntry *entry, const HfEntry *group)
{
  static const guint naming = HF_ROLE_STAND | HF_ROLE_BESIDE | HF_ROLE_BAND | HF_ROLE_WINDOW;
  for (guint i = 0; i < group->group.of->len; i++)
    if (hf_entry_names(entry, naming, group->group.of->pdata[i]))
      return NULL;
  for (const HfTable *part = &entry->row->table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++) {
      const void *at = G_STRUCT_MEMBER_P(entry, field->offset);
      if (field->type == HF_FIELD_NAME && (field->roles & naming) != 0 &&
          *(char *const *)at != NULL)
        return field->key;
      if (field->type == HF_FIELD_SPOTS && part == &hf_table_place &&
          (*(GArray *const *)at)->len > 0)
        return field->key;
      if (field->type == HF_FIELD_NAMES && (field->roles & HF_ROLE_BAND) != 0 &&
          (*(GPtrArray *const *)at)->len > 0)
        return field->key;
    }
  return NULL;
}

static void
check_member(HfReader *reader, const HfEntry *entry, const HfEntry *group, const HfEntry *before)
{
  const char *key = own_place(entry, group);
  if (before != NULL)
    hf_mistake(reader->mistakes, group->mark, "let one of them go",
               "\"%s\" is a member of \"%s\" and of \"%s\"", entry->name, before->name,
               group->name);
  else if (hf_entry_is(entry, HF_KIND_FIXTURE | HF_KINDS_LAST))
    hf_mistake(reader->mistakes, group->mark, "take it out of the list",
               "\"%s\" is put on what is there, so it can't be a member of \"%s\"", entry->name,
               group->name);
  else if (key != NULL)
    hf_mistake(reader->mistakes, entry->mark, "take that out, or take it out of the list",
               "\"%s\" is placed by \"%s\" and says \"%s\" itself", entry->name, group->name, key);
}

void
hf_check_groups(HfReader *reader, const GPtrArray *entries)
{
  for (guint i = 0; i < entries->len; i++) {
    const HfEntry *entry = g_ptr_array_index(entries, i), *first = NULL;
    for (guint g = 0; g < entries->len; g++) {
      const HfEntry *group = g_ptr_array_index(entries, g);
      if (!has_member(group, entry->name))
        continue;
      check_member(reader, entry, group, first);
      first = group;
    }
  }
}

/* ---- sizes that follow, before entries are read ------------------------------------------------
 */

/* The body of @item, an entry as a node, when it is a group; (nullable) */
static const HfNode *
group_body(const HfNode *item)
{
  if (item->kind != HF_NODE_TABLE || hf_node_size(item) != 1)
    return NULL;
  const HfKind *kind = hf_kind_of_word(hf_node_key(item, 0)->text);
  const HfNode *body = hf_node_item(item, 0);
  gboolean is_group = kind != NULL && (kind->flags & HF_KIND_GROUP) != 0;
  return is_group && body->kind == HF_NODE_TABLE ? body : NULL;
}

static gboolean
add_members(const HfNode *body, GHashTable *sized)
{
  const HfNode *of = hf_node_get(body, "of");
  gboolean any = FALSE;
  guint n = of == NULL ? 0 : of->kind == HF_NODE_LIST ? hf_node_size(of) : 1;
  for (guint i = 0; i < n; i++) {
    const HfNode *name = of->kind == HF_NODE_LIST ? hf_node_item(of, i) : of;
    if (name->kind == HF_NODE_TEXT && name->text != NULL)
      any |= g_hash_table_add(sized, g_strdup(name->text));
  }
  return any;
}

GHashTable *
hf_sized_by_groups(const HfNode *list)
{
  GHashTable *sized = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  guint n = MIN(hf_node_size(list), HF_RECIPE_MAX_ENTRIES);
  gboolean more = TRUE;
  for (guint round = 0; more && round < n; round++) {
    more = FALSE;
    for (guint i = 0; i < n; i++) {
      const HfNode *body = group_body(hf_node_item(list, i));
      const HfNode *name = body != NULL ? hf_node_get(body, "name") : NULL;
      gboolean follows = name != NULL && name->kind == HF_NODE_TEXT && name->text != NULL &&
                         g_hash_table_contains(sized, name->text);
      if (body != NULL &&
          (follows || hf_node_get(body, "width") != NULL || hf_node_get(body, "inside") != NULL))
        more |= add_members(body, sized);
    }
  }
  return sized;
}

gboolean
hf_reader_is_sized(const HfReader *reader, const HfNode *node)
{
  const HfNode *name = hf_node_get(node, "name");
  return reader->sized != NULL && name != NULL && name->kind == HF_NODE_TEXT &&
         name->text != NULL && g_hash_table_contains(reader->sized, name->text);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * The list of kinds, and what rows and roles say of one entry.
 */
#include "recipe/kind.h"
#include <string.h>

#define KIND(name) extern const HfKind hf_kind_##name;
#include "recipe/kinds.def"
#undef KIND

#define KIND(name) &hf_kind_##name,
const HfKind *const hf_kinds[] = {
#include "recipe/kinds.def"
    NULL};
#undef KIND

const HfKind *
hf_kind_of_word(const char *word)
{
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    if (strcmp(hf_kinds[i]->table.name, word) == 0)
      return hf_kinds[i];
  return NULL;
}

const HfKind *
hf_kind(HfEntryKind kind)
{
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    if (hf_kinds[i]->kind == kind)
      return hf_kinds[i];
  g_assert_not_reached();
}

const HfKind *
hf_entry_row(const HfEntry *entry)
{
  return entry->row != NULL ? entry->row : hf_kind(entry->kind);
}

const char *
hf_entry_word(const HfEntry *entry)
{
  return hf_entry_row(entry)->table.name;
}

gboolean
hf_entry_is(const HfEntry *entry, guint flags)
{
  return (hf_entry_row(entry)->flags & flags) != 0;
}

gboolean
hf_entry_says(const HfEntry *entry, const char *key)
{
  for (guint i = 0; entry->said != NULL && i < entry->said->len; i++)
    if (strcmp(g_array_index(entry->said, HfSaid, i).key, key) == 0)
      return TRUE;
  return FALSE;
}

const char *
hf_entry_on(const HfEntry *entry)
{
  if (entry->place.on == NULL && entry->kind == HF_ENTRY_WORDS)
    return entry->words.inside;
  if (entry->place.on == NULL && hf_entry_is(entry, HF_KIND_GROUP))
    return entry->group.inside;
  return entry->place.on;
}

gboolean
hf_words_are_level(const HfEntry *entry)
{
  const HfWordsEntry *words = &entry->words;
  return entry->kind == HF_ENTRY_WORDS && isnan(words->arc_radius) &&
         (words->band == NULL || words->band->len == 0) && isnan(words->ellipse_wide) &&
         isnan(words->wave) && isnan(words->arch) && words->edge_of == NULL &&
         (words->through == NULL || words->through->len == 0) && words->shaped == HF_SHAPE_NONE;
}

const HfField *
hf_entry_role(const HfEntry *entry, guint roles)
{
  for (const HfTable *part = &hf_entry_row(entry)->table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++)
      if ((field->roles & roles) != 0)
        return field;
  return NULL;
}

double
hf_entry_length(const HfEntry *entry, const HfField *field)
{
  g_return_val_if_fail(field->type == HF_FIELD_LENGTH, NAN);
  return G_STRUCT_MEMBER(double, entry, field->offset);
}

static gboolean
list_has(const GPtrArray *names, const char *name)
{
  for (guint i = 0; names != NULL && i < names->len; i++)
    if (g_strcmp0((const char *)g_ptr_array_index(names, i), name) == 0)
      return TRUE;
  return FALSE;
}

gboolean
hf_entry_names(const HfEntry *entry, guint roles, const char *name)
{
  for (const HfTable *part = &hf_entry_row(entry)->table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++) {
      if ((field->roles & roles) == 0)
        continue;
      if (field->type == HF_FIELD_NAME &&
          g_strcmp0(G_STRUCT_MEMBER(char *, entry, field->offset), name) == 0)
        return TRUE;
      if (field->type == HF_FIELD_NAMES &&
          list_has(G_STRUCT_MEMBER(GPtrArray *, entry, field->offset), name))
        return TRUE;
    }
  return FALSE;
}

GHashTable *
hf_entry_all_names(const HfEntry *entry)
{
  GHashTable *all = g_hash_table_new(g_str_hash, g_str_equal);
  for (const HfTable *part = &hf_entry_row(entry)->table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++) {
      const GPtrArray *names =
          field->type == HF_FIELD_NAMES ? G_STRUCT_MEMBER(GPtrArray *, entry, field->offset) : NULL;
      char *name =
          field->type == HF_FIELD_NAME ? G_STRUCT_MEMBER(char *, entry, field->offset) : NULL;
      if (name != NULL)
        g_hash_table_add(all, name);
      for (guint i = 0; names != NULL && i < names->len; i++)
        g_hash_table_add(all, g_ptr_array_index(names, i));
    }
  return all;
}

const GPtrArray *
hf_entry_band(const HfEntry *entry)
{
  const HfField *field = hf_entry_role(entry, HF_ROLE_BAND);
  const GPtrArray *band = field != NULL ? G_STRUCT_MEMBER(GPtrArray *, entry, field->offset) : NULL;
  return band != NULL && band->len > 0 ? band : NULL;
}

const HfFontWish *
hf_entry_font(const HfEntry *entry)
{
  for (const HfField *field = hf_entry_row(entry)->table.fields; field->key != NULL; field++)
    if (field->type == HF_FIELD_FONT)
      return G_STRUCT_MEMBER_P(entry, field->offset);
  return NULL;
}

gboolean
hf_font_is_face(const HfFontWish *a, const HfFontWish *b)
{
  return g_strcmp0(a->family, b->family) == 0 && g_strcmp0(a->style, b->style) == 0 &&
         g_strcmp0(a->file, b->file) == 0 && g_strcmp0(a->axes, b->axes) == 0;
}

const char *
hf_entry_line(const HfEntry *entry, guint i)
{
  for (const HfField *field = hf_entry_row(entry)->table.fields;
       hf_entry_font(entry) != NULL && field->key != NULL; field++) {
    if (field->type == HF_FIELD_TEXT)
      return i == 0 ? G_STRUCT_MEMBER(char *, entry, field->offset) : NULL;
    if (field->type != HF_FIELD_TEXTS)
      continue;
    const GPtrArray *lines = G_STRUCT_MEMBER(GPtrArray *, entry, field->offset);
    return lines != NULL && i < lines->len ? lines->pdata[i] : NULL;
  }
  return NULL;
}

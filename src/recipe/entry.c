/* SPDX-License-Identifier: GPL-3.0-or-later
 * The entries: each is a table of one key, its kind, and one table of fields.
 */
#include "base/text.h"
#include "recipe/read-private.h"
#include <string.h>

const char *
hf_entry_unit(const HfEntry *entry, const char *key)
{
  const GArray *said = entry->said;
  for (guint i = 0; said != NULL && i < said->len; i++)
    if (strcmp(g_array_index(said, HfSaid, i).key, key) == 0)
      return g_array_index(said, HfSaid, i).unit;
  return said != NULL && said->len > 0 ? g_array_index(said, HfSaid, 0).unit
         : hf_units_are_inches()       ? "in"
                                       : "mm";
}

double
hf_unit_mm(const char *unit)
{
  static const struct {
    const char *unit;
    double mm;
  } units[] = {{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}};
  for (gsize i = 0; i < G_N_ELEMENTS(units); i++)
    if (strcmp(units[i].unit, unit) == 0)
      return units[i].mm;
  g_assert_not_reached();
}

gboolean
hf_entry_is_named(const HfEntry *entry)
{
  const char *kind = hf_entry_word(entry);
  gsize n = strlen(kind);
  if (strncmp(entry->name, kind, n) != 0 || entry->name[n] != ' ')
    return TRUE;
  return entry->name[n + 1 + strspn(entry->name + n + 1, "0123456789")] != '\0';
}

void
hf_entry_free(HfEntry *entry)
{
  if (entry == NULL)
    return;
  hf_read_free(&hf_entry_row(entry)->table, entry);
  g_clear_pointer(&entry->said, g_array_unref);
  g_free(entry);
}

static HfEntry *
entry_new(const HfKind *row, HfMark mark)
{
  HfEntry *entry = g_new0(HfEntry, 1);
  entry->kind = row->kind;
  entry->row = row;
  entry->mark = mark;
  entry->said = g_array_new(FALSE, FALSE, sizeof(HfSaid));
  hf_read_defaults(&row->table, entry);
  return entry;
}

static void
report_kind(HfReader *reader, const HfNode *key)
{
  g_autoptr(GPtrArray) list = g_ptr_array_new();
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    g_ptr_array_add(list, (gpointer)hf_kinds[i]->table.name);
  g_ptr_array_add(list, NULL);
  const char *const *words = (const char *const *)list->pdata;
  const char *near = hf_text_nearest(key->text, words);
  g_autofree char *all = hf_text_list(words, "or");
  g_autofree char *fix =
      near != NULL ? g_strdup_printf("write \"%s\"", near) : g_strdup_printf("use %s", all);
  hf_mistake(reader->mistakes, key->mark, fix, "\"%s\" is not an entry", key->text);
}

static void
read_entry(HfReader *reader, const HfNode *item, GPtrArray *entries)
{
  static const char how[] =
      "write it like this: - bar: {name: rail, length: 1200 mm, height: 20 mm}";
  if (item->kind != HF_NODE_TABLE || hf_node_size(item) == 0) {
    hf_mistake(reader->mistakes, item->mark, how, "an entry needs its kind and its values");
    return;
  }
  if (hf_node_size(item) > 1) {
    hf_mistake(reader->mistakes, hf_node_key(item, 1)->mark,
               "indent it to make it a value of the entry, or start a new entry with \"- \"",
               "\"%s\" stands beside \"%s\" in one entry", hf_node_key(item, 1)->text,
               hf_node_key(item, 0)->text);
    return;
  }
  const HfNode *key = hf_node_key(item, 0), *body = hf_node_item(item, 0);
  const HfKind *kind = hf_kind_of_word(key->text);
  if (kind == NULL) {
    report_kind(reader, key);
    return;
  }
  if (body->kind != HF_NODE_TABLE) {
    g_autofree char *fix =
        g_strdup_printf("write it like this: - %s: %s", key->text, kind->table.example);
    hf_mistake(reader->mistakes, key->mark, fix, "\"%s\" needs its values", key->text);
    return;
  }
  HfEntry *entry = entry_new(kind, key->mark);
  g_ptr_array_add(entries, entry);
  reader->entry = (gint)entries->len - 1;
  reader->said = entry->said;
  guint before = reader->mistakes->total;
  hf_read_table(reader, body, &kind->table, entry);
  hf_check_entry(reader, body, entry, reader->mistakes->total == before);
  reader->entry = -1;
  reader->said = NULL;
}

static gboolean
is_taken(const GPtrArray *entries, const char *name)
{
  for (guint i = 0; i < entries->len; i++)
    if (g_strcmp0(((const HfEntry *)g_ptr_array_index(entries, i))->name, name) == 0)
      return TRUE;
  return FALSE;
}

/* "words 2": the kind and the next number that nobody has. */
static void
name_the_nameless(GPtrArray *entries)
{
  g_autoptr(GHashTable) counts = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < entries->len; i++) {
    HfEntry *entry = g_ptr_array_index(entries, i);
    const char *word = hf_entry_word(entry);
    guint count = GPOINTER_TO_UINT(g_hash_table_lookup(counts, word)) + 1;
    while (entry->name == NULL) {
      g_autofree char *name = g_strdup_printf("%s %u", word, count);
      if (!is_taken(entries, name))
        entry->name = g_steal_pointer(&name);
      else
        count++;
    }
    g_hash_table_insert(counts, (gpointer)word, GUINT_TO_POINTER(count));
  }
}

void
hf_read_entries(HfReader *reader, const HfNode *list, GPtrArray *entries)
{
  guint n = hf_node_size(list);
  if (n == 0)
    hf_mistake(reader->mistakes, list->mark, "add a bar, a plate or words",
               "a sign needs at least one entry");
  reader->sized = hf_sized_by_groups(list);
  for (guint i = 0; i < n; i++) {
    if (i == HF_RECIPE_MAX_ENTRIES) {
      hf_mistake(reader->mistakes, hf_node_item(list, i)->mark, "make it two signs",
                 "more than %d entries", HF_RECIPE_MAX_ENTRIES);
      break;
    }
    read_entry(reader, hf_node_item(list, i), entries);
  }
  name_the_nameless(entries);
  g_clear_pointer(&reader->sized, g_hash_table_unref);
}

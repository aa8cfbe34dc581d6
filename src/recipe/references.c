/* SPDX-License-Identifier: GPL-3.0-or-later
 * Names: used once, there when mentioned, of a kind that fits, and placed without a circle.
 *
 *   words "boats" stand on "rail", "rail" below "boats":   boats stand on rail below boats
 */
#include "base/alike.h"
#include "base/text.h"
#include "recipe/read-private.h"
#include <string.h>

static const HfEntry *
entry_at(const GPtrArray *entries, guint i)
{
  return g_ptr_array_index(entries, i);
}

static int
find(const GPtrArray *entries, const char *name)
{
  for (guint i = 0; i < entries->len; i++)
    if (strcmp(entry_at(entries, i)->name, name) == 0)
      return (int)i;
  return -1;
}

/* The entry whose name nobody could tell from @name by looking. */
static const HfEntry *
looks_like(const GPtrArray *entries, const char *name)
{
  g_autofree char *plain = hf_alike_plain(name);
  for (guint i = 0; i < entries->len; i++) {
    g_autofree char *other = hf_alike_plain(entry_at(entries, i)->name);
    if (strcmp(plain, other) == 0)
      return entry_at(entries, i);
  }
  return NULL;
}

/* Two names may not look the same either: findings could not be told apart. */
static void
check_alike(HfReader *reader, const GPtrArray *entries)
{
  g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < entries->len; i++) {
    const HfEntry *entry = entry_at(entries, i);
    g_autofree char *plain = hf_alike_plain(entry->name);
    const HfEntry *first = g_hash_table_lookup(seen, plain);
    if (first != NULL && strcmp(first->name, entry->name) != 0) {
      g_autofree char *fix =
          g_strdup_printf("give it a name of its own (the other is in line %u)", first->mark.line);
      hf_mistake(reader->mistakes, entry->mark, fix,
                 "two entries have names that look the same: \"%s\"", entry->name);
    } else if (first == NULL) {
      g_hash_table_insert(seen, g_steal_pointer(&plain), (gpointer)entry);
    }
  }
}

static void
check_twice(HfReader *reader, const GPtrArray *entries)
{
  g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < entries->len; i++) {
    const HfEntry *entry = entry_at(entries, i);
    const HfEntry *first = g_hash_table_lookup(seen, entry->name);
    if (first != NULL) {
      g_autofree char *fix =
          g_strdup_printf("give it a name of its own (the first is in line %u)", first->mark.line);
      hf_mistake(reader->mistakes, entry->mark, fix, "two entries are called \"%s\"", entry->name);
    } else {
      g_hash_table_insert(seen, entry->name, (gpointer)entry);
    }
  }
}

static char *
list_kinds(guint kinds)
{
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func(g_free);
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    if ((kinds & (1u << hf_kinds[i]->kind)) != 0)
      g_ptr_array_add(words, hf_table_called(&hf_kinds[i]->table));
  g_ptr_array_add(words, NULL);
  return hf_text_list((const char *const *)words->pdata, "or");
}

static void
report_missing(HfReader *reader, const GPtrArray *entries, const HfMention *mention,
               const char *name)
{
  g_autofree const char **names = g_new0(const char *, entries->len + 1);
  for (guint i = 0; i < entries->len; i++)
    names[i] = entry_at(entries, i)->name;
  const HfEntry *twin = looks_like(entries, name);
  if (twin != NULL) {
    g_autofree char *own = hf_alike_say(name);
    g_autofree char *odd = own != NULL ? g_steal_pointer(&own) : hf_alike_say(twin->name);
    hf_mistake(reader->mistakes, mention->mark, "write both in the same letters",
               "no entry is called \"%s\": the \"%s\" of line %u only looks like it%s%s", name,
               twin->name, twin->mark.line, odd != NULL ? ", " : "", odd != NULL ? odd : "");
    return;
  }
  const char *near = hf_text_nearest(name, names);
  g_autofree char *all = hf_text_list_some(names, entries->len, 12, "or");
  g_autofree char *fix = near != NULL ? g_strdup_printf("write \"%s\"", near)
                                      : g_strdup_printf("name one of the entries: %s", all);
  hf_mistake(reader->mistakes, mention->mark, fix, "no entry is called \"%s\"", name);
}

/* "2nd A of boats", "dots of number": the name is behind the last "of", unless the whole is a name.
 */
static const char *
name_in(const GPtrArray *entries, const HfMention *mention)
{
  if (strcmp(mention->field->key, "alone") == 0 && find(entries, mention->name) < 0 &&
      g_str_has_prefix(mention->name, "dots of "))
    return mention->name + strlen("dots of ");
  HfFieldType type = mention->field->type;
  if ((type != HF_FIELD_PIN && type != HF_FIELD_PINS) || find(entries, mention->name) >= 0)
    return mention->name;
  const char *of = g_strrstr(mention->name, " of ");
  return of != NULL ? of + strlen(" of ") : mention->name;
}

static int
resolve(HfReader *reader, const GPtrArray *entries, const HfMention *mention)
{
  const char *name = name_in(entries, mention);
  int found = find(entries, name);
  if (found < 0) {
    report_missing(reader, entries, mention, name);
    return -1;
  }
  const HfEntry *entry = entry_at(entries, (guint)found);
  if (mention->field->kinds != 0 && (mention->field->kinds & (1u << entry->kind)) == 0) {
    g_autofree char *kinds = list_kinds(mention->field->kinds);
    g_autofree char *fix = g_strdup_printf("name %s", kinds);
    g_autofree char *called = hf_table_called(&entry->row->table);
    hf_mistake(reader->mistakes, mention->mark, fix, "\"%s\" is %s, and \"%s\" is no place for it",
               name, called, mention->field->key);
    return -1;
  }
  return found;
}

/* --- circles of placement --- */

typedef struct {
  gint from, to;
  const HfMention *mention;
} Link;

typedef struct {
  HfReader *reader;
  const GPtrArray *entries;
  GArray *links;  /* Link */
  guint8 *state;  /* 0 not seen, 1 on the way, 2 done */
  GPtrArray *way; /* const Link *: from the start to here */
} Walk;

static void
report_circle(Walk *walk, const Link *last)
{
  g_autoptr(GString) circle = g_string_new(NULL);
  guint start = walk->way->len - 1;
  while (((const Link *)g_ptr_array_index(walk->way, start))->from != last->to)
    start--;
  const Link *first = g_ptr_array_index(walk->way, start);
  g_string_append(circle, entry_at(walk->entries, (guint)first->from)->name);
  for (guint i = start; i < walk->way->len; i++) {
    const Link *link = g_ptr_array_index(walk->way, i);
    g_string_append_printf(circle, " %s %s", link->mention->field->key,
                           entry_at(walk->entries, (guint)link->to)->name);
  }
  hf_mistake(walk->reader->mistakes, last->mention->mark, "place one of them by itself",
             "placed in a circle: %s", circle->str);
}

static void
visit(Walk *walk, gint entry)
{
  walk->state[entry] = 1;
  for (guint i = 0; i < walk->links->len; i++) {
    const Link *link = &g_array_index(walk->links, Link, i);
    if (link->from != entry)
      continue;
    g_ptr_array_add(walk->way, (gpointer)link);
    if (walk->state[link->to] == 1)
      report_circle(walk, link);
    else if (walk->state[link->to] == 0)
      visit(walk, link->to);
    g_ptr_array_set_size(walk->way, (int)walk->way->len - 1);
  }
  walk->state[entry] = 2;
}

static void
check_circles(HfReader *reader, const GPtrArray *entries, GArray *links)
{
  g_autofree guint8 *state = g_new0(guint8, entries->len);
  g_autoptr(GPtrArray) way = g_ptr_array_new();
  Walk walk = {reader, entries, links, state, way};
  for (guint i = 0; i < entries->len; i++)
    if (state[i] == 0)
      visit(&walk, (gint)i);
}

void
hf_check_names(HfReader *reader, const GPtrArray *entries)
{
  check_twice(reader, entries);
  check_alike(reader, entries);
  g_autoptr(GArray) links = g_array_new(FALSE, FALSE, sizeof(Link));
  for (guint i = 0; i < reader->mentions->len; i++) {
    const HfMention *mention = &g_array_index(reader->mentions, HfMention, i);
    Link link = {mention->entry, resolve(reader, entries, mention), mention};
    if (link.to >= 0 && link.from >= 0 && (mention->field->flags & HF_PLACES) != 0)
      g_array_append_val(links, link);
  }
  check_circles(reader, entries, links);
}

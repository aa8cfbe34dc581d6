/* SPDX-License-Identifier: GPL-3.0-or-later
 * Combinations that can't be, within one entry: what its row lists (what can't be said together,
 * what needs what, what must be there, what each choice asks for), then its own check of figures.
 */
#include "base/text.h"
#include "recipe/kind-private.h"
#include "type/type.h"
#include <string.h>

HfMark
hf_key_mark(const HfNode *node, const char *key)
{
  for (guint i = 0; i < hf_node_size(node); i++)
    if (strcmp(hf_node_key(node, i)->text, key) == 0)
      return hf_node_key(node, i)->mark;
  return node->mark;
}

static gboolean
has_any(const HfNode *node, const char *const *keys)
{
  for (; *keys != NULL; keys++)
    if (hf_node_get(node, *keys) != NULL)
      return TRUE;
  return FALSE;
}

static void
check_clashes(HfReader *reader, const HfNode *node, const HfKind *kind)
{
  for (const HfTable *part = &kind->table; part != NULL; part = part->also)
    for (const HfClash *clash = part->clashes; clash != NULL && clash->a != NULL; clash++) {
      if (hf_node_get(node, clash->a) == NULL || hf_node_get(node, clash->b) == NULL)
        continue;
      g_autofree char *fix = g_strdup_printf("keep \"%s\" or \"%s\"", clash->a, clash->b);
      g_autofree char *called = hf_table_called(&kind->table);
      hf_mistake(reader->mistakes, hf_key_mark(node, clash->b), fix,
                 "%s can't have both \"%s\" and \"%s\"", called, clash->a, clash->b);
    }
}

static void
check_needs(HfReader *reader, const HfNode *node, const HfKind *kind)
{
  for (const HfTable *part = &kind->table; part != NULL; part = part->also)
    for (const HfNeed *need = part->needs; need != NULL && need->key != NULL; need++) {
      if (hf_node_get(node, need->key) == NULL || has_any(node, need->needs))
        continue;
      g_autofree char *any = hf_text_list(need->needs, "or");
      g_autofree char *fix = g_strdup_printf("add %s, or take it out", any);
      hf_mistake(reader->mistakes, hf_key_mark(node, need->key), fix,
                 "\"%s\" does nothing without %s", need->key, any);
    }
}

static void
check_lacks(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const HfKind *kind = entry->row;
  if (kind->one_of[0] == NULL || has_any(node, kind->one_of))
    return;
  if ((kind->flags & HF_KIND_LETTERING) != 0 && hf_reader_is_sized(reader, node))
    return;
  const HfField *field = hf_table_field(&kind->table, kind->one_of[0]);
  g_autofree char *any = hf_text_list(kind->one_of, "or");
  g_autofree char *fix = g_strdup_printf("add %s: %s", field->key, field->example);
  g_autofree char *called = hf_table_called(&kind->table);
  hf_mistake(reader->mistakes, entry->mark, fix, "%s need%s %s", called,
             (kind->flags & HF_KIND_PLURAL) != 0 ? "" : "s", any);
}

static const HfChoice *
choice_of(const HfField *field, int value)
{
  const HfChoice *choice = field->choices;
  while (choice->word != NULL && choice->value != value)
    choice++;
  return choice;
}

static gboolean
lists(const HfChoice *choice, const char *key)
{
  return g_strv_contains(choice->must, key) || g_strv_contains(choice->may, key);
}

/* Is @key a matter of which choice is taken? */
static gboolean
depends(const HfField *field, const char *key)
{
  for (const HfChoice *choice = field->choices; choice->word != NULL; choice++)
    if (lists(choice, key))
      return TRUE;
  return FALSE;
}

/* What the choice that was taken (the shape of a plate) must and may have besides. */
static void
check_choice(HfReader *reader, const HfNode *node, const HfEntry *entry, const HfField *field)
{
  const HfTable *table = &entry->row->table;
  const HfChoice *choice = choice_of(field, G_STRUCT_MEMBER(int, entry, field->offset));
  const HfNode *said = hf_node_get(node, field->key);
  const char *word = said != NULL ? said->text : choice->word;
  g_autofree char *called = hf_table_called(table);
  gboolean follows = choice->unless != NULL && hf_node_get(node, choice->unless) != NULL;
  for (gsize i = 0; choice->must[i] != NULL; i++)
    if (hf_node_get(node, choice->must[i]) == NULL) {
      const HfField *lacking = hf_table_field(table, choice->must[i]);
      if (follows && lacking->type == HF_FIELD_LENGTH)
        continue;
      g_autofree char *fix = g_strdup_printf("add %s: %s", lacking->key, lacking->example);
      hf_mistake(reader->mistakes, entry->mark, fix, "%s of %s \"%s\" needs \"%s\"", called,
                 field->key, word, lacking->key);
    }
  for (const HfField *other = table->fields; other->key != NULL; other++) {
    if (hf_node_get(node, other->key) == NULL || !depends(field, other->key) ||
        lists(choice, other->key))
      continue;
    g_autofree char *list = hf_text_list(choice->must, "and");
    g_autofree char *fix = g_strdup_printf("it has %s", list);
    hf_mistake(reader->mistakes, hf_key_mark(node, other->key), fix,
               "%s of %s \"%s\" has no \"%s\"", called, field->key, word, other->key);
  }
}

static void
check_choices(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  for (const HfField *field = entry->row->table.fields; field->key != NULL; field++)
    if (field->type == HF_FIELD_CHOICE)
      check_choice(reader, node, entry, field);
}

void
hf_check_less(HfReader *reader, const HfNode *node, const char *key, double value, const char *than,
              double most)
{
  if (!(value >= most))
    return;
  g_autofree char *limit = hf_text_at_most(most);
  g_autofree char *fix = g_strdup_printf("make it less than %s", limit);
  hf_mistake(reader->mistakes, hf_key_mark(node, key), fix, "%s is %s, not less than %s", key,
             hf_node_get(node, key)->text, than);
}

void
hf_check_corner(HfReader *reader, const HfNode *node, double corner, double width, double height)
{
  if (hf_node_get(node, "corner") == NULL || isnan(width) || isnan(height))
    return;
  double most = fmin(width, height) / 2;
  if (corner > most * (1 + 1e-9)) {
    g_autofree char *limit = hf_text_at_most(most);
    g_autofree char *fix = g_strdup_printf("make it at most %s", limit);
    hf_mistake(reader->mistakes, hf_key_mark(node, "corner"), fix,
               "corner is %s, more than half a side", hf_node_get(node, "corner")->text);
  }
}

void
hf_check_band(HfReader *reader, const HfNode *node)
{
  const HfNode *band = hf_node_get(node, "band");
  if (band == NULL)
    return;
  if (band->kind != HF_NODE_LIST || hf_node_size(band) != 2)
    hf_mistake(reader->mistakes, band->mark, "name both rings: [inner, outer]",
               "a band lies between two rings");
  else if (strcmp(hf_node_item(band, 0)->text, hf_node_item(band, 1)->text) == 0)
    hf_mistake(reader->mistakes, hf_node_item(band, 1)->mark, "name two different rings",
               "a band lies between two rings");
}

const HfClash hf_separator_clashes[] = {{"band", "on"}, {NULL}};
const HfNeed hf_separator_needs[] = {{"bite", {"band"}}, {NULL, {NULL}}};

void
hf_check_separator(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  (void)entry;
  hf_check_band(reader, node);
}

void
hf_check_language(HfReader *reader, const HfNode *node, const HfFontWish *font)
{
  if (font->language != NULL && *font->language != '\0' && !hf_type_is_language(font->language))
    hf_mistake(reader->mistakes, hf_node_get(node, "language")->mark,
               "write it as " HF_TYPE_LANGUAGES, "\"%.40s\" is not the name of a language",
               font->language);
}

void
hf_check_font(HfReader *reader, const HfNode *node, const HfFontWish *font)
{
  if (node->kind != HF_NODE_TABLE)
    return;
  if (hf_node_get(node, "file") != NULL && hf_node_get(node, "family") != NULL)
    hf_mistake(reader->mistakes, hf_key_mark(node, "file"), "keep \"family\" or \"file\"",
               "a font can't have both \"family\" and \"file\"");
  if (hf_node_get(node, "file") != NULL && hf_node_get(node, "style") != NULL)
    hf_mistake(reader->mistakes, hf_key_mark(node, "style"), "take it out: the file is one style",
               "a font can't have both \"file\" and \"style\"");
  if (hf_node_get(node, "file") == NULL && hf_node_get(node, "family") == NULL)
    hf_mistake(reader->mistakes, node->mark, "add family: Lobster Two",
               "a font needs family or file");
  (void)font;
}

/* What is fixed to an edge, or pinned, has its place from there. */
static void
check_between(HfReader *reader, const HfNode *node, const HfKind *kind)
{
  if (hf_node_get(node, "between") == NULL || (kind->flags & (HF_KIND_EDGE | HF_KIND_PIN)) == 0)
    return;
  g_autofree char *called = hf_table_called(&kind->table);
  hf_mistake(reader->mistakes, hf_key_mark(node, "between"), "say where with \"at\"",
             "%s can't be put between two others", called);
}

void
hf_check_entry(HfReader *reader, const HfNode *node, const HfEntry *entry, gboolean clean)
{
  guint before = reader->mistakes->total;
  check_clashes(reader, node, entry->row);
  check_needs(reader, node, entry->row);
  check_lacks(reader, node, entry);
  check_between(reader, node, entry->row);
  if (clean)
    check_choices(reader, node, entry);
  if (!clean || reader->mistakes->total != before)
    return; /* figures of a muddled entry would only add noise */
  if (entry->row->check != NULL)
    entry->row->check(reader, node, entry);
}

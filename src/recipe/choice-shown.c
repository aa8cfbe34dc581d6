/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-shown.c - a small recipe that shows one choice of shapes, for a picture of it.
 *
 *   plate, shape, heart   ->   entries:
 *                                - plate: {shape: heart, width: 600 mm, height: 300 mm}
 *
 * What it must say beside the choice is what the page gives a new entry (HfFieldWords.usual), so
 * there is no list of pictures to keep. What is cut in something gets a plate to be cut in; what
 * follows the outline of others gets something to follow.
 */
#include "recipe/schema-private.h"
#include <string.h>

#define HEAD                                                                                       \
  "holdfast: 1\nsign: shown\nmetal: {kind: mild steel, thickness: 3 mm}\n"                         \
  "process: {kerf: 1.5 mm}\nmount: none\nentries:\n"
/* Small, so that what is said in `usual` millimetres inside its edge is well seen. */
#define UNDER    "  - plate: {name: under, shape: rectangle, width: 190 mm, height: 120 mm}\n"
#define FOLLOWED "  - ornament: {form: paw, height: 100 mm}\n"

/* Where the usual sizes of a new entry are refused for a shape. */
static const struct {
  const char *choice, *says;
} others[] = {{"shield", "width: 400 mm, height: 480 mm"}};

static const char *
says_instead(const char *choice)
{
  for (gsize i = 0; i < G_N_ELEMENTS(others); i++)
    if (strcmp(others[i].choice, choice) == 0)
      return others[i].says;
  return NULL;
}

static const HfKind *
kind_named(const char *name)
{
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    if (strcmp(hf_kinds[i]->table.name, name) == 0)
      return hf_kinds[i];
  return NULL;
}

static const HfChoice *
choice_named(const HfField *field, const char *word)
{
  for (const HfChoice *it = field->choices; it != NULL && it->word != NULL; it++)
    if (strcmp(it->word, word) == 0)
      return it;
  return NULL;
}

static gboolean
must_say(const HfKind *kind, const HfChoice *choice, const HfField *field)
{
  for (gsize i = 0; i < G_N_ELEMENTS(choice->must) && choice->must[i] != NULL; i++)
    if (strcmp(choice->must[i], field->key) == 0)
      return TRUE;
  return (field->flags & HF_REQUIRED) != 0 ||
         (kind->one_of[0] != NULL && strcmp(kind->one_of[0], field->key) == 0);
}

static void
say_usual(GString *text, const HfField *field)
{
  g_autofree char *value =
      field->type == HF_FIELD_NAME ? g_strdup("under") : hf_field_say(field, field->words.usual);
  g_string_append_printf(text, ", %s: %s", field->key, value);
}

/* What it must say beside the choice. Does it follow the outline of others? */
static gboolean
say_all(GString *text, const HfKind *kind, const HfChoice *choice, const HfField *chosen)
{
  gboolean follows = FALSE;
  for (const HfField *field = kind->table.fields; field->key != NULL; field++)
    if (field != chosen && must_say(kind, choice, field)) {
      say_usual(text, field);
      follows = follows || strcmp(field->key, "grow") == 0;
    }
  return follows;
}

char *
hf_recipe_shown(const char *kind_name, const char *key, const char *word)
{
  const HfKind *kind = kind_named(kind_name);
  const HfField *chosen = kind != NULL ? hf_table_field(&kind->table, key) : NULL;
  gboolean pictured = chosen != NULL && (chosen->flags & HF_PICTURED) != 0;
  const HfChoice *choice = pictured ? choice_named(chosen, word) : NULL;
  if (choice == NULL)
    return NULL;
  GString *text = g_string_new(HEAD);
  gboolean follows = FALSE;
  if ((kind->flags & HF_KIND_FIXTURE) != 0)
    g_string_append(text, UNDER);
  g_string_append_printf(text, "  - %s: {%s: %s", kind_name, key, word);
  if (says_instead(word) != NULL)
    g_string_append_printf(text, ", %s", says_instead(word));
  else
    follows = say_all(text, kind, choice, chosen);
  g_string_append(text, "}\n");
  if (follows)
    g_string_append(text, FOLLOWED);
  return g_string_free(text, FALSE);
}

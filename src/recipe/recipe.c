/* SPDX-License-Identifier: GPL-3.0-or-later
 * The door: a file's text to a checked recipe.
 */
#include "recipe/recipe.h"
#include "base/file.h"
#include "drawing/drawing.h"
#include "recipe/read-private.h"
#include <string.h>

HfRecipe *
hf_recipe_ref(HfRecipe *recipe)
{
  g_atomic_int_inc(&recipe->others);
  return recipe;
}

void
hf_recipe_free(HfRecipe *recipe)
{
  if (recipe == NULL || g_atomic_int_add(&recipe->others, -1) > 0)
    return;
  if (recipe->of != NULL) {
    hf_recipe_free(recipe->of);
    g_free(recipe);
    return;
  }
  hf_read_free(&hf_table_recipe, recipe);
  g_free(recipe->file);
  g_free(recipe->gauge);
  g_free(recipe->name);
  g_free(recipe);
}

/* Of `...yaml` the dots alone would be left, which lead out of the folder. */
char *
hf_recipe_name_of(const char *file)
{
  char *name = g_path_get_basename(file);
  char *dot = strrchr(name, '.');
  if (dot != NULL && dot > name + strspn(name, "."))
    *dot = '\0';
  return name;
}

static HfRecipe *
recipe_new(const char *file)
{
  HfRecipe *recipe = g_new0(HfRecipe, 1);
  hf_read_defaults(&hf_table_recipe, recipe);
  recipe->file = g_strdup(file);
  recipe->name = hf_recipe_name_of(file);
  return recipe;
}

/* A newer format can't be judged by this table, so nothing else is said about it. */
gboolean
hf_read_version(HfReader *reader, const HfNode *root)
{
  const HfNode *version = hf_node_get(root, "holdfast");
  if (version == NULL || version->kind != HF_NODE_TEXT)
    return TRUE;
  guint64 number = 0;
  if (!g_ascii_string_to_unsigned(version->text, 10, HF_RECIPE_FORMAT + 1, 1000000, &number, NULL))
    return TRUE;
  g_autofree char *fix =
      g_strdup_printf("use a newer holdfast; this one reads version %d", HF_RECIPE_FORMAT);
  hf_mistake(reader->mistakes, version->mark, fix,
             "this file is written in version %s of the format", version->text);
  return FALSE;
}

static void
read_root(HfReader *reader, const HfNode *root, HfRecipe *recipe)
{
  if (root->kind != HF_NODE_TABLE) {
    hf_mistake(reader->mistakes, root->mark, HF_NO_RECIPE_FIX, HF_NO_RECIPE);
    return;
  }
  if (!hf_read_version(reader, root))
    return;
  hf_read_table(reader, root, &hf_table_recipe, recipe);
  const HfNode *process = hf_node_get(root, "process");
  const HfNode *row =
      process != NULL && process->kind == HF_NODE_TABLE ? hf_node_get(process, "row") : NULL;
  if (row != NULL)
    recipe->row_mark = row->mark;
  hf_check_finish(reader, root, recipe);
  hf_check_agreed(reader, root, recipe);
  hf_check_cut(reader, root, recipe);
  hf_check_names(reader, recipe->entries);
  hf_check_groups(reader, recipe->entries);
  hf_check_layers(reader, root, recipe);
}

/* (transfer full): also where there are mistakes. */
static HfRecipe *
read_text(const char *text, gsize length, const char *file, HfMistakes *mistakes)
{
  HfRecipe *recipe = recipe_new(file != NULL ? file : "recipe");
  HfSource source;
  hf_source_init(&source, text != NULL ? text : "", length);
  HfReader reader = {mistakes, g_array_new(FALSE, FALSE, sizeof(HfMention)), NULL, -1};
  gboolean other = hf_source_is_other(&source, mistakes);
  g_autoptr(HfNode) root = other ? NULL : hf_node_read(&source, mistakes);
  HfUnits units = hf_units_now();
  if (units == HF_UNITS_UNSAID && root != NULL)
    units = hf_said_units(root);
  g_auto(HfUnitsScope) scope = hf_units_scope(units);
  if (root != NULL)
    read_root(&reader, root, recipe);
  else if (!other && source.length <= HF_RECIPE_MAX_BYTES)
    hf_source_doubt(&source, mistakes);
  recipe->units = units;
  recipe->gauge = root != NULL ? hf_said_gauge(root) : NULL;
  g_array_unref(reader.mentions);
  hf_source_clear(&source);
  return recipe;
}

HfRecipe *
hf_recipe_read(const char *text, gsize length, const char *file, GError **error)
{
  g_return_val_if_fail(text != NULL || length == 0, NULL);
  HfMistakes mistakes;
  hf_mistakes_init(&mistakes);
  g_autoptr(HfRecipe) recipe = read_text(text, length, file, &mistakes);
  gboolean good = hf_mistakes_raise(&mistakes, recipe->file, error);
  hf_mistakes_clear(&mistakes);
  if (good && recipe->sign == NULL)
    recipe->sign = g_strdup(recipe->name);
  return good ? g_steal_pointer(&recipe) : NULL;
}

GPtrArray *
hf_recipe_mistakes(const char *text, gsize length)
{
  g_return_val_if_fail(text != NULL || length == 0, NULL);
  HfMistakes mistakes;
  hf_mistakes_init(&mistakes);
  hf_recipe_free(read_text(text, length, NULL, &mistakes));
  GPtrArray *told = hf_mistakes_give(&mistakes);
  hf_mistakes_clear(&mistakes);
  return told;
}

HfRecipe *
hf_recipe_read_file(const char *file, GError **error)
{
  g_return_val_if_fail(file != NULL, NULL);
  g_autoptr(GBytes) bytes = hf_file_read(file, HF_RECIPE_MAX_BYTES, error);
  if (bytes == NULL)
    return NULL;
  gsize length = 0;
  const char *text = g_bytes_get_data(bytes, &length);
  return hf_recipe_read(text, length, file, error);
}

const HfEntry *
hf_recipe_entry(const HfRecipe *recipe, const char *name)
{
  g_return_val_if_fail(recipe != NULL && name != NULL, NULL);
  for (guint i = 0; i < recipe->entries->len; i++) {
    const HfEntry *entry = hf_recipe_at(recipe, i);
    if (strcmp(entry->name, name) == 0)
      return entry;
  }
  return NULL;
}

gboolean
hf_recipe_is_made(const HfRecipe *recipe)
{
  return recipe->file != NULL && hf_drawing_is_called(recipe->file);
}

char *
hf_recipe_where(const HfRecipe *recipe, HfMark mark)
{
  g_return_val_if_fail(recipe != NULL, NULL);
  if (mark.line == 0 || hf_recipe_is_made(recipe))
    return g_strdup(recipe->file);
  return g_strdup_printf("%s:%u:%u", recipe->file, mark.line, mark.column);
}

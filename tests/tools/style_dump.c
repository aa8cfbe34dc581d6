/* SPDX-License-Identifier: GPL-3.0-or-later
 * style_dump.c - for the checks from outside: the ties of a plain rule, chosen for their looks and
 * for the metal that shows alone, each beside its lower bound.
 *
 * usage: style_dump RECIPE...     a JSON object for each; a RECIPE has no rule for ties of its own
 *   {"file": , "parts": N, "with": {"area": , "bound": , "ties": , "untied": }, "without": {...}}
 */
#include "base/json.h"
#include "run/run.h"
#include "tie/offers-private.h"
#include <stdio.h>

#define PLACES 6

static void
put_choice(HfJson *json, const char *name, const HfSign *sign, guint entry, double style)
{
  g_autoptr(HfWork) work = hf_tie_work(sign, entry, style, NULL, NULL);
  hf_json_open(json, name, '{');
  hf_json_number(json, "area", work->area, PLACES);
  hf_json_number(json, "bound", work->bound, PLACES);
  hf_json_number(json, "ties", work->ties->len, 0);
  hf_json_number(json, "untied", work->untied->len, 0);
  hf_json_close(json);
}

static void
put_file(const char *file, const HfSign *sign, const HfRecipe *with_rule)
{
  HfSign ruled = *sign; /* borrowed */
  ruled.recipe = with_rule;
  guint rule = with_rule->entries->len - 1;
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_json_text(json, "file", file);
  hf_json_number(json, "parts", sign->hold->parts->len, 0);
  put_choice(json, "with", &ruled, rule, 1);
  put_choice(json, "without", &ruled, rule, 0);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  fwrite(g_bytes_get_data(bytes, NULL), 1, g_bytes_get_size(bytes), stdout);
}

/* %FALSE: no recipe, or one that can't be run. */
static gboolean
look_at(const char *file, GError **error)
{
  gsize length = 0, longer = 0;
  g_autofree char *text = NULL;
  if (!g_file_get_contents(file, &text, &length, error))
    return FALSE;
  HfRunOptions options = {NULL, NULL};
  g_autoptr(HfSign) sign = hf_run_text(text, length, file, &options, error);
  if (sign == NULL)
    return FALSE;
  g_autoptr(GArray) edits = hf_edits_new();
  hf_edits_add(edits, HF_EDIT_INSERT, hf_path(HF_KEY("entries")),
               hf_node_new_entry("ties", hf_node_new_empty_table()));
  g_autofree char *tied = hf_recipe_edit(text, length, edits, &longer, error);
  g_autoptr(HfRecipe) recipe = tied != NULL ? hf_recipe_read(tied, longer, file, error) : NULL;
  if (recipe == NULL)
    return FALSE;
  put_file(file, sign, recipe);
  return TRUE;
}

int
main(int argc, char **argv)
{
  for (int i = 1; i < argc; i++) {
    g_autoptr(GError) error = NULL;
    if (!look_at(argv[i], &error)) {
      g_printerr("style_dump: %s\n", error->message);
      return 2;
    }
  }
  return argc > 1 ? 0 : 2;
}

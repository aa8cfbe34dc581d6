/* SPDX-License-Identifier: GPL-3.0-or-later
 * steps.c - places in a recipe, as a list of steps; read once where somebody wrote one.
 */
#include "base/error.h"
#include "recipe/value.h"
#include <string.h>

HfPath *
hf_path_new(const HfStep *steps, guint n)
{
  HfPath *path = g_new0(HfPath, 1);
  for (guint i = 0; i < n; i++)
    hf_path_add(path, steps[i]);
  return path;
}

void
hf_path_add(HfPath *path, HfStep step)
{
  path->steps = g_renew(HfStep, path->steps, path->n + 1);
  path->steps[path->n++] = (HfStep){g_strdup(step.key), step.index};
}

void
hf_path_free(HfPath *path)
{
  if (path == NULL)
    return;
  for (guint i = 0; i < path->n; i++)
    g_free((char *)path->steps[i].key);
  g_free(path->steps);
  g_free(path);
}

char *
hf_path_say(const HfPath *path)
{
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < path->n; i++)
    if (path->steps[i].key == NULL)
      g_string_append_printf(text, "[%u]", path->steps[i].index);
    else
      g_string_append_printf(text, "%s%s", i > 0 ? "." : "", path->steps[i].key);
  return g_string_free(text, FALSE);
}

/* One step: a key up to `.` or `[`, or a number in brackets; a point behind it goes with it.
 * %FALSE: it is neither. */
static gboolean
read_step(const char **at, HfPath *path)
{
  const char *start = *at, *end = start;
  if (*start == '[') {
    end = strchr(start, ']');
    g_autofree char *digits = end != NULL ? g_strndup(start + 1, (gsize)(end - start - 1)) : NULL;
    guint64 index = 0;
    if (digits == NULL || !g_ascii_string_to_unsigned(digits, 10, 0, G_MAXINT, &index, NULL))
      return FALSE;
    hf_path_add(path, HF_ITEM((guint)index));
    end++;
  } else {
    end += strcspn(start, ".[");
    g_autofree char *key = g_strndup(start, (gsize)(end - start));
    if (key[0] == '\0')
      return FALSE;
    hf_path_add(path, HF_KEY(key));
  }
  *at = *end == '.' ? end + 1 : end;
  return TRUE;
}

HfPath *
hf_path_read(const char *text, GError **error)
{
  g_autoptr(HfPath) path = hf_path_new(NULL, 0);
  if (!g_utf8_validate(text, -1, NULL)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "give it as UTF-8", "the path is no text");
    return NULL;
  }
  for (const char *at = text; *at != '\0';)
    if (!read_step(&at, path)) {
      hf_error_set(error, HF_ERROR_BAD_VALUE, text, "write it like entries[2].words.height",
                   "this is not a path");
      return NULL;
    }
  return g_steal_pointer(&path);
}

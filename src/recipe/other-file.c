/* SPDX-License-Identifier: GPL-3.0-or-later
 * other-file.c - a file that nobody wrote for a recipe: said as what it is, not as the first
 * character that YAML stumbles over.
 */
#include "recipe/node-private.h"
#include <string.h>

/* What people drop here by mistake. Source: the signatures that each format's own specification
 * gives. */
static const struct {
  const char *begin;
  guint length; /* 0: a text, behind spaces, capitals do not matter */
  const char *what;
} OTHERS[] = {
    {"\x89PNG", 4, "a PNG picture"},
    {"\xff\xd8\xff", 3, "a JPEG picture"},
    {"GIF8", 4, "a GIF picture"},
    {"PK\x03\x04", 4, "a zip archive or a document of an office program"},
    {"\xd0\xcf\x11\xe0", 4, "a document of an office program"},
    {"\x1f\x8b", 2, "a gzip archive"},
    {"OTTO", 4, "a font"},
    {"\x00\x01\x00\x00", 4, "a font"},
    {"wOF2", 4, "a font"},
    {"\xff\xfe", 2, "a text in UTF-16"},
    {"\xfe\xff", 2, "a text in UTF-16"},
    {"%PDF-", 0, "a PDF"},
    {"{\\rtf", 0, "a text with formatting (RTF)"},
    {"<!doctype html", 0, "a web page"},
    {"<html", 0, "a web page"},
    {"<svg", 0, "an SVG drawing"},
    {"<?xml", 0, "an XML document, an SVG drawing perhaps"},
    {"0\nSECTION", 0, "a DXF drawing"},
    {"0\r\nSECTION", 0, "a DXF drawing"},
};

static const char *
other_kind(const HfSource *source)
{
  const char *text = source->text + source->bom, *end = source->text + source->length, *at = text;
  while (at < end && g_ascii_isspace(*at))
    at++;
  for (gsize i = 0; i < G_N_ELEMENTS(OTHERS); i++) {
    gsize n = OTHERS[i].length > 0 ? OTHERS[i].length : strlen(OTHERS[i].begin);
    const char *from = OTHERS[i].length > 0 ? text : at;
    if ((gsize)(end - from) >= n &&
        (OTHERS[i].length > 0 ? memcmp(from, OTHERS[i].begin, n) == 0
                              : g_ascii_strncasecmp(from, OTHERS[i].begin, n) == 0))
      return OTHERS[i].what;
  }
  return NULL;
}

/* Does any line begin as a line of a recipe does? */
static gboolean
reads_like_recipe(const HfSource *source)
{
  static const char *const keys[] = {"holdfast", "entries", "metal", "sign", "process", "- "};
  for (guint i = 0; i < source->lines->len; i++) {
    const char *at = source->text + g_array_index(source->lines, gsize, i);
    const char *end = source->text + source->length;
    while (at < end && (g_ascii_isspace(*at) || strchr("{\"'", *at) != NULL) && *at != '\n')
      at++;
    for (gsize k = 0; k < G_N_ELEMENTS(keys); k++)
      if ((gsize)(end - at) >= strlen(keys[k]) && memcmp(at, keys[k], strlen(keys[k])) == 0)
        return TRUE;
  }
  return FALSE;
}

gboolean
hf_source_is_other(const HfSource *source, HfMistakes *mistakes)
{
  const char *other = other_kind(source);
  if (other != NULL)
    hf_mistake(mistakes, (HfMark){1, 1}, "name a recipe; holdfast new writes one to start from",
               "this is %s, not a recipe", other);
  return other != NULL;
}

void
hf_source_doubt(const HfSource *source, HfMistakes *mistakes)
{
  if (hf_source_next(source, source->bom) >= source->length || reads_like_recipe(source))
    return;
  hf_mistakes_clear(mistakes);
  hf_mistakes_init(mistakes);
  hf_mistake(mistakes, (HfMark){1, 1}, HF_NO_RECIPE_FIX, HF_NO_RECIPE);
}

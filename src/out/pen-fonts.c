/* SPDX-License-Identifier: GPL-3.0-or-later
 * pen-fonts.c - the faces of pictures and papers, whatever the user's own settings for fonts are.
 *
 *   the user's configuration --folders, caches--> a configuration of our own --> pango's font map
 *
 * Of the user's configuration only is taken where fonts lie, sorted: neither hinting and smoothing,
 * nor which family stands in for which, nor the order of the folders. So the same fonts give the
 * same bytes. Which font files there are remains an input, as anywhere.
 */
#include "out/pen-private.h"
#include <fontconfig/fontconfig.h>
#include <pango/pangofc-fontmap.h>

/* What stands in for the reading face where it is not installed. */
static const char STAND_INS[] =
    "<alias binding=\"same\"><family>serif</family><prefer>"
    "<family>DejaVu Serif</family><family>Noto Serif</family><family>Liberation Serif</family>"
    "<family>FreeSerif</family><family>Tinos</family><family>Gelasio</family>"
    "<family>DejaVu Sans</family></prefer></alias>";

static gint
by_name(gconstpointer a, gconstpointer b)
{
  return g_strcmp0(*(const char *const *)a, *(const char *const *)b);
}

/* `<WORD>path</WORD>` for each, sorted. Consumes @list. */
static void
append_paths(GString *xml, const char *word, FcStrList *list)
{
  g_autoptr(GPtrArray) paths = g_ptr_array_new_with_free_func(g_free);
  const FcChar8 *path;
  while (list != NULL && (path = FcStrListNext(list)) != NULL)
    g_ptr_array_add(paths, g_markup_escape_text((const char *)path, -1));
  g_ptr_array_sort(paths, by_name);
  for (guint i = 0; i < paths->len; i++)
    g_string_append_printf(xml, "<%s>%s</%s>", word, (const char *)paths->pdata[i], word);
  if (list != NULL)
    FcStrListDone(list);
}

/* Not the user's; %NULL: it could not be made. */
static FcConfig *
own_config(void)
{
  FcConfig *theirs = FcConfigReference(NULL), *ours = FcConfigCreate();
  g_autoptr(GString) xml = g_string_new("<fontconfig>");
  if (theirs != NULL) {
    append_paths(xml, "dir", FcConfigGetFontDirs(theirs));
    append_paths(xml, "cachedir", FcConfigGetCacheDirs(theirs));
    FcConfigDestroy(theirs);
  }
  g_string_append(xml, STAND_INS);
  g_string_append(xml, "</fontconfig>");
  if (ours != NULL && (!FcConfigParseAndLoadFromMemory(ours, (const FcChar8 *)xml->str, FcFalse) ||
                       !FcConfigBuildFonts(ours)))
    g_clear_pointer(&ours, FcConfigDestroy);
  return ours;
}

PangoFontMap *
hf_pen_fonts(void)
{
  static PangoFontMap *fonts = NULL;
  if (fonts != NULL)
    return fonts;
  /* Which face a Han letter falls back to hangs on the user's languages, which pango reads once. */
  g_setenv("PANGO_LANGUAGE", "en", TRUE);
  fonts = pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT);
  g_assert(fonts != NULL); /* our own pango is built with it */
  FcConfig *config = own_config();
  if (config != NULL) {
    pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(fonts), config);
    FcConfigDestroy(config);
  }
  return fonts;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * assets.c - the files of the page itself, embedded in the binary.
 */
#include "page/page-assets.h"
#include "page/page-private.h"

static const struct {
  const char *ending, *type;
} TYPES[] = {
    {".html", "text/html; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".css", "text/css; charset=utf-8"},
    {".svg", "image/svg+xml"},
    {".woff2", "font/woff2"},
    {".ttf", "font/ttf"},
    {".otf", "font/otf"},
    {".txt", "text/plain; charset=utf-8"},
};

GBytes *
hf_asset(const char *path, const char **ret_type)
{
  static gsize registered;
  if (g_once_init_enter(&registered)) {
    hf_page_assets_register_resource();
    g_once_init_leave(&registered, 1);
  }
  const char *file = strcmp(path, "/") == 0 ? "/index.html" : path;
  g_autofree char *place = g_strconcat("/holdfast/page", file, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(TYPES); i++)
    if (g_str_has_suffix(file, TYPES[i].ending)) {
      *ret_type = TYPES[i].type;
      return g_resources_lookup_data(place, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
    }
  return NULL;
}

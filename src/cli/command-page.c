/* SPDX-License-Identifier: GPL-3.0-or-later
 * command-page.c - `holdfast page`.
 */
#include "cli/cli-private.h"
#ifdef HF_PAGE
#include "page/page.h"
#endif

typedef struct {
  char **folders;
  gboolean no_browser;
} Wish;

static int
serve(const char *recipe, const Wish *wish)
{
#ifdef HF_PAGE
  g_autoptr(GError) error = NULL;
  HfPageOptions options = {recipe, (const char *const *)wish->folders, wish->no_browser, 60,
                           hf_cli_leave};
  return hf_page_serve(&options, &error) ? 0 : hf_cli_fail(error);
#else
  (void)recipe;
  (void)wish;
  g_printerr("holdfast: this holdfast was built without the page; build it with -Dpage=enabled\n");
  return 2;
#endif
}

int
hf_command_page(int argc, char **argv)
{
  Wish wish = {NULL, FALSE};
  const GOptionEntry entries[] = {
      {"folder", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &wish.folders,
       "may be used besides that of the recipe; again for more", "DIR"},
      {"no-browser", 0, 0, G_OPTION_ARG_NONE, &wish.no_browser, "only print the address", NULL},
      {NULL}};
  if (!hf_cli_parse("page", entries, &argc, &argv))
    return 2;
  int code = 2;
  if (argc > 2)
    g_printerr("holdfast: the page opens one recipe; see 'holdfast page --help'\n");
  else
    code = serve(argc == 2 ? argv[1] : NULL, &wish);
  g_strfreev(wish.folders);
  return code;
}

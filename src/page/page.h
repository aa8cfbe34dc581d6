/* SPDX-License-Identifier: GPL-3.0-or-later
 * page.h - the page: a web server for one user on this machine only (the door of page/).
 */
#pragma once
#include "base/error.h"

typedef struct {
  const char *recipe;         /* (nullable) to open at once */
  const char *const *folders; /* (nullable) (array zero-terminated=1) that may be used besides that
                                 of the recipe */
  gboolean no_browser;
  guint linger;            /* seconds after the last page was closed */
  void (*leave)(int code); /* (nullable) ends the program soon, from a thread of its own, when its
                              threads do not end by themselves */
  guint pixels;            /* of the proof's picture, its longer side; 0: as the command makes it */
} HfPageOptions;

/**
 * hf_page_serve:
 * Serves until Ctrl-C, or until no page has been open for `linger` seconds. Prints the address.
 * Returns: %FALSE with the error when it could not begin
 */
gboolean hf_page_serve(const HfPageOptions *options, GError **error);

/* SPDX-License-Identifier: GPL-3.0-or-later
 * ngc.c - cut.nc: the program, where reading it back left the sign.
 */
#include "out/format.h"

static GBytes *
write_ngc(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  (void)error;
  const char *text = making->cutting->text;
  return g_bytes_new(text, strlen(text));
}

static GBytes *
write_rest(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  (void)error;
  return g_bytes_new(making->cutting->rest, strlen(making->cutting->rest));
}

HF_FORMATS(ngc,
           {.about = HF_ABOUT_PROGRAM,
            .ending = ".nc",
            .type = "text/plain; charset=utf-8",
            .says = "the cutting program, proven by reading it back",
            .write = write_ngc},
           {.about = HF_ABOUT_PROGRAM,
            .ending = "-rest.nc",
            .type = "text/plain; charset=utf-8",
            .says = "the program from the cut on that was asked for",
            .rest = TRUE,
            .write = write_rest});

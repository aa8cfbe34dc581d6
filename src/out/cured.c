/* SPDX-License-Identifier: GPL-3.0-or-later
 * cured.c - the recipe that was made, beside what was made of it, where it is not the user's own.
 */
#include "out/format.h"

static GBytes *
write_cured(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  (void)error;
  return g_bytes_ref(making->cured);
}

/* application/yaml: RFC 9512 */
HF_FORMATS(cured, {.about = HF_ABOUT_CURED,
                   .ending = ".yaml",
                   .type = "application/yaml",
                   .says = "the recipe with its cure",
                   .write = write_cured});

/* SPDX-License-Identifier: GPL-3.0-or-later
 * limits.c - prints docs/limits.md: build/tools/limits > docs/limits.md
 */
#include "hold/law.h"
#include <stdio.h>

int
main(void)
{
  g_autofree char *text = hf_law_table();
  return fputs(text, stdout) == EOF || fflush(stdout) != 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * handles.c - the points of a sign that one drags.
 */
#include "out/handles-private.h"

void
hf_handles_write(HfJson *json, const HfSheetful *what, const char *text, gsize length)
{
  (void)what;
  (void)text;
  (void)length;
  hf_json_open(json, "handles", '[');
  hf_json_close(json);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * bar.c - a straight strip that words stand on or hang from; its own frame has its middle at 0, 0.
 */
#include "layout/layout-private.h"

gboolean
hf_lay_bar(HfLaying *laying, guint entry, GError **error)
{
  const HfBarEntry *bar = &hf_lay_entry(laying, entry)->bar;
  HfBox box = {{-bar->length / 2, -bar->height / 2}, {bar->length / 2, bar->height / 2}};
  g_autoptr(HfOutline) own = hf_outline_new();
  hf_outline_add_rectangle(own, box, isnan(bar->corner) ? 0 : bar->corner);
  if (!hf_lay_frames(laying, entry, box, error))
    return FALSE;
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}

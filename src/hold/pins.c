/* SPDX-License-Identifier: GPL-3.0-or-later
 * pins.c - ties placed by hand that the layout had to leave out: said, never moved in silence.
 */
#include "hold/hold-private.h"

gboolean
hf_check_pins(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  const GArray *missed = check->layout->missed;
  for (guint i = 0; missed != NULL && i < missed->len; i++) {
    const HfMissed *one = &g_array_index(missed, HfMissed, i);
    const HfEntry *tie = check->recipe->entries->pdata[one->entry];
    HfFinding *finding = hf_check_add(check, HF_LAW_PIN_MISSED, NAN, one->at);
    g_autofree char *name = g_strdup_printf("tie \"%s\"", tie->name);
    hf_finding_call(finding, name);
    g_array_append_val(finding->entries, one->entry);
    hf_finding_say(finding, "left out, %s", one->why);
  }
  return TRUE;
}

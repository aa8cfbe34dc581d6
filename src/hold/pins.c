/* SPDX-License-Identifier: GPL-3.0-or-later
 * pins.c - ties placed by hand that the layout had to leave out, letters that a rule names and that
 * are not there, and parts that a rule could not hold: said, never moved or dropped in silence.
 */
#include "hold/hold-private.h"

static void
report_pin(HfCheck *check, const HfMissed *missed)
{
  const HfEntry *entry = check->recipe->entries->pdata[missed->entry];
  gboolean pin = entry->kind != HF_ENTRY_TIES && entry->kind != HF_ENTRY_MEND;
  HfFinding *finding = hf_check_add(check, HF_LAW_PIN_MISSED, NAN, missed->at);
  g_autofree char *name = g_strdup_printf("%s \"%s\"", pin ? "tie" : "rule", entry->name);
  hf_finding_call(finding, name);
  g_array_append_val(finding->entries, missed->entry);
  if (missed->fix != NULL)
    hf_finding_fix(finding, missed->fix);
  hf_finding_say(finding, "%s%s", pin ? "left out, " : "", missed->why);
}

/* A later rule may have held what an earlier one could not. */
static gboolean
is_free(const HfCheck *check, HfPoint p)
{
  for (guint i = 0; i < check->hold->parts->len; i++) {
    const HfPart *part = &g_array_index(check->hold->parts, HfPart, i);
    if (!part->body && hf_box_contains(part->box, p))
      return TRUE;
  }
  return FALSE;
}

static void
report_untied(HfCheck *check, const HfMissed *missed)
{
  HfFinding *finding = hf_check_add(check, HF_LAW_UNTIED, NAN, missed->at);
  if (finding == NULL)
    return;
  hf_finding_call(finding, missed->part);
  g_array_append_val(finding->entries, missed->entry);
  hf_finding_fix(finding, missed->fix);
  hf_finding_say(finding, "no tie can hold it, %s", missed->why);
}

gboolean
hf_check_pins(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  const GArray *missed = check->layout->missed;
  for (guint i = 0; missed != NULL && i < missed->len; i++) {
    const HfMissed *one = &g_array_index(missed, HfMissed, i);
    if (one->part == NULL)
      report_pin(check, one);
    else if (is_free(check, one->at))
      report_untied(check, one);
  }
  return TRUE;
}

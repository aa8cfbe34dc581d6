/* SPDX-License-Identifier: GPL-3.0-or-later
 * pins.c - ties placed by hand that the layout had to leave out, letters that a rule names and that
 * are not there, and parts that a rule could not hold: said, never moved or dropped in silence.
 */
#include "hold/hold-private.h"
#include "recipe/kind.h"

static void
report_pin(HfCheck *check, const HfMissed *missed)
{
  const HfEntry *entry = hf_recipe_at(check->recipe, missed->entry);
  gboolean pin = !hf_entry_is(entry, HF_KIND_RULE);
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

static gboolean
check_pins(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  const GArray *missed = check->layout->missed;
  for (guint i = 0; missed != NULL && i < missed->len; i++) {
    const HfMissed *one = &g_array_index(missed, HfMissed, i);
    if (one->why == NULL)
      continue; /* what mending did not come to: findings.c says it */
    if (one->part == NULL)
      report_pin(check, one);
    else if (is_free(check, one->at))
      report_untied(check, one);
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_pin_missed_law = {
    .key = "pin-missed",
    .quantity =
        "tie that no longer fits its place, or letter that a rule names and that is not there",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "the tie is left out, never moved in silence; the rule leaves out that letter",
    .what = "the tie no longer fits its place and is left out",
    .fix = "place it anew",
    .cures = HF_CURES("ties"),
    .check = check_pins,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_untied_law = {
    .key = "untied",
    .quantity = "part that the rule for ties could not hold",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "the rule was asked to hold it; the part itself is found loose besides",
    .what = "the rule for ties could not hold it",
    .fix = "tie it by hand",
    .cures = HF_CURES("ties", "mend", "further", "larger"),
    .check = check_pins,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_PART,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

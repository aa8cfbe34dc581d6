/* SPDX-License-Identifier: GPL-3.0-or-later
 * cut-found.c - what only shows when a sign is planned and its program is read back.
 *
 *   check ──> whole ──> paths, order, program ──> read back ──> whole still?
 *
 * These laws have no check of their own here: run/ plans what the check found whole, and adds what
 * was found then.
 */
#include "hold/hold-private.h"

static gboolean
check_later(HfCheck *check G_GNUC_UNUSED, GError **error G_GNUC_UNUSED)
{
  return TRUE;
}

/* (transfer full) (nullable) "back: letter 'A' of \"BAKERY\"" */
static char *
where_of(const HfCutFound *found)
{
  if (found->layer == HF_LAYER_UNSAID)
    return g_strdup(found->where);
  return found->where != NULL ? g_strconcat(hf_layer_word(found->layer), ": ", found->where, NULL)
                              : g_strdup(hf_layer_word(found->layer));
}

static void
add_found(HfCheck *check, const HfCutFound *found)
{
  HfPoint at = isnan(found->at.x) ? check->hold->centroid : found->at;
  HfFinding *finding = hf_check_add(check, found->kind, NAN, at);
  if (finding == NULL)
    return;
  g_autofree char *where = where_of(found);
  if (where != NULL)
    hf_finding_call(finding, where);
  finding->layer = found->layer;
  hf_finding_say(finding, "%s", found->says);
  g_ptr_array_add(finding->each, hf_finding_place(finding));
  hf_finding_word(finding, finding->names->len);
  check->hold->whole = check->hold->whole && finding->gravity != HF_STOP;
}

HfHold *
hf_hold_with_found(const HfHold *hold, const HfRecipe *recipe, const HfCutFound *found, guint n)
{
  HfHold *with = hf_hold_part_of(hold, hold);
  g_ptr_array_unref(with->findings);
  with->findings = g_ptr_array_new_with_free_func((GDestroyNotify)hf_finding_free);
  for (guint i = 0; i < hold->findings->len; i++)
    g_ptr_array_add(with->findings, hf_finding_copy(hold->findings->pdata[i]));
  HfCheck check = {.recipe = recipe, .hold = with};
  for (guint i = 0; i < n; i++)
    add_found(&check, &found[i]);
  hf_findings_sort(with->findings);
  return with;
}

/* ---- the laws -------------------------------------------------------------------------------
 */

const HfLaw hf_no_way_in_law = {
    .key = "no-way-in",
    .quantity = "contour that the torch can't be started on without burning metal that stays",
    .unit = "",
    .gravity = HF_STOP,
    .stop = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "geometry: see docs/maths.md#starts; looked at when the program is made",
    .why = "the arc needs scrap to start in",
    .what = "the torch can't start here without burning metal that stays",
    .fix = "make it larger, or leave it out and drill it",
    .cures = HF_NO_CURES,
    .check = check_later,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_program_differs_law = {
    .key = "program-differs",
    .quantity = "metal that the program, read back, leaves other than it is drawn",
    .unit = "",
    .gravity = HF_STOP,
    .stop = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "docs/replay.md; looked at when the program is made",
    .why = "what comes off the table would not be what was checked",
    .what = "the program leaves other metal than was drawn",
    .fix = "do not cut it; look at the words for programs in the shop file, then tell who keeps "
           "holdfast, with the recipe",
    .cures = HF_NO_CURES,
    .check = check_later,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_program_doubt_law = {
    .key = "program-doubt",
    .quantity = "what the program, read back, does that an operator should know",
    .unit = "",
    .gravity = HF_NOTE,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "docs/replay.md; looked at when the program is made",
    .why = "the operator stands by",
    .what = "the operator should know of this",
    .fix = "tell the operator",
    .cures = HF_NO_CURES,
    .check = check_later,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

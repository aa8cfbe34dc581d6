/* SPDX-License-Identifier: GPL-3.0-or-later
 * coated.c - what a coat takes off the holes that screws go through.
 *
 *      |<-- bare -->|
 *      |#|        |#|      clear = bare - 2 coat
 *        |<clear->|
 *
 * A hole that took a screw and no longer does is told. Which screw: the one that the hole is said
 * for; of a hole said by its width the thickest that it takes bare (ISO 273, fine). What is bolted
 * through in numbers, a pattern of holes, may be there for its looks: only said screws count.
 */
#include "base/text.h"
#include "hold/hold-private.h"
#include "stock/screws.h"

/* The thickest screw that a hole of @mm takes; %NULL: none. */
static const HfScrew *
thickest(double mm)
{
  const HfScrew *found = NULL;
  for (int i = 1; hf_screw(i) != NULL; i++)
    if (hf_screw(i)->hole[HF_FIT_FINE] <= mm + HF_SLACK)
      found = hf_screw(i);
  return found;
}

/* The screw that @entry is for; %NULL: nobody can know. */
static const HfScrew *
screw_of(const HfEntry *entry, double mm)
{
  const HfBore *bore = hf_entry_bore(entry);
  const HfScrew *said = isnan(bore->diameter) ? hf_screw(bore->screw) : NULL;
  if (said != NULL)
    return said;
  return entry->kind == HF_ENTRY_HOLES ? NULL : thickest(mm);
}

static void
check_hole(HfCheck *check, guint shape, double coat)
{
  const HfShape *hole = hf_layout_shape(check->layout, shape);
  const HfEntry *entry = hf_recipe_at(check->recipe, hole->entry);
  const HfBore *bore = hf_entry_bore(entry);
  if (!hole->opening || bore == NULL)
    return;
  double mm = hf_bore_mm(bore), clear = mm - 2 * coat;
  const HfScrew *screw = screw_of(entry, mm);
  if (screw == NULL || clear >= screw->hole[HF_FIT_FINE] - HF_SLACK)
    return;
  HfPoint at = hf_box_centre(hf_outline_box(hole->outline));
  HfFinding *finding = hf_check_add(check, HF_LAW_COATED_HOLE, NAN, at);
  g_autofree char *bare = hf_text_length(mm, 2), *left = hf_text_length(clear, 2);
  g_autofree char *needs = hf_text_length(screw->hole[HF_FIT_FINE], 2);
  hf_finding_name(check, finding, shape);
  hf_finding_say(finding, "hole of %s is %s clear when coated: too narrow for %s, which needs %s",
                 bare, left, screw->key, needs);
}

static gboolean
check_coated(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  double coat = hf_finish_coat(&check->recipe->finish);
  for (guint i = 0; coat > 0 && i < check->layout->shapes->len; i++)
    check_hole(check, i, coat);
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_coated_hole_law = {
    .key = "coated-hole",
    .quantity = "screws that go through holes bare and no longer when they are coated",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = "standard ISO 273",
    .reference = "fine series; the coat is taken off twice",
    .why = "somebody has to drill through the coat, and it rusts from there",
    .what = "hole is too narrow when coated",
    .fix = "make it wider, or mask it",
    .cures = HF_NO_CURES,
    .check = check_coated,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

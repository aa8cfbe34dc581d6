/* SPDX-License-Identifier: GPL-3.0-or-later
 * ornaments.c - an ornament that is too small is found by the laws about webs, gaps and openings;
 * here such a finding is told how large it has to be, since that is known of each form.
 */
#include "base/text.h"
#include "hold/hold-private.h"
#include "ornament/ornament.h"

static double
height_of(const HfEntry *entry)
{
  if (entry->kind == HF_ENTRY_BORDER)
    return entry->border.width;
  const HfOrnamentEntry *own = &entry->ornament;
  if (!isnan(own->height))
    return own->height;
  return own->width /
         hf_ornament_wide((HfOrnamentForm)own->form, entry->as == HF_AS_OPENING, own->points);
}

static gboolean
grows_with_size(const HfFinding *finding)
{
  HfMeasures measures = hf_law(finding->kind)->measures;
  return finding->gravity == HF_STOP && finding->entries->len == 1 &&
         (measures == HF_MEASURES_METAL || measures == HF_MEASURES_GAP ||
          measures == HF_MEASURES_OPENING);
}

/* The row knows the form with the points it has by itself. */
static gboolean
is_as_measured(const HfEntry *entry)
{
  const HfOrnamentEntry *own = &entry->ornament;
  if (entry->kind == HF_ENTRY_BORDER)
    return entry->border.form == HF_BORDER_ORNAMENTS;
  if (entry->kind != HF_ENTRY_ORNAMENT)
    return FALSE;
  return own->points <= 0 || own->points == hf_ornament_row((HfOrnamentForm)own->form)->points;
}

void
hf_findings_size_ornaments(HfCheck *check)
{
  const HfLimit *limits = check->hold->limits;
  HfOrnamentLimits stops = {limits[HF_LAW_THIN_LONG_WEB].stop, limits[HF_LAW_NARROW_GAP].stop,
                            limits[HF_LAW_SMALL_OPENING].stop};
  for (guint i = 0; i < check->hold->findings->len; i++) {
    HfFinding *finding = (HfFinding *)g_ptr_array_index(check->hold->findings, i);
    if (!grows_with_size(finding))
      continue;
    const HfEntry *entry = hf_recipe_at(check->recipe, g_array_index(finding->entries, guint, 0));
    if (!is_as_measured(entry))
      continue;
    gboolean border = entry->kind == HF_ENTRY_BORDER;
    int form = border ? entry->border.of : entry->ornament.form;
    double least =
        hf_ornament_smallest((HfOrnamentForm)form, border || entry->as == HF_AS_OPENING, &stops);
    if (!(height_of(entry) < least))
      continue;
    g_autofree char *wanted = hf_text_mm(ceil(least));
    g_autofree char *fix =
        g_strdup_printf("make it at least %s %s", wanted, border ? "wide" : "high");
    hf_finding_fix(finding, fix);
  }
}

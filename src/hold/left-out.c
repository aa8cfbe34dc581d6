/* SPDX-License-Identifier: GPL-3.0-or-later
 * left-out.c - a drawing of which something is missing or in doubt: what was not understood may be
 * just what holds, or what was wanted.
 */
#include "hold/hold-private.h"
#include <string.h>

static gboolean
is_of(const HfEntry *entry, const HfUsedDrawing *used)
{
  return entry->kind == HF_ENTRY_DRAWING && strcmp(entry->drawing.file, used->file) == 0;
}

/* The first shape that the file drew here; of several layers only those with one speak. */
static guint
shape_of(const HfCheck *check, const HfUsedDrawing *used)
{
  for (guint s = 0; s < check->layout->shapes->len; s++)
    if (is_of(hf_recipe_at(check->recipe, hf_layout_shape(check->layout, s)->entry), used))
      return s;
  return HF_NO_SHAPE;
}

static void
report(HfCheck *check, const HfUsedDrawing *used, guint shape)
{
  const HfShape *drawn = hf_layout_shape(check->layout, shape);
  HfFinding *finding =
      hf_check_add(check, HF_LAW_LEFT_OUT, NAN, hf_box_centre(hf_outline_box(drawn->outline)));
  if (finding == NULL)
    return;
  g_autofree char *name = g_strdup_printf("drawing \"%s\"", used->file);
  hf_finding_name(check, finding, shape);
  g_ptr_array_set_size(finding->names, 0); /* not one piece of it */
  hf_finding_call(finding, name);
  if (used->doubts == 1)
    hf_finding_say(finding, "something in it is missing or in doubt, %s", used->doubt);
  else
    hf_finding_say(finding, "%u things in it are missing or in doubt, the first: %s", used->doubts,
                   used->doubt);
}

static gboolean
check_drawings(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  const GPtrArray *drawings = check->layout->drawings;
  for (guint i = 0; drawings != NULL && i < drawings->len; i++) {
    const HfUsedDrawing *used = hf_layout_drawing(check->layout, i);
    guint shape = used->doubts > 0 ? shape_of(check, used) : HF_NO_SHAPE;
    if (shape != HF_NO_SHAPE)
      report(check, used, shape);
  }
  return TRUE;
}

/* ---- the law -------------------------------------------------------------------------------- */

const HfLaw hf_left_out_law = {
    .key = "left-out",
    .quantity = "what of a drawing was not understood, is open, forks or crosses",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "what was not understood may be just what was wanted, or what holds",
    .what = "something in it is missing or in doubt",
    .fix = "look at what was found (holdfast look), then mend the file or accept it",
    .cures = HF_NO_CURES,
    .check = check_drawings,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

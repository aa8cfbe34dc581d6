/* SPDX-License-Identifier: GPL-3.0-or-later
 * size.c - does the sign fit the shop's table and sheet, one way round or the other?
 */
#include "base/text.h"
#include "hold/hold-private.h"

/* How far w x h sticks out of W x H, the better of both ways round; <= 0 when it fits. */
static double
overhang(double w, double h, double table_w, double table_h)
{
  double straight = fmax(w - table_w, h - table_h);
  double turned = fmax(w - table_h, h - table_w);
  return fmin(straight, turned);
}

static void
check_against(HfCheck *check, const char *what, double width, double height)
{
  HfBox box = check->hold->box;
  if (isnan(width) || isnan(height) || width <= 0 || height <= 0)
    return;
  double w = hf_box_width(box), h = hf_box_height(box);
  double out = overhang(w, h, width, height);
  HfFinding *finding = hf_check_add(check, HF_LAW_TOO_LARGE, out, hf_box_centre(box));
  if (finding == NULL)
    return;
  g_autofree char *size = hf_text_size(w, h), *room = hf_text_size(width, height);
  finding->box = box;
  finding->said_by = HF_SAID_BY_SHOP;
  hf_finding_form(finding, what);
  hf_finding_say(finding, "the sign is %s, the shop's %s %s", size, what, room);
}

static gboolean
check_size(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  const HfShop *shop = check->shop;
  if (shop == NULL)
    return TRUE;
  check_against(check, "table", shop->table_width, shop->table_height);
  check_against(check, "sheet", shop->sheet_width, shop->sheet_height);
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_too_large_law = {
    .key = "too-large",
    .quantity = "how far it sticks out of the shop's table or sheet",
    .unit = "mm",
    .gravity = HF_CAUTION,
    .caution = {"any", ", turned either way"},
    .source = HF_COMMON_PRACTICE,
    .reference = "the shop's own figures",
    .why = "it can't be cut in one go",
    .what = "sign sticks out by {measured}",
    .fix = "make it smaller, or split it",
    .cures = HF_CURES("scale"),
    .check = check_size,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

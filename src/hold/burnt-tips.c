/* SPDX-License-Identifier: GPL-3.0-or-later
 * burnt-tips.c - pointed ends of metal that carry nothing: the arc burns them back.
 *
 *      \    /          A tail that narrows steadily to a point, as between the strokes of a
 *       \  / x         cut-through M. Beyond x, where it is as wide as the web limit, the metal is
 *        \/            too thin to stand the heat of two cuts: over the length l it may be gone.
 *        l
 *
 * Nothing hangs on it, so no web is lost by that, only a little of the drawing.
 * docs/maths.md#burnt-tips
 */
#include "base/text.h"
#include "hold/checks-private.h"

#define SHARE 0.1 /* of the letter's height: so much the eye forgives */

/* mm that may be gone: a share of the letter's height; where there is no letter the law's own. */
static double
forgiven(const HfCheck *check, guint a, guint b)
{
  const guint shapes[] = {a, b};
  double most = 0;
  for (guint i = 0; i < G_N_ELEMENTS(shapes); i++)
    if (shapes[i] < check->layout->shapes->len)
      most = fmax(most, SHARE * hf_layout_shape(check->layout, shapes[i])->letter_height);
  return most > 0 ? most : check->hold->limits[HF_LAW_BURNT_TIP].caution;
}

static void
report(HfCheck *check, const HfZone *zone)
{
  guint a = hf_check_shape_at(check, zone->site_a), b = hf_check_shape_at(check, zone->site_b);
  double law = check->hold->limits[HF_LAW_BURNT_TIP].caution, most = forgiven(check, a, b);
  /* weighed as a share of what is forgiven there */
  HfFinding *finding =
      hf_check_add(check, HF_LAW_BURNT_TIP, zone->length * law / most, zone->place.at);
  if (finding == NULL)
    return;
  finding->limit *= most / law;
  finding->measured = zone->length;
  hf_finding_name(check, finding, a);
  hf_finding_name(check, finding, b);
}

void
hf_webs_report_tips(HfCheck *check, HfThin *thin)
{
  double limit = check->hold->limits[HF_LAW_THIN_WEB].stop - HF_SLACK;
  if (!(limit > 0) || !(check->hold->limits[HF_LAW_BURNT_TIP].caution > 0))
    return;
  g_autoptr(HfZones) zones = hf_zones_new(thin, limit);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *zone = &g_array_index(zones->zones, HfZone, i);
    if (!hf_zone_is_corner(zones, zone) && hf_zone_is_tip(zones, zone))
      report(check, zone);
  }
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * strips.c - long thin strips that bow from the heat of their own cut.
 *
 * A strip (thin/strip.h) of up to ten thicknesses with metal beyond both its ends is held, and heat
 * buckles it at
 *      dT = pi^2 t^2 / (3 a L^2)        (Euler, fixed ends, out of the plane)
 * so only strips long enough to break the limit are looked for. docs/maths.md#strips
 */
#include "base/text.h"
#include "hold/hold-private.h"
#include "thin/strip.h"

#define WIDEST 10.0 /* thicknesses */

static double
shortest_that_bows(const HfProcess *p, double limit)
{
  return G_PI * p->thickness / sqrt(3 * p->expansion * limit);
}

static double
buckling_heat(const HfProcess *p, double length)
{
  return pow(G_PI * p->thickness / length, 2) / (3 * p->expansion);
}

static void
report(HfCheck *check, const HfStrip *strip)
{
  double heat = buckling_heat(&check->hold->process, strip->length);
  HfFinding *finding = hf_check_add(check, HF_LAW_BOWING_STRIP, heat, strip->middle);
  if (finding == NULL)
    return;
  g_autofree char *length = hf_text_mm(round(strip->length));
  g_autofree char *width = hf_text_mm(round(strip->width * 10) / 10);
  g_autofree char *kelvin = hf_text_number(heat, 1);
  finding->reach = strip->length;
  hf_finding_name(check, finding, hf_check_shape_at(check, strip->edge));
  hf_finding_say(finding,
                 "strip %s wide runs %s without a joint: it bows once it is %s °C hotter than what "
                 "holds it",
                 width, length, kelvin);
}

static gboolean
check_strips(HfCheck *check, GError **error)
{
  const HfProcess *process = &check->hold->process;
  HfStripWish wish = {
      .widest = WIDEST * process->thickness,
      .shortest = shortest_that_bows(process, check->hold->limits[HF_LAW_BOWING_STRIP].caution),
      .fine = check->hold->limits[HF_LAW_WEAK_JOINT].stop, /* narrower is a finding itself */
  };
  g_autoptr(GArray) found =
      hf_strips_find(check->metal->region, check->index, wish, check->cancel, error);
  for (guint i = 0; found != NULL && i < found->len; i++)
    report(check, &g_array_index(found, HfStrip, i));
  return found != NULL;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_bowing_strip_law = {
    .key = "bowing-strip",
    .quantity = "heat that buckles a strip between two joints",
    .unit = "K",
    .at_least = TRUE,
    .gravity = HF_CAUTION,
    .caution = {"27 K"},
    .source = HF_COMMON_PRACTICE,
    .reference = "heat = pi^2 t^2 / (3 a L^2), a the expansion of the metal, L the free length: "
                 "Euler, fixed "
                 "ends",
    .why = "it bows sideways while it is hot from the cut",
    .what = "strip buckles when it is {measured} hotter than its ends, {needs} {limit}",
    .fix = "add a joint in between, make it wider, or take thicker sheet",
    .cures = HF_CURES("ties", "wider"),
    .check = check_strips,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

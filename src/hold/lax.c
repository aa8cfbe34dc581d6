/* SPDX-License-Identifier: GPL-3.0-or-later
 * lax.c - limits of one's own that are so far from the usual ones that they silence their check.
 *
 *      least                usual
 *   ---|--------------------|----->     The usual limit follows from thickness and kerf: a shop
 *   a stop   one's own       stricter   that cuts finer says so in its process.
 *
 * Under a third of it (over three times, of what is to be small) the check says nothing any more,
 * and that is told instead.
 */
#include "base/text.h"
#include "hold/hold-private.h"
#include <string.h>

#define FAR 3.0 /* times laxer than usual; ours */

/* How many times laxer than usual a limit may be. One kerf is computed: no less can be cut. */
static double
leeway(const HfLaw *law)
{
  return g_strcmp0(law->stop.formula, "k") == 0 ? 1 : FAR;
}

/* How many times laxer than @usual @own is; what must be none has one unit to begin with. */
static double
laxity(const HfLaw *law, double usual, double own)
{
  return law->at_least ? usual / own : own / fmax(usual, 1);
}

static char *
quantity(double value, const char *unit)
{
  if (strcmp(unit, "mm") == 0)
    return hf_text_length(value, 4);
  g_autofree char *number = hf_text_number(value, 4);
  return unit[0] == '\0' ? g_steal_pointer(&number) : g_strconcat(number, " ", unit, NULL);
}

static void
report(HfCheck *check, HfLawKind kind, const char *key, const char *unit, double usual, double own,
       double bound_at, gboolean at_least)
{
  HfFinding *finding = hf_check_add(check, kind, NAN, check->hold->centroid);
  if (finding == NULL)
    return;
  g_autofree char *name = g_strdup_printf("limit \"%s\"", key), *is = quantity(own, unit);
  g_autofree char *was = quantity(usual, unit), *bound = quantity(bound_at, unit);
  g_autofree char *fix =
      g_strdup_printf("give %s or %s, or the thickness and kerf that you cut with", bound,
                      at_least ? "more" : "less");
  hf_finding_form(finding, key);
  hf_finding_call(finding, name);
  hf_finding_say(finding, "%s, where %s is usual: it lets almost everything pass", is, was);
  hf_finding_fix(finding, fix);
}

static gboolean
check_lax(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    HfLimit usual = hf_law_usual((HfLawKind)i, &check->hold->process), own = check->hold->limits[i];
    if (own.said_by < HF_SAID_BY_SHOP)
      continue;
    gboolean stops = !isnan(usual.stop);
    double far = leeway(law), was = stops ? usual.stop : usual.caution,
           is = stops ? own.stop : own.caution;
    if (law->gravity > HF_NOTE && laxity(law, was, is) > far * (1 + 1e-9))
      report(check, stops ? HF_LAW_LAX_LIMIT : HF_LAW_LAX_CAUTION, law->key, law->unit, was, is,
             law->at_least ? was / far : far * fmax(was, 1), law->at_least);
  }
  double usual = hf_law_figure_row(HF_FIGURE_LONG_WEB)->value;
  double own = check->hold->figures[HF_FIGURE_LONG_WEB];
  if (own > FAR * usual)
    report(check, HF_LAW_LAX_LIMIT, hf_law_figure_row(HF_FIGURE_LONG_WEB)->key, "", usual, own,
           FAR * usual, FALSE);
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_lax_limit_law = {
    .key = "lax-limit",
    .quantity = "limit of a stop that is three times laxer than the usual one, or more",
    .unit = "",
    .gravity = HF_STOP,
    .stop = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source; the usual limit follows from the thickness and the kerf",
    .why = "it silences its check",
    .what = "it lets almost everything pass",
    .fix = "give the thickness and kerf that you cut with",
    .cures = HF_NO_CURES,
    .check = check_lax,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_lax_caution_law = {
    .key = "lax-caution",
    .quantity = "limit of a caution that is three times laxer than the usual one, or more",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "it silences its check",
    .what = "it lets almost everything pass",
    .fix = "accept the finding itself, with a reason",
    .cures = HF_NO_CURES,
    .check = check_lax,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

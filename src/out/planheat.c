/* SPDX-License-Identifier: GPL-3.0-or-later
 * planheat.c - plan-heat.svg: where one cut begins while the metal beside it is still hot from the
 * one before, by the measure that the order is chosen by (docs/maths.md#order).
 *
 *      pale: far from the cut before, or the first     red: beside it
 */
#include "base/text.h"
#include "out/plan-picture-private.h"

/* From pale (0) to red (1); numbers so that black and white tells them apart. */
static void
put_colour(HfPlanDrawing *d, double warm)
{
  guint red = 0xe0 - (guint)(0x30 * warm), rest = (guint)(0xd0 * (1 - warm));
  g_string_append_printf(d->text, " stroke=\"#%02x%02x%02x\"", red, rest, (guint)(rest * 0.9));
}

static void
put_cut(HfPlanDrawing *d, guint i)
{
  const HfPlan *plan = d->cutting->plan;
  const HfCut *cut = hf_plan_cut(plan, i);
  double warm = hf_plan_warmth(plan, i);
  g_autofree char *share = hf_text_number(100 * warm, 0);
  g_autofree char *more =
      i == 0 ? g_strdup("; the first") : g_strdup_printf("; warm from cut %u: %s %%", i, share);
  g_string_append(d->text, "<g class=\"cut\">");
  hf_plan_put_title(d, cut, i + 1, more);
  g_string_append(d->text, "<path fill=\"none\" stroke-linejoin=\"round\"");
  put_colour(d, warm);
  hf_plan_put(d, "stroke-width", fmax(d->cutting->kerf, d->large / 3));
  g_string_append(d->text, " d=\"");
  hf_plan_put_stretches(d, cut, FALSE);
  g_string_append(d->text, "\"/></g>\n");
}

static void
put_number(HfPlanDrawing *d, const HfCut *cut, guint number)
{
  g_string_append(d->text, "<text font-family=\"sans-serif\" fill=\"#222\"");
  hf_plan_put(d, "x", cut->pierce.x);
  hf_plan_put(d, "y", d->height - cut->pierce.y);
  hf_plan_put(d, "font-size", d->large);
  g_string_append_printf(d->text, ">%u</text>\n", number);
}

static GBytes *
write_heat(const HfMaking *making, const HfFormat *format G_GNUC_UNUSED,
           GError **error G_GNUC_UNUSED)
{
  const HfPlan *plan = making->cutting->plan;
  HfPlanDrawing d = hf_plan_drawing(making->cutting, "heat from cut to cut", NULL);
  hf_plan_put_metal(&d, making->sign->fit->outline);
  for (guint i = 0; i < plan->cuts->len; i++)
    put_cut(&d, i);
  for (guint i = 0; i < plan->cuts->len; i++)
    put_number(&d, hf_plan_cut(plan, i), i + 1);
  static const char *const means[] = {"cut well away from the one before it", "5 mm from it",
                                      "beside it, right behind it: hottest"};
  for (guint k = 0; k < G_N_ELEMENTS(means); k++) {
    HfPlanDrawing sign = d;
    sign.text = g_string_new("<path d=\"M-1 0H1.6\" fill=\"none\" stroke-width=\"0.5\"");
    put_colour(&sign, k / 2.0);
    g_string_append(sign.text, "/>");
    hf_plan_tell(&d, sign.text->str, means[k]);
    g_string_free(sign.text, TRUE);
  }
  return hf_plan_drawing_end(&d);
}

HF_FORMATS(planheat, {.about = HF_ABOUT_PLAN,
                      .ending = "-heat.svg",
                      .type = "image/svg+xml",
                      .says = "where cuts follow each other too closely for thin sheet",
                      .option = "heat",
                      .write = write_heat});

/* SPDX-License-Identifier: GPL-3.0-or-later
 * plan-picture.c - the parts of a plan's pictures.
 */
#include "base/seen.h"
#include "base/text.h"
#include "out/plan-picture-private.h"
#include "stock/cautions.h"

enum { MOST_TOLD = 6, LEAST_LARGE = 2, MOST_LARGE = 12 };

void
hf_plan_put(HfPlanDrawing *d, const char *name, double value)
{
  g_string_append_printf(d->text, " %s=\"", name);
  hf_text_append(d->text, value, HF_PLAN_DECIMALS);
  g_string_append_c(d->text, '"');
}

/* As high as its legend is long: one line each, below the sheet. */
static double
legend_height(const HfPlanDrawing *d)
{
  return d->large * 1.6 * (MOST_TOLD + 0.5);
}

static void
put_head(HfPlanDrawing *d, const char *what, const char *extra)
{
  double high = d->height + legend_height(d);
  g_autofree char *w = hf_text_number(d->width, HF_PLAN_DECIMALS);
  g_autofree char *h = hf_text_number(high, HF_PLAN_DECIMALS);
  g_autofree char *thick = hf_text_mm(d->cutting->thickness);
  g_autofree char *kerf = hf_text_mm(d->cutting->kerf);
  g_string_append_printf(d->text,
                         "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" "
                         "height=\"%smm\" viewBox=\"0 0 %s %s\">\n<title>%s: %s, %s, "
                         "kerf %s; a picture, not to be cut from</title>\n<desc>%s</desc>\n%s",
                         w, h, w, h, what, d->cutting->metal, thick, kerf, hf_caution_line(),
                         extra != NULL ? extra : "");
  g_string_append(d->text, "<rect id=\"paper\" fill=\"#fbfbf8\" x=\"0\" y=\"0\"");
  hf_plan_put(d, "width", d->width);
  hf_plan_put(d, "height", high);
  g_string_append(d->text, "/>\n<rect id=\"sheet\" fill=\"#f1f1ec\" x=\"0\" y=\"0\"");
  hf_plan_put(d, "width", d->width);
  hf_plan_put(d, "height", d->height);
  g_string_append(d->text, "/>\n");
}

HfPlanDrawing
hf_plan_drawing(const HfCutting *cutting, const char *what, const char *extra)
{
  HfBox box = cutting->plan->box;
  HfPlanDrawing d = {g_string_new(NULL), cutting, ceil(box.max.x + 10), ceil(box.max.y + 10), 0, 0};
  d.large = CLAMP(fmax(d.width, d.height) / 90, LEAST_LARGE, MOST_LARGE);
  d.width = fmax(d.width, d.large * 28); /* room for the legend's words */
  put_head(&d, what, extra);
  return d;
}

GBytes *
hf_plan_drawing_end(HfPlanDrawing *d)
{
  g_string_append(d->text, "</svg>\n");
  return g_string_free_to_bytes(d->text);
}

void
hf_plan_put_metal(HfPlanDrawing *d, const HfOutline *outline)
{
  HfPoint at = d->cutting->at;
  HfPath path = {d->text, hf_point(-at.x, d->height - at.y), HF_PLAN_DECIMALS};
  g_string_append(d->text, "<path id=\"metal\" fill=\"#d8d8d2\" fill-rule=\"evenodd\" d=\"");
  for (guint i = 0; i < hf_outline_n_contours(outline); i++)
    hf_path_contour(&path, outline, i);
  g_string_append(d->text, "\"/>\n");
}

void
hf_plan_put_stretches(HfPlanDrawing *d, const HfCut *cut, gboolean in)
{
  HfPath path = {d->text, hf_point(0, d->height), HF_PLAN_DECIMALS};
  gboolean drawn = FALSE;
  for (guint i = 0; i < cut->n; i++) {
    const HfCutStretch *stretch = hf_plan_stretch(d->cutting->plan, cut->first + i);
    if ((stretch->kind == HF_STRETCH_IN) != in)
      continue;
    if (!drawn)
      hf_path_move(&path, stretch->curve.p0);
    hf_path_curve(&path, &stretch->curve);
    drawn = TRUE;
  }
}

void
hf_plan_put_layer(HfPlanDrawing *d, const char *id, const char *colour, double width, gboolean in)
{
  const HfPlan *plan = d->cutting->plan;
  g_string_append_printf(d->text,
                         "<path id=\"%s\" fill=\"none\" stroke=\"%s\" stroke-linecap=\"round\" "
                         "stroke-linejoin=\"round\"",
                         id, colour);
  hf_plan_put(d, "stroke-width", width);
  g_string_append(d->text, " d=\"");
  for (guint i = 0; i < plan->cuts->len; i++)
    hf_plan_put_stretches(d, hf_plan_cut(plan, i), in);
  g_string_append(d->text, "\"/>\n");
}

void
hf_plan_put_title(HfPlanDrawing *d, const HfCut *cut, guint number, const char *more)
{
  g_autofree char *seen = hf_seen(cut->name, FALSE);
  g_autofree char *name = g_markup_escape_text(seen, -1);
  g_string_append_printf(d->text, "<title>%u: %s%s</title>", number, name, more);
}

void
hf_plan_tell(HfPlanDrawing *d, const char *sign, const char *means)
{
  g_return_if_fail(d->told < MOST_TOLD);
  g_autofree char *x = hf_text_number(d->large * 1.5, HF_PLAN_DECIMALS);
  g_autofree char *y = hf_text_number(d->height + d->large * 1.6 * (d->told + 1), HF_PLAN_DECIMALS);
  g_autofree char *scale = hf_text_number(d->large, HF_PLAN_DECIMALS);
  d->told++;
  g_string_append_printf(d->text,
                         "<g class=\"legend\" transform=\"translate(%s %s) scale(%s)\">%s<text "
                         "font-family=\"sans-serif\" font-size=\"1\" fill=\"#222\" x=\"2.2\" "
                         "y=\"0.35\">%s</text></g>\n",
                         x, y, scale, sign, means);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * plansvg.c - plan.svg: how a sheet is cut, in mm, zero of the program at the lower left.
 *
 *   metal pale; what the kerf takes, red; ways in, blue; pierces, dots with the number of the cut;
 *   travel, dashed; drops that may tip up, their number on yellow
 */
#include "base/seen.h"
#include "base/text.h"
#include "out/format.h"
#include "out/path-private.h"
#include "stock/cautions.h"

enum { DECIMALS = 4 };

typedef struct {
  GString *text;
  const HfCutting *cutting;
  double width, height; /* mm, of the picture */
  double large;         /* mm, of a number */
} Drawing;

static HfPath
path_of(const Drawing *d)
{
  return (HfPath){d->text, hf_point(0, d->height), DECIMALS};
}

static void
put_attribute(Drawing *d, const char *name, double value)
{
  g_string_append_printf(d->text, " %s=\"", name);
  hf_text_append(d->text, value, DECIMALS);
  g_string_append_c(d->text, '"');
}

static void
put_metal(Drawing *d, const HfOutline *outline)
{
  HfPoint at = d->cutting->at;
  HfPath path = {d->text, hf_point(-at.x, d->height - at.y), DECIMALS};
  g_string_append(d->text, "<path id=\"metal\" fill=\"#d8d8d2\" fill-rule=\"evenodd\" d=\"");
  for (guint i = 0; i < hf_outline_n_contours(outline); i++)
    hf_path_contour(&path, outline, i);
  g_string_append(d->text, "\"/>\n");
}

/* Stretches of a cut that are, or are not, of the way in, on end. */
static void
put_stretches(Drawing *d, const HfCut *cut, gboolean in)
{
  HfPath path = path_of(d);
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

static void
put_layer(Drawing *d, const char *id, const char *colour, double width, gboolean in)
{
  const HfPlan *plan = d->cutting->plan;
  g_string_append_printf(d->text,
                         "<path id=\"%s\" fill=\"none\" stroke=\"%s\" stroke-linecap=\"round\" "
                         "stroke-linejoin=\"round\"",
                         id, colour);
  put_attribute(d, "stroke-width", width);
  g_string_append(d->text, " d=\"");
  for (guint i = 0; i < plan->cuts->len; i++)
    put_stretches(d, hf_plan_cut(plan, i), in);
  g_string_append(d->text, "\"/>\n");
}

static void
put_line_to(Drawing *d, HfPoint to)
{
  g_string_append_c(d->text, 'L');
  hf_text_append(d->text, to.x, DECIMALS);
  g_string_append_c(d->text, ' ');
  hf_text_append(d->text, d->height - to.y, DECIMALS);
}

static void
put_travel(Drawing *d)
{
  const HfPlan *plan = d->cutting->plan;
  HfPath path = path_of(d);
  g_string_append(d->text, "<path id=\"travel\" fill=\"none\" stroke=\"#3a6ea5\"");
  put_attribute(d, "stroke-width", d->large / 12);
  put_attribute(d, "stroke-dasharray", d->large / 3);
  g_string_append(d->text, " d=\"");
  hf_path_move(&path, hf_point(0, 0));
  for (guint i = 0; i < plan->cuts->len; i++) {
    const HfCut *cut = hf_plan_cut(plan, i);
    for (guint k = 0; k < cut->n_via; k++)
      put_line_to(d, g_array_index(plan->vias, HfPoint, cut->first_via + k));
    put_line_to(d, cut->pierce);
    hf_path_move(&path, cut->end);
  }
  for (guint i = plan->vias->len - plan->n_home; i < plan->vias->len; i++)
    put_line_to(d, g_array_index(plan->vias, HfPoint, i));
  put_line_to(d, hf_point(0, 0));
  g_string_append(d->text, "\"/>\n");
}

static void
put_number(Drawing *d, const HfCut *cut, guint number)
{
  double x = cut->pierce.x, y = d->height - cut->pierce.y;
  gboolean tips = !cut->is_part && cut->drop == HF_DROP_TIPS;
  g_autofree char *seen = hf_seen(cut->name, FALSE);
  g_autofree char *name = g_markup_escape_text(seen, -1);
  g_string_append_printf(d->text, "<g class=\"cut\"><title>%u: %s%s</title><circle fill=\"%s\"",
                         number, name, tips ? "; may tip up" : "", tips ? "#ffd21f" : "#1f5fae");
  put_attribute(d, "cx", x);
  put_attribute(d, "cy", y);
  put_attribute(d, "r", d->large / (tips ? 2 : 5));
  g_string_append(d->text, "/><text font-family=\"sans-serif\" fill=\"#102a4a\"");
  put_attribute(d, "x", x + d->large / 4);
  put_attribute(d, "y", y - d->large / 4);
  put_attribute(d, "font-size", d->large);
  g_string_append_printf(d->text, ">%u</text></g>\n", number);
}

static void
put_head(Drawing *d)
{
  g_autofree char *w = hf_text_number(d->width, DECIMALS);
  g_autofree char *h = hf_text_number(d->height, DECIMALS);
  g_autofree char *thick = hf_text_mm(d->cutting->thickness);
  g_autofree char *kerf = hf_text_mm(d->cutting->kerf);
  g_string_append_printf(d->text,
                         "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" "
                         "height=\"%smm\" viewBox=\"0 0 %s %s\">\n<title>how it is cut: %s, %s, "
                         "kerf %s; a picture, not to be cut from</title>\n<desc>%s</desc>\n",
                         w, h, w, h, d->cutting->metal, thick, kerf, hf_caution_line());
}

static GBytes *
write_plan(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  (void)error;
  const HfCutting *cutting = making->cutting;
  HfBox box = cutting->plan->box;
  Drawing d = {g_string_new(NULL), cutting, ceil(box.max.x + 10), ceil(box.max.y + 10), 0};
  d.large = CLAMP(fmax(d.width, d.height) / 90, 2, 12);
  put_head(&d);
  put_metal(&d, making->sign->fit->outline);
  put_layer(&d, "kerf", "#e9a9a4", cutting->kerf, FALSE);
  put_layer(&d, "ways-in", "#8fb6e0", cutting->kerf, TRUE);
  put_layer(&d, "path", "#b3261e", fmin(cutting->kerf / 4, d.large / 10), FALSE);
  put_travel(&d);
  for (guint i = 0; i < cutting->plan->cuts->len; i++)
    put_number(&d, hf_plan_cut(cutting->plan, i), i + 1);
  g_string_append(d.text, "</svg>\n");
  return g_string_free_to_bytes(d.text);
}

HF_FORMATS(plansvg, {.about = HF_ABOUT_PLAN,
                     .ending = ".svg",
                     .type = "image/svg+xml",
                     .says = "how it is cut: kerf, ways in, order, travel",
                     .picture = TRUE,
                     .write = write_plan});

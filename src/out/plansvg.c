/* SPDX-License-Identifier: GPL-3.0-or-later
 * plansvg.c - plan.svg: how a sheet is cut.
 *
 *   metal pale; what the kerf takes, red; ways in, blue; pierces, dots with the number of the cut;
 *   travel, dashed; drops that may tip up, their number on yellow
 */
#include "base/text.h"
#include "out/plan-picture-private.h"

static void
put_line_to(HfPlanDrawing *d, HfPoint to)
{
  g_string_append_c(d->text, 'L');
  hf_text_append(d->text, to.x, HF_PLAN_DECIMALS);
  g_string_append_c(d->text, ' ');
  hf_text_append(d->text, d->height - to.y, HF_PLAN_DECIMALS);
}

static void
put_travel(HfPlanDrawing *d)
{
  const HfPlan *plan = d->cutting->plan;
  HfPath path = {d->text, hf_point(0, d->height), HF_PLAN_DECIMALS};
  g_string_append(d->text, "<path id=\"travel\" fill=\"none\" stroke=\"#3a6ea5\"");
  hf_plan_put(d, "stroke-width", d->large / 12);
  hf_plan_put(d, "stroke-dasharray", d->large / 3);
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
put_number(HfPlanDrawing *d, const HfCut *cut, guint number)
{
  double x = cut->pierce.x, y = d->height - cut->pierce.y;
  gboolean tips = !cut->is_part && cut->drop == HF_DROP_TIPS;
  g_string_append(d->text, "<g class=\"cut\">");
  g_autofree char *why = hf_cutting_why(d->cutting, number - 1);
  g_autofree char *more = g_strconcat(tips ? ", may tip up: " : ": ", why, NULL);
  hf_plan_put_title(d, cut, number, more);
  g_string_append_printf(d->text, "<circle fill=\"%s\"", tips ? "#ffd21f" : "#1f5fae");
  hf_plan_put(d, "cx", x);
  hf_plan_put(d, "cy", y);
  hf_plan_put(d, "r", d->large / (tips ? 2 : 5));
  g_string_append(d->text, "/><text font-family=\"sans-serif\" fill=\"#102a4a\"");
  hf_plan_put(d, "x", x + d->large / 4);
  hf_plan_put(d, "y", y - d->large / 4);
  hf_plan_put(d, "font-size", d->large);
  g_string_append_printf(d->text, ">%u</text></g>\n", number);
}

static void
put_legend(HfPlanDrawing *d)
{
#define LINE(colour, width, more)                                                                  \
  "<path d=\"M-1 0H1.6\" fill=\"none\" stroke=\"" colour "\" stroke-width=\"" width "\"" more "/>"
  hf_plan_tell(d, LINE("#e9a9a4", "0.5", "") LINE("#b3261e", "0.1", ""),
               "what the kerf takes, and the torch's middle");
  hf_plan_tell(d, LINE("#8fb6e0", "0.5", ""), "way in");
  hf_plan_tell(d, LINE("#3a6ea5", "0.08", " stroke-dasharray=\"0.33\""), "travel, arc off");
  hf_plan_tell(d, "<circle r=\"0.2\" fill=\"#1f5fae\"/>", "pierce, and the number of the cut");
  hf_plan_tell(d, "<circle r=\"0.5\" fill=\"#ffd21f\"/>", "its drop may tip up on the slats");
  hf_plan_tell(d, "<rect x=\"-1\" y=\"-0.4\" width=\"2.6\" height=\"0.8\" fill=\"#d8d8d2\"/>",
               "metal; zero of the program is the lower left corner of the sheet");
}

static GBytes *
write_plan(const HfMaking *making, const HfFormat *format G_GNUC_UNUSED,
           GError **error G_GNUC_UNUSED)
{
  const HfCutting *cutting = making->cutting;
  HfPlanDrawing d = hf_plan_drawing(cutting, "how it is cut", NULL);
  hf_plan_put_metal(&d, making->sign->fit->outline);
  hf_plan_put_layer(&d, "kerf", "#e9a9a4", cutting->kerf, FALSE);
  hf_plan_put_layer(&d, "ways-in", "#8fb6e0", cutting->kerf, TRUE);
  hf_plan_put_layer(&d, "path", "#b3261e", fmin(cutting->kerf / 4, d.large / 10), FALSE);
  put_travel(&d);
  for (guint i = 0; i < cutting->plan->cuts->len; i++)
    put_number(&d, hf_plan_cut(cutting->plan, i), i + 1);
  put_legend(&d);
  return hf_plan_drawing_end(&d);
}

HF_FORMATS(plansvg, {.about = HF_ABOUT_PLAN,
                     .ending = ".svg",
                     .type = "image/svg+xml",
                     .says = "how it is cut: kerf, ways in, order, travel",
                     .picture = TRUE,
                     .write = write_plan});

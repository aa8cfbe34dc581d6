/* SPDX-License-Identifier: GPL-3.0-or-later
 * traveller.c - traveller.pdf: the one page that goes with the sheet to the table.
 *
 *   +----------------------------------+
 *   | Boat yard, traveller             |  head: name, program
 *   |   sheet with the plan: pierces   |  zero at the lower left, numbers as in cut.nc
 *   | figures     |  cautions          |
 *   | says nothing of strength ...     |
 *   +----------------------------------+
 *
 * All measures are points.
 */
#include "base/file.h"
#include "base/text.h"
#include "out/format.h"
#include "out/sheet-private.h"
#include "stock/cautions.h"
#include <cairo-pdf.h>
#include <string.h>

enum { MARGIN = 40, HEAD = 58, FOOT = 30, GUTTER = 22, COLUMNS = 2 };
static const double PICTURE = 0.52; /* of the page's height, at most */

typedef struct {
  const HfMaking *making;
  HfPen *pen;
  HfPoint page;
  double below; /* where the columns begin */
  HfView view;  /* of the sheet */
} Traveller;

static void
draw_stretch(const Traveller *t, const HfCurve *curve)
{
  guint n = curve->kind == HF_CURVE_ARC ? 1 + (guint)ceil(fabs(curve->sweep) * 16) : 1;
  for (guint i = 1; i <= n; i++) {
    HfPoint p = hf_view_point(t->view, hf_curve_point(curve, i / (double)n));
    cairo_line_to(t->pen->cr, p.x, p.y);
  }
}

static void
draw_cut(const Traveller *t, const HfCut *cut)
{
  const HfCutting *cutting = t->making->cutting;
  HfPoint p = hf_view_point(t->view, cut->pierce);
  cairo_move_to(t->pen->cr, p.x, p.y);
  for (guint i = 0; i < cut->n; i++)
    draw_stretch(t, &hf_plan_stretch(cutting->plan, cut->first + i)->curve);
  hf_pen_colour(t->pen->cr, HF_HOT, 1);
  cairo_set_line_width(t->pen->cr, fmax(cutting->kerf * t->view.scale, 0.4));
  cairo_stroke(t->pen->cr);
}

static void
line_to(const Traveller *t, HfPoint to)
{
  HfPoint p = hf_view_point(t->view, to);
  cairo_line_to(t->pen->cr, p.x, p.y);
}

static void
draw_travel(const Traveller *t)
{
  static const double dashes[] = {2, 2};
  const HfPlan *plan = t->making->cutting->plan;
  cairo_t *cr = t->pen->cr;
  line_to(t, hf_point(0, 0));
  for (guint i = 0; i < plan->cuts->len; i++) {
    const HfCut *cut = hf_plan_cut(plan, i);
    for (guint k = 0; k < cut->n_via; k++)
      line_to(t, g_array_index(plan->vias, HfPoint, cut->first_via + k));
    line_to(t, cut->pierce);
    HfPoint end = hf_view_point(t->view, cut->end);
    cairo_move_to(cr, end.x, end.y);
  }
  for (guint i = plan->vias->len - plan->n_home; i < plan->vias->len; i++)
    line_to(t, g_array_index(plan->vias, HfPoint, i));
  line_to(t, hf_point(0, 0));
  hf_pen_colour(cr, HF_SOFT_INK, 1);
  cairo_set_line_width(cr, 0.4);
  cairo_set_dash(cr, dashes, 2, 0);
  cairo_stroke(cr);
  cairo_set_dash(cr, NULL, 0, 0);
}

static gboolean
may_tip(const HfCut *cut)
{
  return !cut->is_part && cut->drop == HF_DROP_TIPS;
}

/* A drop that may tip has its number in a ring. */
static void
draw_number(const Traveller *t, guint i)
{
  const HfCut *cut = hf_plan_cut(t->making->cutting->plan, i);
  HfPoint p = hf_view_point(t->view, cut->pierce);
  cairo_t *cr = t->pen->cr;
  HfPenStyle style = {.size = 5.5, .bold = may_tip(cut), .figures = TRUE};
  g_autofree char *number = g_strdup_printf("%u", i + 1);
  hf_pen_colour(cr, HF_INK, 1);
  cairo_new_path(cr);
  cairo_arc(cr, p.x, p.y, 1, 0, 2 * G_PI);
  cairo_fill(cr);
  if (may_tip(cut)) {
    cairo_set_line_width(cr, 0.6);
    cairo_arc(cr, p.x, p.y, 3.5, 0, 2 * G_PI);
    cairo_stroke(cr);
  }
  hf_pen_say(t->pen, &style, number, p.x + 3, p.y - 8, 0);
}

static void
draw_plan(Traveller *t)
{
  const HfCutting *cutting = t->making->cutting;
  HfBox box = hf_box_add_point(cutting->plan->box, hf_point(0, 0));
  double width = t->page.x - 2 * MARGIN, height = t->page.y * PICTURE;
  double scale = fmin(width / hf_box_width(box), height / hf_box_height(box));
  double tall = hf_box_height(box) * scale, top = MARGIN + HEAD;
  t->view = hf_view_centred(box, scale, t->page.x / 2, top + tall / 2);
  HfPoint at = hf_view_point(t->view, cutting->at);
  hf_pen_colour(t->pen->cr, HF_RULE, 1);
  hf_picture_path(t->pen->cr, t->making->sign, (HfView){scale, at.x, at.y});
  cairo_fill(t->pen->cr);
  for (guint i = 0; i < cutting->plan->cuts->len; i++)
    draw_cut(t, hf_plan_cut(cutting->plan, i));
  cairo_new_path(t->pen->cr);
  draw_travel(t);
  for (guint i = 0; i < cutting->plan->cuts->len; i++)
    draw_number(t, i);
  HfPoint zero = hf_view_point(t->view, hf_point(0, 0));
  HfPenStyle style = {.size = 8, .bold = TRUE};
  hf_pen_say(t->pen, &style, "0 0: lower left corner of the sheet", zero.x, zero.y + 1, 0);
  t->below = top + tall + 18;
}

/* (transfer full) "1, 8, 15"; "none" */
static char *
tipping(const HfPlan *plan)
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < plan->cuts->len; i++)
    if (may_tip(hf_plan_cut(plan, i)))
      g_string_append_printf(text, "%s%u", text->len > 0 ? ", " : "", i + 1);
  if (text->len == 0)
    return g_strdup("none that the plan knows of");
  g_string_append(text, ", ringed: stand by, stop where one stands up");
  return g_string_free(g_steal_pointer(&text), FALSE);
}

static void
add_figures(HfFlow *flow, const HfMaking *making)
{
  const HfCutting *cutting = making->cutting;
  const HfPlan *plan = cutting->plan;
  g_autofree char *digest = hf_file_digest(cutting->text, strlen(cutting->text));
  g_autofree char *few = hf_paper_digest(digest), *thick = hf_text_mm(cutting->thickness);
  g_autofree char *metal = g_strdup_printf("%s, %s", cutting->metal, thick);
  g_autofree char *kerf = hf_text_mm(cutting->kerf), *feed = hf_cutting_feed(cutting);
  g_autofree char *current = hf_text_number(cutting->row.current, 0);
  g_autofree char *pierce = hf_text_mm(cutting->row.pierce_height);
  g_autofree char *height = hf_text_mm(cutting->row.cut_height);
  g_autofree char *arc =
      g_strdup_printf("%s A, pierce height %s, cut height %s", current, pierce, height);
  g_autofree char *time = hf_cutting_time(cutting->times->total);
  g_autofree char *cut = hf_text_run(plan->length, 2), *travel = hf_text_run(plan->travel, 2);
  g_autofree char *length = g_strdup_printf("%s of cut, %s of travel", cut, travel);
  g_autofree char *pierces = g_strdup_printf("%u", plan->cuts->len);
  g_autofree char *tips = tipping(plan), *weight = hf_text_grams(making->sign->hold->mass);
  hf_flow_heading(flow, "The program");
  hf_flow_row(flow, "digest", few);
  hf_flow_row(flow, "metal", metal);
  hf_flow_row(flow, "feed", feed);
  hf_flow_row(flow, "arc", arc);
  hf_flow_row(flow, "kerf", kerf);
  hf_flow_row(flow, "pierces", pierces);
  hf_flow_row(flow, "length", length);
  hf_flow_row(flow, "time", time);
  hf_flow_row(flow, "weight", weight);
  hf_flow_row(flow, "may tip", tips);
}

static HfBox
next_column(gpointer data, guint frame)
{
  const Traveller *t = data;
  double width = (t->page.x - 2 * MARGIN - GUTTER) / COLUMNS;
  double x = MARGIN + frame * (width + GUTTER);
  return (HfBox){{x, t->below}, {x + width, t->page.y - MARGIN - FOOT}};
}

/* As large as it can be on the one page. */
static void
draw_words(Traveller *t)
{
  static const double zooms[] = {1, 0.9, 0.8, 0.7, 0.6};
  HfPenStyle small = {.size = 8};
  double width = (t->page.x - 2 * MARGIN - GUTTER) / COLUMNS;
  for (guint i = 0; i < G_N_ELEMENTS(zooms); i++) {
    g_autoptr(HfFlow) flow = hf_flow_new(t->pen, width, zooms[i]);
    add_figures(flow, t->making);
    hf_facts_cautions(flow, "Cautions", &small, HF_CARRY_SHEET, t->making->sign);
    gboolean last = i + 1 == G_N_ELEMENTS(zooms);
    if (!last && hf_flow_run(flow, next_column, t, FALSE, COLUMNS, NULL) > COLUMNS)
      continue;
    hf_flow_run(flow, next_column, t, TRUE, COLUMNS, NULL);
    return;
  }
}

static void
draw_head(const Traveller *t)
{
  const HfMaking *making = t->making;
  HfPenStyle title = {.size = 21, .bold = TRUE, .one_line = TRUE, .width = t->page.x - 2 * MARGIN};
  HfPenStyle under = {.size = 10, .one_line = TRUE, .width = t->page.x - 2 * MARGIN};
  g_autofree char *name = g_strdup_printf("%s, traveller", hf_paper_name(making->sign->recipe));
  g_autofree char *file = making->layer > HF_LAYER_FRONT
                              ? g_strdup_printf("%s-cut.nc of %s", hf_layer_word(making->layer),
                                                making->sign->recipe->name)
                              : g_strdup_printf("cut.nc of %s", making->sign->recipe->name);
  hf_pen_colour(t->pen->cr, HF_INK, 1);
  hf_pen_say(t->pen, &title, name, MARGIN, MARGIN - 12, 0);
  hf_pen_say(t->pen, &under, file, MARGIN, MARGIN + 18, 0);
  guint n;
  const HfCaution *all = hf_cautions(&n);
  HfPenStyle print = {.size = 8, .width = t->page.x - 2 * MARGIN};
  hf_pen_colour(t->pen->cr, HF_SOFT_INK, 1);
  hf_pen_say(t->pen, &print, all[0].text, MARGIN, t->page.y - MARGIN - 20, 0);
  hf_pen_colour(t->pen->cr, HF_INK, 1);
}

static GBytes *
write_traveller(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  g_auto(HfDocument) document = {NULL};
  g_autofree char *title = g_strconcat(hf_paper_name(making->sign->recipe), ", traveller", NULL);
  if (!hf_document_begin(&document, title, error))
    return NULL;
  Traveller t = {.making = making, .pen = &document.pen, .page = hf_paper_page(making->paper)};
  cairo_pdf_surface_set_size(document.surface, t.page.x, t.page.y);
  draw_head(&t);
  draw_plan(&t);
  draw_words(&t);
  if (!hf_cancel_check(making->cancel, error))
    return NULL;
  return hf_document_end(&document, "traveller.pdf", error);
}

HF_FORMATS(traveller, {.about = HF_ABOUT_TRAVELLER,
                       .ending = ".pdf",
                       .type = "application/pdf",
                       .says = "for the table: the plan, what the program needs, cautions",
                       .write = write_traveller});

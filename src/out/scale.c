/* SPDX-License-Identifier: GPL-3.0-or-later
 * scale.c - how large a sign is drawn on paper, and the bar to check the print by.
 */
#include "base/text.h"
#include "out/sheet-private.h"

static const double scales[] = {1, 2, 2.5, 5, 10, 20, 50, 100, 200};

static double
largest(HfBox box, double w, double h)
{
  for (guint i = 0; i < G_N_ELEMENTS(scales); i++) {
    double k = HF_POINTS_PER_MM / scales[i];
    if (hf_box_width(box) * k <= w && hf_box_height(box) * k <= h)
      return scales[i];
  }
  return scales[G_N_ELEMENTS(scales) - 1];
}

HfScale
hf_scale_choose(HfPaper paper, HfBox box, double around_w, double around_h)
{
  HfPoint page = hf_paper_page(paper);
  double upright = largest(box, page.x - around_w, page.y - around_h);
  double aside = largest(box, page.y - around_w, page.x - around_h);
  if (aside < upright)
    return (HfScale){page.y, page.x, aside, FALSE};
  return (HfScale){page.x, page.y, upright, TRUE};
}

char *
hf_scale_text(HfScale scale)
{
  g_autofree char *per = hf_text_number(scale.per, 1);
  return g_strconcat("1 : ", per, NULL);
}

/* 1, 2 or 5 times a power of ten. */
static double
round_length(double longest)
{
  static const double steps[] = {5, 2, 1};
  double ten = pow(10, floor(log10(longest)));
  for (guint i = 0; i < G_N_ELEMENTS(steps); i++)
    if (steps[i] * ten <= longest)
      return steps[i] * ten;
  return ten;
}

double
hf_scale_bar(const HfPen *pen, HfScale scale, double x, double y, double longest)
{
  enum { FIELDS = 5, THICK = 4 };
  cairo_t *cr = pen->cr;
  double k = HF_POINTS_PER_MM / scale.per, unit = hf_units_are_inches() ? 25.4 : 1;
  double mm = round_length(longest / k / unit) * unit, length = mm * k;
  hf_pen_colour(cr, HF_INK, 1);
  cairo_set_line_width(cr, 0.5);
  for (int i = 0; i < FIELDS; i++) {
    cairo_rectangle(cr, x + i * length / FIELDS, y, length / FIELDS, THICK);
    if (i % 2 == 0)
      cairo_fill(cr);
    cairo_new_path(cr);
  }
  cairo_rectangle(cr, x, y, length, THICK);
  cairo_stroke(cr);
  g_autofree char *number = hf_text_length(mm, 0);
  g_autofree char *scale_text = hf_scale_text(scale);
  g_autofree char *text = g_strconcat(number, ", scale ", scale_text, NULL);
  HfPenStyle style = {.size = 9, .figures = TRUE};
  hf_pen_say(pen, &style, text, x + length + 6, y - 4.5, 0);
  return mm;
}

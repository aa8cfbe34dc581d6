/* SPDX-License-Identifier: GPL-3.0-or-later
 * close-up.c - the place of a finding, large, under its sentence on the shop sheet.
 *
 *   +-------------------------+
 *   |  metal      (3)         |  so near that what was measured can be seen; how wide the
 *   |  [== 10 mm ==]          |  picture is stands in it
 *   +-------------------------+
 */
#include "base/text.h"
#include "out/sheet-private.h"

enum { HIGH = 76, MARK = 7 };
static const double times = 9;              /* of what was measured */
static const double least = 24, most = 260; /* mm that the picture is wide */
static const double without = 90;           /* of what has no length */

typedef struct {
  const HfSign *what;
  const HfFinding *finding;
  guint number;
} CloseUp;

/* mm that are seen across. */
static double
reach_of(const HfFinding *finding)
{
  gboolean length = g_strcmp0(hf_law(finding->kind)->unit, "mm") == 0;
  double measured = fmax(isfinite(finding->measured) ? finding->measured : 0,
                         isfinite(finding->limit) ? finding->limit : 0);
  return length && measured > 0 ? fmin(fmax(times * measured, least), most) : without;
}

static void
draw_ring(const HfPen *pen, const CloseUp *close, HfPoint at, HfBox box)
{
  cairo_t *cr = pen->cr;
  hf_pen_colour(cr, HF_CARD_TONE, 0.85);
  cairo_set_line_width(cr, 3);
  cairo_arc(cr, at.x, at.y, MARK * 1.6, 0, 2 * G_PI);
  cairo_stroke(cr);
  hf_pen_colour(cr, HF_HOT, 1);
  cairo_set_line_width(cr, 1.2);
  cairo_arc(cr, at.x, at.y, MARK * 1.6, 0, 2 * G_PI);
  cairo_stroke(cr);
  hf_picture_badge(pen, close->finding, close->number,
                   hf_point(box.min.x + MARK + 4, box.min.y + MARK + 4), MARK);
}

static void
draw_width(const HfPen *pen, HfBox box, double mm)
{
  g_autofree char *length = hf_text_length(mm, 0);
  g_autofree char *text = g_strconcat(length, " across", NULL);
  HfPenStyle style = {.size = 7.5, .figures = TRUE};
  g_autoptr(PangoLayout) layout = hf_pen_text(pen, &style, text);
  double w = hf_pen_width(layout), h = hf_pen_height(layout);
  hf_pen_colour(pen->cr, HF_CARD_TONE, 0.88);
  cairo_rectangle(pen->cr, box.max.x - w - 9, box.max.y - h - 4, w + 6, h + 1);
  cairo_fill(pen->cr);
  hf_pen_colour(pen->cr, HF_INK, 1);
  hf_pen_draw(pen, layout, box.max.x - w - 6, box.max.y - h - 4);
}

/* HfFlowDraw. */
static void
draw(const HfPen *pen, gpointer data, HfBox box)
{
  const CloseUp *close = data;
  cairo_t *cr = pen->cr;
  HfPoint middle = hf_box_centre(box), at = close->finding->at;
  double reach = reach_of(close->finding), scale = hf_box_width(box) / reach;
  HfView view = {scale, middle.x - at.x * scale, middle.y + at.y * scale};
  cairo_save(cr);
  cairo_rectangle(cr, box.min.x, box.min.y, hf_box_width(box), hf_box_height(box));
  cairo_clip(cr);
  hf_pen_colour(cr, HF_PAPER_TONE, 1);
  cairo_paint(cr);
  hf_picture_path(cr, close->what, view);
  hf_pen_colour(cr, HF_STEEL, 1);
  cairo_fill(cr);
  draw_ring(pen, close, middle, box);
  draw_width(pen, box, reach);
  cairo_restore(cr);
  hf_pen_colour(cr, HF_RULE, 1);
  cairo_set_line_width(cr, 0.6);
  cairo_rectangle(cr, box.min.x, box.min.y, hf_box_width(box), hf_box_height(box));
  cairo_stroke(cr);
}

void
hf_close_up(HfFlow *flow, const HfSign *what, const HfFinding *finding, guint number)
{
  if (!isfinite(finding->at.x) || !isfinite(finding->at.y))
    return;
  CloseUp *close = g_new(CloseUp, 1);
  *close = (CloseUp){what, finding, number};
  hf_flow_drawn(flow, HIGH, draw, close, g_free);
}

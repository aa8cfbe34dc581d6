/* SPDX-License-Identifier: GPL-3.0-or-later
 * sheet.c - shop-sheet.pdf: the paper that lies at the bench.
 *
 *   +----------------------------------+
 *   | Boat yard, shop sheet   [whole]  |  head: name, order, verdict
 *   |      sign at scale, sizes        |  drawing, as large as a usual scale allows
 *   | ====== 200 mm, scale 1 : 5       |
 *   | findings   | figures | holes     |  columns, running on to further pages; a close-up under
 *   | [close-up] | limits  | fonts     |  each finding
 *   | says nothing of strength ...     |
 *   +----------------------------------+
 *
 * All measures are points.
 */
#include "base/text.h"
#include "out/format.h"
#include "out/sheet-private.h"
#include "stock/cautions.h"
#include <cairo-pdf.h>

enum {
  MARGIN = 40,
  HEAD = 66,
  FOOT = 30,
  BAR = 26,
  SIZE = 9,
  SIZE_GAP = 14,
  MARK = 8,
  GUTTER = 22,
};

typedef struct {
  const HfSign *what;
  HfPen *pen;
  HfScale scale;
  HfBox drawing; /* on the first page, bar included */
  guint columns;
  double columns_end; /* of the first page */
  guint page, pages;  /* from 1; pages 0: not counted yet */
  gboolean draw;
  const HfCancel *cancel; /* (nullable) */
} Sheet;

static double
sizes_room(void)
{
  return hf_picture_sizes_room(SIZE, SIZE_GAP) + 4;
}

static void
draw_head(const Sheet *s)
{
  const HfHold *hold = s->what->hold;
  double right = s->scale.w - MARGIN;
  double stamp = hf_pen_stamp(s->pen, hf_say_verdict(hold), !hold->whole, right, MARGIN - 2, 15);
  HfPenStyle title = {
      .size = 23, .bold = TRUE, .one_line = TRUE, .width = right - MARGIN - stamp - 16};
  HfPenStyle under = {.size = 10.5, .one_line = TRUE, .width = right - MARGIN};
  g_autofree char *order = hf_paper_order(s->what->recipe);
  g_autofree char *sentence = hf_say_sentence(hold);
  g_autofree char *name = g_strdup_printf("%s, shop sheet", hf_paper_name(s->what->recipe));
  hf_pen_colour(s->pen->cr, HF_INK, 1);
  hf_pen_say(s->pen, &title, name, MARGIN, MARGIN - 12, 0);
  hf_pen_colour(s->pen->cr, HF_SOFT_INK, 1);
  double line = hf_pen_say(s->pen, &under, sentence, MARGIN, MARGIN + 22, 0);
  hf_pen_say(s->pen, &under, order, MARGIN, MARGIN + 22 + line, 0);
}

static void
draw_rule(const Sheet *s, double y)
{
  hf_pen_colour(s->pen->cr, HF_RULE, 1);
  cairo_set_line_width(s->pen->cr, 0.75);
  cairo_move_to(s->pen->cr, MARGIN, y);
  cairo_line_to(s->pen->cr, s->scale.w - MARGIN, y);
  cairo_stroke(s->pen->cr);
}

static void
draw_foot(const Sheet *s)
{
  double y = s->scale.h - MARGIN - 20;
  g_autofree char *number = g_strdup_printf("page %u of %u", s->page, s->pages);
  HfPenStyle print = {.size = 8, .width = s->scale.w - 2 * MARGIN - 90};
  HfPenStyle page = {.size = 8, .figures = TRUE};
  guint n;
  const HfCaution *all = hf_cautions(&n);
  g_autofree char *text = g_strdup_printf("%s; %s", HF_SAY_OUTLINES, all[0].text);
  hf_pen_colour(s->pen->cr, HF_SOFT_INK, 1);
  hf_pen_say(s->pen, &print, text, MARGIN, y, 0);
  hf_pen_say(s->pen, &page, number, s->scale.w - MARGIN, y, 1);
}

static void
draw_sign(const Sheet *s)
{
  const HfPen *pen = s->pen;
  double k = HF_POINTS_PER_MM / s->scale.per;
  HfPoint middle = hf_box_centre(s->drawing);
  double half = hf_box_width(s->what->hold->box) * k / 2;
  double x = fmin(middle.x, s->drawing.max.x - sizes_room() - half); /* its height stands right */
  HfView view = hf_view_centred(s->what->hold->box, k, x, middle.y - BAR / 2.0);
  hf_picture_layers(pen->cr, s->what, view, 0.4);
  hf_picture_tips(pen, s->what, view, 0.4, HF_WALL, s->cancel);
  hf_picture_studs(pen, s->what, view, 0.4);
  hf_picture_sizes(pen, s->what, view, SIZE, SIZE_GAP, NULL);
  HfBox room = s->drawing;
  room.max.y -= BAR;
  HfBox kept[HF_SIZES_BOXES];
  hf_picture_sizes_boxes(s->what, view, SIZE, SIZE_GAP, kept);
  hf_picture_marks(pen, s->what, view, room, kept, HF_SIZES_BOXES, MARK, s->cancel);
  hf_scale_bar(pen, s->scale, MARGIN, s->drawing.max.y - 16, 150);
  draw_rule(s, s->drawing.max.y);
}

/* The drawing takes what it needs; the columns have the rest. */
static void
plan(Sheet *s, HfPaper paper, double room)
{
  HfBox box = s->what->hold->box;
  double around_w = 2 * MARGIN + sizes_room();
  double around_h = 2 * MARGIN + HEAD + FOOT + BAR + room + 2 * sizes_room();
  s->scale = hf_scale_choose(paper, box, around_w, around_h);
  double tall = hf_box_height(box) * HF_POINTS_PER_MM / s->scale.per + 2 * sizes_room() + BAR;
  s->drawing = (HfBox){{MARGIN, MARGIN + HEAD}, {s->scale.w - MARGIN, MARGIN + HEAD + tall}};
  s->columns = s->scale.upright ? 2 : 3;
  s->columns_end = s->scale.h - MARGIN - FOOT;
}

static double
column_width(const Sheet *s)
{
  return (s->scale.w - 2 * MARGIN - (s->columns - 1) * GUTTER) / s->columns;
}

static void
begin_page(Sheet *s)
{
  s->page++;
  if (!s->draw)
    return;
  if (s->page > 1)
    cairo_show_page(s->pen->cr);
  draw_head(s);
  if (s->page == 1)
    draw_sign(s);
  draw_foot(s);
}

/* HfFlowFrame: columns from left to right, then the next page. */
static HfBox
next_column(gpointer data, guint frame)
{
  Sheet *s = data;
  guint column = frame % s->columns;
  if (column == 0)
    begin_page(s);
  double x = MARGIN + column * (column_width(s) + GUTTER);
  double top = s->page == 1 ? s->drawing.max.y + 8 : MARGIN + HEAD;
  double bottom = s->page == 1 ? s->columns_end : s->scale.h - MARGIN - 30;
  return (HfBox){{x, top}, {x + column_width(s), fmax(bottom, top)}};
}

/* More than @most (0: all) need not be counted: what is beyond is the dear part. */
static guint
count_pages(Sheet *s, const HfFlow *flow, guint most)
{
  s->page = 0;
  hf_flow_run(flow, next_column, s, FALSE, most * s->columns, s->cancel);
  return s->page;
}

/* Where one page is enough: columns of about equal length, by halving. */
static void
even_out(Sheet *s, const HfFlow *flow)
{
  double low = s->drawing.max.y, high = s->columns_end;
  while (high - low > 2) {
    s->columns_end = (low + high) / 2;
    if (count_pages(s, flow, 1) == 1)
      high = s->columns_end;
    else
      low = s->columns_end;
  }
  s->columns_end = high;
}

static HfFlow *
set_at(Sheet *s, double zoom)
{
  HfFlow *flow = hf_flow_new(s->pen, column_width(s), zoom);
  hf_facts(flow, s->pen, s->what);
  s->pages = count_pages(s, flow, 1);
  return flow;
}

/* One page is handier than two: a little smaller is tried before a second one is taken. */
static HfFlow *
set_text(Sheet *s)
{
  static const double smaller = 0.88;
  g_autoptr(HfFlow) plain = set_at(s, 1);
  if (s->pages == 1)
    return g_steal_pointer(&plain);
  g_autoptr(HfFlow) small = set_at(s, smaller);
  if (s->pages == 1)
    return g_steal_pointer(&small);
  return g_steal_pointer(&plain);
}

/* A second page for a few lines is worse than a sign one usual scale smaller: more height is kept
 * free for the columns under the drawing until all of it stands on one page. */
static HfFlow *
settle(Sheet *s, HfPaper paper)
{
  static const double rooms[] = {116, 190, 270, 350};
  static const double least_share = 2.01; /* of the scale: 1 : 5 may become 1 : 10, no less */
  plan(s, paper, rooms[0]);
  double first = s->scale.per;
  g_autoptr(HfFlow) flow = set_text(s);
  for (guint i = 1; s->pages > 1 && i < G_N_ELEMENTS(rooms); i++) {
    Sheet tried = *s;
    plan(&tried, paper, rooms[i]);
    if (tried.scale.per > first * least_share)
      break;
    g_autoptr(HfFlow) other = set_text(&tried);
    if (tried.pages > 1)
      continue;
    *s = tried;
    return g_steal_pointer(&other);
  }
  return g_steal_pointer(&flow);
}

static void
draw_sheets(Sheet *s, const HfFlow *flow)
{
  if (s->pages == 1)
    even_out(s, flow);
  else
    s->pages = count_pages(s, flow, 0);
  s->page = 0;
  s->draw = TRUE;
  hf_flow_run(flow, next_column, s, TRUE, 0, s->cancel);
}

GBytes *
hf_out_sheet(const HfSign *what, HfPaper paper, const HfCancel *cancel, GError **error)
{
  g_return_val_if_fail(what != NULL, NULL);
  g_auto(HfDocument) document = {NULL};
  g_autofree char *title = g_strconcat(hf_paper_name(what->recipe), ", shop sheet", NULL);
  if (!hf_document_begin(&document, title, error))
    return NULL;
  Sheet sheet = {.what = what, .pen = &document.pen, .cancel = cancel};
  g_autoptr(HfFlow) flow = settle(&sheet, paper);
  if (!hf_cancel_check(cancel, error))
    return NULL;
  cairo_pdf_surface_set_size(document.surface, sheet.scale.w, sheet.scale.h);
  draw_sheets(&sheet, flow);
  if (!hf_cancel_check(cancel, error))
    return NULL;
  return hf_document_end(&document, "shop-sheet.pdf", error);
}

static GBytes *
write_sheet(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  return hf_out_sheet(making->sign, making->paper, making->cancel, error);
}

HF_FORMATS(sheet, {.about = HF_ABOUT_SHEET,
                   .ending = ".pdf",
                   .type = "application/pdf",
                   .says = "for the bench: findings close up, holes, limits, figures",
                   .write = write_sheet});

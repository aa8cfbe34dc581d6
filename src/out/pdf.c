/* SPDX-License-Identifier: GPL-3.0-or-later
 * pdf.c - proof.pdf: the page that the customer looks at, checks and signs.
 *
 *   +------------------------------------+
 *   | [mark] Quay Ironworks      proof 3 |   head: the shop; which paper, for whom
 *   |        2 Ropewalk        for ...   |
 *   | Boat yard                          |
 *   | +--------------------------------+ |   picture: as it will hang, with finish and wall, and
 *   | |  []   Saltmarsh Boats          | |   something of known size; it takes all the height that
 *   | +--------------------------------+ |   the words leave
 *   | words     | the sign   | delivered |   columns
 *   | agreed: name ______ date ______    |   no line to sign on where there is a stop
 *   | 3f9a-71c2-04de-88b1   3f9a71c2...  |   what is agreed, in one number
 *   +------------------------------------+
 *
 * All measures are points.
 */
#include "out/format.h"
#include "out/known-size-private.h"
#include "out/look-private.h"
#include "out/shade-private.h"
#include "out/sheet-private.h"
#include "stock/cautions.h"
#include <cairo-pdf.h>

enum {
  MARGIN = 30,
  MARK_HIGH = 40,
  MARK_WIDE = 120,
  TITLE = 25,
  SIZE = 9,
  SIZE_GAP = 14,
  PAD = 16,
  GUTTER = 22,
  SIGNING = 30,
  PRINT = 36, /* of the foot below the line to sign on */
  BADGE = 8,
};
static const double most_words = 0.46; /* of the page's height, on the first page */
static const double goal_words = 0.34; /* smaller letters are tried until they take no more */
static const double zooms[] = {1, 0.92, 0.84};
static const double shadow = 0.5; /* size of a fine line for the shadow */

typedef struct {
  const HfSign *what;
  HfPen *pen;
  HfPaper paper;
  double w, h; /* of the page as it is read */
  guint columns;
  double columns_top, columns_end; /* of the first page */
  HfBox frame;                     /* of the picture */
  HfKnownScene scene;
  guint page, pages;
  gboolean draw;
  char *digest;
  const HfCancel *cancel;
} Page;

/* ---- head ---------------------------------------------------------------------------------- */

/* A PNG on its way into cairo. */
typedef struct {
  const guchar *at;
  gsize left;
} Bytes;

static cairo_status_t
give_bytes(void *closure, unsigned char *to, unsigned int n)
{
  Bytes *bytes = closure;
  if (n > bytes->left)
    return CAIRO_STATUS_READ_ERROR;
  memcpy(to, bytes->at, n);
  bytes->at += n;
  bytes->left -= n;
  return CAIRO_STATUS_SUCCESS;
}

/* The shop's mark with its upper left at @x, @y. Returns: how wide it became; 0: there is none. */
static double
draw_mark(const Page *p, double x, double y)
{
  const HfShop *shop = p->what->shop;
  if (shop == NULL || shop->mark_png == NULL)
    return 0;
  Bytes bytes = {NULL, 0};
  bytes.at = g_bytes_get_data(shop->mark_png, &bytes.left);
  HF_AUTO_SURFACE image = cairo_image_surface_create_from_png_stream(give_bytes, &bytes);
  if (cairo_surface_status(image) != CAIRO_STATUS_SUCCESS)
    return 0;
  double w = cairo_image_surface_get_width(image), h = cairo_image_surface_get_height(image);
  double scale = fmin(MARK_WIDE / w, MARK_HIGH / h);
  if (!p->draw)
    return w * scale;
  cairo_save(p->pen->cr);
  cairo_translate(p->pen->cr, x, y);
  cairo_scale(p->pen->cr, scale, scale);
  cairo_set_source_surface(p->pen->cr, image, 0, 0);
  cairo_paint(p->pen->cr);
  cairo_restore(p->pen->cr);
  return w * scale;
}

/* One line of text; only measured where nothing is drawn. Returns: its height. */
static double
say(const Page *p, const HfPenStyle *style, guint colour, const char *text, double x, double y,
    double anchor)
{
  g_autoptr(PangoLayout) layout = hf_pen_text(p->pen, style, text);
  if (p->draw) {
    hf_pen_colour(p->pen->cr, colour, 1);
    hf_pen_draw(p->pen, layout, x - anchor * hf_pen_width(layout), y);
  }
  return hf_pen_height(layout);
}

/* Its lines one behind another. */
static char *
address_text(const HfShop *shop)
{
  GString *text = g_string_new(NULL);
  for (guint i = 0; shop->address != NULL && i < shop->address->len; i++)
    g_string_append_printf(text, "%s%s", i > 0 ? "  \302\267  " : "",
                           (const char *)g_ptr_array_index(shop->address, i));
  return g_string_free(text, FALSE);
}

/* Name and address, the mark before them. Returns: the height that they take. */
static double
draw_shop(const Page *p)
{
  const HfShop *shop = p->what->shop;
  if (shop == NULL || (shop->name == NULL && shop->mark_png == NULL))
    return 0;
  double mark = draw_mark(p, MARGIN, MARGIN), x = MARGIN + (mark > 0 ? mark + 10 : 0);
  double y = MARGIN - 3, width = p->w * 0.6 - x;
  HfPenStyle name = {.size = 13, .bold = TRUE, .one_line = TRUE, .width = width};
  HfPenStyle line = {.size = 8.5, .lines = 2, .width = width};
  g_autofree char *address = address_text(shop);
  if (shop->name != NULL)
    y += say(p, &name, HF_INK, shop->name, x, y, 0);
  y += say(p, &line, HF_SOFT_INK, address, x, y, 0);
  return fmax(y - MARGIN, mark > 0 ? MARK_HIGH : 0) + 10;
}

/* Which paper, for whom, at the right. */
static double
draw_which(const Page *p)
{
  g_autofree char *proof = hf_paper_proof(p->what->recipe);
  g_autofree char *order = hf_paper_order(p->what->recipe);
  double right = p->w - MARGIN, y = MARGIN - 2;
  HfPenStyle strong = {.size = 12, .bold = TRUE, .one_line = TRUE, .width = p->w * 0.36};
  HfPenStyle under = {.size = 9, .one_line = TRUE, .width = p->w * 0.36};
  if (proof != NULL)
    y += say(p, &strong, HF_INK, proof, right, y, 1);
  if (order[0] != '\0')
    y += say(p, &under, HF_SOFT_INK, order, right, y, 1);
  return y - MARGIN;
}

/* Returns: where the head ends. */
static double
draw_head(const Page *p)
{
  double shop = draw_shop(p), which = draw_which(p);
  double y = MARGIN - 8 + (shop > 0 ? fmax(shop, which) : 0);
  double room = p->w * (shop > 0 ? 1 : 0.6) - 2 * MARGIN;
  HfPenStyle title = {.size = TITLE, .bold = TRUE, .one_line = TRUE, .width = room};
  y += say(p, &title, HF_INK, hf_paper_name(p->what->recipe), MARGIN, y, 0);
  return fmax(y, MARGIN + which) + 5;
}

/* ---- foot ---------------------------------------------------------------------------------- */

static void
draw_rule(const Page *p, double y)
{
  hf_pen_colour(p->pen->cr, HF_RULE, 1);
  cairo_set_line_width(p->pen->cr, 0.75);
  cairo_move_to(p->pen->cr, MARGIN, y);
  cairo_line_to(p->pen->cr, p->w - MARGIN, y);
  cairo_stroke(p->pen->cr);
}

/* A word, and a line to write on. Returns where the next may begin. */
static double
draw_blank(const Page *p, const char *word, double x, double y, double length)
{
  HfPenStyle style = {.size = 10};
  g_autoptr(PangoLayout) layout = hf_pen_text(p->pen, &style, word);
  hf_pen_colour(p->pen->cr, HF_INK, 1);
  hf_pen_draw(p->pen, layout, x, y);
  double from = x + hf_pen_width(layout) + 5, base = y + hf_pen_baseline(layout) + 1.5;
  cairo_set_line_width(p->pen->cr, 0.6);
  cairo_move_to(p->pen->cr, from, base);
  cairo_line_to(p->pen->cr, from + length, base);
  cairo_stroke(p->pen->cr);
  return from + length + 12;
}

/* What is not whole is not for signing. */
static void
draw_refusal(const Page *p, double y)
{
  guint stops = hf_say_tally(p->what->hold).stops;
  g_autofree char *text =
      g_strdup_printf("Not for signing: it must not be cut as drawn. %u thing%s must be put right "
                      "first.",
                      stops, stops == 1 ? "" : "s");
  HfPenStyle style = {.size = 11, .bold = TRUE, .width = p->w - 2 * MARGIN};
  say(p, &style, HF_HOT, text, MARGIN, y, 0);
}

static void
draw_signing(const Page *p, double y)
{
  if (!p->what->hold->whole) {
    draw_refusal(p, y);
    return;
  }
  double room = p->w - 2 * MARGIN, x = MARGIN;
  HfPenStyle style = {.size = 10, .bold = TRUE};
  g_autoptr(PangoLayout) layout = hf_pen_text(p->pen, &style, "agreed as drawn:");
  hf_pen_colour(p->pen->cr, HF_INK, 1);
  hf_pen_draw(p->pen, layout, x, y);
  x += hf_pen_width(layout) + 10;
  double line = (MARGIN + room - x - 90) / 3;
  x = draw_blank(p, "name", x, y, line);
  x = draw_blank(p, "signed", x, y, line);
  draw_blank(p, "date", x, y, MARGIN + room - x - 27);
}

/* Held against what was signed before. */
static void
draw_agreed(const Page *p, double right, double y)
{
  const HfRecipe *recipe = p->what->recipe;
  if (recipe->agreed.digest == NULL || recipe->agreed.proof == NULL)
    return;
  gboolean same = hf_hold_is_agreed(recipe, p->digest);
  g_autofree char *text = g_strdup_printf(
      same ? "the same as agreed on proof %s%s%s" : "This is not what was agreed on proof %s%s%s",
      recipe->agreed.proof, recipe->agreed.revision != NULL ? ", revision " : "",
      recipe->agreed.revision != NULL ? recipe->agreed.revision : "");
  HfPenStyle style = {.size = 10, .bold = !same, .one_line = TRUE, .width = p->w * 0.5};
  say(p, &style, same ? HF_SOFT_INK : HF_HOT, text, right, y, 1);
}

static void
draw_print(const Page *p, double y)
{
  guint n;
  const HfCaution *all = hf_cautions(&n);
  double right = p->w - MARGIN;
  g_autofree char *digits = hf_paper_digest(p->digest);
  g_autofree char *whole = g_strdup_printf("in full %s", p->digest);
  HfPenStyle strong = {.size = 10, .bold = TRUE, .figures = TRUE};
  HfPenStyle fine = {.size = 6.5, .figures = TRUE};
  HfPenStyle print = {.size = 7.5, .width = p->w - 2 * MARGIN - 60};
  g_autoptr(PangoLayout) layout = hf_pen_text(p->pen, &strong, digits);
  hf_pen_colour(p->pen->cr, HF_INK, 1);
  hf_pen_draw(p->pen, layout, MARGIN, y);
  say(p, &fine, HF_SOFT_INK, whole, MARGIN + hf_pen_width(layout) + 8, y + 3.6, 0);
  draw_agreed(p, right, y);
  say(p, &print, HF_SOFT_INK, all[0].text, MARGIN, y + 15, 0);
  if (p->pages > 1) {
    g_autofree char *number = g_strdup_printf("page %u of %u", p->page, p->pages);
    say(p, &print, HF_SOFT_INK, number, right, y + 15, 1);
  }
}

static double
foot_top(const Page *p)
{
  return p->h - MARGIN - PRINT - SIGNING + 8;
}

static void
draw_foot(const Page *p)
{
  double y = foot_top(p);
  if (p->page == 1) {
    draw_rule(p, y);
    draw_signing(p, y + 10);
  }
  draw_print(p, p->h - MARGIN - PRINT + 10);
}

/* ---- picture ------------------------------------------------------------------------------- */

/* Thickness shows as a dark edge below and a light one above. */
static void
draw_metal(const Page *p, const HfSign *what, HfView view)
{
  cairo_t *cr = p->pen->cr;
  HfSurface surface = hf_finish_surface(&what->recipe->finish, what->hold->process.metal);
  double t = fmin(fmax(what->hold->process.thickness * view.scale, 0.7), 3);
  HfView below = {view.scale, view.x + 0.22 * t, view.y + 0.4 * t};
  HfView above = {view.scale, view.x - 0.1 * t, view.y - 0.16 * t};
  hf_picture_path(cr, what, below);
  hf_pen_colour(cr, surface.dark, 1);
  cairo_fill(cr);
  hf_picture_path(cr, what, above);
  hf_pen_colour(cr, hf_colour_mix(surface.tones[0], surface.light, 0.5), 1);
  cairo_fill(cr);
  cairo_save(cr);
  hf_picture_path(cr, what, view);
  cairo_clip(cr);
  hf_look_face(cr, &surface, hf_view_box(view, what->hold->box), 0.45);
  cairo_restore(cr);
}

static void
draw_picture(const Page *p)
{
  const HfSign *what = p->what;
  const HfWall *wall = &what->recipe->wall;
  HfView view = p->scene.view;
  cairo_save(p->pen->cr);
  cairo_rectangle(p->pen->cr, p->frame.min.x, p->frame.min.y, hf_box_width(p->frame),
                  hf_box_height(p->frame));
  cairo_clip(p->pen->cr);
  hf_look_wall(p->pen->cr, wall, p->frame, view.scale);
  hf_known_draw(p->pen, &p->scene, wall);
  if (!hf_box_is_empty(what->hold->box)) {
    for (guint i = hf_sign_n_layers(what); i-- > 0;) {
      hf_shade_shadow(p->pen->cr, hf_sign_layer(what, i), view, p->frame, shadow, 1);
      draw_metal(p, hf_sign_layer(what, i), view);
    }
    hf_picture_tips(p->pen, what, view, 0.4, hf_wall_tone(wall), p->cancel);
    hf_picture_sizes(p->pen, what, view, SIZE, SIZE_GAP, wall);
  }
  HfBox kept[HF_SIZES_BOXES];
  hf_picture_sizes_boxes(what, view, SIZE, SIZE_GAP, kept);
  if (!what->hold->whole)
    hf_picture_marks(p->pen, what, view, p->frame, kept, HF_SIZES_BOXES, BADGE, p->cancel);
  cairo_restore(p->pen->cr);
}

/* ---- the page ------------------------------------------------------------------------------ */

static double
column_width(const Page *p)
{
  return (p->w - 2 * MARGIN - (p->columns - 1) * GUTTER) / p->columns;
}

static void
begin_page(Page *p)
{
  p->page++;
  if (!p->draw)
    return;
  if (p->page > 1)
    cairo_show_page(p->pen->cr);
  draw_head(p);
  if (p->page == 1)
    draw_picture(p);
  draw_foot(p);
}

/* HfFlowFrame: columns from left to right, then the next page. */
static HfBox
next_column(gpointer data, guint frame)
{
  Page *p = data;
  guint column = frame % p->columns;
  if (column == 0)
    begin_page(p);
  double x = MARGIN + column * (column_width(p) + GUTTER);
  double top = p->page == 1 ? p->columns_top : MARGIN + 70;
  double bottom = p->page == 1 ? p->columns_end : p->h - MARGIN - PRINT;
  return (HfBox){{x, top}, {x + column_width(p), fmax(bottom, top)}};
}

static guint
count_pages(Page *p, const HfFlow *flow, guint most)
{
  p->page = 0;
  p->draw = FALSE;
  hf_flow_run(flow, next_column, p, FALSE, most * p->columns, p->cancel);
  return p->page;
}

/* The least height of columns that hold @flow, or more than @most. */
static double
height_of(Page *p, const HfFlow *flow, double most)
{
  double low = 0, high = most;
  p->columns_top = 0;
  p->columns_end = most;
  if (count_pages(p, flow, 1) > 1)
    return most + 1;
  while (high - low > 1.5) {
    p->columns_end = (low + high) / 2;
    if (count_pages(p, flow, 1) == 1)
      high = p->columns_end;
    else
      low = p->columns_end;
  }
  return high;
}

static HfFlow *
words_at(const Page *p, double zoom, const HfKnown *beside)
{
  HfFlow *flow = hf_flow_new(p->pen, column_width(p), zoom);
  hf_customer_facts(flow, p->pen, p->what, beside);
  return flow;
}

/* Places the picture over words of @height. What stands beside the sign depends on the room. */
static void
place_picture(Page *p, double height)
{
  p->draw = FALSE;
  double top = draw_head(p), bottom = foot_top(p) - 8 - height;
  p->columns_top = bottom;
  p->columns_end = bottom + height;
  p->frame = (HfBox){{MARGIN, top}, {p->w - MARGIN, bottom - 12}};
  double sizes = hf_picture_sizes_room(SIZE, SIZE_GAP) + PAD;
  HfBox room = {{p->frame.min.x + PAD, p->frame.min.y + sizes},
                {p->frame.max.x - sizes, p->frame.max.y - sizes}};
  p->scene = hf_known_scene(p->what->hold->box, room);
}

/* Picture over words, which say what stands beside the sign; whether anything does hangs on the
 * room that they leave. */
static HfFlow *
settle(Page *p, double zoom, double height)
{
  static const double step = 5;
  for (;; height += step) {
    place_picture(p, height);
    g_autoptr(HfFlow) flow = words_at(p, zoom, p->scene.known);
    if (height >= most_words * p->h || count_pages(p, flow, 1) == 1)
      return g_steal_pointer(&flow);
  }
}

/* Words as large as leaves the picture its share. Returns: (transfer full) the flow. */
static HfFlow *
lay_out(Page *p)
{
  for (guint i = 0;; i++) {
    gboolean last = i + 1 == G_N_ELEMENTS(zooms);
    g_autoptr(HfFlow) flow = words_at(p, zooms[i], NULL);
    double height = height_of(p, flow, most_words * p->h);
    if (last || height <= goal_words * p->h)
      return settle(p, zooms[i], fmin(height, most_words * p->h));
  }
}

static void
turn(Page *p, gboolean upright)
{
  HfPoint page = hf_paper_page(p->paper);
  p->w = upright ? page.x : page.y;
  p->h = upright ? page.y : page.x;
  p->columns = upright ? 2 : 3;
}

/* How large the sign is drawn; a little smaller is better than nothing beside it. */
static double
worth(const Page *p)
{
  return p->scene.view.scale * (p->scene.known != NULL ? 1 : 0.76);
}

/* Upright or on its side: where the sign is larger. */
static HfFlow *
choose(Page *p)
{
  Page aside = *p;
  turn(p, TRUE);
  turn(&aside, FALSE);
  g_autoptr(HfFlow) flow = lay_out(p);
  g_autoptr(HfFlow) other = lay_out(&aside);
  if (worth(p) >= worth(&aside))
    return g_steal_pointer(&flow);
  *p = aside;
  return g_steal_pointer(&other);
}

static void
page_clear(Page *p)
{
  g_free(p->digest);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Page, page_clear)

GBytes *
hf_out_pdf(const HfSign *what, HfPaper paper, const HfCancel *cancel, GError **error)
{
  g_return_val_if_fail(what != NULL, NULL);
  g_auto(HfDocument) document = {NULL};
  g_autofree char *title = g_strconcat(hf_paper_name(what->recipe), ", proof", NULL);
  if (!hf_document_begin(&document, title, error))
    return NULL;
  g_auto(Page) page = {.what = what, .pen = &document.pen, .paper = paper, .cancel = cancel};
  page.digest = hf_sign_digest(what);
  g_autoptr(HfFlow) flow = choose(&page);
  if (!hf_cancel_check(cancel, error))
    return NULL;
  cairo_pdf_surface_set_size(document.surface, page.w, page.h);
  page.pages = count_pages(&page, flow, 0);
  page.page = 0;
  page.draw = TRUE;
  hf_flow_run(flow, next_column, &page, TRUE, 0, cancel);
  if (!hf_cancel_check(cancel, error))
    return NULL;
  return hf_document_end(&document, "proof.pdf", error);
}

static GBytes *
write_pdf(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  return hf_out_pdf(making->sign, making->paper, making->cancel, error);
}

HF_FORMATS(pdf, {.about = HF_ABOUT_PROOF,
                 .ending = ".pdf",
                 .type = "application/pdf",
                 .says = "the page that the customer checks and signs",
                 .write = write_pdf});

/* SPDX-License-Identifier: GPL-3.0-or-later
 * png.c - proof.png: the picture that the customer agrees to.
 *
 *   +--------------------------------+
 *   | Boat yard          [not whole] |   head
 *   | 3 mm mild steel, 1200 x 240 mm |
 *   | +----------------------------+ |
 *   | |  the sign, on a wall     (1)| |   wall: metal in a light from the upper left, its sizes,
 *   | |                            | |   rings at the findings
 *   | +----------------------------+ |
 *   | verdict in a sentence          |   foot
 *   | (1) finding ...                |
 *   | small print                    |
 *   +--------------------------------+
 *
 * The longer side is as asked; the other one follows from the sign. All measures are in `u`, a
 * 1600th of the longer side.
 */
#include "base/text.h"
#include "out/format.h"
#include "out/look-private.h"
#include "out/picture-private.h"
#include "out/shade-private.h"
#include "stock/cautions.h"

enum {
  MARGIN = 48,
  HEAD = 138,
  WALL_PAD = 56,
  LOWEST_WALL = 330,
  TITLE = 50,
  LINE = 25,
  SMALL = 17,
  FIGURE = 22,
  TIP_LINE = 2,
  SIZE_GAP = 40,
  MARK = 19,
  MOST_FINDINGS = 6,
  MOST_LINES = 3, /* of one finding */
};
static const double narrowest = 0.62; /* share of the longer side */
static const double tallest_foot = 0.5;
static const double large_enough = 0.92;

typedef struct {
  const HfSign *what;
  HfPen *pen;
  double u, w, h; /* pixels */
  double foot;    /* height of the foot */
  guint findings; /* how many it shows */
  HfBox wall;     /* page units */
  HfView view;
} Sheet;

/* Draws (or only measures) one text at the sheet's left margin + @indent. */
static double
say(const Sheet *s, gboolean draw, const HfPenStyle *style, guint colour, const char *text,
    double indent, double y)
{
  HfPenStyle fitted = *style;
  fitted.width = s->w - 2 * MARGIN * s->u - indent;
  g_autoptr(PangoLayout) layout = hf_pen_text(s->pen, &fitted, text);
  if (draw) {
    hf_pen_colour(s->pen->cr, colour, 1);
    hf_pen_draw(s->pen, layout, MARGIN * s->u + indent, y);
  }
  return hf_pen_height(layout);
}

static double
foot_finding(const Sheet *s, gboolean draw, guint i, double y)
{
  const HfFinding *finding = g_ptr_array_index(s->what->hold->findings, i);
  HfPenStyle style = {.size = LINE * 0.9 * s->u, .lines = MOST_LINES};
  g_autofree char *text = hf_say_finding(finding);
  double indent = 2.4 * MARK * s->u;
  double h = say(s, draw, &style, HF_INK, text, indent, y);
  if (draw)
    hf_picture_badge(s->pen, finding, i + 1,
                     hf_point(MARGIN * s->u + MARK * s->u, y + style.size * 0.75), MARK * s->u);
  return h + 6 * s->u;
}

/* Notes are for the maker; the paper and the report have them. Findings come gravest first. */
static guint
count_shown(const HfHold *hold)
{
  HfTally tally = hf_say_tally(hold);
  return tally.stops + tally.cautions + tally.accepted;
}

static double
foot_findings(const Sheet *s, gboolean draw, double y)
{
  guint n = count_shown(s->what->hold);
  double top = y;
  for (guint i = 0; i < n && i < s->findings; i++)
    y += foot_finding(s, draw, i, y);
  if (n > s->findings) {
    g_autofree char *more =
        g_strdup_printf("and %u more, all in proof.pdf and report.json", n - s->findings);
    HfPenStyle style = {.size = LINE * 0.9 * s->u, .italic = TRUE};
    y += say(s, draw, &style, HF_SOFT_INK, more, 2.4 * MARK * s->u, y);
  }
  return y - top;
}

/* What the picture is, and the cautions for whoever will own the sign. */
static char *
small_print(const HfSign *what)
{
  guint n;
  const HfCaution *all = hf_cautions(&n);
  GString *text = g_string_new(HF_SAY_PICTURE);
  for (guint i = 0; i < n; i++)
    if (all[i].carried_by & HF_CARRY_PROOF && hf_say_caution(what, &all[i]))
      g_string_append_printf(text, " \302\267 %s", all[i].text);
  return g_string_free(text, FALSE);
}

static double
foot(const Sheet *s, gboolean draw, double y)
{
  double top = y;
  g_autofree char *sentence = hf_say_sentence(s->what->hold);
  g_autofree char *small = small_print(s->what);
  HfPenStyle strong = {.size = LINE * 1.12 * s->u, .bold = TRUE};
  HfPenStyle print = {.size = SMALL * s->u};
  y += 22 * s->u;
  y += say(s, draw, &strong, HF_INK, sentence, 0, y) + 10 * s->u;
  y += foot_findings(s, draw, y);
  y += 12 * s->u;
  y += say(s, draw, &print, HF_SOFT_INK, small, 0, y);
  return y - top + 30 * s->u;
}

static void
head(const Sheet *s)
{
  const HfHold *hold = s->what->hold;
  const char *name = s->what->recipe->sign != NULL ? s->what->recipe->sign : s->what->recipe->name;
  double left = MARGIN * s->u, right = s->w - MARGIN * s->u;
  double stamp =
      hf_pen_stamp(s->pen, hf_say_verdict(hold), !hold->whole, right, 40 * s->u, 30 * s->u);
  HfPenStyle title = {.size = TITLE * s->u,
                      .bold = TRUE,
                      .one_line = TRUE,
                      .width = right - left - stamp - 30 * s->u};
  g_autofree char *metal = hf_say_metal(s->what);
  g_autofree char *size = hf_say_size(hold);
  g_autofree char *weight = hf_text_grams(hold->mass);
  g_autofree char *finish = hf_say_finish(s->what);
  g_autofree char *line = g_strjoin("  \302\267  ", metal, size, weight, finish, NULL);
  HfPenStyle plain = {.size = LINE * s->u, .one_line = TRUE, .width = right - left};
  hf_pen_colour(s->pen->cr, HF_INK, 1);
  hf_pen_say(s->pen, &title, name != NULL ? name : "", left, 24 * s->u, 0);
  hf_pen_colour(s->pen->cr, HF_SOFT_INK, 1);
  hf_pen_say(s->pen, &plain, line, left, 90 * s->u, 0);
}

/* Room on the wall round the metal: above, to the right and below stand its sizes. */
static double
room_of(const Sheet *s)
{
  return WALL_PAD * s->u + hf_picture_sizes_room(FIGURE * s->u, SIZE_GAP * s->u);
}

/* The scales at which the sign's width and its height fit, on a sheet of width @w and full height
 * whose foot takes @area / w. */
static void
scales_at(const Sheet *s, double w, double longer, double area, double *ret_across, double *ret_up)
{
  HfBox box = s->what->hold->box;
  double room = 2 * room_of(s), h = longer - HEAD * s->u - area / w;
  *ret_across = fmax((w - 2 * MARGIN * s->u - room) / fmax(hf_box_width(box), 1e-3), 1e-6);
  *ret_up = fmax((h - room) / fmax(hf_box_height(box), 1e-3), 1e-6);
}

/* A sign that is limited by the width takes all of it. For another one a wider sheet has a lower
 * foot, so it grows with the width, ever more slowly: the narrowest sheet is taken on which it is
 * nearly as large as it could be. */
static double
choose_width(const Sheet *s, double longer, double area)
{
  double across, up, best, w = longer;
  scales_at(s, longer, longer, area, &across, &best);
  if (across <= best)
    return longer;
  for (w = ceil(narrowest * longer); w < longer; w += ceil(longer / 64)) {
    scales_at(s, w, longer, area, &across, &up);
    if (fmin(across, up) >= large_enough * best)
      return w;
  }
  return longer;
}

static void
shorten_foot(Sheet *s, double longer)
{
  while (s->findings > 0 && foot(s, FALSE, 0) > tallest_foot * longer)
    s->findings--;
  s->foot = foot(s, FALSE, 0);
}

static void
plan(Sheet *s, double longer)
{
  double bh = hf_box_height(s->what->hold->box);
  s->u = longer / 1600;
  s->w = longer;
  s->findings = MOST_FINDINGS;
  double area = foot(s, FALSE, 0) * longer; /* the foot's height goes about as 1 over its width */
  s->w = choose_width(s, longer, area);
  shorten_foot(s, longer);
  double across, up;
  scales_at(s, s->w, longer, s->foot * s->w, &across, &up);
  double scale = fmin(across, up);
  double wall = fmax(scale * bh + 2 * room_of(s), LOWEST_WALL * s->u);
  double rest = longer - HEAD * s->u - s->foot;
  if (s->w < longer || wall > rest)
    wall = rest;
  s->h = ceil(HEAD * s->u + wall + s->foot);
  s->wall = (HfBox){{MARGIN * s->u, HEAD * s->u}, {s->w - MARGIN * s->u, HEAD * s->u + wall}};
  HfPoint middle = hf_box_centre(s->wall);
  s->view = hf_view_centred(s->what->hold->box, scale, middle.x, middle.y);
}

static gboolean
draw_wall(const Sheet *s, const HfCancel *cancel, GError **error)
{
  cairo_t *cr = s->pen->cr;
  hf_pen_colour(cr, HF_PAPER_TONE, 1);
  cairo_paint(cr);
  hf_look_wall(cr, &s->what->recipe->wall, s->wall, s->view.scale);
  if (!hf_shade_layers(cr, s->what, s->view, s->wall, s->u, cancel, error))
    return FALSE;
  hf_picture_hidden(cr, s->what, s->view, TIP_LINE * s->u);
  hf_picture_tips(s->pen, s->what, s->view, TIP_LINE * s->u, hf_wall_tone(&s->what->recipe->wall),
                  cancel);
  if (!hf_cancel_check(cancel, error))
    return FALSE;
  hf_picture_studs(s->pen, s->what, s->view, TIP_LINE * s->u);
  hf_picture_sizes(s->pen, s->what, s->view, FIGURE * s->u, SIZE_GAP * s->u,
                   &s->what->recipe->wall);
  HfBox kept[HF_SIZES_BOXES];
  hf_picture_sizes_boxes(s->what, s->view, FIGURE * s->u, SIZE_GAP * s->u, kept);
  hf_picture_marks(s->pen, s->what, s->view, s->wall, kept, HF_SIZES_BOXES, MARK * s->u, cancel);
  return hf_cancel_check(cancel, error);
}

GBytes *
hf_out_png(const HfSign *what, guint pixels, const HfCancel *cancel, GError **error)
{
  g_return_val_if_fail(what != NULL && pixels >= 200 && pixels <= 8000, NULL);
  HF_AUTO_SURFACE scratch = cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1);
  HF_AUTO_CAIRO measure = cairo_create(scratch);
  g_auto(HfPen) pen = {0};
  hf_pen_init(&pen, measure, FALSE);
  if (!hf_pen_can_write(&pen, error))
    return NULL;
  Sheet sheet = {.what = what, .pen = &pen};
  plan(&sheet, pixels);
  HF_AUTO_SURFACE surface =
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)sheet.w, (int)sheet.h);
  HF_AUTO_CAIRO cr = cairo_create(surface);
  pen.cr = cr;
  if (!draw_wall(&sheet, cancel, error))
    return NULL;
  head(&sheet);
  foot(&sheet, TRUE, sheet.wall.max.y);
  g_autofree char *small = small_print(what);
  hf_pen_clear(&pen);
  return hf_shade_encode(surface, what->recipe->sign, small, cancel, error);
}

static GBytes *
write_png(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  return hf_out_png(making->sign, making->pixels, making->cancel, error);
}

HF_FORMATS(png, {.about = HF_ABOUT_PROOF,
                 .ending = ".png",
                 .type = "image/png",
                 .says = "the picture that the customer agrees to",
                 .picture = TRUE,
                 .slow = TRUE,
                 .write = write_png});

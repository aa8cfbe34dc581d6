/* SPDX-License-Identifier: GPL-3.0-or-later
 * samples.c - the picture sheet of `holdfast fonts`: a row for each face, its name and a sample
 * drawn from the very outlines that would be cut.
 *
 *   +------------------------------+
 *   | heading                      |
 *   | Bebas Neue Bold              |   name, small
 *   | SALTMARSH QUAY               |   sample: capitals of one height, narrower if it is long
 *   | ---------------------------- |
 */
#include "out/pen-private.h"
#include "out/shade-private.h"

/* In a 1600th of the width. */
enum { MARGIN = 48, HEADING = 34, NAME = 21, ABOVE = 18, CAPITALS = 72, BELOW = 26, ROOM = 40 };

typedef struct {
  HfPen *pen;
  double u, width;
} Sheet;

static void
draw_outline(cairo_t *cr, const HfOutline *outline)
{
  for (guint c = 0; c < hf_outline_n_contours(outline); c++) {
    guint n = 0;
    const HfCurve *curves = hf_outline_contour(outline, c, &n);
    cairo_move_to(cr, curves[0].p0.x, curves[0].p0.y);
    for (guint i = 0; i < n; i++) {
      const HfCurve *k = &curves[i];
      if (k->kind == HF_CURVE_CUBIC)
        cairo_curve_to(cr, k->c0.x, k->c0.y, k->c1.x, k->c1.y, k->p1.x, k->p1.y);
      else /* fonts have no arcs */
        cairo_line_to(cr, k->p1.x, k->p1.y);
    }
    cairo_close_path(cr);
  }
}

/* Pixels to the em: the capitals of one height, but never wider than the sheet nor taller than a
 * row and a half. */
static double
scale_of(const Sheet *s, const HfLine *line)
{
  double scale = CAPITALS * s->u / fmax(line->cap_height, 1e-3);
  scale = fmin(scale, (s->width - 2 * MARGIN * s->u) / fmax(hf_box_width(line->ink), 1e-3));
  return fmin(scale, 1.5 * CAPITALS * s->u / fmax(hf_box_height(line->ink), 1e-3));
}

static double
height_of_line(const Sheet *s, const HfSample *sample)
{
  if (sample->line == NULL)
    return NAME * 1.4 * s->u;
  return fmax(CAPITALS * s->u, scale_of(s, sample->line) * hf_box_height(sample->line->ink));
}

static void
draw_line(const Sheet *s, const HfLine *line, double y)
{
  cairo_t *cr = s->pen->cr;
  double scale = scale_of(s, line);
  cairo_save(cr);
  cairo_translate(cr, MARGIN * s->u - scale * line->ink.min.x, y + scale * line->ink.max.y);
  cairo_scale(cr, scale, -scale);
  cairo_set_fill_rule(cr, CAIRO_FILL_RULE_WINDING);
  hf_pen_colour(cr, HF_STEEL, 1);
  for (guint i = 0; i < line->glyphs->len; i++) {
    const HfGlyph *glyph = &g_array_index(line->glyphs, HfGlyph, i);
    cairo_save(cr);
    cairo_translate(cr, glyph->at.x, glyph->at.y);
    draw_outline(cr, glyph->outline);
    cairo_restore(cr);
    cairo_fill(cr);
  }
  cairo_restore(cr);
}

/* Draws one row at @y, or only measures it. Returns: its height */
static double
row(const Sheet *s, gboolean draw, const HfSample *sample, double y)
{
  double line_height = height_of_line(s, sample), name_height = NAME * 1.4 * s->u;
  double below = y + ABOVE * s->u + name_height;
  double height = ABOVE * s->u + name_height + line_height + BELOW * s->u;
  if (!draw)
    return height;
  HfPenStyle style = {.size = NAME * s->u, .width = s->width - 2 * MARGIN * s->u, .one_line = TRUE};
  hf_pen_colour(s->pen->cr, HF_SOFT_INK, 1);
  hf_pen_say(s->pen, &style, sample->name, MARGIN * s->u, y + ABOVE * s->u, 0);
  style.italic = TRUE;
  if (sample->line != NULL)
    draw_line(s, sample->line, below);
  else
    hf_pen_say(s->pen, &style, sample->why != NULL ? sample->why : "", MARGIN * s->u, below, 0);
  hf_pen_colour(s->pen->cr, HF_RULE, 1);
  cairo_rectangle(s->pen->cr, MARGIN * s->u, y + height - s->u, s->width - 2 * MARGIN * s->u,
                  fmax(1, s->u));
  cairo_fill(s->pen->cr);
  return height;
}

static double
sheet(const Sheet *s, gboolean draw, const char *heading, const HfSample *samples, guint n)
{
  double y = ROOM * s->u;
  HfPenStyle style = {.size = HEADING * s->u,
                      .bold = TRUE,
                      .width = s->width - 2 * MARGIN * s->u,
                      .one_line = TRUE};
  if (draw) {
    hf_pen_colour(s->pen->cr, HF_INK, 1);
    hf_pen_say(s->pen, &style, heading, MARGIN * s->u, y, 0);
  }
  y += HEADING * 1.8 * s->u;
  for (guint i = 0; i < n; i++)
    y += row(s, draw, &samples[i], y);
  return y + ROOM * s->u;
}

GBytes *
hf_out_samples(const char *heading, const HfSample *samples, guint n, guint pixels, GError **error)
{
  g_return_val_if_fail(pixels >= 200 && pixels <= 8000, NULL);
  Sheet s = {NULL, pixels / 1600.0, pixels};
  double height = ceil(sheet(&s, FALSE, heading, samples, n));
  HF_AUTO_SURFACE surface =
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)pixels, (int)fmin(height, 30000));
  HF_AUTO_CAIRO cr = cairo_create(surface);
  hf_pen_colour(cr, HF_CARD_TONE, 1);
  cairo_paint(cr);
  g_auto(HfPen) pen = {NULL};
  hf_pen_init(&pen, cr, FALSE);
  if (!hf_pen_can_write(&pen, error))
    return NULL;
  s.pen = &pen;
  sheet(&s, TRUE, heading, samples, n);
  hf_pen_clear(&pen);
  return hf_shade_encode(surface, heading, NULL, NULL, error);
}

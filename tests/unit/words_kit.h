/* SPDX-License-Identifier: GPL-3.0-or-later
 * words_kit.h - lines of letters made by hand, so that the maths of words is tested on shapes whose
 * every measure is known, without any font. Ems: capitals 0.7 high, strokes about 0.12 wide.
 *
 *   I stem   H two stems   T flat top   O round, with overshoot   V point below   p with a tail
 *   i stem and dot   , comma below the line   ' quote above   - dash   (space)
 */
#pragma once
#include "type/type.h"

#include <string.h>

typedef struct {
  GPtrArray *outlines; /* kept as long as the kit */
} Kit;

static Kit *
kit_new(void)
{
  Kit *kit = g_new0(Kit, 1);
  kit->outlines = g_ptr_array_new_with_free_func((GDestroyNotify)hf_outline_free);
  return kit;
}

static void
kit_free(Kit *kit)
{
  g_ptr_array_unref(kit->outlines);
  g_free(kit);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC(Kit, kit_free)

static void
kit_box(HfOutline *o, double x0, double y0, double x1, double y1)
{
  hf_outline_add_rectangle(o, (HfBox){{x0, y0}, {x1, y1}}, 0);
}

/* An ellipse of four cubics, as fonts have it. */
static void
kit_oval(HfOutline *o, HfPoint c, double rx, double ry, gboolean hole)
{
  const double k = 0.5522847498;
  double d = hole ? -1 : 1;
  hf_outline_begin(o, hf_point(c.x + rx, c.y));
  hf_outline_cubic_to(o, hf_point(c.x + rx, c.y + d * k * ry), hf_point(c.x + k * rx, c.y + d * ry),
                      hf_point(c.x, c.y + d * ry));
  hf_outline_cubic_to(o, hf_point(c.x - k * rx, c.y + d * ry), hf_point(c.x - rx, c.y + d * k * ry),
                      hf_point(c.x - rx, c.y));
  hf_outline_cubic_to(o, hf_point(c.x - rx, c.y - d * k * ry), hf_point(c.x - k * rx, c.y - d * ry),
                      hf_point(c.x, c.y - d * ry));
  hf_outline_cubic_to(o, hf_point(c.x + k * rx, c.y - d * ry), hf_point(c.x + rx, c.y - d * k * ry),
                      hf_point(c.x + rx, c.y));
  hf_outline_close(o);
}

/* Draws @letter with some freedom of width (0..1) and returns its advance. */
static double
kit_letter(HfOutline *o, char letter, double f)
{
  double w = 0.35 + 0.4 * f, s = 0.1 + 0.05 * f, cap = 0.7, over = 0.012;
  switch (letter) {
  case 'I':
    kit_box(o, 0.08, 0, 0.08 + s, cap);
    return 0.16 + s;
  case 'H': { /* one contour, twelve corners */
    HfPoint p[] = {{0.07, 0},    {0.07 + s, 0},       {0.07 + s, 0.3}, {w, 0.3},
                   {w, 0},       {w + s, 0},          {w + s, cap},    {w, cap},
                   {w, 0.3 + s}, {0.07 + s, 0.3 + s}, {0.07 + s, cap}, {0.07, cap}};
    hf_outline_add_polygon(o, p, G_N_ELEMENTS(p));
    return w + s + 0.07;
  }
  case 'T': {
    double m = 0.03 + w / 2;
    HfPoint p[] = {{m - s / 2, 0},  {m + s / 2, 0}, {m + s / 2, cap - s}, {0.03 + w, cap - s},
                   {0.03 + w, cap}, {0.03, cap},    {0.03, cap - s},      {m - s / 2, cap - s}};
    hf_outline_add_polygon(o, p, G_N_ELEMENTS(p));
    return w + 0.06;
  }
  case 'O':
    kit_oval(o, hf_point(0.05 + w / 2, cap / 2), w / 2, cap / 2 + over, FALSE);
    kit_oval(o, hf_point(0.05 + w / 2, cap / 2), w / 2 - s, cap / 2 + over - s, TRUE);
    return w + 0.1;
  case 'V': {
    HfPoint p[] = {{0.02, cap},     {0.02 + w / 2 - s / 2, 0}, {0.02 + w / 2 + s / 2, 0},
                   {0.02 + w, cap}, {0.02 + w - s, cap},       {0.02 + w / 2, 0.15},
                   {0.02 + s, cap}};
    hf_outline_add_polygon(o, p, G_N_ELEMENTS(p));
    return w + 0.04;
  }
  case 'p':
    kit_box(o, 0.06, -0.2, 0.06 + s, 0.5);
    kit_oval(o, hf_point(0.06 + w / 2, 0.25), w / 2, 0.25 + over, FALSE);
    return w + 0.1;
  case 'i':
    kit_box(o, 0.06, 0, 0.06 + s, 0.5);
    kit_oval(o, hf_point(0.06 + s / 2, 0.66), 0.06, 0.06, FALSE);
    return s + 0.12;
  case ',':
    kit_box(o, 0.05, -0.1, 0.05 + s, s);
    return s + 0.1;
  case '\'':
    kit_box(o, 0.05, 0.5, 0.05 + s, cap);
    return s + 0.1;
  case '-':
    kit_box(o, 0.05, 0.3, 0.3, 0.3 + s);
    return 0.35;
  default:
    return 0.25;
  }
}

/* @backwards: contours wind the other way, as in TrueType. */
static HfLine *
kit_line(Kit *kit, const char *text, GRand *rand, gboolean backwards)
{
  HfLine *line = g_new0(HfLine, 1);
  line->glyphs = g_array_new(FALSE, TRUE, sizeof(HfGlyph));
  line->letters = g_ptr_array_new_with_free_func(g_free);
  line->joined = g_array_new(FALSE, TRUE, sizeof(gboolean));
  g_array_set_size(line->joined, (guint)strlen(text));
  line->ink = HF_BOX_EMPTY;
  line->cap_height = 0.7;
  double pen = 0;
  for (guint i = 0; text[i] != '\0'; i++) {
    HfOutline *o = hf_outline_new();
    g_ptr_array_add(kit->outlines, o);
    HfGlyph glyph = {.outline = o, .at = {pen, 0}, .cluster = i, .letter = i};
    glyph.advance = kit_letter(o, text[i], rand != NULL ? g_rand_double(rand) : 0.5);
    if (backwards)
      hf_outline_reverse(o);
    HfBox box = hf_outline_box(o);
    glyph.ink = (HfBox){{box.min.x + pen, box.min.y}, {box.max.x + pen, box.max.y}};
    line->ink = hf_box_union(line->ink, glyph.ink);
    pen += glyph.advance;
    g_array_append_val(line->glyphs, glyph);
    g_ptr_array_add(line->letters, g_strndup(text + i, 1));
  }
  line->advance = pen;
  return line;
}

/* Brute force: points along every curve, @per a curve. */
static inline GArray *
kit_points(const HfOutline *outline, guint per)
{
  GArray *points = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  for (guint i = 0; i < outline->curves->len; i++)
    for (guint k = 0; k < per; k++) {
      HfPoint p = hf_curve_point(&g_array_index(outline->curves, HfCurve, i), (double)k / per);
      g_array_append_val(points, p);
    }
  return points;
}

static char *
kit_text(GRand *rand, const char *from, guint n)
{
  char *text = g_malloc0(n + 1);
  for (guint i = 0; i < n; i++)
    text[i] = from[g_rand_int_range(rand, 0, (gint32)strlen(from))];
  return text;
}

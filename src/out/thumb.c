/* SPDX-License-Identifier: GPL-3.0-or-later
 * thumb.c - small pictures for choosing: a sign's metal, a line of text. One path, black on
 * nothing: the page lays its own colours over them.
 */
#include "base/text.h"
#include "out/path-private.h"
#include "out/view.h"

enum { CAPITALS = 100, MOST_WIDE = 4000 };

static void
put_box(GString *text, HfBox box)
{
  const double sides[] = {box.min.x, -box.max.y, MAX(hf_box_width(box), 1),
                          MAX(hf_box_height(box), 1)};
  for (gsize i = 0; i < G_N_ELEMENTS(sides); i++) {
    if (i > 0)
      g_string_append_c(text, ' ');
    hf_text_append(text, sides[i], 2);
  }
}

/* @rule: how a reader finds what is inside. */
static GBytes *
picture_of(const HfOutline *outline, HfBox box, const char *rule, int decimals)
{
  GString *text = g_string_sized_new(1 << 14);
  HfPath path = {text, {0, 0}, decimals};
  g_string_append(text, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"");
  put_box(text, box);
  g_string_append_printf(text, "\"><path fill-rule=\"%s\" d=\"", rule);
  for (guint i = 0; i < hf_outline_n_contours(outline); i++)
    hf_path_contour(&path, outline, i);
  g_string_append(text, "\"/></svg>\n");
  return g_string_free_to_bytes(text);
}

GBytes *
hf_out_thumb(const HfFit *fit)
{
  HfBox box = hf_outline_box(fit->outline);
  if (hf_box_is_empty(box))
    box = (HfBox){{0, 0}, {1, 1}};
  return picture_of(fit->outline, box, "evenodd", 2);
}

GBytes *
hf_out_line(const HfLine *line)
{
  double scale = CAPITALS / (line->cap_height > 0 ? line->cap_height : 0.7);
  g_autoptr(HfOutline) outline = hf_outline_new();
  for (guint i = 0; i < line->glyphs->len; i++) {
    const HfGlyph *glyph = &g_array_index(line->glyphs, HfGlyph, i);
    HfMatrix place =
        hf_matrix_then(hf_matrix_move(glyph->at.x, glyph->at.y), hf_matrix_scale(scale, scale));
    hf_outline_append(outline, glyph->outline, place);
  }
  /* room above and below for every face alike, so that a list of them stands in line */
  HfBox box = hf_box_union(hf_outline_box(outline),
                           (HfBox){{0, -0.45 * CAPITALS}, {CAPITALS, 1.35 * CAPITALS}});
  box.max.x = fmin(box.max.x, box.min.x + MOST_WIDE);
  return picture_of(outline, box, "nonzero", 1);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-draw.c - one shape with its paint, ready to be brought to a scale.
 */
#include "drawing/svg-private.h"
#include <string.h>

void
hf_svg_item_free(gpointer data)
{
  HfSvgItem *item = (HfSvgItem *)data;
  hf_linework_free(item->lines);
  if (item->pen.dashes != NULL)
    g_array_unref((GArray *)item->pen.dashes);
  g_free(item->name);
  g_ptr_array_unref(item->called);
  g_free(item);
}

/* SVG 1.1, 11.4: none, or a list of lengths; one that is negative, or all zero, dashes nothing; an
 * odd number is said twice. */
static GArray *
dashes_of(const HfSvgAt *at)
{
  if (at->style.dashes == NULL)
    return NULL;
  g_autoptr(GArray) dashes = g_array_new(FALSE, FALSE, sizeof(double));
  const char *p = at->style.dashes;
  double all = 0;
  hf_svg_space(&p);
  while (*p != '\0') {
    HfStyleLength length;
    if (!hf_style_scan_length(&p, &at->style, &length) || length.value < 0 || dashes->len > 1000)
      return NULL;
    double value = hf_svg_length(length, at->viewport, 2);
    all += value;
    g_array_append_val(dashes, value);
    hf_svg_comma(&p);
  }
  if (!(all > 0) || !isfinite(all))
    return NULL;
  guint n = dashes->len;
  for (guint i = 0; n % 2 == 1 && i < n; i++) {
    double value = g_array_index(dashes, double, i);
    g_array_append_val(dashes, value);
  }
  return g_steal_pointer(&dashes);
}

static HfStroke
pen_of(const HfSvgAt *at)
{
  const HfStyle *style = &at->style;
  return (HfStroke){.width = hf_svg_length(style->stroke_width, at->viewport, 2),
                    .cap = (HfCap)style->cap,
                    .join = (HfJoin)style->join,
                    .miter_limit = style->miter_limit,
                    .dashes = dashes_of(at),
                    .dash_offset = hf_svg_length(style->dash_offset, at->viewport, 2)};
}

static void
measure(HfSvg *svg, const HfLinework *lines, HfMatrix matrix)
{
  g_autoptr(HfOutline) moved = hf_outline_new();
  hf_outline_append(moved, lines->outline, matrix);
  *svg->measured = hf_box_union(*svg->measured, hf_outline_box(moved));
}

static gboolean
has_markers(const HfXmlNode *node, const HfStyle *style)
{
  gboolean can = strcmp(node->name, "path") == 0 || strcmp(node->name, "line") == 0 ||
                 g_str_has_prefix(node->name, "poly");
  return can && (style->marker[0] != NULL || style->marker[1] != NULL || style->marker[2] != NULL);
}

void
hf_svg_add_item(HfSvg *svg, const HfSvgAt *at, HfLinework *lines, HfBox box, guint line, char *name,
                GPtrArray *called)
{
  const HfStyle *style = &at->style;
  HfSvgItem *item = g_new0(HfSvgItem, 1);
  *item = (HfSvgItem){.lines = lines,
                      .matrix = at->matrix,
                      .clip = at->clip,
                      .line = line,
                      .even_odd = style->fill_even_odd,
                      .name = name,
                      .called = called,
                      .pen = pen_of(at)};
  item->fills =
      hf_svg_paints(svg, &style->fill, style, style->fill_opacity, box, line, &item->fill);
  item->strokes =
      item->pen.width > 0 &&
      hf_svg_paints(svg, &style->stroke, style, style->stroke_opacity, box, line, &item->stroke);
  if (item->fills || item->strokes)
    g_ptr_array_add(svg->items, item);
  else
    hf_svg_item_free(item);
}

gboolean
hf_svg_may_draw(HfSvg *svg, guint line)
{
  if (svg->items->len < HF_SVG_MOST_DRAWN)
    return TRUE;
  hf_svg_refuse(svg, HF_ERROR_TOO_BIG, line, "simplify the drawing, or take a part of it",
                "it draws more than %d shapes, copies and letters counted", HF_SVG_MOST_DRAWN);
  return FALSE;
}

void
hf_svg_draw(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  HfLinework *lines = hf_svg_shape(svg, node, at);
  if (lines == NULL)
    return;
  if (svg->measured != NULL) {
    measure(svg, lines, at->matrix);
    hf_linework_free(lines);
    return;
  }
  gboolean none = FALSE;
  HfSvgAt own = *at;
  own.clip = hf_svg_clip(svg, node, at, &none);
  if (none || !at->style.visible) {
    hf_linework_free(lines);
    return;
  }
  if (!hf_svg_may_draw(svg, node->line)) {
    hf_linework_free(lines);
    return;
  }
  if (strcmp(node->name, "line") == 0)
    own.style.fill.kind = HF_PAINT_NONE;
  g_autoptr(HfLinework) points = NULL;
  if (has_markers(node, &own.style))
    points = hf_svg_shape(svg, node, at);
  hf_svg_add_item(svg, &own, lines, hf_outline_box(lines->outline), node->line,
                  hf_svg_say(svg, node, at->names), hf_svg_called(at->names));
  if (points != NULL)
    hf_svg_draw_markers(svg, &own, points);
}

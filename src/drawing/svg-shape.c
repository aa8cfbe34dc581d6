/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-shape.c - the lines of one element: SVG 1.1, 8 and 9; SVG 2, 10.
 */
#include "drawing/svg-private.h"
#include <string.h>

typedef enum { ALONG_X, ALONG_Y, ALONG_BOTH } Along;

/* SVG 1.1, 7.10: a percentage of what is neither is of the root of the mean square. */
static double
whole_of(HfPoint viewport, Along along)
{
  return along == ALONG_X   ? viewport.x
         : along == ALONG_Y ? viewport.y
                            : hypot(viewport.x, viewport.y) / G_SQRT2;
}

double
hf_svg_length(HfStyleLength length, HfPoint viewport, int along)
{
  double whole = whole_of(viewport, (Along)along);
  return length.unit == HF_UNIT_PERCENT ? length.value / 100 * whole : length.value;
}

double
hf_svg_told(const HfSvgAt *at, const char *text, int along, double otherwise)
{
  HfStyleLength length;
  if (text == NULL || !hf_style_length(text, &at->style, &length))
    return otherwise;
  return hf_svg_length(length, at->viewport, along);
}

static double
told(const HfSvgAt *at, HfProperty property, Along along, double otherwise)
{
  return hf_svg_told(at, at->style.told[property], (int)along, otherwise);
}

static double
attribute(const HfXmlNode *node, const HfSvgAt *at, const char *name, Along along)
{
  return hf_svg_told(at, hf_xml_get(node, name), (int)along, 0);
}

/* A quarter of an ellipse, clockwise on a page whose y runs down, to @p. */
static void
quarter(HfLinework *lines, HfPoint centre, HfPoint axes, double from, HfPoint p)
{
  hf_linework_turn(lines, centre, axes, 0, from, G_PI_2, p);
}

static void
rounded(HfLinework *lines, HfPoint a, HfPoint b, HfPoint r)
{
  hf_linework_begin(lines, hf_point(a.x + r.x, a.y));
  hf_linework_line(lines, hf_point(b.x - r.x, a.y));
  quarter(lines, hf_point(b.x - r.x, a.y + r.y), r, -G_PI_2, hf_point(b.x, a.y + r.y));
  hf_linework_line(lines, hf_point(b.x, b.y - r.y));
  quarter(lines, hf_point(b.x - r.x, b.y - r.y), r, 0, hf_point(b.x - r.x, b.y));
  hf_linework_line(lines, hf_point(a.x + r.x, b.y));
  quarter(lines, hf_point(a.x + r.x, b.y - r.y), r, G_PI_2, hf_point(a.x, b.y - r.y));
  hf_linework_line(lines, hf_point(a.x, a.y + r.y));
  quarter(lines, hf_point(a.x + r.x, a.y + r.y), r, G_PI, hf_point(a.x + r.x, a.y));
  hf_linework_close(lines);
}

static gboolean
rectangle(const HfXmlNode *node G_GNUC_UNUSED, const HfSvgAt *at, HfLinework *lines)
{
  HfPoint a = {told(at, HF_PROPERTY_X, ALONG_X, 0), told(at, HF_PROPERTY_Y, ALONG_Y, 0)};
  HfPoint size = {told(at, HF_PROPERTY_WIDTH, ALONG_X, 0),
                  told(at, HF_PROPERTY_HEIGHT, ALONG_Y, 0)};
  HfPoint r = {told(at, HF_PROPERTY_RX, ALONG_X, -1), told(at, HF_PROPERTY_RY, ALONG_Y, -1)};
  if (!(size.x > 0 && size.y > 0))
    return FALSE;
  r.x = r.x < 0 ? MAX(r.y, 0) : r.x; /* 9.2: one that is not given or wrong is the other */
  r.y = r.y < 0 ? r.x : r.y;
  r = hf_point(MIN(r.x, size.x / 2), MIN(r.y, size.y / 2));
  HfPoint b = hf_point_add(a, size);
  if (r.x > 0 && r.y > 0) {
    rounded(lines, a, b, r);
    return TRUE;
  }
  hf_linework_begin(lines, a);
  hf_linework_line(lines, hf_point(b.x, a.y));
  hf_linework_line(lines, b);
  hf_linework_line(lines, hf_point(a.x, b.y));
  hf_linework_close(lines);
  return TRUE;
}

static gboolean
round_shape(const HfSvgAt *at, HfPoint axes, HfLinework *lines)
{
  HfPoint c = {told(at, HF_PROPERTY_CX, ALONG_X, 0), told(at, HF_PROPERTY_CY, ALONG_Y, 0)};
  if (!(axes.x > 0 && axes.y > 0))
    return FALSE;
  HfPoint start = hf_point(c.x + axes.x, c.y);
  hf_linework_begin(lines, start);
  hf_linework_turn(lines, c, axes, 0, 0, 2 * G_PI, start);
  hf_linework_close(lines);
  return TRUE;
}

static gboolean
circle(const HfXmlNode *node G_GNUC_UNUSED, const HfSvgAt *at, HfLinework *lines)
{
  double r = told(at, HF_PROPERTY_R, ALONG_BOTH, 0);
  return round_shape(at, hf_point(r, r), lines);
}

static gboolean
ellipse(const HfXmlNode *node G_GNUC_UNUSED, const HfSvgAt *at, HfLinework *lines)
{
  HfPoint r = {told(at, HF_PROPERTY_RX, ALONG_X, -1), told(at, HF_PROPERTY_RY, ALONG_Y, -1)};
  r.x = r.x < 0 ? r.y : r.x; /* SVG 2, 10.4: auto */
  r.y = r.y < 0 ? r.x : r.y;
  return round_shape(at, r, lines);
}

static gboolean
line(const HfXmlNode *node, const HfSvgAt *at, HfLinework *lines)
{
  hf_linework_begin(
      lines, hf_point(attribute(node, at, "x1", ALONG_X), attribute(node, at, "y1", ALONG_Y)));
  hf_linework_line(
      lines, hf_point(attribute(node, at, "x2", ALONG_X), attribute(node, at, "y2", ALONG_Y)));
  hf_linework_end(lines);
  return TRUE;
}

/* ---- the table ------------------------------------------------------------------------------- */

static const struct {
  const char *name;
  gboolean (*draw)(const HfXmlNode *node, const HfSvgAt *at, HfLinework *lines);
} shapes[] = {{"rect", rectangle}, {"circle", circle}, {"ellipse", ellipse}, {"line", line}};

/* `path("M 0 0")` of CSS as the attribute has it. */
static char *
unquoted(const char *data)
{
  if (!g_str_has_prefix(data, "path("))
    return g_strdup(data);
  const char *first = strpbrk(data, "\"'"), *last = strrchr(data, first != NULL ? *first : '"');
  return first != NULL && last > first ? g_strndup(first + 1, (gsize)(last - first - 1))
                                       : g_strdup("");
}

static gboolean
from_data(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, HfLinework *lines)
{
  gboolean is_path = strcmp(node->name, "path") == 0;
  const char *data = is_path ? at->style.told[HF_PROPERTY_D] : hf_xml_get(node, "points");
  if (data == NULL || strcmp(data, "none") == 0)
    return TRUE;
  g_autofree char *plain = is_path ? unquoted(data) : NULL;
  gboolean closed = strcmp(node->name, "polygon") == 0;
  if (is_path ? !hf_svg_path(plain, lines) : !hf_svg_points(data, closed, lines))
    hf_drawing_note(svg->drawing, node->line,
                    "a %s has a mistake in its data: it is drawn up to there", node->name);
  return TRUE;
}

static gboolean
in_reach(const HfLinework *lines)
{
  HfBox box = hf_linework_box(lines);
  return hf_box_is_empty(box) ||
         (fabs(box.min.x) < HF_DRAWING_FARTHEST && fabs(box.max.x) < HF_DRAWING_FARTHEST &&
          fabs(box.min.y) < HF_DRAWING_FARTHEST && fabs(box.max.y) < HF_DRAWING_FARTHEST);
}

static gboolean
is_finite(const HfLinework *lines)
{
  const GArray *curves = lines->outline->curves;
  for (guint i = 0; i < curves->len; i++) {
    const HfCurve *c = &g_array_index(curves, HfCurve, i);
    if (!isfinite(c->p1.x + c->p1.y + c->c0.x + c->c0.y + c->c1.x + c->c1.y + c->p0.x + c->p0.y))
      return FALSE;
  }
  return TRUE;
}

/* The caps: curves of all the file, and how far a point may lie. */
static gboolean
within_caps(HfSvg *svg, const HfXmlNode *node, const HfLinework *lines)
{
  svg->curves += lines->outline->curves->len;
  if (svg->curves > HF_DRAWING_MOST_CURVES) {
    hf_svg_refuse(svg, HF_ERROR_TOO_BIG, node->line, "simplify the drawing, or take a part of it",
                  "it has more than %d curves", HF_DRAWING_MOST_CURVES);
    return FALSE;
  }
  if (!is_finite(lines) || !in_reach(lines)) {
    hf_svg_refuse(svg, HF_ERROR_TOO_BIG, node->line, "mend or remove it",
                  "a %s reaches farther than any sign does", node->name);
    return FALSE;
  }
  return TRUE;
}

HfLinework *
hf_svg_shape(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  g_autoptr(HfLinework) lines = hf_linework_new();
  gboolean some = FALSE;
  for (guint i = 0; i < G_N_ELEMENTS(shapes); i++)
    if (strcmp(node->name, shapes[i].name) == 0)
      some = shapes[i].draw(node, at, lines);
  if (strcmp(node->name, "path") == 0 || strcmp(node->name, "polygon") == 0 ||
      strcmp(node->name, "polyline") == 0)
    some = from_data(svg, node, at, lines);
  if (!some || hf_linework_is_empty(lines) || !within_caps(svg, node, lines))
    return NULL;
  return g_steal_pointer(&lines);
}

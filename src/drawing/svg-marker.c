/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-marker.c - marks at the points of a line: SVG 1.1, 11.6 and SVG 2, 11.6.
 *
 *     o-->---o       the first of all points has marker-start, the last marker-end, all others
 *             \      marker-mid; `auto` turns each as the line runs: in the middle of a corner
 *              o-->
 */
#include "drawing/svg-private.h"
#include <string.h>

typedef struct {
  HfPoint at, in, out; /* unit headings; no length where the line has none on that side */
} Vertex;

static const HfPoint nowhere = {0, 0};

static void
add_vertex(GArray *vertices, HfPoint at, HfPoint in, HfPoint out)
{
  Vertex one = {at, in, out};
  g_array_append_val(vertices, one);
}

/* Runs follow each other; a closed one begins and ends with the corner between its two ends. */
static void
add_run(GArray *vertices, const HfCurve *curves, guint n, gboolean closed)
{
  HfPoint first = hf_curve_heading(&curves[0], FALSE),
          last = hf_curve_heading(&curves[n - 1], TRUE);
  add_vertex(vertices, curves[0].p0, closed ? last : nowhere, first);
  for (guint i = 0; i + 1 < n; i++)
    add_vertex(vertices, curves[i].p1, hf_curve_heading(&curves[i], TRUE),
               hf_curve_heading(&curves[i + 1], FALSE));
  add_vertex(vertices, curves[n - 1].p1, last, closed ? first : nowhere);
}

static GArray *
vertices_of(const HfLinework *lines)
{
  GArray *vertices = g_array_new(FALSE, FALSE, sizeof(Vertex));
  for (guint i = 0; i < hf_outline_n_contours(lines->outline); i++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(lines->outline, i, &n);
    HfRunEnd end = g_array_index(lines->ends, HfRunEnd, i);
    add_run(vertices, curves, end == HF_RUN_FILLED ? n - 1 : n, end == HF_RUN_CLOSED);
  }
  return vertices;
}

/* rad; `auto-start-reverse` turns the first one round. */
static double
angle_of(const HfXmlNode *marker, const Vertex *vertex, gboolean is_start)
{
  const char *orient = hf_xml_get(marker, "orient");
  double degrees;
  if (orient == NULL)
    return 0;
  if (strncmp(orient, "auto", 4) != 0)
    return hf_svg_number(&orient, &degrees) ? degrees * G_PI / 180 : 0;
  HfPoint way = hf_point_add(vertex->in, vertex->out);
  if (hf_point_length(way) < 1e-9)
    way = hf_point_length(vertex->out) > 0 ? vertex->out : vertex->in;
  gboolean back = is_start && strcmp(orient, "auto-start-reverse") == 0;
  return (hf_point_length(way) > 0 ? hf_angle_of(way) : 0) + (back ? G_PI : 0);
}

static double
told(const HfXmlNode *marker, const HfSvgAt *at, const char *name, int along, double otherwise)
{
  return hf_svg_told(at, hf_xml_get(marker, name), along, otherwise);
}

/* The mark's own units to those of the line, and what it is cut off at. */
static gboolean
enter_marker(HfSvg *svg, const HfXmlNode *marker, const HfSvgAt *at, const Vertex *vertex,
             gboolean is_start, HfSvgAt *own)
{
  const char *view_box = hf_xml_get(marker, "viewBox"), *units = hf_xml_get(marker, "markerUnits");
  double pen = hf_svg_length(at->style.stroke_width, at->viewport, 2);
  HfMatrix view = HF_MATRIX_IDENTITY;
  HfBox box;
  *own = *at;
  hf_svg_style_there(svg, marker, &own->style);
  HfPoint size = {told(marker, own, "markerWidth", 0, 3), told(marker, own, "markerHeight", 1, 3)};
  if (!(size.x > 0 && size.y > 0) ||
      !hf_svg_view(view_box, hf_xml_get(marker, "preserveAspectRatio"), size, &view, &box))
    return FALSE;
  HfPoint ref = hf_matrix_apply(
      view, hf_point(told(marker, own, "refX", 0, 0), told(marker, own, "refY", 1, 0)));
  double k = units != NULL && strcmp(units, "userSpaceOnUse") == 0 ? 1 : pen;
  HfMatrix m = hf_matrix_then(hf_matrix_move(-ref.x, -ref.y), hf_matrix_scale(k, k));
  m = hf_matrix_then(m, hf_matrix_turn(angle_of(marker, vertex, is_start)));
  m = hf_matrix_then(m, hf_matrix_move(vertex->at.x, vertex->at.y));
  own->matrix = hf_matrix_then(m, at->matrix);
  if (!own->style.overflow)
    own->clip = hf_svg_clip_box(svg, own->clip, (HfBox){{0, 0}, size}, own->matrix);
  own->matrix = hf_matrix_then(view, own->matrix);
  own->viewport = view_box != NULL && hf_svg_view_box(view_box, &box)
                      ? hf_point(hf_box_width(box), hf_box_height(box))
                      : size;
  return k > 0;
}

static void
draw_marker(HfSvg *svg, const char *url, const HfSvgAt *at, const Vertex *vertex, gboolean is_start)
{
  const HfXmlNode *marker = url != NULL ? hf_svg_of_url(svg, url, NULL) : NULL;
  HfSvgAt own;
  if (marker == NULL || strcmp(marker->name, "marker") != 0 ||
      g_ptr_array_find(svg->path, marker, NULL) || !hf_svg_may_draw(svg, marker->line) ||
      !enter_marker(svg, marker, at, vertex, is_start, &own))
    return;
  own.depth++;
  g_ptr_array_add(svg->path, (gpointer)marker);
  for (const HfXmlNode *child = marker->first; child != NULL && !hf_svg_ended(svg);
       child = child->next)
    hf_svg_walk(svg, child, &own);
  g_ptr_array_set_size(svg->path, (gint)svg->path->len - 1);
}

void
hf_svg_draw_markers(HfSvg *svg, const HfSvgAt *at, const HfLinework *lines)
{
  g_autoptr(GArray) vertices = vertices_of(lines);
  for (guint i = 0; i < vertices->len && !hf_svg_ended(svg); i++) {
    const Vertex *vertex = &g_array_index(vertices, Vertex, i);
    int which = i == 0 ? 0 : i + 1 == vertices->len ? 2 : 1;
    draw_marker(svg, at->style.marker[which], at, vertex, i == 0);
  }
}

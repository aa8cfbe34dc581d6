/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-hatch.c - HATCH: what its boundaries go round is painted, with lines or all over.
 *
 *   91 paths  each:  92 flags   a polyline: 72 73 93, then 10 20 and 42 for a bulge
 *                               or edges:   93, each 72 kind and its own pairs
 *   75 style        which ends the paths
 *
 * Arcs that go clockwise (73 = 0) have their angles counted clockwise. Angles of an ellipse are
 * those of the place, not of the parameter. Paths inside paths take away again, by the even-odd
 * rule; style 1 looks at the two outermost only, style 2 at the outermost.
 */
#include "drawing/dxf-private.h"

#define DEGREE (G_PI / 180)
enum { EXTERNAL = 1, BY_POLYLINE = 2, OUTERMOST = 16 };

static HfPoint
point_of(HfDxfRecord record, int code)
{
  return hf_point(hf_dxf_real(record, code, 0), hf_dxf_real(record, code + 10, 0));
}

/* ---- one path -------------------------------------------------------------------------------- */

static void
add_polyline(HfDxfRecord path, GArray *run)
{
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  g_autoptr(GArray) bulges = g_array_new(FALSE, TRUE, sizeof(double));
  for (guint i = 0; i < path.n; i++) {
    const HfDxfTag *tag = &path.tag[i];
    HfPoint p = hf_point(tag->number, 0);
    if (tag->code == 10)
      g_array_append_val(at, p);
    else if (at->len == 0)
      continue;
    else if (tag->code == 20)
      g_array_index(at, HfPoint, at->len - 1).y = tag->number;
    g_array_set_size(bulges, at->len);
    if (tag->code == 42)
      g_array_index(bulges, double, at->len - 1) = tag->number;
  }
  for (guint i = 0; i < at->len; i++)
    hf_dxf_bulge(run, g_array_index(at, HfPoint, i), g_array_index(at, HfPoint, (i + 1) % at->len),
                 g_array_index(bulges, double, i));
}

static void
add_line(HfDxfRecord edge, GArray *run)
{
  hf_dxf_line(run, point_of(edge, 10), point_of(edge, 11));
}

/* Angles of an edge: where it begins and how far it turns, counter-clockwise > 0. */
static void
turn_of(HfDxfRecord edge, double ratio, double *ret_from, double *ret_sweep)
{
  double a[2] = {hf_dxf_real(edge, 50, 0) * DEGREE, hf_dxf_real(edge, 51, 360) * DEGREE};
  gboolean clockwise = hf_dxf_int(edge, 73, 1) == 0;
  for (int i = 0; i < 2; i++)
    if (ratio != 1 && fabs(a[1] - a[0]) < 2 * G_PI - 1e-9)
      a[i] = atan2(sin(a[i]) / ratio, cos(a[i]));
  double sweep = hf_dxf_sweep(a[0], a[1]);
  *ret_from = clockwise ? -a[0] : a[0];
  *ret_sweep = clockwise ? -sweep : sweep;
}

static void
add_arc(HfDxfRecord edge, GArray *run)
{
  double from, sweep;
  turn_of(edge, 1, &from, &sweep);
  hf_dxf_arc(run, point_of(edge, 10), hf_dxf_real(edge, 40, 0), from, sweep);
}

static void
add_ellipse(HfDxfRecord edge, GArray *run)
{
  HfPoint centre = point_of(edge, 10), major = point_of(edge, 11);
  double ratio = hf_dxf_real(edge, 40, 1), from, sweep;
  g_autoptr(GArray) own = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  if (ratio == 0)
    return;
  turn_of(edge, ratio, &from, &sweep);
  hf_dxf_arc(own, hf_point(0, 0), 1, from, sweep);
  hf_dxf_matrix_run(
      own, (HfMatrix){major.x, -major.y * ratio, major.y, major.x * ratio, centre.x, centre.y});
  g_array_append_vals(run, own->data, own->len);
}

static void
add_spline(HfDxfRecord edge, GArray *run)
{
  static const HfDxfSplineCodes codes = {.degree = 94, .weights = 42};
  hf_dxf_spline(edge, codes, HF_DXF_SPACE_WORLD, run);
}

/* Ends of neighbours are brought together by lines; so is the last with the first. */
static void
close_up(GArray *run)
{
  g_autoptr(GArray) from = g_array_copy(run);
  g_array_set_size(run, 0);
  for (guint i = 0; i < from->len; i++) {
    HfCurve curve = g_array_index(from, HfCurve, i);
    HfPoint next = g_array_index(from, HfCurve, (i + 1) % from->len).p0;
    g_array_append_val(run, curve);
    hf_dxf_line(run, curve.p1, next);
  }
}

static void
add_edges(HfDxfRecord path, GArray *run)
{
  static void (*const kinds[])(HfDxfRecord edge, GArray * run) = {NULL, add_line, add_arc,
                                                                  add_ellipse, add_spline};
  for (guint i = 0; i < path.n;) {
    guint n = 1;
    while (i + n < path.n && path.tag[i + n].code != 72)
      n++;
    HfDxfRecord edge = {&path.tag[i], n};
    int kind = hf_dxf_int(edge, 72, 0);
    if (path.tag[i].code == 72 && kind > 0 && kind < (int)G_N_ELEMENTS(kinds))
      kinds[kind](edge, run);
    i += n;
  }
  close_up(run);
}

/* ---- all paths ------------------------------------------------------------------------------- */

static gboolean
counts(int style, int flags)
{
  return style == 0 || (style == 1 && (flags & (EXTERNAL | OUTERMOST)) != 0) ||
         (style == 2 && (flags & EXTERNAL) != 0);
}

/* The next path at or behind pair @i: from its 92 up to the next, or the style. */
static HfDxfRecord
path_at(HfDxfRecord record, guint i)
{
  while (i < record.n && record.tag[i].code != 92 && record.tag[i].code != 75)
    i++;
  guint n = i < record.n && record.tag[i].code == 92 ? 1 : 0;
  while (n > 0 && i + n < record.n && record.tag[i + n].code != 92 && record.tag[i + n].code != 75)
    n++;
  return (HfDxfRecord){record.tag + i, n};
}

void
hf_dxf_draw_hatch(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  HfMatrix matrix = hf_dxf_space_plane(hf_dxf_own_space(where, record), hf_dxf_real(record, 30, 0));
  HfDxfPiece *piece = hf_dxf_add(reader, where, record, HF_DXF_FILLED);
  piece->even_odd = TRUE;
  int style = hf_dxf_int(record, 75, 0);
  for (HfDxfRecord path = path_at(record, 0); path.n > 0;
       path = path_at(record, (guint)(path.tag - record.tag) + path.n)) {
    int flags = hf_dxf_int(path, 92, 0);
    GArray *run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
    if (counts(style, flags))
      ((flags & BY_POLYLINE) != 0 ? add_polyline : add_edges)(path, run);
    hf_dxf_add_run(reader, piece, run, matrix);
  }
}

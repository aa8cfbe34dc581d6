/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-shapes.c - what stands in one record: lines, circles, arcs, ellipses, painted corners.
 *
 *   in the frame of its plane (210)    CIRCLE ARC SOLID TRACE
 *   in the drawing's own               LINE ELLIPSE 3DFACE
 *
 * An ellipse is the unit circle through a matrix: its axes are the columns. Corners of a SOLID come
 * in the order 1 2 4 3.
 */
#include "drawing/dxf-private.h"
#include <string.h>

#define DEGREE (G_PI / 180)

static GArray *
new_run(void)
{
  return g_array_new(FALSE, FALSE, sizeof(HfCurve));
}

void
hf_dxf_point(HfDxfRecord record, int code, double at[3])
{
  for (int axis = 0; axis < 3; axis++)
    at[axis] = hf_dxf_real(record, code + 10 * axis, 0);
}

HfDxfSpace
hf_dxf_own_space(const HfDxfWhere *where, HfDxfRecord record)
{
  HfDxfSpace own = hf_dxf_space_of_normal(hf_dxf_real(record, 210, 0), hf_dxf_real(record, 220, 0),
                                          hf_dxf_real(record, 230, 1));
  return hf_dxf_space_then(own, where->space);
}

static void
draw_line(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  double a[3], b[3];
  hf_dxf_point(record, 10, a);
  hf_dxf_point(record, 11, b);
  GArray *run = new_run();
  hf_dxf_line(run, hf_dxf_seen(where->space, a[0], a[1], a[2]),
              hf_dxf_seen(where->space, b[0], b[1], b[2]));
  HfDxfPiece *piece = hf_dxf_add(reader, where, record, HF_DXF_RUN);
  hf_dxf_add_run(reader, piece, run, HF_MATRIX_IDENTITY);
}

static void
draw_round(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record, double from,
           double sweep)
{
  double centre[3], radius = hf_dxf_real(record, 40, 0);
  hf_dxf_point(record, 10, centre);
  HfDxfPiece *piece = hf_dxf_add(reader, where, record, HF_DXF_RUN);
  GArray *run = new_run();
  if (radius > 0)
    hf_dxf_arc(run, hf_point(centre[0], centre[1]), radius, from, sweep);
  else
    hf_dxf_note(reader, piece->place, "a circle without a radius was left out");
  piece->closed = sweep >= 2 * G_PI - 1e-12;
  hf_dxf_add_run(reader, piece, run,
                 hf_dxf_space_plane(hf_dxf_own_space(where, record), centre[2]));
}

static void
draw_circle(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  draw_round(reader, where, record, 0, 2 * G_PI);
}

static void
draw_arc(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  double from = hf_dxf_real(record, 50, 0) * DEGREE, to = hf_dxf_real(record, 51, 360) * DEGREE;
  draw_round(reader, where, record, from, hf_dxf_sweep(from, to));
}

static void
draw_ellipse(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  double centre[3], major[3], ratio = hf_dxf_real(record, 40, 1);
  hf_dxf_point(record, 10, centre);
  hf_dxf_point(record, 11, major);
  HfDxfSpace own = HF_DXF_SPACE_WORLD;
  HfDxfSpace n = hf_dxf_space_of_normal(hf_dxf_real(record, 210, 0), hf_dxf_real(record, 220, 0),
                                        hf_dxf_real(record, 230, 1));
  for (int i = 0; i < 3; i++) {
    int j = (i + 1) % 3, k = (i + 2) % 3;
    own.m[i][0] = major[i];
    own.m[i][1] = ratio * (n.m[j][2] * major[k] - n.m[k][2] * major[j]);
    own.m[i][3] = centre[i];
  }
  double from = hf_dxf_real(record, 41, 0);
  double sweep = hf_dxf_sweep(from, hf_dxf_real(record, 42, 2 * G_PI));
  HfDxfPiece *piece = hf_dxf_add(reader, where, record, HF_DXF_RUN);
  piece->closed = sweep > 2 * G_PI - 1e-9;
  GArray *run = new_run();
  hf_dxf_arc(run, hf_point(0, 0), 1, from, piece->closed ? 2 * G_PI : sweep);
  hf_dxf_add_run(reader, piece, run, hf_dxf_space_plane(hf_dxf_space_then(own, where->space), 0));
}

/* ---- painted corners ------------------------------------------------------------------------- */

static void
add_corners(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record, HfDxfSpace space,
            const int order[4])
{
  HfPoint at[4];
  double p[3];
  gboolean three = hf_dxf_find(record, 13) == NULL;
  for (int i = 0; i < 4; i++) {
    hf_dxf_point(record, 10 + (three ? MIN(order[i], 2) : order[i]), p);
    at[i] = hf_dxf_seen(space, p[0], p[1], p[2]);
  }
  HfDxfPiece *piece = hf_dxf_add(reader, where, record, HF_DXF_FILLED);
  GArray *run = new_run();
  for (int i = 0; i < 4; i++)
    hf_dxf_line(run, at[i], at[(i + 1) % 4]);
  hf_dxf_add_run(reader, piece, run, HF_MATRIX_IDENTITY);
}

static void
draw_solid(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  static const int order[4] = {0, 1, 3, 2};
  add_corners(reader, where, record, hf_dxf_own_space(where, record), order);
}

static void
draw_face(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  static const int order[4] = {0, 1, 2, 3};
  add_corners(reader, where, record, where->space, order);
}

HfDxfDraw
hf_dxf_draw_of(const char *type)
{
  static const struct {
    const char *type;
    HfDxfDraw draw;
  } kinds[] = {
      {"LINE", draw_line},
      {"ARC", draw_arc},
      {"CIRCLE", draw_circle},
      {"ELLIPSE", draw_ellipse},
      {"SOLID", draw_solid},
      {"TRACE", draw_solid},
      {"3DFACE", draw_face},
      {"LWPOLYLINE", hf_dxf_draw_lwpolyline},
      {"3DLINE", draw_line},
      {"POLYLINE", hf_dxf_draw_polyline},
      {"SPLINE", hf_dxf_draw_spline},
      {"HATCH", hf_dxf_draw_hatch},
      {"TEXT", hf_dxf_draw_text},
      {"MTEXT", hf_dxf_draw_mtext},
      {"ATTRIB", hf_dxf_draw_text},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++)
    if (strcmp(kinds[i].type, type) == 0)
      return kinds[i].draw;
  return NULL;
}

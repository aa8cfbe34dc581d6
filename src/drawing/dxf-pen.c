/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-pen.c - frames in space and curves in them.
 *
 *   what is drawn flat (arcs, polylines, texts) has a frame of its own: its plane's normal is the
 *   z axis, from which x and y follow. Frames of copies stack on it; seen from above, that is with
 *   z left out, all of them together are one matrix of the plane.
 *
 * A circle that is tilted or stretched becomes cubics: pieces of at most a 32nd of a turn, whose
 * largest departure is 1.1e-9 of the radius (2/27 sin^6(a/4)/cos^2(a/4); from memory, and checked
 * against the true curve in tests/unit/test_dxf_in.c).
 */
#include "drawing/dxf-private.h"

/* ---- frames ---------------------------------------------------------------------------------- */

HfDxfSpace
hf_dxf_space_then(HfDxfSpace inner, HfDxfSpace outer)
{
  HfDxfSpace both;
  for (int row = 0; row < 3; row++)
    for (int column = 0; column < 4; column++) {
      double sum = column == 3 ? outer.m[row][3] : 0;
      for (int k = 0; k < 3; k++)
        sum += outer.m[row][k] * inner.m[k][column];
      both.m[row][column] = sum;
    }
  return both;
}

static void
cross(const double a[3], const double b[3], double to[3])
{
  to[0] = a[1] * b[2] - a[2] * b[1];
  to[1] = a[2] * b[0] - a[0] * b[2];
  to[2] = a[0] * b[1] - a[1] * b[0];
}

static gboolean
make_unit(double v[3])
{
  double length = sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
  if (length < 1e-12)
    return FALSE;
  for (int i = 0; i < 3; i++)
    v[i] /= length;
  return TRUE;
}

HfDxfSpace
hf_dxf_space_of_normal(double x, double y, double z)
{
  static const double across[3] = {0, 1, 0}, up[3] = {0, 0, 1};
  const double near_up = 1.0 / 64;
  double n[3] = {x, y, z}, ax[3], ay[3];
  if (!make_unit(n) || (n[0] == 0 && n[1] == 0 && n[2] > 0))
    return HF_DXF_SPACE_WORLD;
  cross(fabs(n[0]) < near_up && fabs(n[1]) < near_up ? across : up, n, ax);
  make_unit(ax);
  cross(n, ax, ay);
  HfDxfSpace space = HF_DXF_SPACE_WORLD;
  for (int i = 0; i < 3; i++) {
    space.m[i][0] = ax[i];
    space.m[i][1] = ay[i];
    space.m[i][2] = n[i];
  }
  return space;
}

HfMatrix
hf_dxf_space_plane(HfDxfSpace space, double z)
{
  return (HfMatrix){space.m[0][0],
                    space.m[0][1],
                    space.m[1][0],
                    space.m[1][1],
                    space.m[0][3] + space.m[0][2] * z,
                    space.m[1][3] + space.m[1][2] * z};
}

HfPoint
hf_dxf_seen(HfDxfSpace space, double x, double y, double z)
{
  return hf_matrix_apply(hf_dxf_space_plane(space, z), hf_point(x, y));
}

/* ---- curves ---------------------------------------------------------------------------------- */

void
hf_dxf_line(GArray *run, HfPoint a, HfPoint b)
{
  HfCurve line = {.kind = HF_CURVE_LINE, .p0 = a, .p1 = b};
  if (a.x != b.x || a.y != b.y)
    g_array_append_val(run, line);
}

double
hf_dxf_sweep(double from, double to)
{
  double sweep = fmod(to - from, 2 * G_PI);
  return sweep <= 1e-12 ? sweep + 2 * G_PI : sweep;
}

void
hf_dxf_arc(GArray *run, HfPoint centre, double radius, double from, double sweep)
{
  HfPoint start = hf_point_polar(centre, radius, from);
  gboolean whole = fabs(sweep) > 2 * G_PI - 1e-12;
  HfCurve arc = {.kind = HF_CURVE_ARC,
                 .p0 = start,
                 .p1 = whole ? start : hf_point_polar(centre, radius, from + sweep),
                 .c0 = centre,
                 .sweep = sweep};
  if (radius > 0 && sweep != 0)
    g_array_append_val(run, arc);
}

void
hf_dxf_bulge(GArray *run, HfPoint a, HfPoint b, double bulge)
{
  HfPoint d = hf_point_sub(b, a);
  double chord = hf_point_length(d);
  if (fabs(bulge) * chord < 1e-10 || fabs(bulge) < 1e-9) {
    hf_dxf_line(run, a, b);
    return;
  }
  double off = (1 - bulge * bulge) / (4 * bulge); /* of the chord, to its left */
  HfPoint middle = hf_point_mix(a, b, 0.5);
  HfCurve arc = {.kind = HF_CURVE_ARC,
                 .p0 = a,
                 .p1 = b,
                 .c0 = hf_point(middle.x - d.y * off, middle.y + d.x * off),
                 .sweep = 4 * atan(bulge)};
  g_array_append_val(run, arc);
}

/* ---- through a matrix ------------------------------------------------------------------------ */

static gboolean
keeps_shape(HfMatrix m)
{
  double scale = fabs(m.xx) + fabs(m.xy) + fabs(m.yx) + fabs(m.yy), hair = 1e-11 * scale;
  gboolean turned = fabs(m.xx - m.yy) <= hair && fabs(m.xy + m.yx) <= hair;
  gboolean mirrored = fabs(m.xx + m.yy) <= hair && fabs(m.xy - m.yx) <= hair;
  return turned || mirrored;
}

static double
determinant(HfMatrix m)
{
  return m.xx * m.yy - m.xy * m.yx;
}

/* Each piece's controls lie on its tangents, 4/3 tan(a/4) of the radius from its ends. */
static void
arc_as_cubics(GArray *to, const HfCurve *arc, HfMatrix matrix)
{
  guint n = (guint)ceil(fabs(arc->sweep) / (G_PI / 16) - 1e-9);
  n = MAX(n, 1);
  double step = arc->sweep / n, reach = 4.0 / 3 * tan(step / 4);
  for (guint i = 0; i < n; i++) {
    HfPoint p0 = hf_curve_point(arc, i / (double)n), p1 = hf_curve_point(arc, (i + 1) / (double)n);
    HfPoint r0 = hf_point_sub(p0, arc->c0), r1 = hf_point_sub(p1, arc->c0);
    HfPoint c0 = hf_point(p0.x - r0.y * reach, p0.y + r0.x * reach);
    HfPoint c1 = hf_point(p1.x + r1.y * reach, p1.y - r1.x * reach);
    HfCurve cubic = {.kind = HF_CURVE_CUBIC,
                     .p0 = hf_matrix_apply(matrix, p0),
                     .p1 = hf_matrix_apply(matrix, p1),
                     .c0 = hf_matrix_apply(matrix, c0),
                     .c1 = hf_matrix_apply(matrix, c1)};
    g_array_append_val(to, cubic);
  }
}

void
hf_dxf_matrix_run(GArray *run, HfMatrix matrix)
{
  gboolean similar = keeps_shape(matrix);
  double sign = determinant(matrix) < 0 ? -1 : 1;
  g_autoptr(GArray) from = g_array_copy(run);
  g_array_set_size(run, 0);
  for (guint i = 0; i < from->len; i++) {
    HfCurve curve = g_array_index(from, HfCurve, i);
    if (curve.kind == HF_CURVE_ARC && !similar) {
      arc_as_cubics(run, &curve, matrix);
      continue;
    }
    curve.p0 = hf_matrix_apply(matrix, curve.p0);
    curve.p1 = hf_matrix_apply(matrix, curve.p1);
    curve.c0 = hf_matrix_apply(matrix, curve.c0);
    curve.c1 = hf_matrix_apply(matrix, curve.c1);
    curve.sweep *= sign;
    g_array_append_val(run, curve);
  }
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-spline.c - SPLINE: by control points with knots and weights, or by points that it goes
 * through.
 *
 * Seen from above: z is left out of the control points, which is exact (with weights too: they stay
 * the same). One whose figures contradict each other is told, with its place, and left out.
 */
#include "drawing/dxf-private.h"
#include "drawing/spline-private.h"

enum { CLOSED = 1 };

/* The points of code @code (their y and z follow at code + 10 and + 20), as they are seen. */
static GArray *
points_of(HfDxfRecord record, int code, HfDxfSpace space)
{
  GArray *points = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  for (guint i = 0; i < record.n; i++) {
    if (record.tag[i].code != code)
      continue;
    double p[3] = {record.tag[i].number, 0, 0};
    for (guint j = i + 1; j < record.n && j <= i + 2; j++)
      for (int axis = 1; axis < 3; axis++)
        if (record.tag[j].code == code + 10 * axis)
          p[axis] = record.tag[j].number;
    HfPoint seen = hf_dxf_seen(space, p[0], p[1], p[2]);
    g_array_append_val(points, seen);
  }
  return points;
}

static GArray *
reals_of(HfDxfRecord record, int code)
{
  GArray *reals = g_array_new(FALSE, FALSE, sizeof(double));
  for (guint i = 0; i < record.n; i++)
    if (record.tag[i].code == code)
      g_array_append_val(reals, record.tag[i].number);
  return reals;
}

/* %FALSE: it contradicts itself. */
static gboolean
by_control_points(HfDxfRecord record, HfDxfSplineCodes codes, const GArray *at, GArray *run)
{
  g_autoptr(GArray) knots = reals_of(record, 40);
  g_autoptr(GArray) weights = reals_of(record, codes.weights);
  gboolean weighted = weights->len > 0;
  HfSpline spline = {.degree = (guint)CLAMP(hf_dxf_int(record, codes.degree, 3), 0, 1000),
                     .n = at->len,
                     .at = (const HfPoint *)(gpointer)at->data,
                     .weights = weighted ? (const double *)(gpointer)weights->data : NULL,
                     .knots = (const double *)(gpointer)knots->data};
  if ((weighted && weights->len != at->len) || !hf_spline_is_sound(&spline, knots->len))
    return FALSE;
  hf_spline_run(&spline, run);
  return TRUE;
}

static const HfPoint *
direction_of(HfDxfRecord record, int code, HfDxfSpace space, HfPoint *keep)
{
  double d[3];
  hf_dxf_point(record, code, d);
  HfPoint origin = hf_dxf_seen(space, 0, 0, 0);
  *keep = hf_point_sub(hf_dxf_seen(space, d[0], d[1], d[2]), origin);
  return hf_dxf_find(record, code) != NULL && hf_point_length(*keep) > 0 ? keep : NULL;
}

static void
by_points_on_it(HfDxfRecord record, const GArray *at, HfDxfSpace space, GArray *run)
{
  HfPoint keep[2];
  hf_spline_through((const HfPoint *)(gpointer)at->data, at->len,
                    direction_of(record, 12, space, &keep[0]),
                    direction_of(record, 13, space, &keep[1]), run);
}

gboolean
hf_dxf_spline(HfDxfRecord record, HfDxfSplineCodes codes, HfDxfSpace space, GArray *run)
{
  g_autoptr(GArray) control = points_of(record, 10, space);
  g_autoptr(GArray) on_it = points_of(record, 11, space);
  if (control->len > 0)
    return by_control_points(record, codes, control, run);
  by_points_on_it(record, on_it, space, run);
  return on_it->len > 1;
}

void
hf_dxf_draw_spline(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  static const HfDxfSplineCodes codes = {.degree = 71, .weights = 41};
  GArray *run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  if (!hf_dxf_spline(record, codes, where->space, run))
    hf_dxf_note(reader, record.tag->place,
                "a spline whose knots, weights and points contradict each other was left out");
  HfDxfPiece *piece = hf_dxf_add(reader, where, record, HF_DXF_RUN);
  piece->closed = (hf_dxf_int(record, 70, 0) & CLOSED) != 0;
  hf_dxf_add_run(reader, piece, run, HF_MATRIX_IDENTITY);
}

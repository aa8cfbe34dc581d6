/* SPDX-License-Identifier: GPL-3.0-or-later
 * linework.c - lines as they are drawn, run by run.
 */
#include "drawing/linework-private.h"

HfLinework *
hf_linework_new(void)
{
  HfLinework *lines = g_new0(HfLinework, 1);
  lines->outline = hf_outline_new();
  lines->ends = g_array_new(FALSE, FALSE, sizeof(HfRunEnd));
  lines->dots = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  return lines;
}

void
hf_linework_free(HfLinework *lines)
{
  if (lines == NULL)
    return;
  hf_outline_free(lines->outline);
  g_array_unref(lines->ends);
  g_array_unref(lines->dots);
  g_free(lines);
}

/* The outline's contour is begun with the first curve: a pen that is only put down draws nothing.
 */
static void
begin_run(HfLinework *lines)
{
  if (lines->begun)
    return;
  lines->begun = TRUE;
  lines->start = lines->pen;
  hf_outline_begin(lines->outline, lines->pen);
}

static void
end_run(HfLinework *lines, gboolean closed)
{
  if (!lines->begun)
    return;
  lines->begun = FALSE;
  guint curves = lines->outline->curves->len;
  hf_outline_close(lines->outline);
  if (lines->outline->starts->len == lines->ends->len) {
    g_array_append_val(lines->dots, lines->start);
    return;
  }
  HfRunEnd end = closed                                 ? HF_RUN_CLOSED
                 : lines->outline->curves->len > curves ? HF_RUN_FILLED
                                                        : HF_RUN_OPEN;
  g_array_append_val(lines->ends, end);
}

void
hf_linework_begin(HfLinework *lines, HfPoint p)
{
  end_run(lines, FALSE);
  lines->pen = p;
}

void
hf_linework_line(HfLinework *lines, HfPoint p)
{
  begin_run(lines);
  hf_outline_line_to(lines->outline, p);
  lines->pen = p;
}

void
hf_linework_quad(HfLinework *lines, HfPoint control, HfPoint p)
{
  begin_run(lines);
  hf_outline_quad_to(lines->outline, control, p);
  lines->pen = p;
}

void
hf_linework_cubic(HfLinework *lines, HfPoint c0, HfPoint c1, HfPoint p)
{
  begin_run(lines);
  hf_outline_cubic_to(lines->outline, c0, c1, p);
  lines->pen = p;
}

/* As cubics of at most 1/16 turn: the handle 4/3 tan(a/4) leaves 1e-8 of the radius. */
static void
ellipse_as_cubics(HfLinework *lines, HfMatrix m, double from, double sweep, HfPoint p)
{
  guint n = MAX(1, (guint)ceil(fabs(sweep) / (G_PI / 8)));
  double step = sweep / n, handle = 4.0 / 3 * tan(step / 4);
  for (guint i = 0; i < n; i++) {
    double a = from + step * i, b = a + step;
    HfPoint c0 = {cos(a) - handle * sin(a), sin(a) + handle * cos(a)};
    HfPoint c1 = {cos(b) + handle * sin(b), sin(b) - handle * cos(b)};
    HfPoint to = i + 1 == n ? p : hf_matrix_apply(m, hf_point(cos(b), sin(b)));
    hf_outline_cubic_to(lines->outline, hf_matrix_apply(m, c0), hf_matrix_apply(m, c1), to);
  }
}

void
hf_linework_turn(HfLinework *lines, HfPoint centre, HfPoint axes, double tilt, double from,
                 double sweep, HfPoint p)
{
  begin_run(lines);
  if (axes.x == axes.y) {
    hf_outline_arc_to(lines->outline, centre, sweep, p);
  } else {
    HfMatrix m = hf_matrix_then(hf_matrix_scale(axes.x, axes.y), hf_matrix_turn(tilt));
    ellipse_as_cubics(lines, hf_matrix_then(m, hf_matrix_move(centre.x, centre.y)), from, sweep, p);
  }
  lines->pen = p;
}

void
hf_linework_close(HfLinework *lines)
{
  begin_run(lines);
  HfPoint start = lines->start;
  end_run(lines, TRUE);
  lines->pen = start;
}

void
hf_linework_end(HfLinework *lines)
{
  end_run(lines, FALSE);
}

gboolean
hf_linework_is_empty(const HfLinework *lines)
{
  return lines->ends->len == 0 && lines->dots->len == 0;
}

HfBox
hf_linework_box(const HfLinework *lines)
{
  HfBox box = hf_outline_box(lines->outline);
  for (guint i = 0; i < lines->dots->len; i++)
    box = hf_box_add_point(box, g_array_index(lines->dots, HfPoint, i));
  return box;
}

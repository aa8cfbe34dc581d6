/* SPDX-License-Identifier: GPL-3.0-or-later
 * plate.c - a flat shape of metal that the rest stands on or is cut from.
 *
 * Each shape is drawn about its own middle from true arcs and lines (the oval from cubics); how
 * each is worked out is in docs/maths.md#plates.
 */
#include "base/text.h"
#include "layout/plate-private.h"

typedef gboolean (*DrawFunc)(HfLaying *laying, guint entry, const HfPlateEntry *plate,
                             HfOutline *own, GError **error);

static gboolean
draw_round(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own, GError **error)
{
  (void)error;
  double radius = plate->diameter / 2;
  hf_outline_add_circle(own, hf_point(0, 0), radius);
  laying->laid[entry].outer = radius;
  return TRUE;
}

static gboolean
draw_rectangle(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
               GError **error)
{
  (void)laying, (void)entry, (void)error;
  double corner = plate->corner;
  if (isnan(corner))
    corner = plate->shape == HF_PLATE_ROUNDED ? MIN(plate->width, plate->height) / 8 : 0;
  HfPoint half = hf_point(plate->width / 2, plate->height / 2);
  hf_outline_add_rectangle(own, (HfBox){hf_point_scale(half, -1), half}, corner);
  return TRUE;
}

/* A circle drawn out on one axis; hf_outline_append() keeps it true to 1e-6 of its size. */
static gboolean
draw_oval(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own, GError **error)
{
  (void)error;
  g_autoptr(HfOutline) circle = hf_outline_new();
  hf_outline_add_circle(circle, hf_point(0, 0), 1);
  hf_outline_append(own, circle, hf_matrix_scale(plate->width / 2, plate->height / 2));
  if (plate->width == plate->height)
    laying->laid[entry].outer = plate->width / 2;
  return TRUE;
}

/* Arch-topped: the arc over the shoulders has radius R = (w^2/4 + rise^2) / (2 rise); a corner
 * radius rounds the feet, and the shoulders where they are not smooth already. */
static gboolean
draw_arched(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
            GError **error)
{
  double half = plate->width / 2, rise = isnan(plate->rise) ? half / 2 : plate->rise;
  if (!(rise > 0 && rise <= half && rise < plate->height)) {
    g_autofree char *most = hf_text_at_most(MIN(half, plate->height));
    g_autofree char *fix = g_strdup_printf("give it a rise of at most %s", most);
    g_autofree char *given = hf_text_mm(rise);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                         "an arched top can't rise %s over its shoulders here", given);
  }
  double r = (half * half + rise * rise) / (2 * rise);
  double top = plate->height / 2, foot = -top, middle = top - r;
  double corner = isnan(plate->corner) ? 0 : MIN(plate->corner, MIN(half, (2 * top - rise) / 2));
  double in_x = half - corner;
  double shoulder = middle + sqrt(MAX((r - corner) * (r - corner) - in_x * in_x, 0));
  double turn = atan2(shoulder - middle, in_x);
  HfPoint centre = hf_point(0, middle);
  hf_outline_begin(own, hf_point(-in_x, foot));
  hf_outline_line_to(own, hf_point(in_x, foot));
  if (corner > 0)
    hf_outline_arc_to(own, hf_point(in_x, foot + corner), G_PI_2, hf_point(half, foot + corner));
  hf_outline_line_to(own, hf_point(half, shoulder));
  if (corner > 0)
    hf_outline_arc_to(own, hf_point(in_x, shoulder), turn, hf_point_polar(centre, r, turn));
  hf_outline_arc_to(own, centre, G_PI - 2 * turn, hf_point_polar(centre, r, G_PI - turn));
  if (corner > 0)
    hf_outline_arc_to(own, hf_point(-in_x, shoulder), turn, hf_point(-half, shoulder));
  hf_outline_line_to(own, hf_point(-half, foot + corner));
  if (corner > 0)
    hf_outline_arc_to(own, hf_point(-in_x, foot + corner), G_PI_2, hf_point(-in_x, foot));
  hf_outline_close(own);
  return TRUE;
}

/* Shield: a straight quarter of the height at the top, then two arcs that leave the sides smoothly
 * and meet at the point: R = (w^2/4 + d^2) / w, each about a centre on the line of the shoulders.
 */
static gboolean
draw_shield(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
            GError **error)
{
  double w = plate->width, half = w / 2, top = plate->height / 2, deep = plate->height * 3 / 4;
  if (deep < half) {
    g_autofree char *width = hf_text_mm(w), *least = hf_text_at_least(w * 2 / 3);
    g_autofree char *fix = g_strdup_printf("make it at least %s high", least);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                         "a shield %s wide is too low to come to a point", width);
  }
  double r = (half * half + deep * deep) / w, shoulder = top - plate->height / 4;
  double corner = isnan(plate->corner) ? 0 : MIN(plate->corner, MIN(half, plate->height / 4));
  double in_x = half - corner, off = r - half;
  double tip = shoulder - sqrt(MAX((r - corner) * (r - corner) - off * off, 0));
  double turn = atan2(shoulder - tip, off);
  HfPoint of_left = hf_point(off, shoulder), of_right = hf_point(-off, shoulder);
  hf_outline_begin(own, hf_point(in_x, top));
  hf_outline_line_to(own, hf_point(-in_x, top));
  if (corner > 0)
    hf_outline_arc_to(own, hf_point(-in_x, top - corner), G_PI_2, hf_point(-half, top - corner));
  hf_outline_line_to(own, hf_point(-half, shoulder));
  hf_outline_arc_to(own, of_left, turn, hf_point_polar(of_left, r, G_PI + turn));
  if (corner > 0)
    hf_outline_arc_to(own, hf_point(0, tip), G_PI - 2 * turn, hf_point_polar(of_right, r, -turn));
  hf_outline_arc_to(own, of_right, turn, hf_point(half, shoulder));
  hf_outline_line_to(own, hf_point(half, top - corner));
  if (corner > 0)
    hf_outline_arc_to(own, hf_point(in_x, top - corner), G_PI_2, hf_point(in_x, top));
  hf_outline_close(own);
  return TRUE;
}

/* Regular polygon in a circle, standing on one of its sides; a corner radius c takes c tan(pi/n)
 * off each end of each side. */
static gboolean
draw_polygon(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
             GError **error)
{
  int n = plate->sides;
  if (n < 3)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "give it 3 sides or more",
                         "a polygon of %d sides has no area", n);
  double r = plate->diameter / 2, step = 2 * G_PI / n, inside = r * cos(step / 2);
  double corner = isnan(plate->corner) ? 0 : MIN(plate->corner, 0.999 * inside);
  double half = inside * tan(step / 2) - corner * tan(step / 2);
  for (int i = 0; i < n; i++) {
    double out = -G_PI_2 + i * step;
    HfPoint side = hf_point_polar(hf_point(0, 0), inside, out);
    HfPoint from = hf_point_polar(side, -half, out + G_PI_2);
    HfPoint to = hf_point_polar(side, half, out + G_PI_2);
    HfPoint next = hf_point_polar(hf_point(0, 0), inside, out + step);
    if (i == 0)
      hf_outline_begin(own, from);
    hf_outline_line_to(own, to);
    if (corner > 0)
      hf_outline_arc_to(own, hf_point_polar(to, -corner, out), step,
                        i + 1 < n ? hf_point_polar(next, -half, out + step + G_PI_2)
                                  : g_array_index(own->curves, HfCurve, 0).p0);
  }
  hf_outline_close(own);
  return TRUE;
}

static const DrawFunc draw_shape[] = {
    [HF_PLATE_ROUND] = draw_round,          [HF_PLATE_OVAL] = draw_oval,
    [HF_PLATE_RECTANGLE] = draw_rectangle,  [HF_PLATE_ROUNDED] = draw_rectangle,
    [HF_PLATE_ARCHED] = draw_arched,        [HF_PLATE_SHIELD] = draw_shield,
    [HF_PLATE_POLYGON] = draw_polygon,      [HF_PLATE_BANNER] = hf_draw_banner,
    [HF_PLATE_TICKET] = hf_draw_ticket,     [HF_PLATE_BADGE] = hf_draw_badge,
    [HF_PLATE_ARROW] = hf_draw_arrow,       [HF_PLATE_SPEECH] = hf_draw_speech,
    [HF_PLATE_CLOUD] = hf_draw_cloud,       [HF_PLATE_HEART] = hf_draw_heart,
    [HF_PLATE_HEXAGONS] = hf_draw_hexagons, [HF_PLATE_TABBED] = hf_draw_tabbed,
};

gboolean
hf_plate_draw(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
              GError **error)
{
  return draw_shape[plate->shape](laying, entry, plate, own, error);
}

gboolean
hf_lay_plate(HfLaying *laying, guint entry, GError **error)
{
  const HfPlateEntry *plate = &hf_lay_entry(laying, entry)->plate;
  if (plate->shape == HF_PLATE_OUTLINE)
    return hf_lay_plate_outline(laying, entry, error);
  if (hf_plate_is_fitted(plate))
    return hf_plate_fit(laying, entry, error);
  g_autoptr(HfOutline) own = hf_outline_new();
  if (!hf_plate_draw(laying, entry, plate, own, error) ||
      !hf_lay_frames(laying, entry, hf_outline_box(own), error))
    return FALSE;
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}

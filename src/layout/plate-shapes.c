/* SPDX-License-Identifier: GPL-3.0-or-later
 * plate-shapes.c - banner, ticket, badge, arrow, speech, cloud, heart, hexagon row, tabbed.
 *
 *    ___________        _________        _______
 *    >  banner <       (  ticket )      | arrow  >     `depth` is how deep a notch, a corner or
 *    -----------       (_________)      |_______/      a tail is, how long a point or a tab
 *
 * docs/maths.md#plates
 */
#include "base/text.h"
#include "layout/plate-private.h"
#include "ornament/ornament.h"

/* Its depth, or @usual; refused from @most on. */
static gboolean
find_depth(HfLaying *laying, guint entry, const HfPlateEntry *plate, double usual, double most,
           double *ret_depth, GError **error)
{
  double given = plate->depth;
  *ret_depth = isnan(given) ? usual : given;
  if (*ret_depth < most)
    return TRUE;
  g_autofree char *deep = hf_text_mm(*ret_depth), *limit = hf_text_mm(most);
  g_autofree char *fix = g_strdup_printf("give it a depth of less than %s", limit);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                       "a depth of %s leaves nothing of this plate", deep);
}

/* A strip with swallow-tailed ends. */
gboolean
hf_draw_banner(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
               GError **error)
{
  double x = plate->width / 2, y = plate->height / 2, d;
  if (!find_depth(laying, entry, plate, 0.7 * y, x, &d, error))
    return FALSE;
  const HfPoint at[] = {{-x, -y}, {x, -y}, {x - d, 0}, {x, y}, {-x, y}, {d - x, 0}};
  hf_outline_add_polygon(own, at, G_N_ELEMENTS(at));
  return TRUE;
}

/* A rectangle whose corners are bitten off by quarters of a circle. */
gboolean
hf_draw_ticket(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
               GError **error)
{
  double x = plate->width / 2, y = plate->height / 2, d;
  if (!find_depth(laying, entry, plate, 0.3 * MIN(x, y), MIN(x, y), &d, error))
    return FALSE;
  hf_outline_begin(own, hf_point(-x + d, -y));
  hf_outline_line_to(own, hf_point(x - d, -y));
  hf_outline_arc_to(own, hf_point(x, -y), -G_PI_2, hf_point(x, -y + d));
  hf_outline_line_to(own, hf_point(x, y - d));
  hf_outline_arc_to(own, hf_point(x, y), -G_PI_2, hf_point(x - d, y));
  hf_outline_line_to(own, hf_point(-x + d, y));
  hf_outline_arc_to(own, hf_point(-x, y), -G_PI_2, hf_point(-x, y - d));
  hf_outline_line_to(own, hf_point(-x, -y + d));
  hf_outline_arc_to(own, hf_point(-x, -y), -G_PI_2, hf_point(-x + d, -y));
  hf_outline_close(own);
  return TRUE;
}

/* Lobes round a circle: each an arc of a third of a circle between two points of the inner one,
 * whose farthest point lies on the diameter. With half a lobe's angle h at the centre and the inner
 * radius q: chord c = 2 q sin h, radius of the lobe c / sqrt 3, its top at q cos h + c sqrt 3 / 6.
 */
gboolean
hf_draw_badge(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
              GError **error)
{
  (void)laying, (void)entry, (void)error;
  int n = plate->sides >= 3 ? plate->sides : 16;
  double h = G_PI / n, outer = plate->diameter / 2;
  double q = outer / (cos(h) + 2 * sin(h) * sqrt(3) / 6), chord = 2 * q * sin(h);
  double middle = q * cos(h) - chord * sqrt(3) / 6; /* of a lobe's circle, from the centre */
  HfPoint o = {0, 0}, first = hf_point_polar(o, q, G_PI_2 - h);
  hf_outline_begin(own, first);
  for (int i = 0; i < n; i++) {
    double way = G_PI_2 + 2 * h * i;
    HfPoint to = i + 1 < n ? hf_point_polar(o, q, way + h) : first;
    hf_outline_arc_to(own, hf_point_polar(o, middle, way), 2 * G_PI / 3, to);
  }
  hf_outline_close(own);
  return TRUE;
}

/* Points to the right; turn it for the left. */
gboolean
hf_draw_arrow(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
              GError **error)
{
  double x = plate->width / 2, y = plate->height / 2, d;
  if (!find_depth(laying, entry, plate, MIN(y, x), 2 * x, &d, error))
    return FALSE;
  const HfPoint at[] = {{-x, -y}, {x - d, -y}, {x, 0}, {x - d, y}, {-x, y}};
  hf_outline_add_polygon(own, at, G_N_ELEMENTS(at));
  return TRUE;
}

/* A rounded rectangle; the tail hangs down on the left, within the height. */
gboolean
hf_draw_speech(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
               GError **error)
{
  double x = plate->width / 2, y = plate->height / 2, d;
  if (!find_depth(laying, entry, plate, 0.4 * y, 1.5 * y, &d, error))
    return FALSE;
  double foot = d - y, most = MIN(x, (y - foot) / 2) * 0.9;
  double r = MIN(isnan(plate->corner) ? most * 0.6 : plate->corner, most);
  double left = MIN(-x + 0.3 * x + r * 0.4, -r * 0.1),
         wide = MIN(d, x - r + left > 0 ? x : 0.5 * x);
  hf_outline_begin(own, hf_point(MAX(left, -x + r), foot));
  hf_outline_line_to(own, hf_point(MAX(left, -x + r) - 0.15 * d, -y));
  hf_outline_line_to(own, hf_point(MIN(MAX(left, -x + r) + wide, x - r), foot));
  hf_outline_line_to(own, hf_point(x - r, foot));
  hf_outline_arc_to(own, hf_point(x - r, foot + r), G_PI_2, hf_point(x, foot + r));
  hf_outline_line_to(own, hf_point(x, y - r));
  hf_outline_arc_to(own, hf_point(x - r, y - r), G_PI_2, hf_point(x - r, y));
  hf_outline_line_to(own, hf_point(-x + r, y));
  hf_outline_arc_to(own, hf_point(-x + r, y - r), G_PI_2, hf_point(-x, y - r));
  hf_outline_line_to(own, hf_point(-x, foot + r));
  hf_outline_arc_to(own, hf_point(-x + r, foot + r), G_PI_2, hf_point(-x + r, foot));
  hf_outline_close(own);
  return TRUE;
}

/* Five puffs along a flat foot, drawn in a box 2 wide and 1.2 high, and stretched. */
gboolean
hf_draw_cloud(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
              GError **error)
{
  (void)laying, (void)entry, (void)error;
  /* the points where the puffs meet, and the share of a circle between them */
  static const struct {
    HfPoint to;
    double sweep;
  } puffs[] = {{{0.74, -0.60}, 0},   {{0.82, 0.0}, 2.87}, {{0.42, 0.40}, 2.7},
               {{-0.42, 0.40}, 2.8}, {{-0.82, 0.0}, 2.7}, {{-0.74, -0.60}, 2.87}};
  g_autoptr(HfOutline) unit = hf_outline_new();
  HfPoint pen = {-0.74, -0.60};
  hf_outline_begin(unit, pen);
  for (guint i = 0; i < G_N_ELEMENTS(puffs); i++) {
    HfPoint to = puffs[i].to, half = hf_point_scale(hf_point_sub(to, pen), 0.5);
    double sweep = puffs[i].sweep;
    if (sweep > 0) {
      HfPoint middle = hf_point_add(pen, half);
      double in = 1 / tan(sweep / 2);
      hf_outline_arc_to(unit, hf_point_add(middle, hf_point(-half.y * in, half.x * in)), sweep, to);
    } else {
      hf_outline_line_to(unit, to);
    }
    pen = to;
  }
  hf_outline_close(unit);
  HfBox box = hf_outline_box(unit);
  HfPoint middle = hf_box_centre(box);
  hf_outline_append(own, unit,
                    hf_matrix_then(hf_matrix_move(-middle.x, -middle.y),
                                   hf_matrix_scale(plate->width / hf_box_width(box),
                                                   plate->height / hf_box_height(box))));
  return TRUE;
}

/* The ornament, stretched. */
gboolean
hf_draw_heart(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
              GError **error)
{
  (void)laying, (void)entry, (void)error;
  g_autoptr(HfOrnament) heart = hf_ornament_new(HF_ORNAMENT_HEART, FALSE, 0);
  double wide = hf_box_width(hf_outline_box(heart->own));
  hf_outline_append(own, heart->own, hf_matrix_scale(plate->width / wide, plate->height));
  return TRUE;
}

/* Side by side, each on its tip, neighbours sharing a side. */
gboolean
hf_draw_hexagons(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
                 GError **error)
{
  (void)laying, (void)entry, (void)error;
  int n = MAX(plate->count, 1);
  double r = plate->diameter / 2, side = r * sqrt(3) / 2, left = -side * n;
  guint k = 0, all = 4 * (guint)n + 2;
  g_autofree HfPoint *at = g_new(HfPoint, all);
  for (int i = 0; i <= 2 * n; i++) /* along the foot: shoulders and tips in turn */
    at[k++] = hf_point(left + side * i, i % 2 == 0 ? -r / 2 : -r);
  for (int i = 2 * n; i >= 0; i--)
    at[k++] = hf_point(left + side * i, i % 2 == 0 ? r / 2 : r);
  g_assert(k == all);
  hf_outline_add_polygon(own, at, all);
  return TRUE;
}

/* A rectangle with a round-ended tab in the middle of each short end, for a screw: `depth` long,
 * and as wide as two thirds of the height allow. */
gboolean
hf_draw_tabbed(HfLaying *laying, guint entry, const HfPlateEntry *plate, HfOutline *own,
               GError **error)
{
  double x = plate->width / 2, y = plate->height / 2, d;
  if (!find_depth(laying, entry, plate, MIN(0.5 * y, 0.4 * x), x, &d, error))
    return FALSE;
  double in = x - d, r = MIN(d, 2 * y / 3),
         c = MIN(isnan(plate->corner) ? 0 : plate->corner, y - r);
  hf_outline_begin(own, hf_point(-in + c, -y));
  hf_outline_line_to(own, hf_point(in - c, -y));
  hf_outline_arc_to(own, hf_point(in - c, -y + c), c > 0 ? G_PI_2 : 0, hf_point(in, -y + c));
  hf_outline_line_to(own, hf_point(in, -r));
  hf_outline_line_to(own, hf_point(x - r, -r));
  hf_outline_arc_to(own, hf_point(x - r, 0), G_PI, hf_point(x - r, r));
  hf_outline_line_to(own, hf_point(in, r));
  hf_outline_line_to(own, hf_point(in, y - c));
  hf_outline_arc_to(own, hf_point(in - c, y - c), c > 0 ? G_PI_2 : 0, hf_point(in - c, y));
  hf_outline_line_to(own, hf_point(-in + c, y));
  hf_outline_arc_to(own, hf_point(-in + c, y - c), c > 0 ? G_PI_2 : 0, hf_point(-in, y - c));
  hf_outline_line_to(own, hf_point(-in, r));
  hf_outline_line_to(own, hf_point(-x + r, r));
  hf_outline_arc_to(own, hf_point(-x + r, 0), G_PI, hf_point(-x + r, -r));
  hf_outline_line_to(own, hf_point(-in, -r));
  hf_outline_line_to(own, hf_point(-in, -y + c));
  hf_outline_arc_to(own, hf_point(-in + c, -y + c), c > 0 ? G_PI_2 : 0, hf_point(-in + c, -y));
  hf_outline_close(own);
  return TRUE;
}

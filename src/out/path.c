/* SPDX-License-Identifier: GPL-3.0-or-later
 * path.c - contours as SVG path data.
 *
 * An arc command gives end points and radius, so its bulge is only as good as they are rounded:
 * d(sagitta) = d(radius) (1 / cos(sweep / 2) - 1), which grows without bound at half a turn. So an
 * arc is one command up to 170 degrees, where that is 11 (120 degrees and 1, where the picture has
 * fewer figures), and beyond it is cut in equal pieces. A
 * circle is two halves whose ends lie exactly one rounded diameter apart. A reader that draws
 * quarters of a turn as cubics is off by 0.027 % of the radius (docs/maths.md#arcs-in-svg).
 * Source of the arc command: W3C SVG 2, 9.3.8 and B.2.5 (radii too small for the ends are scaled
 * up).
 */
#include "base/text.h"
#include "out/outlines-private.h"
#include "out/path-private.h"

/* Of an arc in one command, radians: by as much more as the figures tell. */
static double
most_sweep(const HfPath *path)
{
  return (path->decimals >= 5 ? 170 : 120) * G_PI / 180;
}

static HfPoint
to_page(const HfPath *path, HfPoint p)
{
  return hf_point(p.x - path->origin.x, path->origin.y - p.y);
}

static void
put_number(HfPath *path, double value)
{
  g_string_append_c(path->text, ' ');
  hf_text_append(path->text, value, path->decimals);
}

static void
put_point(HfPath *path, HfPoint p)
{
  put_number(path, p.x);
  put_number(path, p.y);
}

/* y is turned over, so counter-clockwise in the sign is SVG's sweep flag 0. */
static void
put_arc_to(HfPath *path, double radius, double sweep, HfPoint to)
{
  g_string_append(path->text, " A");
  put_number(path, radius);
  put_number(path, radius);
  g_string_append(path->text, sweep > 0 ? " 0 0 0" : " 0 0 1");
  put_point(path, to);
}

static double
rounded(const HfPath *path, double value)
{
  static const double per_mm[] = {1, 10, 100, 1000, 10000, 100000, 1000000};
  return rint(value * per_mm[path->decimals]) / per_mm[path->decimals];
}

static void
put_curve(HfPath *path, const HfCurve *curve)
{
  if (curve->kind == HF_CURVE_CUBIC) {
    g_string_append(path->text, " C");
    put_point(path, to_page(path, curve->c0));
    put_point(path, to_page(path, curve->c1));
    put_point(path, to_page(path, curve->p1));
    return;
  }
  double r = hf_curve_radius(curve);
  guint n = MAX(1, (guint)ceil(fabs(curve->sweep) / most_sweep(path) - 1e-9));
  for (guint i = 1; i <= n; i++) {
    HfPoint to = to_page(path, hf_curve_point(curve, i / (double)n));
    if (curve->kind == HF_CURVE_ARC) {
      put_arc_to(path, r, curve->sweep, to);
    } else {
      g_string_append(path->text, " L");
      put_point(path, to);
    }
  }
}

static gboolean
put_circle(HfPath *path, const HfOutline *outline, guint i, double sweep)
{
  HfPoint centre;
  double radius;
  if (!hf_outlines_circle(outline, i, &centre, &radius))
    return FALSE;
  double r = rounded(path, radius);
  HfPoint c = to_page(path, centre);
  HfPoint right = {rounded(path, c.x) + r, rounded(path, c.y)},
          left = {rounded(path, c.x) - r, rounded(path, c.y)};
  g_string_append(path->text, "M");
  put_point(path, right);
  put_arc_to(path, r, sweep, left);
  put_arc_to(path, r, sweep, right);
  g_string_append(path->text, " Z\n");
  return TRUE;
}

void
hf_path_contour(HfPath *path, const HfOutline *outline, guint i)
{
  guint n;
  const HfCurve *curve = hf_outline_contour(outline, i, &n);
  if (put_circle(path, outline, i, curve->sweep))
    return;
  g_string_append(path->text, "M");
  put_point(path, to_page(path, curve->p0));
  guint shown = curve[n - 1].kind == HF_CURVE_LINE ? n - 1 : n; /* Z draws a last line */
  for (guint j = 0; j < shown; j++)
    put_curve(path, &curve[j]);
  g_string_append(path->text, " Z\n");
}

void
hf_path_move(HfPath *path, HfPoint to)
{
  g_string_append(path->text, path->text->str[path->text->len - 1] == '"' ? "M" : " M");
  put_point(path, to_page(path, to));
}

void
hf_path_curve(HfPath *path, const HfCurve *curve)
{
  put_curve(path, curve);
}

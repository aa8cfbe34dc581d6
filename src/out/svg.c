/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg.c - the outlines as SVG: one path element per part, openings nested in it, true arcs.
 *
 * Millimetres, no transforms: y is turned over by writing it so. Coordinates have five decimals
 * (0.01 um). An arc command gives end points and radius, so its bulge is only as good as they are
 * rounded: d(sagitta) = d(radius) (1 / cos(sweep / 2) - 1), which grows without bound at half a
 * turn. Besides, many readers replace arcs by cubics over a quarter of a turn, which are off by
 * 0.027 % of the radius, 0.14 mm at 500 mm; over a shorter arc by the sixth power of its sweep less
 * (from memory; docs/maths.md#arcs-in-svg). So arcs are cut short enough for both. A small circle
 * is two halves whose ends lie exactly one rounded diameter apart. Source of the arc command: W3C
 * SVG 2, 9.3.8 and B.2.5 (radii too small for the ends are scaled up).
 *
 * What is not to be cut says so in title and description, in the ids and in letters above the sign.
 * Those letters are text, not outlines: a reader for cutting does not take them for metal, and
 * whoever opens the file in a viewer can't miss them.
 */
#include "base/text.h"
#include "out/outlines-private.h"

enum { DECIMALS = 5, PER_MM = 100000 };
static const double CUBIC_ERROR = 0.000273; /* of the radius, over a quarter of a turn */
static const double CUBIC_MOST = 0.002;     /* mm that a reader's cubics may be off */

typedef struct {
  GString *text;
  HfOutlinesFrame frame;
} Svg;

static HfPoint
to_page(const Svg *svg, HfPoint p)
{
  return hf_point(p.x - svg->frame.corner.x, svg->frame.height - (p.y - svg->frame.corner.y));
}

static void
put_number(Svg *svg, double value)
{
  g_string_append_c(svg->text, ' ');
  hf_text_append(svg->text, value, DECIMALS);
}

static void
put_point(Svg *svg, HfPoint p)
{
  put_number(svg, p.x);
  put_number(svg, p.y);
}

static void
put_escaped(Svg *svg, const char *words)
{
  g_autofree char *escaped = g_markup_escape_text(words, -1);
  g_string_append(svg->text, escaped);
}

/* y is turned over, so counter-clockwise in the sign is SVG's sweep flag 0. */
static void
put_arc_to(Svg *svg, double radius, double sweep, HfPoint to)
{
  g_string_append(svg->text, " A");
  put_number(svg, radius);
  put_number(svg, radius);
  g_string_append(svg->text, sweep > 0 ? " 0 0 0" : " 0 0 1");
  put_point(svg, to);
}

static double
rounded(double value)
{
  return rint(value * PER_MM) / PER_MM;
}

/* In how many pieces an arc of @sweep is written. */
static guint
pieces(double radius, double sweep)
{
  double most = 2 * G_PI / 3;
  if (CUBIC_ERROR * radius > CUBIC_MOST)
    most = G_PI_2 * pow(CUBIC_MOST / (CUBIC_ERROR * radius), 1.0 / 6);
  return (guint)ceil(fabs(sweep) / most - 1e-9);
}

static void
put_curve(Svg *svg, const HfCurve *curve)
{
  double r = hf_curve_radius(curve);
  guint n = curve->kind == HF_CURVE_ARC ? pieces(r, curve->sweep) : 1;
  for (guint i = 1; i <= n; i++) {
    HfPoint to = to_page(svg, hf_curve_point(curve, i / (double)n));
    if (curve->kind == HF_CURVE_ARC) {
      put_arc_to(svg, r, curve->sweep, to);
    } else {
      g_string_append(svg->text, " L");
      put_point(svg, to);
    }
  }
}

/* A circle so small that cubics over quarters of it are good enough. */
static gboolean
put_small_circle(Svg *svg, const HfOutline *outline, guint i, double sweep)
{
  HfPoint centre;
  double radius;
  if (!hf_outlines_circle(outline, i, &centre, &radius) || CUBIC_ERROR * radius > CUBIC_MOST)
    return FALSE;
  double r = rounded(radius);
  HfPoint c = to_page(svg, centre);
  HfPoint right = {rounded(c.x) + r, rounded(c.y)}, left = {rounded(c.x) - r, rounded(c.y)};
  g_string_append(svg->text, "M");
  put_point(svg, right);
  put_arc_to(svg, r, sweep, left);
  put_arc_to(svg, r, sweep, right);
  g_string_append(svg->text, " Z\n");
  return TRUE;
}

static void
put_contour(Svg *svg, const HfOutline *outline, guint i)
{
  guint n;
  const HfCurve *curve = hf_outline_contour(outline, i, &n);
  if (put_small_circle(svg, outline, i, curve->sweep))
    return;
  g_string_append(svg->text, "M");
  put_point(svg, to_page(svg, curve->p0));
  guint shown = curve[n - 1].kind == HF_CURVE_LINE ? n - 1 : n; /* Z draws a last line */
  for (guint j = 0; j < shown; j++)
    put_curve(svg, &curve[j]);
  g_string_append(svg->text, " Z\n");
}

/* Outer ring @ring with all openings in it. */
static void
put_part(Svg *svg, const HfSheetful *what, guint ring, guint number)
{
  const HfRegion *region = what->metal->region;
  g_autofree char *name = hf_outlines_part_name(what, ring);
  g_string_append_printf(svg->text, "<path id=\"part-%u\" d=\"", number);
  put_contour(svg, what->fit->outline, ring);
  for (guint i = 0; i < region->rings->len; i++)
    if (hf_region_ring(region, i)->parent == (gint)ring)
      put_contour(svg, what->fit->outline, i);
  g_string_append(svg->text, "\"><title>");
  put_escaped(svg, name);
  g_string_append(svg->text, "</title></path>\n");
}

/* The strip above the sign for the letters of what is not to be cut; else 0. */
static double
strip_height(const Svg *svg, const HfSheetful *what)
{
  return what->hold->whole ? 0 : ceil(MAX(svg->frame.width / 12, 5));
}

static void
put_head(Svg *svg, const HfSheetful *what)
{
  double strip = strip_height(svg, what);
  double width = MAX(svg->frame.width, 1), height = MAX(svg->frame.height, 1) + strip;
  g_string_append(svg->text, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                             "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"");
  hf_text_append(svg->text, width, DECIMALS);
  g_string_append(svg->text, "mm\" height=\"");
  hf_text_append(svg->text, height, DECIMALS);
  g_string_append(svg->text, "mm\" viewBox=\"0 ");
  hf_text_append(svg->text, -strip, DECIMALS);
  put_number(svg, width);
  put_number(svg, height);
  g_string_append(svg->text, "\">\n<title>");
  if (!what->hold->whole)
    g_string_append(svg->text, "NOT TO BE CUT: ");
  put_escaped(svg, what->recipe->sign != NULL ? what->recipe->sign : "sign");
  g_string_append(svg->text, "</title>\n<desc>");
  g_auto(GStrv) says = hf_outlines_says(what);
  for (guint i = 0; says[i] != NULL; i++) {
    put_escaped(svg, says[i]);
    g_string_append_c(svg->text, '\n');
  }
  g_string_append(svg->text, "unit: millimetres</desc>\n");
}

static void
put_warning(Svg *svg, const HfSheetful *what)
{
  double strip = strip_height(svg, what);
  if (strip == 0)
    return;
  g_string_append(svg->text, "<text x=\"0\" y=\"");
  hf_text_append(svg->text, -strip / 4, DECIMALS);
  g_string_append(svg->text, "\" font-family=\"sans-serif\" font-weight=\"bold\" font-size=\"");
  hf_text_append(svg->text, strip * 0.75, DECIMALS);
  g_string_append(svg->text, "\">NOT TO BE CUT</text>\n");
}

GBytes *
hf_out_svg(const HfSheetful *what)
{
  Svg svg = {g_string_sized_new(1 << 16), hf_outlines_frame(what->fit)};
  const HfRegion *region = what->metal->region;
  put_head(&svg, what);
  put_warning(&svg, what);
  g_string_append_printf(svg.text, "<g id=\"%s\" fill=\"black\" fill-rule=\"evenodd\">\n",
                         what->hold->whole ? "metal" : "not-to-be-cut");
  for (guint i = 0, number = 1; i < region->rings->len; i++)
    if (hf_region_ring(region, i)->parent < 0)
      put_part(&svg, what, i, number++);
  g_string_append(svg.text, "</g>\n</svg>\n");
  return g_string_free_to_bytes(svg.text);
}

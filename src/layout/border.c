/* SPDX-License-Identifier: GPL-3.0-or-later
 * border.c - an ornamental line cut through a plate, inside its edge.
 *
 *    ___________________       plain, double: a strip between two lines inside the edge; what it
 *   |  ____________ __  |      goes round would fall out, so ties cross it, evenly from corner
 *   | |                 |      to corner. dashed: the same, of dashes.
 *   | |            || | |      rope, scallop: single openings side by side, nothing to tie.
 *   | '--- ---------' | |      notched corners: a circle is bitten off each corner of the strip.
 *   |___________________|      corner scrolls: a scroll stands in each corner instead.
 *
 * The lines are the true curves of the plate's outline, moved in (geom/bolder.h).
 */
#include "base/text.h"
#include "geom/bolder.h"
#include "geom/retrace.h"
#include "layout/border-private.h"
#include "ornament/ornament.h"
#include "stock/practice.h"

#define OVER    0.3  /* mm that a tie runs into the metal on both sides of a strip */
#define LEAN    0.75 /* rad of a strand from the line */
#define STRAND  0.40 /* its thickness, of the border's width */
#define FINE_MM 0.002

enum { FEWEST = 4 }; /* ties on a line without corners */

typedef HfLining Lining;

gboolean
hf_border_refuse(const Lining *lining, GError **error, const char *fix, const char *what)
{
  return hf_lay_refuse(lining->laying, lining->entry, error, HF_ERROR_NO_ROOM, fix, "%s", what);
}

HfOutline *
hf_border_line(const Lining *lining, double by, GError **error)
{
  g_autoptr(HfOutline) line =
      by > 0 ? hf_outline_bolder(lining->edge, -by) : hf_outline_copy(lining->edge);
  if (hf_outline_n_contours(line) == 1)
    return g_steal_pointer(&line);
  hf_border_refuse(lining, error, "give it a smaller inset or width, or make the plate larger",
                   hf_outline_n_contours(line) == 0
                       ? "there is no room for a border so far inside the edge"
                       : "so far inside the edge the border falls into pieces");
  return NULL;
}

/* A strip from @from to @to inside the edge. */
static gboolean
add_strip(Lining *lining, double from, double to, GError **error)
{
  g_autoptr(HfOutline) outer = hf_border_line(lining, from, error);
  g_autoptr(HfOutline) inner = outer == NULL ? NULL : hf_border_line(lining, to, error);
  if (inner == NULL)
    return FALSE;
  hf_outline_reverse(inner);
  hf_outline_append(lining->open, outer, HF_MATRIX_IDENTITY);
  hf_outline_append(lining->open, inner, HF_MATRIX_IDENTITY);
  return TRUE;
}

/* ---- along it
 * --------------------------------------------------------------------------------
 */

/* Called for each place: its point, its direction. */
typedef void (*Put)(Lining *lining, HfPoint at, double way, double across);

/* Evenly, about @pitch apart: half a step from either corner, so that what
 * stands at a corner is as long on both sides of it. Sides shorter than @least
 * get none. @shift: steps. */
static void
put_along(Lining *lining, const HfTrack *way, double pitch, double least, double shift,
          double across, Put put)
{
  for (guint i = 0; i < way->sides->len; i++) {
    const HfTrackSide *side = &g_array_index(way->sides, HfTrackSide, i);
    if (side->length < least)
      continue;
    int n = MAX((int)ceil(side->length / pitch - 1e-9), 1);
    if (side->closed)
      n = MAX(4 * ((n + 3) / 4), FEWEST); /* as many on each quarter */
    for (int k = 0; k < n; k++) {
      double s = side->from + side->length * (k + 0.5 + shift) / n, heading;
      HfPoint at = hf_track_at(way, s, &heading);
      put(lining, at, heading, across);
    }
  }
}

/* A bar across a strip @across wide. */
static void
put_bar(HfOutline *bars, HfPoint at, double way, double across, double width)
{
  HfPoint along = hf_point_polar(hf_point(0, 0), width / 2, way);
  HfPoint out = hf_point_polar(hf_point(0, 0), across / 2 + OVER, way + G_PI_2);
  HfPoint corners[] = {
      hf_point_sub(hf_point_sub(at, along), out), hf_point_sub(hf_point_add(at, along), out),
      hf_point_add(hf_point_add(at, along), out), hf_point_add(hf_point_sub(at, along), out)};
  hf_outline_add_polygon(bars, corners, 4);
}

static void
put_tie(Lining *lining, HfPoint at, double way, double across)
{
  put_bar(lining->bars, at, way, across, lining->tie);
}

/* How far apart, where the recipe says how many there are on the whole line. */
static double
pitch_of(const Lining *lining, const HfTrack *way, double usual)
{
  return lining->own->count > 0 ? way->length / lining->own->count : usual;
}

static gboolean
tie_strip(Lining *lining, double from, double to, double shift, GError **error)
{
  g_autoptr(HfOutline) line = hf_border_line(lining, (from + to) / 2, error);
  if (line == NULL || !add_strip(lining, from, to, error))
    return FALSE;
  g_autoptr(HfTrack) way = hf_track_new(line, 0);
  put_along(lining, way, pitch_of(lining, way, lining->farthest), 4 * lining->tie + 2 * (to - from),
            shift, to - from, put_tie);
  return TRUE;
}

/* ---- the forms
 * -------------------------------------------------------------------------------
 */

static gboolean
line_plain(Lining *lining, GError **error)
{
  const HfBorderEntry *own = lining->own;
  return tie_strip(lining, own->inset, own->inset + own->width, 0, error);
}

/* Two strips with a strip of metal between them, as wide; their ties do not
 * stand in line. */
static gboolean
line_double(Lining *lining, GError **error)
{
  const HfBorderEntry *own = lining->own;
  double second = own->inset + own->width + MAX(own->width, 1.6 * lining->tie);
  return tie_strip(lining, own->inset, own->inset + own->width, 0, error) &&
         tie_strip(lining, second, second + own->width, 0.25, error);
}

/* Dashes six times as long as wide, twice as far apart as a tie is wide. */
static gboolean
line_dashed(Lining *lining, GError **error)
{
  const HfBorderEntry *own = lining->own;
  lining->tie = MAX(lining->tie, 1.5 * own->width);
  lining->farthest = lining->tie + 6 * own->width;
  return line_plain(lining, error);
}

/* One strand of a rope: a lens that lies aslant. */
static void
put_strand(Lining *lining, HfPoint at, double way, double across)
{
  double half = across / 2 / sin(LEAN), thick = STRAND * across;
  /* two arcs over the chord 2 half, each rising thick / 2 */
  double rise = thick / 2, r = (half * half + rise * rise) / (2 * rise), sweep = 2 * asin(half / r);
  HfPoint a = hf_point_polar(at, -half, way + LEAN), b = hf_point_polar(at, half, way + LEAN);
  HfPoint up = hf_point_polar(at, r - rise, way + LEAN + G_PI_2);
  HfPoint down = hf_point_polar(at, rise - r, way + LEAN + G_PI_2);
  hf_outline_begin(lining->open, a);
  hf_outline_arc_to(lining->open, up, sweep, b);
  hf_outline_arc_to(lining->open, down, sweep, a);
  hf_outline_close(lining->open);
}

/* A half moon on the inner line, round side to the edge, which is on the right of the line. */
static void
put_scallop(Lining *lining, HfPoint at, double way, double across)
{
  HfPoint a = hf_point_polar(at, -across, way), b = hf_point_polar(at, across, way);
  hf_outline_begin(lining->open, a);
  hf_outline_arc_to(lining->open, at, G_PI, b);
  hf_outline_close(lining->open);
}

/* Along the line @deep of its width in. */
static gboolean
line_of_openings(Lining *lining, double pitch, double deep, Put put, GError **error)
{
  const HfBorderEntry *own = lining->own;
  g_autoptr(HfOutline) line = hf_border_line(lining, own->inset + deep * own->width, error);
  if (line == NULL)
    return FALSE;
  g_autoptr(HfTrack) way = hf_track_new(line, 0);
  double step = pitch_of(lining, way, pitch);
  for (guint i = 0; i < way->sides->len; i++) {
    const HfTrackSide *side = &g_array_index(way->sides, HfTrackSide, i);
    /* room for what stands round the corner */
    double spare = side->closed ? 0 : own->width + lining->tie;
    int n = (int)floor((side->length - spare) / step + 1e-9);
    if (n < 1)
      continue;
    double each = (side->length - spare) / n;
    for (int k = 0; k < n; k++) {
      double heading, s = side->from + spare / 2 + each * (k + 0.5);
      HfPoint at = hf_track_at(way, s, &heading);
      put(lining, at, heading, own->width);
    }
  }
  return TRUE;
}

static gboolean
line_rope(Lining *lining, GError **error)
{
  double thick = STRAND * lining->own->width;
  return line_of_openings(lining, (1.5 * lining->tie + thick) / sin(LEAN), 0.5, put_strand, error);
}

static gboolean
line_scallop(Lining *lining, GError **error)
{
  return line_of_openings(lining, 2 * lining->own->width + 1.1 * lining->tie, 1, put_scallop,
                          error);
}

/* ---- corners
 * ---------------------------------------------------------------------------------
 */

typedef struct {
  HfPoint at;
  double inward; /* direction of the bisector */
} Corner;

/* Where it turns to the left by 60 degrees and more, at a corner or round an
 * arc that is short beside the whole: the point in which its sides meet. */
static GArray *
corners_of(const HfOutline *line)
{
  GArray *corners = g_array_new(FALSE, FALSE, sizeof(Corner));
  guint n;
  const HfCurve *curve = hf_outline_contour(line, 0, &n);
  double small = 0.2 * MIN(hf_box_width(hf_outline_box(line)), hf_box_height(hf_outline_box(line)));
  for (guint i = 0; i < n; i++) {
    gboolean arc =
        curve[i].kind == HF_CURVE_ARC && curve[i].sweep > 0 && hf_curve_radius(&curve[i]) < small;
    const HfCurve *next = &curve[(i + 1) % n];
    HfPoint in = hf_curve_derivative(&curve[i], arc ? 0 : 1);
    HfPoint out = arc ? hf_curve_derivative(&curve[i], 1) : hf_curve_derivative(next, 0);
    double turn = atan2(hf_point_cross(in, out), hf_point_dot(in, out));
    if (turn < G_PI / 3 - 1e-6)
      continue;
    HfPoint at = curve[i].p1;
    if (arc)
      at = hf_point_add(curve[i].p0, hf_point_scale(in, hf_curve_radius(&curve[i]) * tan(turn / 2) /
                                                            hf_point_length(in)));
    Corner corner = {at, hf_angle_of(out) + (G_PI - turn) / 2};
    g_array_append_val(corners, corner);
  }
  return corners;
}

static GArray *
need_corners(const Lining *lining, const HfOutline *line, GError **error)
{
  GArray *corners = corners_of(line);
  if (corners->len > 0)
    return corners;
  g_array_unref(corners);
  hf_border_refuse(lining, error, "write another form: plain, double, dashed, rope or scallop",
                   "this plate has no corners");
  return NULL;
}

/* @line without the discs of @radius about its corners, on true curves. */
static HfOutline *
bitten(const HfOutline *line, const GArray *corners, double radius)
{
  g_autoptr(HfOutline) both = hf_outline_copy(line);
  for (guint i = 0; i < corners->len; i++)
    hf_outline_add_circle(both, g_array_index(corners, Corner, i).at, radius);
  g_autoptr(HfOutline) discs = hf_outline_new();
  for (guint i = 0; i < corners->len; i++)
    hf_outline_add_circle(discs, g_array_index(corners, Corner, i).at, radius);
  g_autoptr(HfRegion) whole = hf_region_of_outline(line, HF_NO_SHAPE, FINE_MM);
  g_autoptr(HfRegion) bites = hf_region_of_outline(discs, HF_NO_SHAPE, FINE_MM);
  g_autoptr(HfRegion) left = hf_region_subtract(whole, bites);
  return hf_region_curves_of(left, both, FINE_MM);
}

static gboolean
line_notched(Lining *lining, GError **error)
{
  const HfBorderEntry *own = lining->own;
  g_autoptr(HfOutline) line = hf_border_line(lining, own->inset, error);
  g_autoptr(GArray) corners = line == NULL ? NULL : need_corners(lining, line, error);
  if (corners == NULL)
    return FALSE;
  g_autoptr(HfOutline) base = bitten(line, corners, MAX(own->inset, 3 * own->width));
  const HfOutline *edge = lining->edge;
  lining->edge = base;
  gboolean done = hf_outline_n_contours(base) == 1
                      ? tie_strip(lining, 0, own->width, 0, error)
                      : hf_border_refuse(lining, error, "give it a smaller inset or width",
                                         "its corners leave nothing of it");
  lining->edge = edge;
  return done;
}

/* A square of @size whose corner is the border's own, its bisector turned to
 * @inward from down to the right; @over it on the outside. */
static void
add_block(Lining *lining, const Corner *corner, double size, double over)
{
  HfMatrix m = hf_matrix_then(hf_matrix_turn(corner->inward + G_PI_4),
                              hf_matrix_move(corner->at.x, corner->at.y));
  HfPoint at[] = {{-over, -size}, {size, -size}, {size, over}, {-over, over}};
  for (guint i = 0; i < G_N_ELEMENTS(at); i++)
    at[i] = hf_matrix_apply(m, at[i]);
  hf_outline_add_polygon(lining->bars, at, G_N_ELEMENTS(at));
}

static double
least_apart(const GArray *corners)
{
  double least = INFINITY;
  for (guint i = 0; i < corners->len; i++)
    for (guint k = i + 1; k < corners->len; k++)
      least = fmin(least, hf_point_distance(g_array_index(corners, Corner, i).at,
                                            g_array_index(corners, Corner, k).at));
  return least;
}

/* In each corner metal, as large as the scroll and a tie, and the scroll cut
 * from it. */
static gboolean
line_scrolls(Lining *lining, GError **error)
{
  const HfBorderEntry *own = lining->own;
  g_autoptr(HfOutline) line = hf_border_line(lining, own->inset, error);
  g_autoptr(GArray) corners = line == NULL ? NULL : need_corners(lining, line, error);
  if (corners == NULL || !line_plain(lining, error))
    return FALSE;
  g_autoptr(HfOutline) scroll = hf_ornament_corner();
  HfBox box = hf_outline_box(line);
  double size = MIN(13 * own->width, 0.3 * MIN(hf_box_width(box), hf_box_height(box)));
  size = MIN(size, 0.45 * least_apart(corners));
  for (guint i = 0; i < corners->len; i++) {
    const Corner *corner = &g_array_index(corners, Corner, i);
    HfMatrix m =
        hf_matrix_then(hf_matrix_scale(size, size), hf_matrix_turn(corner->inward + G_PI_4));
    hf_outline_append(lining->scrolls, scroll,
                      hf_matrix_then(m, hf_matrix_move(corner->at.x, corner->at.y)));
    add_block(lining, corner, size + lining->tie, OVER);
  }
  return TRUE;
}

/* ---- the entry
 * -------------------------------------------------------------------------------
 */

static gboolean (*const forms[])(Lining *lining, GError **error) = {
    [HF_BORDER_PLAIN] = line_plain,     [HF_BORDER_DOUBLE] = line_double,
    [HF_BORDER_DASHED] = line_dashed,   [HF_BORDER_ROPE] = line_rope,
    [HF_BORDER_SCALLOP] = line_scallop, [HF_BORDER_NOTCHED] = line_notched,
    [HF_BORDER_SCROLLS] = line_scrolls, [HF_BORDER_ORNAMENTS] = hf_border_ornaments,
};

static void
add_shape(HfLaying *laying, guint entry, guint copy, HfOutline *outline, gboolean opening)
{
  if (hf_outline_n_contours(outline) == 0) {
    hf_outline_free(outline);
    return;
  }
  HfLaid *laid = &laying->laid[entry];
  HfShape *shape = hf_shape_new(outline, hf_lay_label(laying, entry, 0), entry, -1, opening);
  shape->copy = copy;
  shape->em = g_array_index(laid->frames, HfMatrix, copy);
  laid->own = hf_box_union(laid->own, hf_outline_box(outline));
  g_ptr_array_add(laid->shapes, shape);
}

/* A web across a strip that is wide for it is a long one: it gets half as much
 * again. */
static double
tie_of(const HfLaying *laying, const HfBorderEntry *own)
{
  double usual = HF_OVER_LIMIT * laying->joint_limit;
  if (!isnan(own->ties))
    return own->ties;
  return own->width > 2.5 * usual ? 1.5 * usual : usual;
}

static gboolean
line_shape(HfLaying *laying, guint entry, guint copy, const HfShape *plate, GError **error)
{
  const HfBorderEntry *own = &hf_lay_entry(laying, entry)->border;
  Lining lining = {laying,
                   entry,
                   own,
                   plate->outline,
                   tie_of(laying, own),
                   MIN(150, 50 * laying->recipe->thickness),
                   hf_outline_new(),
                   hf_outline_new(),
                   hf_outline_new()};
  gboolean done = forms[own->form](&lining, error);
  HfMatrix frame = hf_matrix_move(laying->laid[entry].centre.x, laying->laid[entry].centre.y);
  g_array_append_val(laying->laid[entry].frames, frame);
  add_shape(laying, entry, copy, lining.open, TRUE);
  add_shape(laying, entry, copy, lining.bars, FALSE);
  add_shape(laying, entry, copy, lining.scrolls, TRUE);
  return done;
}

gboolean
hf_lay_border(HfLaying *laying, guint entry, GError **error)
{
  guint on;
  const HfLaid *host = hf_lay_named(laying, hf_lay_entry(laying, entry)->place.on, &on);
  laying->laid[entry].centre = host->centre;
  guint copy = 0;
  for (guint i = 0; i < host->shapes->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(host->shapes, i);
    if (!shape->opening && !line_shape(laying, entry, copy++, shape, error))
      return FALSE;
  }
  return TRUE;
}

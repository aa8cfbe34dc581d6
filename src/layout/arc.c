/* SPDX-License-Identifier: GPL-3.0-or-later
 * arc.c - letters on a circle, and where their ink begins and ends seen from its centre.
 *
 *          __H_A_R__        rigid letters, tops outward: the text runs clockwise; the middle of a
 *        /     |     \      letter's advance stands on the baseline circle, its midline goes
 *       |      o      |     through the centre
 *        \  S_T_E  /        tops inward: the text runs counter-clockwise, so that words at the
 *          -------          bottom still read from left to right
 *
 * Rule for rigid letters: SVG 2, "Text on a path layout rules": the midpoint of a glyph is half its
 * own advance behind its start point, its midline is perpendicular to the chord between start and
 * end point, which on a circle is the tangent at the midpoint. Spacing is distance along the path.
 * docs/maths.md#letters-on-a-circle, #centred-by-ink.
 */
#include "layout/words-private.h"

enum { PIECES = 8, NEWTON_STEPS = 40 };

double
hf_arc_angle(const HfSetting *setting, double along, double from)
{
  return from + (setting->inward ? along : -along) / setting->radius;
}

HfMatrix
hf_arc_letter(const HfSetting *setting, const HfLetter *letter, double along, double from)
{
  double across = setting->size * setting->wide, half = letter->advance * across / 2;
  double angle = hf_arc_angle(setting, along + half, from);
  HfMatrix flat = hf_matrix_then(hf_matrix_scale(across, setting->size), hf_matrix_move(-half, 0));
  HfMatrix turned =
      hf_matrix_then(flat, hf_matrix_turn(setting->inward ? angle + G_PI_2 : angle - G_PI_2));
  return hf_matrix_then(turned,
                        hf_matrix_move(setting->radius * cos(angle), setting->radius * sin(angle)));
}

/* ---- polar angles of the ink --------------------------------------------------------------- */

/* The polar angle of p(t) is least or greatest where p x p' = 0. */
static double
turning(const HfCurve *curve, double t)
{
  return hf_point_cross(hf_curve_point(curve, t), hf_curve_derivative(curve, t));
}

static double
halved(const HfCurve *curve, double a, double b)
{
  gboolean rising = turning(curve, a) < 0;
  for (int i = 0; i < NEWTON_STEPS; i++) {
    double middle = (a + b) / 2;
    if ((turning(curve, middle) < 0) == rising)
      a = middle;
    else
      b = middle;
  }
  return (a + b) / 2;
}

static void
take(HfPoint p, double near, double *least, double *greatest)
{
  double angle = near + remainder(hf_angle_of(p) - near, 2 * G_PI);
  *least = MIN(*least, angle);
  *greatest = MAX(*greatest, angle);
}

static void
curve_extent(const HfCurve *curve, double near, double *least, double *greatest)
{
  take(curve->p0, near, least, greatest);
  if (curve->kind == HF_CURVE_LINE)
    return; /* seen from any point, a line is widest at its ends */
  double before = turning(curve, 0);
  for (int i = 0; i < PIECES; i++) {
    double a = (double)i / PIECES, b = (i + 1.0) / PIECES, after = turning(curve, b);
    if ((before < 0) != (after < 0))
      take(hf_curve_point(curve, halved(curve, a, b)), near, least, greatest);
    before = after;
  }
}

/* Angles of the corners of a box that holds the outline bound those of the outline. */
static gboolean
may_widen(const HfOutline *outline, double near, double least, double greatest)
{
  HfBox box = hf_outline_box(outline);
  if (hf_box_contains(box, hf_point(0, 0)))
    return TRUE;
  double min = INFINITY, max = -INFINITY;
  for (int i = 0; i < 4; i++)
    take(hf_point(i & 1 ? box.max.x : box.min.x, i & 2 ? box.max.y : box.min.y), near, &min, &max);
  return min < least || max > greatest || max - min > G_PI;
}

void
hf_arc_extent(const HfOutline *outline, double near, double *least, double *greatest)
{
  if (!may_widen(outline, near, *least, *greatest))
    return;
  for (guint i = 0; i < outline->curves->len; i++)
    curve_extent(&g_array_index(outline->curves, HfCurve, i), near, least, greatest);
}

/* ---- placing ------------------------------------------------------------------------------- */

static void
turn_letter(HfPlacedLetter *letter, HfMatrix turn)
{
  letter->em = hf_matrix_then(letter->em, turn);
  if (letter->outline == NULL)
    return;
  HfOutline *turned = hf_outline_new();
  hf_outline_append(turned, letter->outline, turn);
  hf_outline_free(letter->outline);
  letter->outline = turned;
}

/* Rigid or bent, turning the whole line about the centre turns its ink by the same angle, so one
 * turn centres it exactly. */
static void
centre_line(HfPlaced *placed, const HfLetterLine *line, const double *middles, double wanted)
{
  double least = INFINITY, greatest = -INFINITY;
  for (guint i = line->first; i < line->first + line->n; i++) {
    const HfPlacedLetter *letter = hf_placed_letter(placed, i);
    if (letter->outline != NULL)
      hf_arc_extent(letter->outline, middles[i], &least, &greatest);
  }
  if (!(least <= greatest))
    return;
  placed->half_angle = MAX(placed->half_angle, (greatest - least) / 2);
  HfMatrix turn = hf_matrix_turn(wanted - (least + greatest) / 2);
  for (guint i = line->first; i < line->first + line->n; i++)
    turn_letter(hf_placed_letter(placed, i), turn);
}

static HfSetting
setting_of_line(const HfSetting *setting, double leading, guint line)
{
  HfSetting own = *setting; /* lines after the first lie lower, seen by the reader */
  own.radius += (setting->inward ? leading : -leading) * line;
  return own;
}

HfPlaced *
hf_place_round(const HfWording *wording, const HfSetting *setting, double leading)
{
  g_autofree double *along = hf_setting_along(setting, wording);
  g_autofree double *middles = g_new0(double, wording->letters->len + 1);
  HfPlaced *placed = hf_placed_new(wording->letters->len);
  double wanted = setting->inward ? -G_PI_2 : G_PI_2;
  for (guint l = 0; l < wording->lines->len; l++) {
    const HfLetterLine *line = hf_wording_line(wording, l);
    HfSetting own = setting_of_line(setting, leading, l);
    double length = line->advance * own.size * own.wide;
    double from = wanted - (own.inward ? length : -length) / 2 / own.radius;
    for (guint i = line->first; i < line->first + line->n; i++) {
      const HfLetter *letter = hf_wording_letter(wording, i);
      middles[i] = hf_arc_angle(&own, along[i] + letter->advance * own.size * own.wide / 2, from);
      hf_placed_set(placed, i, letter, hf_arc_letter(&own, letter, along[i], from));
      if (own.bent && letter->outline != NULL) {
        HfPlacedLetter *at = hf_placed_letter(placed, i);
        hf_outline_free(at->outline);
        at->outline = hf_bent_outline(letter, &own, along[i], from);
        if (letter->drawn != NULL) {
          HfLetter drawn = *letter;
          drawn.outline = letter->drawn;
          hf_outline_free(at->drawn);
          at->drawn = hf_bent_outline(&drawn, &own, along[i], from);
        }
      }
    }
    centre_line(placed, line, middles, wanted);
  }
  placed->box = HF_BOX_EMPTY;
  for (guint i = 0; i < wording->letters->len; i++)
    if (hf_placed_letter(placed, i)->outline != NULL)
      placed->box = hf_box_union(placed->box, hf_outline_box(hf_placed_letter(placed, i)->outline));
  return placed;
}

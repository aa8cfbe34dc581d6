/* SPDX-License-Identifier: GPL-3.0-or-later
 * follow.c - words along a line: an ellipse, the edge of a plate, a wave, a curve through points,
 * an arch over their own width.
 *
 *          E _D_
 *      I .-'    '-G        each letter stands with the middle of its advance at its length along
 *     T /           \ E    the line, square to it (SVG 1.1 10.13.3, SVG 2 11.8.3); the middle of
 *     S            T       the line's ink, as if it were straight, is where the recipe says
 *
 * bent letters: (x, y) -> P(s + x) + y n(s + x), n square to the line: what is level follows it.
 * docs/maths.md#words-along-a-line
 */
#include "base/text.h"
#include "geom/bolder.h"
#include "layout/bend-private.h"
#include "layout/follow-private.h"

enum { LOOKS = 64, ROUNDS = 50, HALVINGS = 100 };

static const double TIGHTEST = 0.05; /* what is left of a letter's width where it is pressed most */
static const double LONGEST_ARC = 2.3311; /* rad: half of the arc that rises most for its length */
static const double CLOSE = 1e-9;         /* of a radius */

/* ---- letters on a course -------------------------------------------------------------------- */

typedef struct {
  HfBend bend; /* takes ems */
  const HfCourse *course;
  double pen, across, size; /* mm along of x = 0; mm an em */
} Along;

static HfPoint
left_of(HfPoint way)
{
  return hf_point(-way.y, way.x);
}

static HfPoint
along_point(const HfBend *bend, HfPoint p)
{
  const Along *own = (const Along *)bend;
  HfCoursePoint on = hf_course_at(own->course, own->pen + p.x * own->across);
  return hf_point_add(on.at, hf_point_scale(left_of(on.way), p.y * own->size));
}

/* P' = t, n' = -k t along the length. */
static HfPoint
along_derivative(const HfBend *bend, HfPoint p, HfPoint d)
{
  const Along *own = (const Along *)bend;
  HfCoursePoint on = hf_course_at(own->course, own->pen + p.x * own->across);
  double dx = d.x * own->across * (1 - on.bend * p.y * own->size), dy = d.y * own->size;
  return hf_point_add(hf_point_scale(on.way, dx), hf_point_scale(left_of(on.way), dy));
}

/* (transfer full) those of @places (s) that lie from @s0 to @s1; round a closed line again. */
static GArray *
within(const HfCourse *course, const GArray *places, double s0, double s1)
{
  GArray *found = g_array_new(FALSE, FALSE, sizeof(double));
  double round = course->closed ? floor(s0 / course->length) * course->length : 0;
  for (; round <= s1; round += course->length) {
    for (guint i = 0; i < places->len; i++) {
      double s = g_array_index(places, double, i) + round;
      if (s >= s0 && s <= s1)
        g_array_append_val(found, s);
    }
    if (!course->closed)
      break;
  }
  return found;
}

static HfOutline *
bend_letter(const HfOutline *outline, const HfSetting *setting, const HfCourse *course, double pen)
{
  Along own = {{along_point, along_derivative, NULL, NULL},
               course,
               pen,
               setting->size * setting->wide,
               setting->size};
  HfBox box = hf_outline_box(outline);
  g_autoptr(GArray) breaks =
      within(course, course->joins, pen + box.min.x * own.across, pen + box.max.x * own.across);
  for (guint i = 0; i < breaks->len; i++)
    g_array_index(breaks, double, i) = (g_array_index(breaks, double, i) - pen) / own.across;
  own.bend.breaks = breaks;
  return hf_bend_outline(&own.bend, outline);
}

static HfMatrix
stand(const HfLetter *letter, const HfSetting *setting, const HfCourse *course, double pen)
{
  double across = setting->size * setting->wide, half = letter->advance * across / 2;
  HfCoursePoint on = hf_course_at(course, pen + half);
  HfMatrix flat = hf_matrix_then(hf_matrix_scale(across, setting->size), hf_matrix_move(-half, 0));
  HfMatrix turned = hf_matrix_then(flat, hf_matrix_turn(hf_angle_of(on.way)));
  return hf_matrix_then(turned, hf_matrix_move(on.at.x, on.at.y));
}

static void
replace(HfOutline **outline, HfOutline *by)
{
  hf_outline_free(*outline);
  *outline = by;
}

HfPlaced *
hf_place_along(const HfWording *wording, const HfSetting *setting, const HfCourse *course,
               double start)
{
  g_autofree double *along = hf_setting_along(setting, wording);
  const HfLetterLine *line = hf_wording_line(wording, 0);
  HfPlaced *placed = hf_placed_new(wording->letters->len);
  for (guint i = line->first; i < line->first + line->n && hf_wording_goes_on(wording); i++) {
    const HfLetter *letter = hf_wording_letter(wording, i);
    double pen = start + along[i];
    hf_placed_set(placed, i, letter, stand(letter, setting, course, pen));
    HfPlacedLetter *at = hf_placed_letter(placed, i);
    if (!setting->bent || letter->outline == NULL)
      continue;
    replace(&at->outline, bend_letter(letter->outline, setting, course, pen));
    if (letter->drawn != NULL)
      replace(&at->drawn, bend_letter(letter->drawn, setting, course, pen));
  }
  placed->box = HF_BOX_EMPTY;
  for (guint i = 0; i < placed->letters->len; i++)
    if (hf_placed_letter(placed, i)->outline != NULL)
      placed->box = hf_box_union(placed->box, hf_outline_box(hf_placed_letter(placed, i)->outline));
  return placed;
}

/* ---- refusals ------------------------------------------------------------------------------- */

static double
letter_height(const HfWordsLaying *own)
{
  return own->setting.size * own->wording->cap;
}

/* @length: of the ink; @room: what the line has for it. */
static gboolean
refuse_length(const HfWordsLaying *own, double length, double room, GError **error)
{
  g_autofree char *has = hf_text_mm(length), *most = hf_text_mm(fmax(room, 0));
  g_autofree char *fix = hf_words_fix_length(own, length, room, "a longer line");
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                       "the words are %s long and the line has %s for them", has, most);
}

static gboolean
has_room(const HfWordsLaying *own, const HfCourse *course, double first, double last,
         GError **error)
{
  double length = last - first, beyond = fmax(-first, last - course->length);
  if (course->closed)
    return length < course->length || refuse_length(own, length, course->length, error);
  return beyond <= 1e-6 || refuse_length(own, length, length - 2 * beyond, error);
}

static gboolean
refuse_bend(const HfWordsLaying *own, const HfLetter *letter, double bend, double reach,
            GError **error)
{
  g_autofree char *radius = hf_text_mm(1 / fabs(bend)), *high = hf_text_mm(fabs(reach));
  double fits = floor(letter_height(own) * (1 - 2 * TIGHTEST) / (bend * reach));
  g_autofree char *most = hf_text_at_most(fits);
  g_autofree char *fix =
      fits >= 1 ? g_strdup_printf("take letters %s high, a gentler line, or letters: rigid", most)
                : g_strdup("take a gentler line, or letters: rigid");
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                       "%s reaches %s to the inside of a bend with a radius of %s: it can't be "
                       "bent round that",
                       letter->label, high, radius);
}

/* The line neither has a corner under the letter nor bends more tightly than that reaches. */
static gboolean
can_bend(const HfWordsLaying *own, const HfCourse *course, const HfLetter *letter, double pen,
         GError **error)
{
  double across = own->setting.size * own->setting.wide;
  double s0 = pen + letter->ink.min.x * across, s1 = pen + letter->ink.max.x * across;
  g_autoptr(GArray) corners = within(course, course->turns, s0, s1);
  if (corners->len > 0)
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                         "take a shorter text, smaller letters, or letters: rigid",
                         "the line has a corner under %s: it can't be bent round that",
                         letter->label);
  double reach[] = {letter->ink.min.y * own->setting.size, letter->ink.max.y * own->setting.size};
  for (int i = 0; i <= LOOKS; i++) {
    double bend = hf_course_at(course, s0 + (s1 - s0) * i / LOOKS).bend;
    for (guint k = 0; k < G_N_ELEMENTS(reach); k++)
      if (1 - bend * reach[k] < TIGHTEST)
        return refuse_bend(own, letter, bend, reach[k], error);
  }
  return TRUE;
}

static gboolean
all_can_bend(const HfWordsLaying *own, const HfCourse *course, double start, GError **error)
{
  g_autofree double *along = hf_setting_along(&own->setting, own->wording);
  for (guint i = 0; own->setting.bent && i < own->wording->letters->len; i++) {
    const HfLetter *letter = hf_wording_letter(own->wording, i);
    if (letter->outline != NULL && !can_bend(own, course, letter, start + along[i], error))
      return FALSE;
  }
  return TRUE;
}

/* ---- on a course ---------------------------------------------------------------------------- */

static double
further(const HfWordsEntry *words)
{
  return hf_or_zero(words->along);
}

/* (transfer full) the words with the middle of their ink @middle mm along, and further on as the
 * recipe says; %NULL with the error. */
static HfPlaced *
place_on(const HfWordsLaying *own, const HfCourse *course, double middle, GError **error)
{
  g_autofree double *along = hf_setting_along(&own->setting, own->wording);
  double min, max;
  hf_line_ink(own->wording, &own->setting, along, 0, &min, &max);
  double start = middle + further(own->words) - (min + max) / 2;
  if (!has_room(own, course, start + min, start + max, error) ||
      !all_can_bend(own, course, start, error))
    return NULL;
  return hf_place_along(own->wording, &own->setting, course, start);
}

static gboolean
lay_wave(HfWordsLaying *own, GError **error)
{
  const HfWordsEntry *words = own->words;
  g_autofree double *along = hf_setting_along(&own->setting, own->wording);
  double min, max;
  hf_line_ink(own->wording, &own->setting, along, 0, &min, &max);
  double reach = (max - min) / 2 + fabs(further(words)) + 1;
  g_autoptr(HfCourse) course = hf_course_wave(words->wave, words->wave_length, reach);
  g_autoptr(HfPlaced) placed = place_on(own, course, course->length / 2, error);
  if (placed == NULL)
    return FALSE;
  double middle = (own->wording->top + own->wording->foot) / 2 * own->setting.size;
  return hf_words_put(own, placed, hf_matrix_move(0, -middle), error);
}

static gboolean
lay_through(HfWordsLaying *own, GError **error)
{
  const GArray *points = own->words->through;
  g_autoptr(HfCourse) course =
      hf_course_through((const HfPoint *)(const void *)points->data, points->len);
  g_autoptr(HfPlaced) placed = place_on(own, course, course->length / 2, error);
  return placed != NULL && hf_words_put(own, placed, HF_MATRIX_IDENTITY, error);
}

/* ---- round something ------------------------------------------------------------------------ */

/* (transfer full) the edge of the plate so far moved in that the tops, or where they point inward
 * the feet, are the inset inside it; about the sign's origin. */
static HfCourse *
edge_course(HfWordsLaying *own, gboolean inward, GError **error)
{
  double by = own->words->inset + (inward ? 0 : letter_height(own));
  g_autoptr(HfOutline) edge = hf_lay_edge_inside(own->laying, own->words->edge_of);
  g_autoptr(HfOutline) line = by > 0 ? hf_outline_bolder(edge, -by) : hf_outline_copy(edge);
  guint n = hf_outline_n_contours(line);
  if (n == 1) {
    if (hf_outline_area(line) < 0)
      hf_outline_reverse(line);
    return hf_course_contour(line, 0, inward);
  }
  hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                "take a smaller inset or smaller letters, or make the plate larger",
                n == 0 ? "there is no line so far inside the edge of \"%s\""
                       : "so far inside it the edge of \"%s\" falls into pieces",
                own->words->edge_of);
  return NULL;
}

static HfPoint
centre_of(const HfWordsLaying *own)
{
  const char *about = own->words->edge_of != NULL ? own->words->edge_of : own->place->on;
  return about == NULL ? hf_point(0, 0) : hf_lay_named(own->laying, about, NULL)->centre;
}

static gboolean
lay_copy_round(HfWordsLaying *own, guint copy, GError **error)
{
  const HfWordsEntry *words = own->words;
  gboolean is_edge = words->edge_of != NULL;
  HfPoint about = centre_of(own), centre = is_edge ? about : hf_point(0, 0);
  double direction;
  if (!hf_words_direction(own, copy, &direction, error))
    return FALSE;
  own->setting.inward = hf_words_is_inward(words, direction);
  g_autoptr(HfCourse) course =
      is_edge ? edge_course(own, own->setting.inward, error)
              : hf_course_ellipse(words->ellipse_wide, words->ellipse_high, own->setting.inward);
  if (course == NULL)
    return FALSE;
  double middle = hf_course_toward(course, centre, direction);
  if (isnan(middle))
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                         "say another direction, as in at: bottom",
                         "the line does not pass in that direction from the middle");
  g_autoptr(HfPlaced) placed = place_on(own, course, middle, error);
  if (placed == NULL)
    return FALSE;
  HfLaid *laid = &own->laying->laid[own->entry];
  HfPoint to = hf_point_add(hf_point_sub(about, centre), hf_place_shift(own->place));
  HfMatrix frame =
      hf_matrix_then(hf_matrix_turn(hf_or_zero(own->place->turn)), hf_matrix_move(to.x, to.y));
  g_array_append_val(laid->frames, frame);
  if (copy == 0) {
    laid->own = placed->box;
    laid->centre = hf_point_add(about, hf_place_shift(own->place));
  }
  hf_words_add(own, placed, frame, copy);
  return TRUE;
}

static gboolean
lay_round(HfWordsLaying *own, GError **error)
{
  for (guint copy = 0; copy < hf_words_n_copies(own); copy++)
    if (!hf_cancel_check(own->laying->cancel, error) || !lay_copy_round(own, copy, error))
      return FALSE;
  return TRUE;
}

/* ---- an arch over their own width ----------------------------------------------------------- */

/* The arc 2 a R rises by R (1 - cos a): its share of the length (1 - cos a) / 2 a grows with a up
 * to where tan (a / 2) = a. */
double
hf_arch_half_angle(double length, double rise)
{
  double low = 0, high = LONGEST_ARC, share = rise / length;
  if (!(share <= (1 - cos(high)) / (2 * high)))
    return NAN;
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (low + high) / 2, half = sin(middle / 2);
    *(half * half / middle > share ? &high : &low) = middle;
  }
  return (low + high) / 2;
}

static double
widest_line(const HfWordsLaying *own)
{
  g_autofree double *along = hf_setting_along(&own->setting, own->wording);
  double widest = 0, min, max;
  for (guint l = 0; l < own->wording->lines->len; l++)
    if (hf_line_ink(own->wording, &own->setting, along, l, &min, &max))
      widest = fmax(widest, max - min);
  return widest;
}

static gboolean
refuse_rise(const HfWordsLaying *own, double length, GError **error)
{
  double most = floor(length * (1 - cos(LONGEST_ARC)) / (2 * LONGEST_ARC));
  g_autofree char *has = hf_text_mm(length), *rise = hf_text_mm(fabs(own->words->arch));
  g_autofree char *fits = hf_text_at_most(most);
  g_autofree char *fix = g_strdup_printf("let it rise %s, or make the words longer", fits);
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                       "the words are %s long: no arch of that length rises %s", has, rise);
}

/* Joined letters have their spacing from the radius, which follows from their length. */
static gboolean
settle_arch(HfWordsLaying *own, GError **error)
{
  double rise = fabs(own->words->arch);
  for (int i = 0; i < ROUNDS && hf_cancel_check(own->laying->cancel, NULL); i++) {
    hf_words_settle_spacing(own);
    double length = widest_line(own), half = hf_arch_half_angle(length, rise);
    if (isnan(half))
      return refuse_rise(own, length, error);
    double before = own->setting.radius;
    own->setting.radius = length / (2 * half);
    if (fabs(before - own->setting.radius) <= CLOSE * before)
      break;
  }
  return TRUE;
}

static gboolean
lay_arch(HfWordsLaying *own, GError **error)
{
  own->setting.inward = own->words->arch < 0;
  if (!settle_arch(own, error) || !hf_words_go_round(own, error))
    return FALSE;
  g_autoptr(HfPlaced) placed = hf_place_round(own->wording, &own->setting, own->leading);
  HfPoint middle = hf_box_centre(placed->box);
  hf_words_solved(own, HF_SOLVED_BASELINE_RADIUS, own->setting.radius);
  return hf_words_put(own, placed, hf_matrix_move(-middle.x, -middle.y), error);
}

/* ---- which ---------------------------------------------------------------------------------- */

static gboolean
has_points(const HfWordsEntry *words)
{
  return words->through != NULL && words->through->len > 0;
}

gboolean
hf_words_follow(const HfWordsEntry *words)
{
  return !isnan(words->ellipse_wide) || !isnan(words->wave) || !isnan(words->arch) ||
         words->edge_of != NULL || has_points(words);
}

gboolean
hf_lay_following(HfWordsLaying *own, GError **error)
{
  if (!isnan(own->words->arch))
    return lay_arch(own, error);
  hf_words_settle_spacing(own);
  if (!isnan(own->words->wave))
    return lay_wave(own, error);
  return has_points(own->words) ? lay_through(own, error) : lay_round(own, error);
}

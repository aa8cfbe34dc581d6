/* SPDX-License-Identifier: GPL-3.0-or-later
 * words.c - a words entry: shape the text, settle size and spacing, place the letters, name them.
 *
 *   text --shape--> letters in ems --size, spacing--> own frame --place--> sign's frame
 *
 * Where the baseline runs decides who places: straight (lines.c), on a circle (arc.c), in the band
 * between two rings (band.c), on a bar (stand.c), along any other line (follow.c); words that fill
 * a shape are drawn out to it (shaped.c).
 */
#include "base/text.h"
#include "layout/contact-private.h"
#include "layout/follow-private.h"
#include "layout/shaped-private.h"
#include "stock/practice.h"

#include <string.h>

#define USUAL_LEADING 1.5 /* of the letter height, baseline to baseline; common practice */

/* ---- shapes -------------------------------------------------------------------------------- */

/* `letter 'R' of "HARBOUR"`; of several copies ` (left end)` behind it, as the entry itself. */
static char *
label_of_copy(const HfWordsLaying *own, const HfLetter *letter, guint copy)
{
  if (own->place->at == NULL || own->place->at->len < 2)
    return g_strdup(letter->label);
  g_autofree char *entry = hf_lay_label(own->laying, own->entry, copy);
  const char *which = strrchr(entry, '(');
  return which == NULL ? g_strdup(letter->label) : g_strdup_printf("%s %s", letter->label, which);
}

void
hf_words_add(HfWordsLaying *own, const HfPlaced *placed, HfMatrix frame, guint copy)
{
  HfLaid *laid = &own->laying->laid[own->entry];
  gboolean opening = hf_lay_entry(own->laying, own->entry)->as == HF_AS_OPENING;
  for (guint i = 0; i < placed->letters->len; i++) {
    const HfPlacedLetter *at = hf_placed_letter(placed, i);
    const HfLetter *letter = hf_wording_letter(own->wording, i);
    if (at->outline == NULL)
      continue;
    HfOutline *outline = hf_outline_new();
    hf_outline_append(outline, at->outline, frame);
    char *label = label_of_copy(own, letter, copy);
    HfShape *shape = hf_shape_new(outline, label, own->entry, (gint)i, opening);
    shape->copy = copy;
    if (at->drawn != NULL) {
      shape->drawn = hf_outline_new();
      hf_outline_append(shape->drawn, at->drawn, frame);
    }
    shape->em = hf_matrix_then(at->em, frame);
    shape->letter_height = at->height > 0 ? at->height : own->setting.size * own->wording->cap;
    shape->lean = hf_wording_lean(own->wording);
    shape->pen = letter->pen;
    shape->line = letter->line;
    g_ptr_array_add(laid->shapes, shape);
  }
}

void
hf_words_solved(HfWordsLaying *own, HfSolvedWhat what, double value)
{
  HfSolved solved = {own->entry, what, value};
  g_array_append_val(own->laying->layout->solved, solved);
}

double
hf_words_bite(const HfWordsLaying *own, double given)
{
  return isnan(given) ? MAX(own->laying->joint_limit / 2, 1) : given;
}

/* ---- size ---------------------------------------------------------------------------------- */

/* mm of a length that may be given as a share of the letter height. */
static double
measure_mm(HfMeasure measure, double letter_height, double otherwise)
{
  if (isnan(measure.value))
    return otherwise;
  return measure.is_share ? measure.value * letter_height : measure.value;
}

static gboolean
settle_size(HfWordsLaying *own, GError **error)
{
  if (own->words->shaped != HF_SHAPE_NONE)
    return hf_words_shape_size(own, error);
  if (hf_words_are_fitted(own))
    return hf_words_fit(own, error);
  const HfFontWish *font = &own->words->font;
  double cap = own->wording->cap;
  if (own->words->fill)
    return TRUE; /* solved in band.c */
  if (!isnan(font->size))
    own->setting.size = font->size;
  else if (!isnan(font->height) && cap > 0)
    own->setting.size = font->height / cap;
  else if (hf_recipe_group(own->laying->recipe, own->entry) >= 0)
    own->setting.size = HF_FIRST_EM; /* it grows with its group */
  else
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                         "give the letter height, as in 'height: 80 mm'",
                         "how large the letters are is not said");
  return hf_wording_bolder(own->laying, own->entry, own->wording, font->bolder, own->setting.size,
                           own->setting.wide, error);
}

double
hf_words_joint(const HfWordsLaying *own)
{
  return isnan(own->words->joint) ? HF_OVER_LIMIT * own->laying->joint_limit : own->words->joint;
}

/* Not refused: the hold check says what is too thin, and by how much. */
static void
note_too_narrow(HfWordsLaying *own, const HfTooNarrow *narrow)
{
  g_autofree char *widest = hf_text_mm(narrow->widest);
  g_autofree char *wanted = hf_text_mm(hf_words_joint(own));
  const char *a = hf_wording_letter(own->wording, narrow->first)->text;
  const char *b = hf_wording_letter(own->wording, narrow->first + 1)->text;
  char *note = g_strdup_printf("%s: %u pair%s of letters can't be joined by %s at any spacing; "
                               "'%s' and '%s' come to %s; take a heavier face, larger letters or a "
                               "bar to stand on",
                               hf_lay_entry(own->laying, own->entry)->name, narrow->n,
                               narrow->n == 1 ? "" : "s", wanted, a, b, widest);
  g_ptr_array_add(own->laying->layout->notes, note);
}

static gint
by_size(gconstpointer a, gconstpointer b)
{
  double p = *(const double *)a, q = *(const double *)b;
  return p < q ? -1 : p > q;
}

/* One spacing for all is that of the pair that needs the most; where most need far less, letters
 * run deep into each other. */
static void
note_one_pair_rules(HfWordsLaying *own)
{
  g_autoptr(GArray) needs = g_array_new(FALSE, FALSE, sizeof(double));
  for (guint i = 0; i + 1 < own->wording->letters->len; i++)
    if (own->needs[i] < 0 || own->pairs[i] < 0)
      g_array_append_val(needs, own->needs[i]);
  if (needs->len < 3)
    return;
  g_array_sort(needs, by_size);
  double tightest = g_array_index(needs, double, 0);
  double usual = g_array_index(needs, double, needs->len / 2);
  double height = own->setting.size * own->wording->cap;
  if (usual - tightest < 0.05 * height)
    return;
  guint at = 0;
  while (own->needs[at] > tightest)
    at++;
  g_autofree char *all = hf_text_mm(tightest), *half = hf_text_mm(usual);
  const char *a = hf_wording_letter(own->wording, at)->text;
  const char *b = hf_wording_letter(own->wording, at + 1)->text;
  char *note =
      g_strdup_printf("%s: one spacing for all is %s because of '%s' and '%s'; half of the "
                      "pairs join at %s or looser; try spacing: joined pair by pair",
                      hf_lay_entry(own->laying, own->entry)->name, all, a, b, half);
  g_ptr_array_add(own->laying->layout->notes, note);
}

static void
join_letters(HfWordsLaying *own)
{
  HfTooNarrow narrow;
  gboolean by_pair = own->words->spacing_rule == HF_SPACING_PAIRS;
  g_free(own->pairs);
  g_free(own->needs);
  own->pairs = hf_join_letters(own->wording, &own->setting, hf_words_joint(own), by_pair,
                               &own->needs, &narrow);
  own->setting.pairs = own->pairs;
  own->setting.spacing = 0;
  for (guint i = 0; i < own->wording->letters->len && !by_pair; i++)
    own->setting.spacing = MIN(own->setting.spacing, own->pairs[i]);
  own->too_narrow = narrow;
}

/* What is a share of the letter height can be told once that is known. */
void
hf_words_settle_spacing(HfWordsLaying *own)
{
  double height = own->setting.size * own->wording->cap;
  own->leading = measure_mm(own->words->line_spacing, height, USUAL_LEADING * height);
  if (!isnan(own->spaced))
    own->setting.spacing = own->spaced;
  else if (own->words->spacing_rule == HF_SPACING_AS_GIVEN)
    own->setting.spacing = measure_mm(own->words->spacing, height, 0);
  else
    join_letters(own);
}

/* What the report says of joined letters. */
void
hf_words_tell_joined(HfWordsLaying *own, guint first_shape)
{
  if (own->words->spacing_rule == HF_SPACING_AS_GIVEN)
    return;
  hf_words_add_pairs(own, first_shape);
  if (own->words->spacing_rule == HF_SPACING_JOINED) {
    hf_words_solved(own, HF_SOLVED_SPACING, own->setting.spacing);
    note_one_pair_rules(own);
  }
  if (own->too_narrow.n > 0)
    note_too_narrow(own, &own->too_narrow);
}

/* ---- straight and round -------------------------------------------------------------------- */

gboolean
hf_words_put(HfWordsLaying *own, const HfPlaced *placed, HfMatrix move, GError **error)
{
  HfPoint by = {move.x0, move.y0};
  HfBox box = {hf_point_add(placed->box.min, by), hf_point_add(placed->box.max, by)};
  if (!hf_lay_frames(own->laying, own->entry, box, error))
    return FALSE;
  const GArray *frames = own->laying->laid[own->entry].frames;
  for (guint i = 0; i < frames->len; i++) {
    guint first = own->laying->laid[own->entry].shapes->len;
    hf_words_add(own, placed, hf_matrix_then(move, g_array_index(frames, HfMatrix, i)), i);
    if (i == 0)
      hf_words_tell_joined(own, first);
  }
  return TRUE;
}

static gboolean
lay_straight(HfWordsLaying *own, GError **error)
{
  g_autoptr(HfPlaced) placed =
      hf_place_straight(own->wording, &own->setting, own->leading, own->words->align);
  return hf_words_put(own, placed, HF_MATRIX_IDENTITY, error);
}

gboolean
hf_words_is_inward(const HfWordsEntry *words, double direction)
{
  if (words->facing != 0)
    return words->facing == 2;
  return sin(direction) < -1e-9;
}

guint
hf_words_n_copies(const HfWordsLaying *own)
{
  return own->place->at == NULL ? 1 : MAX(own->place->at->len, 1);
}

gboolean
hf_words_direction(const HfWordsLaying *own, guint copy, double *ret_direction, GError **error)
{
  *ret_direction = G_PI_2;
  if (own->place->at == NULL || own->place->at->len == 0)
    return TRUE;
  HfSpot spot = g_array_index(own->place->at, HfSpot, copy);
  switch (spot.kind) {
  case HF_SPOT_DIRECTION:
    *ret_direction = spot.angle;
    return TRUE;
  case HF_SPOT_NONE:
  case HF_SPOT_CENTRE:
    return TRUE;
  case HF_SPOT_LEFT_END:
    *ret_direction = G_PI;
    return TRUE;
  case HF_SPOT_RIGHT_END:
    *ret_direction = 0;
    return TRUE;
  case HF_SPOT_POINT:
    break;
  }
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                       "say at: top, bottom, 11 o'clock or 30 deg",
                       "words on a circle are placed by a direction");
}

HfMatrix
hf_words_frame(HfWordsLaying *own, HfPoint centre, double direction, gboolean inward)
{
  HfLaid *laid = &own->laying->laid[own->entry];
  double turn = isnan(own->place->turn) ? 0 : own->place->turn;
  HfPoint at = hf_point_add(centre, hf_place_shift(own->place));
  HfMatrix frame =
      hf_matrix_then(hf_matrix_turn(turn + (inward ? direction + G_PI_2 : direction - G_PI_2)),
                     hf_matrix_move(at.x, at.y));
  g_array_append_val(laid->frames, frame);
  if (laid->frames->len == 1)
    laid->centre = at;
  return frame;
}

char *
hf_words_fix_length(const HfWordsLaying *own, double length, double room, const char *otherwise)
{
  const HfSetting *s = &own->setting;
  if (hf_words_are_fitted(own)) {
    g_autofree char *wide = hf_text_at_most(floor(room));
    return room >= 1 ? g_strdup_printf("take a width of %s, or %s", wide, otherwise)
                     : g_strdup_printf("take %s", otherwise);
  }
  double fixed = own->words->spacing.is_share || isnan(own->words->spacing.value)
                     ? 0
                     : fabs(s->spacing) * own->wording->letters->len;
  double height = floor(s->size * own->wording->cap * (room - fixed) / (length - fixed) - 1e-6);
  g_autofree char *high = hf_text_at_most(height);
  if (own->wording->lines->len > 1 || !(height >= 1))
    return g_strdup_printf("take smaller letters, a shorter text or %s", otherwise);
  return g_strdup_printf("take %s letters, which fit, a shorter text or %s", high, otherwise);
}

/* Words that would run into their own start. */
gboolean
hf_words_go_round(HfWordsLaying *own, GError **error)
{
  guint n = own->wording->lines->len;
  g_autofree double *along = hf_setting_along(&own->setting, own->wording);
  for (guint l = 0; l < n; l++) {
    const HfLetterLine *line = hf_wording_line(own->wording, l);
    double radius = own->setting.radius + (own->setting.inward ? 1 : -1) * own->leading * l;
    double length = line->n == 0
                        ? 0
                        : along[line->first + line->n - 1] +
                              hf_wording_letter(own->wording, line->first + line->n - 1)->advance *
                                  own->setting.size;
    if (radius > 0 && length < 2 * G_PI * radius)
      continue;
    g_autofree char *has = hf_text_mm(length), *wanted = hf_text_at_least(length / (2 * G_PI));
    g_autofree char *room = hf_text_mm(2 * G_PI * fmax(radius, 0)),
                    *fix = hf_words_fix_length(own, length, 2 * G_PI * radius, "a larger radius");
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                         "the words are %s long and the whole circle is %s: they need a radius of "
                         "more than %s",
                         has, room, wanted);
  }
  return TRUE;
}

static gboolean
lay_arc(HfWordsLaying *own, GError **error)
{
  HfPoint centre = hf_point(0, 0);
  if (own->place->on != NULL)
    centre = hf_lay_named(own->laying, own->place->on, NULL)->centre;
  own->setting.radius = own->words->arc_radius;
  for (guint copy = 0; copy < hf_words_n_copies(own); copy++) {
    if (!hf_cancel_check(own->laying->cancel, error))
      return FALSE;
    double direction;
    if (!hf_words_direction(own, copy, &direction, error))
      return FALSE;
    own->setting.inward = hf_words_is_inward(own->words, direction);
    hf_words_settle_spacing(own);
    if (!hf_words_go_round(own, error))
      return FALSE;
    g_autoptr(HfPlaced) placed = hf_place_round(own->wording, &own->setting, own->leading);
    HfMatrix frame = hf_words_frame(own, centre, direction, own->setting.inward);
    guint first = own->laying->laid[own->entry].shapes->len;
    hf_words_add(own, placed, frame, copy);
    if (copy == 0)
      hf_words_tell_joined(own, first);
  }
  return TRUE;
}

/* ---- the entry ----------------------------------------------------------------------------- */

static gboolean
wants_spacing(const HfWordsEntry *words)
{
  return words->spacing_rule == HF_SPACING_AS_GIVEN && !isnan(words->spacing.value) &&
         words->spacing.value != 0;
}

static gboolean
lay_by_place(HfWordsLaying *own, GError **error)
{
  const HfWordsEntry *words = own->words;
  if (words->band != NULL && words->band->len > 0)
    return hf_lay_band(own, error);
  if (!isnan(words->arc_radius))
    return lay_arc(own, error);
  if (hf_words_follow(words))
    return hf_lay_following(own, error);
  if (words->shaped != HF_SHAPE_NONE)
    return hf_lay_shaped(own, error);
  hf_words_settle_spacing(own);
  return words->stand_on != NULL ? hf_lay_standing(own, error) : lay_straight(own, error);
}

static HfWordsLaying
words_laying(HfLaying *laying, guint entry, HfWording *wording)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  HfWordsLaying own = {.laying = laying, .entry = entry, .words = &e->words, .place = &e->place};
  own.wording = wording;
  own.spaced = NAN;
  own.setting = (HfSetting){.wide = 1, .bent = e->words.letters == HF_BENT};
  return own;
}

gboolean
hf_lay_words(HfLaying *laying, guint entry, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  const HfWordsEntry *words = &e->words;
  g_autoptr(HfWording) wording =
      hf_wording_new(laying, entry, words->lines, &words->font, wants_spacing(words), error);
  if (wording == NULL)
    return FALSE;
  HfWordsLaying own = words_laying(laying, entry, wording);
  gboolean done = settle_size(&own, error) && lay_by_place(&own, error);
  g_free(own.pairs);
  g_free(own.needs);
  return done;
}

double
hf_words_straight_width(HfLaying *laying, guint entry, GError **error)
{
  const HfWordsEntry *words = &hf_lay_entry(laying, entry)->words;
  g_autoptr(HfWording) wording =
      hf_wording_new(laying, entry, words->lines, &words->font, wants_spacing(words), error);
  if (wording == NULL)
    return NAN;
  HfWordsLaying own = words_laying(laying, entry, wording);
  double width = NAN;
  guint told = laying->layout->solved->len; /* it is told when the words themselves are laid */
  if (settle_size(&own, error)) {
    hf_words_settle_spacing(&own);
    width = hf_box_width(hf_box_straight(wording, &own.setting, own.leading));
  }
  g_array_set_size(laying->layout->solved, told);
  g_free(own.pairs);
  g_free(own.needs);
  return width;
}

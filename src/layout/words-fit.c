/* SPDX-License-Identifier: GPL-3.0-or-later
 * words-fit.c - words as wide as the recipe says, or as large as stays inside something.
 *
 *      |<------ width ------>|      ,--- inside ----.      Every measure is of ink. One unknown at
 * a T I D E & T I M B E R       (  ^ margin       )     time: letter height, or what gives way in
 *                                   `---------------'      the recipe's order, each as little as
 * does
 *
 * What there is too much of is measured on true curves and rises with the unknown, so it is solved
 * by solve.c to far below a micrometre. docs/maths.md#fit
 */
#include "base/text.h"
#include "geom/clear.h"
#include "layout/solve-private.h"
#include "layout/words-private.h"

static const double TIGHTEST = -0.05; /* spacing, of the letter height; ours */
static const double LOOSEST = 3;      /* the same */
static const double CLOSE = 1e-7;     /* mm */
static const double ENOUGH = 1e-4;    /* mm: what is asked of a measure */

typedef struct {
  HfWordsLaying *own;
  HfGiveWay what;      /* the unknown */
  double height;       /* mm of the letters while something else is tried */
  HfClear *room;       /* (nullable) edge of what they stay inside */
  HfOutline *room_own; /* (nullable) the outline that it was made of */
  guint nearest; /* letter, at the try before: looked at first, it spares most of the others */
  GError *error; /* the first that a try met */
} Fit;

static void
fit_clear(Fit *fit)
{
  hf_clear_free(fit->room);
  hf_outline_free(fit->room_own);
  g_clear_error(&fit->error);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Fit, fit_clear)

/* mm; NAN: none. A group that justifies its lines asks for one besides. */
static double
wished_width(const HfWordsLaying *own)
{
  double asked = own->laying->changed[own->entry].width;
  return isnan(asked) ? own->words->width : asked;
}

gboolean
hf_words_are_fitted(const HfWordsLaying *own)
{
  return own->words->inside != NULL || !isnan(wished_width(own)) || !isnan(own->words->box_width);
}

static gboolean
sizes_themselves(const HfWordsEntry *words)
{
  return words->inside != NULL || !isnan(words->width) || !isnan(words->box_width);
}

static gboolean
has_height(const HfWordsEntry *words)
{
  return !isnan(words->font.height) || !isnan(words->font.size);
}

const HfGiveWay *
hf_words_give_way(const HfWordsEntry *words, guint *ret_n)
{
  static const HfGiveWay usual[] = {HF_GIVE_SPACING, HF_GIVE_WIDTH};
  static const HfGiveWay free_height[] = {HF_GIVE_HEIGHT};
  *ret_n = words->give_way->len;
  if (*ret_n > 0)
    return (const HfGiveWay *)(void *)words->give_way->data;
  gboolean solves_height = sizes_themselves(words) && !has_height(words);
  *ret_n = solves_height ? G_N_ELEMENTS(free_height) : G_N_ELEMENTS(usual);
  return solves_height ? free_height : usual;
}

/* ---- what there is too much of --------------------------------------------------------------- */

static double
over_edge(Fit *fit)
{
  HfWordsLaying *own = fit->own;
  g_autoptr(HfPlaced) placed =
      hf_place_straight(own->wording, &own->setting, own->leading, own->words->align);
  if (!hf_lay_frames(own->laying, own->entry, placed->box, fit->error == NULL ? &fit->error : NULL))
    return NAN;
  const GArray *frames = own->laying->laid[own->entry].frames;
  double least = INFINITY;
  for (guint f = 0; f < frames->len; f++)
    for (guint k = 0, first = fit->nearest; k < placed->letters->len; k++) {
      guint i = (first + k) % placed->letters->len;
      const HfOutline *letter = hf_placed_letter(placed, i)->outline;
      if (letter == NULL)
        continue;
      g_autoptr(HfOutline) there = hf_outline_new();
      hf_outline_append(there, letter, g_array_index(frames, HfMatrix, f));
      double near = hf_clear_least(fit->room, there, least);
      fit->nearest = near < least ? i : fit->nearest;
      least = near;
    }
  return own->words->margin - least;
}

static double
too_much(Fit *fit)
{
  const HfWordsLaying *own = fit->own;
  if (fit->room != NULL)
    return over_edge(fit);
  HfBox box = hf_box_straight(own->wording, &own->setting, own->leading);
  if (!isnan(wished_width(own)))
    return hf_box_width(box) - wished_width(own);
  return MAX(hf_box_width(box) - own->words->box_width, hf_box_height(box) - own->words->box_high);
}

static void
set_unknown(Fit *fit, double value)
{
  HfWordsLaying *own = fit->own;
  switch (fit->what) {
  case HF_GIVE_HEIGHT:
    own->setting.size = value;
    break;
  case HF_GIVE_SPACING:
    own->spaced = value * fit->height;
    break;
  case HF_GIVE_WIDTH:
    own->setting.wide = value;
    break;
  case HF_GIVE_BAND:
  case HF_GIVE_RING:
    g_assert_not_reached();
  }
}

static double
too_much_at(double value, gpointer data)
{
  Fit *fit = data;
  HfWordsLaying *own = fit->own;
  set_unknown(fit, value);
  if (fit->what != HF_GIVE_SPACING &&
      !hf_wording_bolder(own->laying, own->entry, own->wording, own->words->font.bolder,
                         own->setting.size, own->setting.wide,
                         fit->error == NULL ? &fit->error : NULL))
    return NAN;
  hf_words_settle_spacing(own);
  return too_much(fit);
}

/* ---- the letters' height ----------------------------------------------------------------------
 */

static double
most_em(const Fit *fit)
{
  return HF_RECIPE_MAX_MM / MAX(fit->own->wording->cap, 0.1);
}

/* Solves mm an em, everything else being as it is. NAN: not even crumbs fit. */
static double
solve_em(Fit *fit)
{
  HfWordsLaying *own = fit->own;
  fit->what = HF_GIVE_HEIGHT;
  double wide = wished_width(own);
  if (isnan(wide))
    wide = isnan(own->words->box_width) ? hf_box_width(hf_outline_box(fit->room_own))
                                        : own->words->box_width;
  own->setting.size = HF_FIRST_EM;
  hf_words_settle_spacing(own);
  double first = hf_box_width(hf_box_straight(own->wording, &own->setting, own->leading));
  double guess = first > 0 ? HF_FIRST_EM * wide / first : HF_FIRST_EM;
  double em = hf_solve_size(too_much_at, fit, MIN(guess, most_em(fit)), most_em(fit), CLOSE,
                            own->laying->cancel);
  if (!isnan(em))
    too_much_at(em, fit);
  return em;
}

/* ---- giving way --------------------------------------------------------------------------------
 */

/* From what is said to how far it may go, wider or narrower. */
static gboolean
range_of(const Fit *fit, double over, double *ret_from, double *ret_to)
{
  const HfWordsLaying *own = fit->own;
  switch (fit->what) {
  case HF_GIVE_SPACING:
    *ret_from = own->setting.spacing / fit->height;
    *ret_to = over > 0 ? TIGHTEST : LOOSEST;
    return own->words->spacing_rule == HF_SPACING_AS_GIVEN &&
           (over > 0 ? *ret_to < *ret_from : *ret_to > *ret_from);
  case HF_GIVE_WIDTH:
    *ret_from = 1;
    *ret_to = over > 0 ? own->words->narrowest : 1 / own->words->narrowest;
    return own->words->narrowest < 1;
  default:
    return FALSE;
  }
}

/* Gives way by as much as it takes, or all the way. Returns: what is still too much. */
static double
give(Fit *fit, HfGiveWay what, double over)
{
  double from, to;
  fit->what = what;
  if (what == HF_GIVE_HEIGHT)
    return isnan(solve_em(fit)) ? NAN : too_much(fit);
  if (!range_of(fit, over, &from, &to))
    return over;
  double far = too_much_at(to, fit);
  if ((far > 0) == (over > 0))
    return far; /* not enough: it stays as far as it may go */
  double x = over > 0 ? hf_solve_most(too_much_at, fit, to, from, CLOSE, fit->own->laying->cancel)
                      : hf_solve_most(too_much_at, fit, from, to, CLOSE, fit->own->laying->cancel);
  return too_much_at(x, fit);
}

static void
begin_as_said(Fit *fit)
{
  HfWordsLaying *own = fit->own;
  const HfFontWish *font = &own->words->font;
  double cap = own->wording->cap;
  own->spaced = NAN;
  own->setting.wide = 1;
  own->setting.size = !isnan(font->size)                  ? font->size
                      : has_height(own->words) && cap > 0 ? font->height / cap
                                                          : HF_FIRST_EM;
  fit->height = own->setting.size * cap;
}

/* ---- refusals ----------------------------------------------------------------------------------
 */

static gboolean
refuse_room(Fit *fit, GError **error)
{
  HfWordsLaying *own = fit->own;
  if (fit->error != NULL) {
    g_propagate_error(error, g_steal_pointer(&fit->error));
    return FALSE;
  }
  if (own->words->inside == NULL)
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                         "take a smaller spacing or give more room",
                         "no letters are small enough: the spacing alone takes the room");
  g_autofree char *margin = hf_text_mm(own->words->margin);
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                       "take a smaller margin, or place them where there is more room",
                       "no letters that stay %s clear of the edge of \"%s\" have room there",
                       margin, own->words->inside);
}

/* What is said of the width, and the letters that would have it. */
static gboolean
refuse_width(Fit *fit, double over, GError **error)
{
  HfWordsLaying *own = fit->own;
  g_autofree char *wanted = hf_text_mm(wished_width(own));
  g_autofree char *has = hf_text_mm(wished_width(own) + over);
  begin_as_said(fit);
  double fits = solve_em(fit) * own->wording->cap;
  g_autofree char *high = hf_text_at_most(floor(fits * 10) / 10);
  g_autofree char *fix =
      fits >= 1 ? g_strdup_printf("take %s letters, which fit, or let letter height give way", high)
                : g_strdup("shorten the text, or let letter height give way");
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                       "the words are to be %s wide, and what may give way brings them to %s",
                       wanted, has);
}

/* ---- the entry ----------------------------------------------------------------------------------
 */

static void
find_room(Fit *fit)
{
  if (fit->own->words->inside == NULL)
    return;
  fit->room_own = hf_lay_edge_inside(fit->own->laying, fit->own->words->inside);
  fit->room = hf_clear_new(fit->room_own);
}

static void
tell(Fit *fit)
{
  HfWordsLaying *own = fit->own;
  double cap = own->wording->cap, given = fit->height;
  double height = own->setting.size * cap;
  gboolean by_group = !has_height(own->words) && !sizes_themselves(own->words);
  if (!by_group && (!has_height(own->words) || fabs(height - given) > ENOUGH))
    hf_words_solved(own, HF_SOLVED_LETTER_HEIGHT, height);
  if (!isnan(own->spaced))
    hf_words_solved(own, HF_SOLVED_SPACING, own->spaced);
  if (own->setting.wide != 1)
    hf_words_solved(own, HF_SOLVED_LETTER_WIDTH, own->setting.wide);
}

static gboolean
fit_height(Fit *fit, GError **error)
{
  double em = solve_em(fit);
  if (!hf_cancel_check(fit->own->laying->cancel, error))
    return FALSE;
  return isnan(em) ? refuse_room(fit, error) : TRUE;
}

/* One after the other, until the words are as wide as is said. */
static gboolean
fit_width(Fit *fit, GError **error)
{
  guint n;
  const HfGiveWay *ways = hf_words_give_way(fit->own->words, &n);
  fit->what = HF_GIVE_HEIGHT;
  double over = too_much_at(fit->own->setting.size, fit);
  for (guint i = 0; i < n && !(fabs(over) <= ENOUGH); i++)
    over = give(fit, ways[i], over);
  if (!hf_cancel_check(fit->own->laying->cancel, error))
    return FALSE;
  if (isnan(over))
    return refuse_room(fit, error);
  return fabs(over) <= ENOUGH || refuse_width(fit, over, error);
}

gboolean
hf_words_fit(HfWordsLaying *own, GError **error)
{
  g_auto(Fit) fit = {.own = own};
  if (!hf_wording_has_ink(own->wording))
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE, "write a letter",
                         "the words have nothing to cut, so no size fits them");
  find_room(&fit);
  begin_as_said(&fit);
  gboolean done = has_height(own->words) || !isnan(wished_width(own)) ? fit_width(&fit, error)
                                                                      : fit_height(&fit, error);
  if (done)
    tell(&fit);
  return done;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * band.c - words in the band between two rings.
 *
 *        ,-- outer ring --.       given height: the middle of the letters in the middle of the band
 *       (   T I D E S      )      fill: as large as bites both rings (fill.c); when the text is
 * then ( ,-inner ring-.   )      too long for its share of the circle, what the recipe lets give
 *                                 way does, in its order: spacing, letter width, band, rings
 *
 * A ring that gives way is an entry laid before: its new radii are left in `changed`, and all is
 * laid anew. docs/maths.md#fill-the-band
 */
#include "base/text.h"
#include "layout/fill-private.h"
#include "layout/solve-private.h"

#include <string.h>

static const double TIGHTEST = -0.05; /* spacing, of the letter height; ours */
static const double SLIMMEST = 0.5;   /* band, of its height as given; ours */
static const double APART = 0.5;      /* clear between two texts, of the letter height; ours */
static const double SHOWS = 0.005;    /* mm: within the flattening */
static const double FITS = 1e-6;      /* radians */
enum { MOST_TURNS = 12 };

typedef struct {
  HfWordsLaying *own;
  guint inner_entry, outer_entry;
  const HfLaid *inner, *outer;
  HfBand band;
  double share; /* angle that is free on either side of the direction, whole circle: pi */
  double direction;
  HfSetting setting; /* as solved */
  HfFilled filled;
  HfCrown *all_feet, *all_tops; /* that may reach */
  HfCrown *feet, *tops;         /* that do */
} Fill;

/* ---- the rings ------------------------------------------------------------------------------ */

static gboolean
find_rings(HfWordsLaying *own, Fill *fill, GError **error)
{
  const GPtrArray *names = own->words->band;
  guint a, b;
  const HfLaid *first = hf_lay_named(own->laying, (const char *)names->pdata[0], &a);
  const HfLaid *second = hf_lay_named(own->laying, (const char *)names->pdata[names->len - 1], &b);
  gboolean swap = first->outer > second->outer;
  fill->inner = swap ? second : first;
  fill->outer = swap ? first : second;
  fill->inner_entry = swap ? b : a;
  fill->outer_entry = swap ? a : b;
  fill->band = (HfBand){.inner = fill->inner->outer,
                        .outer = fill->outer->inner,
                        .inner_far = fill->inner->inner,
                        .outer_far = fill->outer->outer,
                        .bite = hf_words_bite(own, own->words->bite)};
  if (fill->band.inner > 0 && fill->band.outer > fill->band.inner &&
      hf_point_distance(first->centre, second->centre) < 1e-6)
    return TRUE;
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                       "name two rings about one centre, the one wider than the other",
                       "there is no band between \"%s\" and \"%s\"", (const char *)names->pdata[0],
                       (const char *)names->pdata[names->len - 1]);
}

/* ---- its share of the circle ---------------------------------------------------------------- */

static gboolean
same_band(const HfWordsLaying *own, const GPtrArray *band)
{
  if (band == NULL || band->len == 0)
    return FALSE;
  for (guint i = 0; i < band->len; i++) {
    gboolean found = FALSE;
    for (guint k = 0; k < own->words->band->len; k++)
      found |= strcmp((const char *)band->pdata[i], (const char *)own->words->band->pdata[k]) == 0;
    if (!found)
      return FALSE;
  }
  return TRUE;
}

/* Length of a text's ink, of its letter height. */
static double
slenderness(const HfWording *wording)
{
  const HfLetterLine *line = hf_wording_line(wording, 0);
  return line->length <= 0 ? 1 : line->length / MAX(wording->cap, 0.1);
}

static double
spot_angle(const GArray *at, guint i)
{
  if (at == NULL || at->len == 0)
    return G_PI_2;
  const HfSpot *spot = &g_array_index(at, HfSpot, i);
  switch (spot->kind) {
  case HF_SPOT_DIRECTION:
    return spot->angle;
  case HF_SPOT_LEFT_END:
    return G_PI;
  case HF_SPOT_RIGHT_END:
    return 0;
  default:
    return G_PI_2;
  }
}

/* Between two texts the room is shared as their lengths are; up to a separator it is all ours. */
static void
make_room(Fill *fill, const GArray *at, double ours, double theirs)
{
  for (guint i = 0; i < MAX(at == NULL ? 1 : at->len, 1); i++) {
    double apart = fabs(remainder(spot_angle(at, i) - fill->direction, 2 * G_PI));
    if (apart < 1e-9)
      continue;
    fill->share = MIN(fill->share, apart * ours / (ours + theirs));
    /* seen the other way round the circle it is 2 pi - apart away, which is never nearer */
  }
}

/* How far a gate arch runs on either side of @direction; a ring all round. */
static double
arch_share(const HfLaid *laid, double direction)
{
  if (laid->span <= 0 || laid->frames->len == 0)
    return G_PI;
  HfMatrix frame = g_array_index(laid->frames, HfMatrix, 0);
  double middle = G_PI_2 + atan2(frame.yx, frame.xx);
  return laid->span - fabs(remainder(direction - middle, 2 * G_PI));
}

static gboolean
find_share(Fill *fill, GError **error)
{
  HfWordsLaying *own = fill->own;
  double ours = slenderness(own->wording);
  fill->share =
      MIN(arch_share(fill->inner, fill->direction), arch_share(fill->outer, fill->direction));
  make_room(fill, own->place->at, ours, ours);
  for (guint i = 0; i < own->laying->recipe->entries->len; i++) {
    const HfEntry *other = hf_lay_entry(own->laying, i);
    if (i == own->entry)
      continue;
    if (other->kind == HF_ENTRY_WORDS && same_band(own, other->words.band)) {
      g_autoptr(HfWording) theirs =
          hf_wording_new(own->laying, i, other->words.lines, &other->words.font, FALSE, error);
      if (theirs == NULL)
        return FALSE;
      make_room(fill, other->place.at, ours, slenderness(theirs));
    }
    if (other->kind == HF_ENTRY_SEPARATOR && same_band(own, other->separator.band)) {
      double high = fill->band.outer - fill->band.inner;
      double wide = isnan(other->separator.size) ? high : other->separator.size;
      double before = fill->share;
      if (hf_entry_names(other, HF_ROLE_BESIDE, hf_lay_entry(own->laying, own->entry)->name)) {
        fill->share -= wide * MAX(other->place.copies, 1) / (fill->band.outer + fill->band.inner);
        continue;
      }
      make_room(fill, other->place.at, 1, 0);
      if (fill->share < before)
        fill->share -= wide / (fill->band.outer + fill->band.inner);
    }
  }
  return TRUE;
}

/* ---- does it fit? --------------------------------------------------------------------------- */

static void
forget_solution(Fill *fill)
{
  g_clear_pointer(&fill->feet, hf_crown_free);
  g_clear_pointer(&fill->tops, hf_crown_free);
}

static void
fill_clear(Fill *fill)
{
  forget_solution(fill);
  g_clear_pointer(&fill->all_feet, hf_crown_free);
  g_clear_pointer(&fill->all_tops, hf_crown_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Fill, fill_clear)

/* What is being tried: how wide the letters, how tight, how far the rings have given way. */
typedef struct {
  double wide;
  HfMeasure spacing;
  double slimmer; /* mm off the band, from inside */
  double larger;  /* mm on the radius of both rings */
} Try;

static HfBand
tried_band(const Fill *fill, const Try *try)
{
  HfBand band = fill->band;
  double in = try->larger + try->slimmer;
  band.inner += in;
  band.inner_far += band.inner_far > 0 ? in : 0;
  band.outer += try->larger;
  band.outer_far += try->larger;
  return band;
}

static double
spacing_mm(const Fill *fill, HfMeasure spacing, double size)
{
  if (isnan(spacing.value))
    return 0;
  return spacing.is_share ? spacing.value * size * fill->own->wording->cap : spacing.value;
}

/* Angle by which the words are too long on either side; < 0: there is room. NAN: no solution. */
static double
excess(Fill *fill, const Try *try)
{
  HfWordsLaying *own = fill->own;
  HfBand band = tried_band(fill, try);
  forget_solution(fill);
  fill->setting.wide = try->wide;
  if (own->words->fill) {
    if (!hf_fill_solve(fill->all_feet, fill->all_tops, &fill->setting, &band, &fill->feet,
                       &fill->tops, &fill->filled))
      return NAN;
  } else {
    double half = (own->wording->top + own->wording->foot) / 2 * fill->setting.size;
    fill->setting.radius = (band.inner + band.outer) / 2 + (fill->setting.inward ? half : -half);
  }
  own->setting = fill->setting;
  if (own->words->spacing_rule == HF_SPACING_AS_GIVEN)
    own->setting.spacing = spacing_mm(fill, try->spacing, own->setting.size);
  else
    hf_words_settle_spacing(own);
  fill->setting = own->setting;
  g_autoptr(HfPlaced) placed = hf_place_round(own->wording, &own->setting, own->leading);
  double gap = fill->share < G_PI ? APART : 2 * APART;
  return placed->half_angle +
         gap / 2 * own->setting.size * own->wording->cap / own->setting.radius - fill->share;
}

/* ---- giving way ----------------------------------------------------------------------------- */

static void
set_given(Try *try, HfGiveWay what, double value)
{
  switch (what) {
  case HF_GIVE_SPACING:
    try->spacing = (HfMeasure){value, TRUE};
    break;
  case HF_GIVE_WIDTH:
    try->wide = value;
    break;
  case HF_GIVE_BAND:
    try->slimmer = value;
    break;
  case HF_GIVE_RING:
    try->larger = value;
    break;
  case HF_GIVE_HEIGHT:
    g_assert_not_reached();
  }
}

/* Only rings change their size; a round plate inside stays as it is. */
static gboolean
rings_may_change(const Fill *fill)
{
  const HfLaying *laying = fill->own->laying;
  return hf_lay_entry(laying, fill->inner_entry)->kind == HF_ENTRY_RING &&
         hf_lay_entry(laying, fill->outer_entry)->kind == HF_ENTRY_RING;
}

/* From where to where it may give way. */
static gboolean
give_range(const Fill *fill, const Try *try, HfGiveWay what, double *from, double *to)
{
  double high = fill->own->setting.size * fill->own->wording->cap;
  HfBand band = tried_band(fill, try);
  switch (what) {
  case HF_GIVE_SPACING:
    if (fill->own->words->spacing_rule != HF_SPACING_AS_GIVEN)
      return FALSE; /* joined letters are as tight as they are */
    *from = spacing_mm(fill, try->spacing, fill->own->setting.size) / high;
    *to = TIGHTEST;
    return *to < *from;
  case HF_GIVE_WIDTH:
    *from = 1;
    *to = fill->own->words->narrowest;
    return TRUE;
  case HF_GIVE_BAND:
    *from = 0;
    *to = (1 - SLIMMEST) * (band.outer - band.inner);
    return fill->own->words->fill && rings_may_change(fill);
  case HF_GIVE_RING:
    *from = 0;
    *to = HF_RECIPE_MAX_MM / 2 - band.outer_far;
    return *to > 0 && rings_may_change(fill);
  case HF_GIVE_HEIGHT: /* a width asks for it, no band */
    return FALSE;
  }
  g_assert_not_reached();
}

static double
excess_at(Fill *fill, Try *try, HfGiveWay what, double value)
{
  set_given(try, what, value);
  return excess(fill, try);
}

typedef struct {
  Fill *fill;
  Try *try;
  HfGiveWay what;
} Giving;

static double
excess_when(double value, gpointer data)
{
  const Giving *giving = data;
  return excess_at(giving->fill, giving->try, giving->what, value);
}

/* Gives way by as little as makes the words fit, or all the way. A ring may grow without much of a
 * bound, so the range is first opened step by step. */
static gboolean
give(Fill *fill, Try *try, HfGiveWay what)
{
  double from, to;
  if (!give_range(fill, try, what, &from, &to))
    return FALSE;
  double far = to, at_to;
  to = what == HF_GIVE_RING ? MIN(far, 4) : far;
  while ((at_to = excess_at(fill, try, what, to)) > 0 && to != far)
    to = MIN(2 * to, far);
  if (!(at_to <= 0)) { /* also when there is no solution that far */
    if (isnan(at_to))
      set_given(try, what, from);
    return FALSE;
  }
  Giving giving = {fill, try, what};
  to = hf_solve_most(excess_when, &giving, to, from, FITS / 2, fill->own->laying->cancel);
  return excess_at(fill, try, what, to) <= FITS;
}

static gboolean
give_way(Fill *fill, Try *try)
{
  guint n;
  const HfGiveWay *ways = hf_words_give_way(fill->own->words, &n);
  for (guint i = 0; i < n; i++)
    if (give(fill, try, ways[i]))
      return TRUE;
  return FALSE;
}

/* ---- refusals ------------------------------------------------------------------------------- */

/* Letters of what height fit; NAN: none that anybody could read. */
static double
height_that_fits(Fill *fill, const Try *try)
{
  HfWordsLaying *own = fill->own;
  Try slimmer = *try;
  if (own->words->fill)
    return give(fill, &slimmer, HF_GIVE_BAND) ? own->setting.size * own->wording->cap : NAN;
  double given = fill->setting.size, low = given / 8, high = given, fits = NAN;
  for (int i = 0; i < 40 && hf_wording_goes_on(own->wording); i++) {
    fill->setting.size = (low + high) / 2;
    if (excess(fill, try) <= 0)
      fits = low = fill->setting.size;
    else
      high = fill->setting.size;
  }
  fill->setting.size = given;
  return fits * own->wording->cap;
}

/* Of a text that is far too long no letter count helps: then what stands beside it has to go. */
static void
say_shorter(const Fill *fill, double over, GString *fix)
{
  double share = fill->share / (fill->share + over);
  guint fewer = (guint)MAX(1, floor(fill->own->wording->letters->len * share));
  if (share < 0.3) {
    g_string_append(fix, "move or shrink what stands beside it in the band");
    return;
  }
  g_string_append_printf(fix,
                         "shorten the text to about %u letter%s, take a face that runs %d %% "
                         "narrower",
                         fewer, fewer == 1 ? "" : "s", (int)ceil((1 - share) * 100));
}

static char *
what_would_fit(Fill *fill, const Try *try, double over)
{
  Try larger = *try;
  g_autoptr(GString) fix = g_string_new(NULL);
  say_shorter(fill, over, fix);
  double height = floor(height_that_fits(fill, try));
  if (height >= 1) {
    g_autofree char *high = hf_text_at_most(height);
    g_string_append_printf(fix, ", take %s letters%s, which fit", high,
                           fill->own->words->fill ? " (in a narrower band)" : "");
  }
  if (give(fill, &larger, HF_GIVE_RING)) {
    HfBand band = tried_band(fill, &larger); /* both grow, or the band would take other letters */
    double wide = ceil(2 * band.outer_far);
    g_autofree char *outer = hf_text_at_least(wide);
    g_autofree char *inner = hf_text_at_most(wide - 2 * (band.outer_far - band.inner));
    g_string_append_printf(fix, ", or make the outer ring %s and the inner ring %s across", outer,
                           inner);
  }
  return g_string_free(g_steal_pointer(&fix), FALSE);
}

static gboolean
refuse_length(Fill *fill, const Try *try, double over, GError **error)
{
  HfWordsLaying *own = fill->own;
  double radius = own->setting.radius;
  g_autofree char *needs = hf_text_mm(2 * (fill->share + over) * radius);
  g_autofree char *has = hf_text_mm(2 * fill->share * radius);
  gboolean none = fill->share <= 0;
  g_autofree char *fix = what_would_fit(fill, try, over);
  const char *text = (const char *)own->words->lines->pdata[0];
  if (none)
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                         "there is no room at all for \"%s\": what stands beside it takes that "
                         "stretch of the circle, and the words are %s long",
                         text, needs);
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                       "the words \"%s\" are %s long on the circle, and there is room for %s", text,
                       needs, has);
}

static gboolean
nothing_shows(Fill *fill, GError **error)
{
  HfWordsLaying *own = fill->own;
  if (!own->words->fill)
    return TRUE;
  gboolean foot = fill->filled.foot_shows > SHOWS;
  if (!foot && fill->filled.top_shows <= SHOWS)
    return TRUE;
  const HfBiteMark *mark = foot ? &fill->filled.foot : &fill->filled.top;
  gboolean outer = foot == fill->setting.inward;
  g_autofree char *by = hf_text_mm(foot ? fill->filled.foot_shows : fill->filled.top_shows);
  g_autofree char *wide = hf_text_at_least(ceil(mark->depth * 10) / 10);
  g_autofree char *fix = g_strdup_printf(
      "make that ring %s wide, or write it in capitals or a face with shorter tails", wide);
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                       "%s shows by %s on the far side of the %s ring",
                       hf_wording_letter(own->wording, mark->letter)->label, by,
                       outer ? "outer" : "inner");
}

/* ---- laying --------------------------------------------------------------------------------- */

static void
tell_ring(Fill *fill, guint ring)
{
  const HfChanged *changed = &fill->own->laying->changed[ring];
  if (isnan(changed->outer))
    return;
  HfSolved outer = {ring, HF_SOLVED_OUTER_DIAMETER, 2 * changed->outer};
  HfSolved inner = {ring, HF_SOLVED_INNER_DIAMETER, 2 * changed->inner};
  g_array_append_val(fill->own->laying->layout->solved, outer);
  g_array_append_val(fill->own->laying->layout->solved, inner);
}

static void
tell(Fill *fill, const Try *try)
{
  HfWordsLaying *own = fill->own;
  if (own->words->fill)
    hf_words_solved(own, HF_SOLVED_LETTER_HEIGHT, own->setting.size * own->wording->cap);
  hf_words_solved(own, HF_SOLVED_BASELINE_RADIUS, own->setting.radius);
  if (own->setting.spacing != 0 && own->words->spacing_rule == HF_SPACING_AS_GIVEN)
    hf_words_solved(own, HF_SOLVED_SPACING, own->setting.spacing);
  if (try->wide != 1)
    hf_words_solved(own, HF_SOLVED_LETTER_WIDTH, try->wide);
  tell_ring(fill, fill->inner_entry);
  tell_ring(fill, fill->outer_entry);
}

static void
change_rings(Fill *fill, const Try *try)
{
  HfLaying *laying = fill->own->laying;
  HfBand band = tried_band(fill, try);
  laying->changed[fill->inner_entry] = (HfChanged){band.inner, band.inner_far, NAN};
  laying->changed[fill->outer_entry] = (HfChanged){band.outer_far, band.outer, NAN};
  laying->again = TRUE;
}

/* Size, radius and what gives way, for the letters as they are. */
static gboolean
solve_copy(HfWordsLaying *own, Fill *fill, Try *try, GError **error)
{
  fill_clear(fill);
  if (own->words->fill) {
    double reach = HF_REACH * own->wording->cap;
    fill->all_feet = hf_crown_new(own->wording, HF_SIDE_FEET, -1, reach);
    fill->all_tops = hf_crown_new(own->wording, HF_SIDE_TOPS, -1, reach);
  }
  *try = (Try){1, own->words->spacing, 0, 0};
  double over = excess(fill, try);
  if (!hf_cancel_check(own->laying->cancel, error))
    return FALSE;
  if (isnan(over))
    return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                         "make the band wider or the bite smaller",
                         "no letter of the words can reach both rings");
  if (over > FITS && !give_way(fill, try)) {
    over = excess(fill, try);
    return hf_cancel_check(own->laying->cancel, error) && refuse_length(fill, try, over, error);
  }
  return TRUE;
}

/* Letters grow bolder by mm, and how many mm an em has is what is solved for: turn about, until
 * neither moves. Each turn leaves about (2 bolder / band) of the error of the one before. */
static gboolean
solve_bolder(HfWordsLaying *own, Fill *fill, Try *try, GError **error)
{
  HfSetting given = fill->setting;
  double bolder = own->words->font.bolder;
  gboolean grows = !isnan(bolder) && bolder != 0;
  if (!solve_copy(own, fill, try, error))
    return FALSE;
  for (int i = 0; grows && i < MOST_TURNS && hf_wording_goes_on(own->wording); i++) {
    double size = own->setting.size, wide = try->wide;
    fill->setting = own->setting = given;
    if (!hf_wording_bolder(own->laying, own->entry, own->wording, bolder, size, wide, error) ||
        !solve_copy(own, fill, try, error))
      return FALSE;
    if (fabs(own->setting.size - size) < 1e-9 * size && fabs(try->wide - wide) < 1e-7)
      break;
  }
  return TRUE;
}

static gboolean
lay_copy(HfWordsLaying *own, Fill *fill, guint copy, GError **error)
{
  Try try;
  fill->setting = own->setting;
  fill->setting.inward = hf_words_is_inward(own->words, fill->direction);
  if (!find_share(fill, error) || !solve_bolder(own, fill, &try, error))
    return FALSE;
  if (try.slimmer > 0 || try.larger > 0) {
    change_rings(fill, &try);
    return TRUE;
  }
  if (!nothing_shows(fill, error))
    return FALSE;
  g_autoptr(HfPlaced) placed = hf_place_round(own->wording, &own->setting, own->leading);
  HfMatrix frame = hf_words_frame(own, fill->outer->centre, fill->direction, own->setting.inward);
  guint first = own->laying->laid[own->entry].shapes->len;
  hf_words_add(own, placed, frame, copy);
  if (copy == 0) {
    tell(fill, &try);
    hf_words_tell_joined(own, first);
  }
  if (!own->words->fill)
    return TRUE;
  const struct {
    const HfCrown *crown;
    HfSide side;
  } sides[] = {{fill->feet, HF_SIDE_FEET}, {fill->tops, HF_SIDE_TOPS}};
  for (guint i = 0; i < G_N_ELEMENTS(sides); i++) {
    HfBiteEdge edge = hf_fill_edge(&fill->band, &own->setting, sides[i].side);
    guint ring = edge.sign > 0 ? fill->outer_entry : fill->inner_entry;
    hf_words_add_bites(own, sides[i].crown, &edge, first, HF_LAID_SHAPE(ring, 0));
  }
  return TRUE;
}

static gboolean
is_one_line(HfWordsLaying *own, GError **error)
{
  if (own->wording->lines->len == 1 || !own->words->fill)
    return TRUE;
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                       "write them in one line, or as two entries",
                       "words that fill a band can't have several lines");
}

gboolean
hf_lay_band(HfWordsLaying *own, GError **error)
{
  if (!is_one_line(own, error))
    return FALSE;
  HfSetting given = own->setting;
  for (guint copy = 0; copy < hf_words_n_copies(own) && !own->laying->again; copy++) {
    if (!hf_cancel_check(own->laying->cancel, error))
      return FALSE;
    g_auto(Fill) fill = {.own = own};
    own->setting = given;
    if (!find_rings(own, &fill, error) || !hf_words_direction(own, copy, &fill.direction, error) ||
        !lay_copy(own, &fill, copy, error))
      return FALSE;
  }
  return TRUE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * law.c - the table of limits, and what a limit is for one sign.
 *
 * All defaults are common practice for sheet of 1.5 to 5 mm on machines of 40 to 60 A, without a
 * source, except where a standard is named and where a figure follows from the kerf's own geometry.
 * They are starting values: a shop replaces them by what its own test cut shows.
 */
#include "hold/law.h"
#include <string.h>

/* Widths are computed from chords within 0.005 mm of the true curve on either side: a width less
 * than this under its limit counts as kept. The same figure serves degrees. */
#define SLACK 0.01

/* A part that hangs on one tie swings: how far its metal may reach from there. */
#define REACH_THIN  25.0
#define REACH_THICK 40.0
#define THIN_SHEET  2.0

#define POINT_ANGLE       60.0
#define CAUTION_OVER_STOP 1.25

static double
most(double a, double b, double c)
{
  return fmax(a, fmax(b, c));
}

static double
web_stop(const HfProcess *p)
{
  return most(p->thickness, 1.5 * p->kerf, 2);
}

static double
web_caution(const HfProcess *p)
{
  return CAUTION_OVER_STOP * web_stop(p);
}

static double
long_web_stop(const HfProcess *p)
{
  return most(1.2 * p->thickness, 2 * p->kerf, 3);
}

static double
long_web_caution(const HfProcess *p)
{
  return CAUTION_OVER_STOP * long_web_stop(p);
}

static double
opening_stop(const HfProcess *p)
{
  return p->crater + 0.5;
}

static double
opening_caution(const HfProcess *p)
{
  return p->crater + p->kerf / 2 + 1;
}

static double
hole_stop(const HfProcess *p)
{
  return most(1.5 * p->thickness, 3 * p->kerf, 4.5);
}

static double
hole_caution(const HfProcess *p)
{
  return most(2 * p->thickness, 4 * p->kerf, 6);
}

static double
gap_stop(const HfProcess *p)
{
  return p->kerf;
}

static double
gap_caution(const HfProcess *p)
{
  return fmax(1.5 * p->thickness, 1.5 * p->kerf);
}

static double
edge_caution(const HfProcess *p)
{
  return most(1.5 * p->thickness, 2 * p->kerf, CAUTION_OVER_STOP * web_stop(p));
}

static double
detail_caution(const HfProcess *p G_GNUC_UNUSED)
{
  return 1;
}

static double
point_caution(const HfProcess *p G_GNUC_UNUSED)
{
  return POINT_ANGLE;
}

static double
strip_caution(const HfProcess *p G_GNUC_UNUSED)
{
  return 27;
}

static double
number_caution(const HfProcess *p G_GNUC_UNUSED)
{
  return 102;
}

static double
level_caution(const HfProcess *p G_GNUC_UNUSED)
{
  return 1;
}

static double
hidden_stop(const HfProcess *p G_GNUC_UNUSED)
{
  return 5;
}

static double
hidden_caution(const HfProcess *p G_GNUC_UNUSED)
{
  return 50;
}

static double
off_stop(const HfProcess *p G_GNUC_UNUSED)
{
  return 5;
}

static double
off_caution(const HfProcess *p G_GNUC_UNUSED)
{
  return 0.5;
}

static double
any(const HfProcess *p G_GNUC_UNUSED)
{
  return 0;
}

static double
tie_caution(const HfProcess *p)
{
  return p->thickness <= THIN_SHEET ? REACH_THIN : REACH_THICK;
}

/* Not a figure of the process: the recipe says it (read_from), see from_recipe(). */
static double
by_recipe(const HfProcess *p G_GNUC_UNUSED)
{
  return NAN;
}

#define CURES(...) ((const char *const[]){__VA_ARGS__, NULL})
#define PRACTICE   "common practice"

static const HfLaw laws[HF_N_LAWS] = {
    {HF_LAW_LOOSE_PART, "loose-part", "metal that nothing holds", "", FALSE, FALSE, HF_STOP, "any",
     NULL, NULL, NULL, PRACTICE, "no source", "it falls out when the cut closes",
     CURES("ties", "closer", "joined", "nearer", "bite", "fill", "ring", "bar", "larger", "bolder",
           "further", "ends", "alone")},
    {HF_LAW_STANDS_ALONE, "stands-alone", "part that was not asked for", "", FALSE, FALSE, HF_STOP,
     "any", NULL, NULL, NULL, PRACTICE, "no source",
     "one sign is one piece unless the recipe says otherwise",
     CURES("ties", "closer", "joined", "nearer", "bite", "fill", "ring", "bar", "larger", "bolder",
           "ends", "alone")},
    {HF_LAW_HANGING_SPLIT, "hanging-split", "hanging points on different parts", "", FALSE, FALSE,
     HF_STOP, "any", NULL, NULL, NULL, PRACTICE, "no source",
     "one of the parts hangs by less than was drawn", CURES("ties", "bar")},
    {HF_LAW_THIN_WEB, "thin-web", "web width, no longer than 3 widths", "mm", TRUE, FALSE, HF_STOP,
     "max(t, 1.5 k, 2 mm)", "1.25 times the stop", web_stop, web_caution, PRACTICE, "no source",
     "burns through, bends in the hand",
     CURES("mend", "bolder", "lighter", "further", "inward", "wider", "larger", "plate", "scale")},
    {HF_LAW_THIN_LONG_WEB, "thin-long-web", "web width, longer than 3 widths", "mm", TRUE, FALSE,
     HF_STOP, "max(1.2 t, 2 k, 3 mm)", "1.25 times the stop", long_web_stop, long_web_caution,
     PRACTICE, "no source", "bows from heat, bends in the hand",
     CURES("mend", "bolder", "lighter", "further", "inward", "wider", "larger", "plate", "scale")},
    {HF_LAW_WEAK_JOINT, "weak-joint", "joint width between entries or letters", "mm", TRUE, FALSE,
     HF_STOP, "max(t, 1.5 k, 2 mm)", "1.25 times the stop", web_stop, web_caution, PRACTICE,
     "no source", "a joint at a point is no joint",
     CURES("bite", "closer", "joined", "mend", "bolder", "nearer", "wider", "larger", "scale")},
    {HF_LAW_SMALL_OPENING, "small-opening", "radius of the largest circle inside an opening", "mm",
     TRUE, FALSE, HF_STOP, "c + 0.5 mm", "c + k/2 + 1 mm", opening_stop, opening_caution, PRACTICE,
     "no source", "there is no room for the crater of the pierce",
     CURES("mend", "lighter", "bolder", "hole", "further", "closer", "larger", "scale")},
    {HF_LAW_SMALL_HOLE, "small-hole", "diameter of a round hole", "mm", TRUE, FALSE, HF_STOP,
     "max(1.5 t, 3 k, 4.5 mm)", "max(2 t, 4 k, 6 mm)", hole_stop, hole_caution, PRACTICE,
     "no source", "it comes out tapered and out of round", CURES("hole")},
    {HF_LAW_NARROW_GAP, "narrow-gap", "narrowest place of a gap", "mm", TRUE, FALSE, HF_STOP, "k",
     "max(1.5 t, 1.5 k)", gap_stop, gap_caution, PRACTICE,
     "the stop is computed: a cut is one kerf wide",
     "under the kerf it can't be cut as drawn; a little wider, dross closes it",
     CURES("mend", "lighter", "bolder", "further", "closer", "larger", "scale")},
    {HF_LAW_LOST_DETAIL, "lost-detail", "share of a letter that a round kerf can't cut", "%", FALSE,
     TRUE, HF_CAUTION, NULL, "1 % of the letter's area", NULL, detail_caution, PRACTICE,
     "what is lost is computed: inside corners come out rounded to k/2",
     "the letter looks different from the proof", CURES("larger", "scale")},
    {HF_LAW_RUN_TOGETHER, "run-together", "gap between two letters", "mm", TRUE, FALSE, HF_STOP,
     "k", "max(1.5 t, 1.5 k)", gap_stop, gap_caution, PRACTICE,
     "the stop is computed: a cut is one kerf wide", "the letters run together or dross joins them",
     CURES("further", "lighter", "joined", "closer", "larger", "scale")},
    {HF_LAW_SHARP_POINT, "sharp-point", "angle of an outer point", "deg", TRUE, FALSE, HF_CAUTION,
     "60 deg, when the recipe says within reach", "60 deg, where its radius is under 2 mm", NULL,
     point_caution, PRACTICE, "no source", "it can hurt someone", CURES("round")},
    {HF_LAW_BOWING_STRIP, "bowing-strip", "heat that buckles a strip between two joints", "K", TRUE,
     FALSE, HF_CAUTION, NULL, "27 K", NULL, strip_caution, PRACTICE,
     "heat = pi^2 t^2 / (3 a L^2), a the expansion of the metal, L the free length: Euler, fixed "
     "ends",
     "it bows sideways while it is hot from the cut", CURES("ties", "wider")},
    {HF_LAW_SMALL_LETTERS, "small-letters", "letter height", "mm", TRUE, FALSE, HF_NOTE, NULL,
     "reading distance / 200", NULL, by_recipe, PRACTICE,
     "17 minutes of arc; a strict minimum is distance / 360, a careful one distance / 240",
     "it is hard to read from there", CURES("larger", "scale")},
    {HF_LAW_SMALL_NUMBER, "small-number", "height of a house number", "mm", TRUE, FALSE, HF_CAUTION,
     NULL, "102 mm high, stroke 12.7 mm", NULL, number_caution, "standard IFC clause 505.1",
     "4 in high, stroke 0.5 in; towns may ask for more", "a fire crew must find the house",
     CURES("larger", "bolder", "scale")},
    {HF_LAW_TOO_LARGE, "too-large", "how far it sticks out of the shop's table or sheet", "mm",
     FALSE, FALSE, HF_CAUTION, NULL, "any, turned either way", NULL, any, PRACTICE,
     "the shop's own figures", "it can't be cut in one go", CURES("scale")},
    {HF_LAW_NOTHING_TO_HANG_BY, "nothing-to-hang-by", "hanging points", "", FALSE, FALSE,
     HF_CAUTION, NULL, "any", NULL, NULL, PRACTICE, "no source",
     "the recipe says that it hangs, and there is no hole", CURES("ear")},
    {HF_LAW_HOLE_NEAR_EDGE, "hole-near-edge", "metal between a hole and the nearest edge", "mm",
     TRUE, FALSE, HF_STOP, "max(t, 1.5 k, 2 mm)", "max(1.5 t, 2 k, 1.25 times the stop)", web_stop,
     edge_caution, PRACTICE, "no source", "the hole tears out", CURES("inward", "wider", "plate")},
    {HF_LAW_OUT_OF_LEVEL, "out-of-level", "how far the sign hangs out of level", "deg", FALSE,
     FALSE, HF_CAUTION, NULL, "1 deg", NULL, level_caution, PRACTICE, "statics: see docs/maths.md",
     "it hangs crooked", CURES("level")},
    {HF_LAW_FEET, "feet", "how far the centre of mass lies outside the feet", "mm", FALSE, FALSE,
     HF_CAUTION, NULL, "any", NULL, any, PRACTICE, "statics", "it topples", CURES("feet")},
    {HF_LAW_PIN_MISSED, "pin-missed",
     "tie that no longer fits its place, or letter that a rule names and that is not there", "",
     FALSE, FALSE, HF_CAUTION, NULL, "any", NULL, NULL, PRACTICE, "no source",
     "the tie is left out, never moved in silence; the rule leaves out that letter", CURES("ties")},
    {HF_LAW_UNTIED, "untied", "part that the rule for ties could not hold", "", FALSE, FALSE,
     HF_CAUTION, NULL, "any", NULL, NULL, PRACTICE, "no source",
     "the rule was asked to hold it; the part itself is found loose besides",
     CURES("ties", "mend", "further", "larger")},
    {HF_LAW_ONE_TIE, "one-tie", "farthest metal from the only tie of a part", "mm", FALSE, FALSE,
     HF_CAUTION, NULL, "25 mm on sheet up to 2 mm, 40 mm above", NULL, tie_caution, PRACTICE,
     "no source", "it swings and bends", CURES("ties")},
    {HF_LAW_HIDDEN, "hidden", "share of the outline of a letter or hole that shows", "%", TRUE,
     FALSE, HF_STOP, "5 %; metal in a hole to hang by", "50 %, of a letter; metal in a hole",
     hidden_stop, hidden_caution, PRACTICE, "no source",
     "the sign says something else than the recipe", CURES("opening", "smaller", "plate")},
    {HF_LAW_OFF_METAL, "off-the-metal",
     "share of the outline of a cut-through letter that lies off the metal", "%", FALSE, FALSE,
     HF_STOP, "5 %", "0.5 %", off_stop, off_caution, PRACTICE, "no source",
     "open at the metal's edge, it does not read", CURES("smaller", "plate")},
    {HF_LAW_NO_METAL, "no-metal", "sign without metal", "", FALSE, FALSE, HF_STOP, "any", NULL,
     NULL, NULL, PRACTICE, "no source", "there is nothing to cut", CURES("plate")},
    {HF_LAW_ACCEPTANCE, "acceptance", "acceptance that has no effect", "", FALSE, FALSE, HF_NOTE,
     NULL, "any", NULL, NULL, PRACTICE, "no source",
     "a stop can't be accepted, and what is not found needs no acceptance", CURES("acceptance")},
};

typedef struct {
  HfFigure figure;
  HfLawKind kind; /* whose source it shares */
  const char *key;
  double value;
  const char *unit;
} Figure;

static const Figure figures[HF_N_FIGURES] = {
    {HF_FIGURE_POINT_RADIUS, HF_LAW_SHARP_POINT, "sharp-point radius", 2, "mm"},
    {HF_FIGURE_LONG_WEB, HF_LAW_THIN_LONG_WEB, "long-web", 3, ""},
    {HF_FIGURE_NUMBER_STROKE, HF_LAW_SMALL_NUMBER, "small-number stroke", 12.7, "mm"},
    {HF_FIGURE_LEGIBILITY, HF_LAW_SMALL_LETTERS, "small-letters distance", 200, ""},
};

const HfLaw *
hf_law(HfLawKind kind)
{
  g_assert((guint)kind < HF_N_LAWS && laws[kind].kind == kind);
  return &laws[kind];
}

const HfLaw *
hf_law_by_key(const char *key)
{
  for (guint i = 0; i < HF_N_LAWS; i++)
    if (g_ascii_strcasecmp(laws[i].key, key) == 0)
      return &laws[i];
  return NULL;
}

const char *
hf_law_figure_key(HfFigure figure)
{
  g_assert((guint)figure < HF_N_FIGURES && figures[figure].figure == figure);
  return figures[figure].key;
}

const char *
hf_law_figure_unit(HfFigure figure)
{
  return figures[figure].unit;
}

/* The value that @limits give to @key and @suffix; NAN when they do not. The last one counts. */
static double
given(const GArray *limits, const char *key, const char *suffix)
{
  g_autofree char *whole = g_strconcat(key, suffix, NULL);
  double value = NAN;
  for (guint i = 0; limits != NULL && i < limits->len; i++) {
    const HfLimitOverride *one = &g_array_index(limits, HfLimitOverride, i);
    if (g_ascii_strcasecmp(one->key, whole) == 0)
      value = one->value;
  }
  return value;
}

/* The graver limit must not be the milder one: a caution on the far side of its stop moves to it.
 */
static void
keep_order(const HfLaw *law, HfLimit *limit)
{
  if (isnan(limit->stop) || isnan(limit->caution))
    return;
  limit->caution =
      law->at_least ? fmax(limit->caution, limit->stop) : fmin(limit->caution, limit->stop);
}

static void
override(const HfLaw *law, HfLimit *limit, const GArray *limits, HfSaidBy speaker)
{
  double stop = given(limits, law->key, ""), caution = given(limits, law->key, " caution");
  if (isnan(stop) && isnan(caution))
    return;
  if (law->stop == NULL) { /* it has but one limit */
    limit->caution = isnan(caution) ? stop : caution;
  } else {
    if (!isnan(stop)) {
      if (!isnan(limit->caution) && limit->stop > 0)
        limit->caution *= stop / limit->stop;
      limit->stop = stop;
    }
    if (!isnan(caution))
      limit->caution = caution;
    keep_order(law, limit);
  }
  limit->said_by = speaker;
}

static HfSaidBy
default_speaker(const HfLaw *law)
{
  return g_str_has_prefix(law->source, "standard ") ? HF_SAID_BY_STANDARD : HF_SAID_BY_PRACTICE;
}

HfLimit
hf_law_limit(HfLawKind kind, const HfProcess *process, const HfShop *shop, const HfRecipe *recipe)
{
  const HfLaw *law = hf_law(kind);
  HfLimit limit = {law->stop != NULL ? law->stop(process) : NAN,
                   law->caution != NULL ? law->caution(process) : NAN, default_speaker(law)};
  if (kind == HF_LAW_SMALL_LETTERS) {
    HfSaidBy speaker;
    limit.caution = recipe->read_from / hf_law_figure(HF_FIGURE_LEGIBILITY, shop, recipe, &speaker);
    limit.said_by = speaker;
  }
  if (shop != NULL)
    override(law, &limit, shop->limits, HF_SAID_BY_SHOP);
  override(law, &limit, recipe->limits, HF_SAID_BY_RECIPE);
  if (kind == HF_LAW_SHARP_POINT && recipe->within_reach)
    limit.stop = limit.caution;
  return limit;
}

double
hf_law_figure(HfFigure figure, const HfShop *shop, const HfRecipe *recipe, HfSaidBy *ret_said_by)
{
  const char *key = hf_law_figure_key(figure);
  double by_recipe_ = given(recipe->limits, key, "");
  double by_shop = shop != NULL ? given(shop->limits, key, "") : NAN;
  HfSaidBy speaker = !isnan(by_recipe_) ? HF_SAID_BY_RECIPE
                     : !isnan(by_shop)  ? HF_SAID_BY_SHOP
                                        : default_speaker(hf_law(figures[figure].kind));
  if (ret_said_by != NULL)
    *ret_said_by = speaker;
  return !isnan(by_recipe_) ? by_recipe_ : !isnan(by_shop) ? by_shop : figures[figure].value;
}

const char *
hf_law_said_by(HfLawKind kind, HfSaidBy said_by)
{
  switch (said_by) {
  case HF_SAID_BY_SHOP:
    return "your process (shop file)";
  case HF_SAID_BY_RECIPE:
    return "your process (recipe)";
  case HF_SAID_BY_PRACTICE:
  case HF_SAID_BY_STANDARD:
    break;
  }
  return hf_law(kind)->source;
}

static gboolean
breaks(const HfLaw *law, double limit, double measured)
{
  if (isnan(limit))
    return FALSE;
  return law->at_least ? measured < limit - SLACK : measured > limit + SLACK;
}

gboolean
hf_law_weigh(HfLawKind kind, HfLimit limit, double measured, HfGravity *ret_gravity,
             double *ret_limit)
{
  const HfLaw *law = hf_law(kind);
  if (law->unit[0] == '\0') {
    *ret_gravity = law->gravity;
    *ret_limit = NAN;
    return TRUE;
  }
  g_assert(!isnan(measured));
  gboolean stop = breaks(law, limit.stop, measured), caution = breaks(law, limit.caution, measured);
  gboolean note = law->note_within && (law->at_least || measured > SLACK);
  if (!stop && !caution && !note)
    return FALSE;
  *ret_gravity = stop ? HF_STOP : caution ? MIN(law->gravity, HF_CAUTION) : HF_NOTE;
  *ret_limit = stop ? limit.stop : limit.caution;
  return TRUE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * style.c - what the looks of a bar cost, beside the metal that it shows.
 *
 * In square ties (width times width of an ordinary short tie), so that one and the same eye judges
 * small signs and large ones. docs/maths.md#ties has the reasons.
 */
#include "tie/offers-private.h"

#define SLANTED    1.0  /* halfway between upright and level, and not square across either */
#define ACROSS     0.25 /* straight across the stroke, but neither upright nor level */
#define SKEWED     1.0  /* an end that meets its edge at a slant: 1 - cosine */
#define BESIDE     0.3  /* from the outermost place of the part, not its middle: square of it */
#define LYING      0.15 /* level: stems are upright, and a tie beside one looks like its own */
#define ON_TOP     0.05 /* at the top of a letter, where the eye reads first; breaks ties */
#define ON_RIGHT   0.02 /* to the right; breaks ties of mirror images */
#define SECOND     0.03 /* offered by the larger of two parts; breaks ties */
#define EQUAL_AREA 1e-3 /* parts that differ by less are equal */
#define CROWDED    0.7  /* a gap beside it as narrow as may be: caution of the hold check */
#define SLIGHT     0.5  /* an end in metal within the caution of webs */
#define NARROW     0.5  /* as narrow as its limit, not a quarter over it */
#define STRANGE    4.0  /* a dot, an accent, tied to something else than its letter */
#define SPECTACLES 8.0  /* two dots tied to each other: each should have its own */
#define UNCOVERED  6.0  /* it leaves a weak joint of its part as weak as it is: a stop */
#define SWINGS     2.0  /* metal of the part beyond the reach of one tie: caution */
#define STROKE_END 0.3  /* a corner of the outline at the edge of the bar (handbook 10) */

/* 0 upright or level, 1 halfway between. */
static double
slant_of(const HfView *view, const HfBar *bar)
{
  HfPoint way = hf_view_way(view, bar->way);
  double sine = 2 * way.x * way.y;
  return sine * sine;
}

/* A dot, an accent, tied to something else than its letter: seen from either end. */
static gboolean
is_strange(const HfOffers *offers, const HfBar *bar)
{
  const HfGround *ground = offers->ground;
  for (int which = 0; which < 2; which++) {
    guint own = ground->views[bar->part[which]].shape, other = bar->part[1 - which];
    if (offers->dot[bar->part[which]] && ground->views[other].shape != own &&
        hf_ground_shape(ground, bar->end[1 - which].edge) != own)
      return TRUE;
  }
  return FALSE;
}

/* Two dots tied to each other, of one letter or of neighbours. */
static gboolean
joins_dots(const HfOffers *offers, const HfBar *bar)
{
  return offers->dot[bar->part[0]] && offers->dot[bar->part[1]] &&
         !hf_habit_at(offers, bar->part[0])->strokes;
}

/* A tie that is narrower than it would be by default. */
static double
narrow_of(const HfTieLaw *law, const HfBar *bar)
{
  double usual = HF_OVER_LIMIT * bar->limit;
  return isnan(law->given) ? CLAMP((usual - bar->width) / (usual - bar->limit), 0, 1) : 0;
}

/* Of two parts that both need ties the smaller one asks, of equal ones the letter that is read
 * first: the same bar, or one just as good, may be offered from either side. */
static gboolean
asks_second(const HfOffers *offers, const HfBar *bar)
{
  const HfGround *ground = offers->ground;
  if (offers->node[bar->part[1]] == 0)
    return FALSE;
  const GArray *parts = ground->sign->hold->parts;
  double a = g_array_index(parts, HfPart, bar->part[0]).area;
  double b = g_array_index(parts, HfPart, bar->part[1]).area;
  if (fabs(a - b) > EQUAL_AREA * a)
    return a > b;
  return ground->views[bar->part[0]].shape > ground->views[bar->part[1]].shape;
}

double
hf_bar_style(const HfOffers *offers, const HfBar *bar)
{
  const HfTieLaw *law = &offers->law;
  const HfView *view = &offers->ground->views[bar->part[0]];
  double least_square = fmin(bar->end[0].square, bar->end[1].square);
  const HfHabit *habit = hf_habit_at(offers, bar->part[0]);
  double slant = SLANTED * slant_of(view, bar);
  if (habit->strokes)
    slant = 0; /* across a corner is where it should be */
  else if (!habit->counter)
    slant = fmin(slant, ACROSS + 4 * (1 - least_square));
  double level = hf_view_way(view, bar->way).x;
  double foot = hf_view_point(view, hf_bar_point(bar, 0, 0)).y;
  double high = hf_box_height(view->box);
  double wide = hf_box_width(view->box);
  double aside = hf_view_point(view, hf_bar_point(bar, 0, 0)).x;
  double cost = slant;
  cost += (habit->strokes ? 0.3 : 1) * SKEWED * (2 - bar->end[0].square - bar->end[1].square);
  cost += BESIDE * bar->off * bar->off;
  cost += habit->counter   ? hf_habit_style(offers, bar)
          : habit->strokes ? hf_strokes_style(offers, bar)
                           : LYING * level * level;
  cost += ON_TOP * CLAMP(high > 0 ? foot / high + 0.5 : 0, 0, 1);
  if (!habit->counter || habit->sides)
    cost += ON_RIGHT * CLAMP(wide > 0 ? aside / wide + 0.5 : 0, 0, 1);
  cost += asks_second(offers, bar) ? SECOND : 0;
  cost += CROWDED * bar->crowd;
  cost += SLIGHT * (!bar->end[0].solid + !bar->end[1].solid);
  cost += NARROW * narrow_of(law, bar);
  cost += joins_dots(offers, bar) ? SPECTACLES : 0;
  cost += is_strange(offers, bar) ? STRANGE : 0;
  cost += !habit->counter && bar->reach > law->reach ? SWINGS : 0; /* a middle gets two */
  cost += offers->ground->views[bar->part[0]].weak && !bar->covers ? UNCOVERED : 0;
  cost += habit->strokes ? 0 : STROKE_END * (bar->corner[0] + bar->corner[1]);
  return cost * offers->unit;
}

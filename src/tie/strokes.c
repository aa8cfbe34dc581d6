/* SPDX-License-Identifier: GPL-3.0-or-later
 * strokes.c - ties in scripts in which a short stroke more makes another letter: Hangul, Han, kana.
 *
 *      o |        o |      Standing: an upright bar under the ring turns eo into o; so it goes
 *     ---+       --\+      along a line that is a stroke already (it only makes that stroke
 *      | |  no      |  yes  longer), or aslant, across a corner, as no stroke of a square script
 *     ====       ====       runs.
 *
 *     /------+              Cut through: a box is tied across its corners, where one stroke ends
 *      |     |              and the next begins, two of them opposite through its middle; straight
 *      +-----/              across a stroke where there is no corner; never aslant elsewhere.
 *
 * A bar makes a stroke longer when, behind one of its ends, the metal is at least half as long
 * again along the bar as it is wide across it, then goes on so or runs into something wider, and no
 * wider than a stroke: a rail or a plate is none. Source: common practice, no source.
 */
#include "tie/offers-private.h"
#include <string.h>

#define IMITATES                                                                                   \
  4.0 /* square ties: a bar as long as it is wide, or longer, that could be a stroke */
#define WIDEST       0.3  /* ems: what is wider is no stroke */
#define STRAIGHT_CUT 4.0  /* square ties: cut through, straight across a stroke, */
#define ASLANT_CUT   6.0  /* aslant where there is no corner */
#define DEEP         0.75 /* widths behind the end: there the stroke is measured */
#define LONGER       1.2  /* widths of the stroke further in, where it is measured again */
#define ALIKE        1.5  /* widths of one stroke */
#define OFF          0.3  /* of its width: its middle beside the bar's line */

gboolean
hf_strokes_is(const HfShape *shape)
{
  const char *quote = shape->letter >= 0 ? strchr(shape->label, '\'') : NULL;
  if (quote == NULL)
    return FALSE;
  switch (g_unichar_get_script(g_utf8_get_char(quote + 1))) {
  case G_UNICODE_SCRIPT_HANGUL:
  case G_UNICODE_SCRIPT_HAN:
  case G_UNICODE_SCRIPT_HIRAGANA:
  case G_UNICODE_SCRIPT_KATAKANA:
  case G_UNICODE_SCRIPT_BOPOMOFO:
    return TRUE;
  default:
    return FALSE;
  }
}

/* mm of metal from @p along @way. */
static double
metal_along(HfGround *ground, HfPoint p, HfPoint way)
{
  HfMet met;
  return hf_ground_ray(ground, p, way, 0, &met) && !met.enters ? met.at : 0;
}

/* Across the bar's own line, @deep mm behind its end: how wide the metal is, and how far its middle
 * lies beside the line. */
static double
wide_at(HfGround *ground, const HfBar *bar, int which, double deep, double *ret_off)
{
  double at = which == 0 ? -bar->end[0].middle - deep : bar->end[1].middle + deep;
  HfPoint p = hf_bar_point(bar, at, 0), left = {-bar->way.y, bar->way.x};
  double l = metal_along(ground, p, left), r = metal_along(ground, p, hf_point_scale(left, -1));
  *ret_off = fabs(l - r) / 2;
  return l + r;
}

/* A stroke runs straight on behind the end: as wide there as further in, its middle on the line.
 * Further yet it still does, or has run into something wider: the flank of a ring does neither. */
static gboolean
makes_longer(HfGround *ground, const HfBar *bar, int which, double widest)
{
  double off = 0, deep = DEEP * bar->width;
  double wide = wide_at(ground, bar, which, deep, &off);
  gboolean is = wide > 0 && wide < widest && off < OFF * wide;
  for (int i = 1; i <= 2 && is; i++) {
    double further = wide_at(ground, bar, which, deep + i * LONGER * wide, &off);
    gboolean like = further > 0 && fmax(wide, further) < ALIKE * fmin(wide, further);
    is = (like && off < OFF * wide) || (i == 2 && further >= ALIKE * wide);
  }
  return is;
}

/* The corner of a box: the metal beyond it begins sooner beside the bar than on its middle; where
 * strokes cross it begins later, and a bar there would cut all of them. */
static gboolean
is_box_corner(const HfBar *bar)
{
  const HfBarEnd *end = &bar->end[1];
  return fmax(end->side[0], end->side[1]) < end->middle;
}

/* A gap is no stroke: at a corner of the box it looks meant. */
static double
cut_style(const HfBar *bar, double straight)
{
  double both = is_box_corner(bar) ? fmin(bar->corner[0], bar->corner[1]) : 0;
  double corner = both * (1 - straight);
  return (1 - corner) * (STRAIGHT_CUT * straight + ASLANT_CUT * (1 - straight));
}

double
hf_strokes_style(const HfOffers *offers, const HfBar *bar)
{
  const HfView *view = &offers->ground->views[bar->part[0]];
  HfPoint way = hf_view_way(view, bar->way);
  double sine = 2 * way.x * way.y;
  double straight = 1 - sine * sine; /* 0: half way between upright and level */
  if (hf_layout_shape(offers->ground->sign->layout, view->shape)->opening)
    return cut_style(bar, straight);
  double widest = WIDEST * view->size;
  if (makes_longer(offers->ground, bar, 0, widest) || makes_longer(offers->ground, bar, 1, widest))
    return 0;
  return IMITATES * straight * fmin(1, bar->length / bar->width);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * bent.c - letters that follow the circle: x becomes arc length, y becomes radius.
 *
 *      +---+              __---__       (x, y) -> centre + (R +- y) at the angle of arc length x
 *      |   |      ->     \       /
 *      +---+              \__-__/       tops and feet become circles about the centre
 *
 * Upright lines stay lines and level ones become true arcs; all else is refitted (bend.c).
 * docs/maths.md#bent-letters
 */
#include "layout/bend-private.h"
#include "layout/words-private.h"

typedef struct {
  HfBend bend; /* takes ems */
  const HfSetting *setting;
  double along, from;
} Round;

static double
radius_at(const Round *round, double y)
{
  double rise = y * round->setting->size;
  return round->setting->radius + (round->setting->inward ? -rise : rise);
}

static double
angle_at(const Round *round, double x)
{
  double along = round->along + x * round->setting->size * round->setting->wide;
  return hf_arc_angle(round->setting, along, round->from);
}

static HfPoint
round_point(const HfBend *bend, HfPoint p)
{
  const Round *round = (const Round *)bend;
  return hf_point_polar(hf_point(0, 0), radius_at(round, p.y), angle_at(round, p.x));
}

/* Chain rule: d/dt of r (cos a, sin a). */
static HfPoint
round_derivative(const HfBend *bend, HfPoint p, HfPoint d)
{
  const Round *round = (const Round *)bend;
  const HfSetting *s = round->setting;
  double r = radius_at(round, p.y), a = angle_at(round, p.x);
  double dr = (s->inward ? -d.y : d.y) * s->size;
  double da = (s->inward ? d.x : -d.x) * s->size * s->wide / s->radius;
  return hf_point(dr * cos(a) - r * da * sin(a), dr * sin(a) + r * da * cos(a));
}

static gboolean
round_line(const HfBend *bend, const HfCurve *line, HfOutline *out)
{
  const Round *round = (const Round *)bend;
  if (fabs(line->p1.y - line->p0.y) >= 1e-12)
    return FALSE;
  hf_outline_arc_to(out, hf_point(0, 0), angle_at(round, line->p1.x) - angle_at(round, line->p0.x),
                    round_point(bend, line->p1));
  return TRUE;
}

HfOutline *
hf_bent_outline(const HfLetter *letter, const HfSetting *setting, double along, double from)
{
  Round round = {{round_point, round_derivative, round_line, NULL}, setting, along, from};
  return hf_bend_outline(&round.bend, letter->outline);
}

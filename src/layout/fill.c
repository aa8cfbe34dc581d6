/* SPDX-License-Identifier: GPL-3.0-or-later
 * fill.c - solves letter height and baseline radius for words that fill a band.
 *
 *      ======== outer ring ========      two unknowns: mm an em, radius of the baseline
 *         |T|        /A\      ) bite     two equations: the shallowest foot bites by the stated
 *         | |       /   \                depth, and so does the shallowest top
 *      ===|_|======/_____\===) bite
 *            inner ring
 *
 * Where along the circle a letter stands does not matter: the level of a point of a rigid letter
 * is hypot(across x, R +- size y), x from the middle of its advance. So both equations hold for
 * any spacing. They are solved in turn, each by the step that would be exact on a straight band;
 * the error shrinks by about (width of a letter / R)^2 a round. docs/maths.md#fill-the-band
 */
#include "layout/fill-private.h"

enum { ROUNDS = 80, REACH_ROUNDS = 12, CLOSINGS = 200 };

static const double ENOUGH = 1e-7; /* mm */

HfBiteEdge
hf_fill_edge(const HfBand *band, const HfSetting *setting, HfSide side)
{
  gboolean to_outer = (side == HF_SIDE_TOPS) != setting->inward;
  return (HfBiteEdge){.size = setting->size,
                      .across = setting->size * setting->wide,
                      .radius = setting->radius,
                      .inward = setting->inward,
                      .bent = setting->bent,
                      .edge = to_outer ? band->outer : band->inner,
                      .sign = to_outer ? 1 : -1};
}

static double
ring_width(const HfBand *band, const HfSetting *setting, HfSide side)
{
  if ((side == HF_SIDE_TOPS) != setting->inward)
    return band->outer_far - band->outer;
  return band->inner_far > 0 ? band->inner - band->inner_far : INFINITY;
}

/* One round: the baseline for the feet, then the size for the tops. %FALSE: out of all bounds. */
static gboolean
step(const HfCrown *feet, const HfCrown *tops, const HfBand *band, HfSetting *s, double *ret_error)
{
  HfBiteEdge f = hf_fill_edge(band, s, HF_SIDE_FEET);
  HfBiteMark foot, top, deepest;
  if (!hf_crown_measure(feet, &f, &foot, &deepest))
    return FALSE;
  double foot_error = foot.depth - band->bite;
  s->radius -= f.sign * foot_error;
  HfBiteEdge t = hf_fill_edge(band, s, HF_SIDE_TOPS);
  if (!hf_crown_measure(tops, &t, &top, &deepest) || top.em.y <= foot.em.y)
    return FALSE;
  double top_error = top.depth - band->bite;
  s->size -= top_error / (top.em.y - foot.em.y);
  *ret_error = MAX(fabs(foot_error), fabs(top_error));
  return s->size > 0 && s->radius > 0 && isfinite(s->size) && isfinite(s->radius);
}

static guint
close_dips(HfCrown *crown, const HfBand *band, const HfSetting *s, HfSide side)
{
  HfBiteEdge edge = hf_fill_edge(band, s, side);
  double cap = hf_crown_wording(crown)->cap;
  return hf_crown_close_dips(crown, &edge, band->bite, HF_SLIT * cap * s->size);
}

static gboolean
iterate(HfCrown *feet, HfCrown *tops, const HfBand *band, HfSetting *s)
{
  for (int closings = 0; closings < CLOSINGS; closings++) {
    double error = INFINITY;
    for (int i = 0; i < ROUNDS && error > ENOUGH; i++)
      if (!hf_wording_goes_on(hf_crown_wording(feet)) || !step(feet, tops, band, s, &error))
        return FALSE;
    if (error > ENOUGH * 10)
      return FALSE;
    guint feet_closed = close_dips(feet, band, s, HF_SIDE_FEET);
    if (feet_closed + close_dips(tops, band, s, HF_SIDE_TOPS) == 0)
      return TRUE;
  }
  return FALSE;
}

static void
start_values(const HfWording *wording, const HfBand *band, HfSetting *s)
{
  s->size = (band->outer - band->inner + 2 * band->bite) / MAX(wording->cap, 0.1);
  s->radius = s->inward ? band->outer + band->bite : band->inner - band->bite;
}

static gboolean
measure_filled(const HfCrown *feet, const HfCrown *tops, const HfBand *band, const HfSetting *s,
               HfFilled *filled)
{
  HfBiteEdge f = hf_fill_edge(band, s, HF_SIDE_FEET), t = hf_fill_edge(band, s, HF_SIDE_TOPS);
  HfBiteMark foot, top;
  if (!hf_crown_measure(feet, &f, &foot, &filled->foot) ||
      !hf_crown_measure(tops, &t, &top, &filled->top))
    return FALSE;
  filled->size = s->size;
  filled->radius = s->radius;
  filled->least_foot = foot.depth;
  filled->least_top = top.depth;
  filled->foot_shows = filled->foot.depth - ring_width(band, s, HF_SIDE_FEET);
  filled->top_shows = filled->top.depth - ring_width(band, s, HF_SIDE_TOPS);
  return TRUE;
}

gboolean
hf_fill_solve(const HfCrown *feet, const HfCrown *tops, HfSetting *setting, const HfBand *band,
              HfCrown **ret_feet, HfCrown **ret_tops, HfFilled *ret_filled)
{
  const HfWording *wording = hf_crown_wording(feet);
  double reach = HF_REACH * wording->cap;
  HfSetting s = *setting;
  HfFilled filled;
  for (int i = 0; i < REACH_ROUNDS; i++) {
    g_autoptr(HfCrown) own_feet = hf_crown_copy(feet);
    g_autoptr(HfCrown) own_tops =
        i == 0 ? hf_crown_copy(tops) : hf_crown_new(wording, HF_SIDE_TOPS, -1, reach);
    start_values(wording, band, &s);
    if (!iterate(own_feet, own_tops, band, &s) ||
        !measure_filled(own_feet, own_tops, band, &s, &filled))
      return FALSE;
    if (filled.top_shows <= 0 || i + 1 == REACH_ROUNDS) {
      *setting = s;
      *ret_feet = g_steal_pointer(&own_feet);
      *ret_tops = g_steal_pointer(&own_tops);
      *ret_filled = filled;
      return TRUE;
    }
    /* what lies that much lower than the highest can't reach through this ring */
    reach =
        MIN(reach, (filled.top.depth - band->bite) / s.size) * 0.999 - filled.top_shows / s.size;
    reach = MAX(reach, 1e-6);
  }
  return FALSE;
}

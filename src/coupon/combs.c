/* SPDX-License-Identifier: GPL-3.0-or-later
 * combs.c - which figures are tried, and where each lies on the plate.
 *
 *      _| |_| |_| |____     slots, open at the upper edge      rows from the top, each with its
 *     |  2.8 2.4 2.1   |                                       letter at its left, and under each
 *     | A || || ||     |    long webs                          place its figure
 *     |   2.8 2.4 2.1  |
 *     |  ...       [ ] |    the window
 *      \/  V  v________|    points, below the lower edge
 *
 * Figures run from 0.36 to 1.15 of the usual limit (ours): the largest should always come out, the
 * smallest seldom.
 */
#include "coupon/coupon-private.h"

enum { MOST_LETTERS = 4 };
#define LEAST     0.36
#define MOST      1.15
#define OVER_KERF 0.3  /* mm: an opening is so much wider than the cut, or it can't be cut */
#define SLOT_MM   25.0 /* how long a slot is */
#define WINDOW_MM 40.0
#define WINDOW_IN 1.5
#define POINT_MM  25.0 /* how far a point stands out */
/* The smallest letter: its gaps are a kerf, its webs a third of the usual limit, in the face that
 * is used where none is said. */
#define LETTER_KERFS 13.2
#define LETTER_WEBS  6.2
#define LETTERS_WIDE 1.0 /* of its height */
static double
limit_of(HfLawKind law, const HfProcess *process)
{
  return hf_law_usual(law, process).stop;
}

/* Round in the unit that is told: tenths of a millimetre, 0.005 in. */
static double
rounded(double mm)
{
  double step = hf_units_are_inches() ? 0.127 : mm < 1 ? 0.05 : 0.1;
  return rint(mm / step) * step;
}

/* @n of them from @most down to @least in even ratios, round, none twice, none under @floor. */
static void
set_figures(HfComb *comb, guint n, double most, double least, double floor)
{
  comb->n = 0;
  for (guint i = 0; i < n; i++) {
    double figure = rounded(most * pow(least / most, (double)i / (n - 1)));
    gboolean fits = figure >= floor && (comb->n == 0 || figure < comb->figure[comb->n - 1] - 1e-6);
    if (fits)
      comb->figure[comb->n++] = figure;
  }
}

static void
find_figures(HfCoupon *coupon, const HfProcess *process)
{
  HfComb *combs = coupon->combs;
  double kerf = process->kerf, floor = kerf + OVER_KERF;
  const struct {
    HfCombKind kind;
    double limit;
    double floor;
  } by_limit[] = {
      {HF_COMB_LONG_WEBS, limit_of(HF_LAW_THIN_LONG_WEB, process), 0.3},
      {HF_COMB_SHORT_WEBS, limit_of(HF_LAW_THIN_WEB, process), 0.3},
      {HF_COMB_HOLES, limit_of(HF_LAW_SMALL_HOLE, process), floor},
      {HF_COMB_OPENINGS, 2 * limit_of(HF_LAW_SMALL_OPENING, process), floor},
  };
  for (guint i = 0; i < G_N_ELEMENTS(by_limit); i++)
    set_figures(&combs[by_limit[i].kind], HF_COMB_MOST, MOST * by_limit[i].limit,
                LEAST * by_limit[i].limit, by_limit[i].floor);
  set_figures(&combs[HF_COMB_SLOTS], HF_COMB_MOST, 2.2 * fmax(kerf, process->thickness / 2),
              1.15 * kerf, 1.1 * kerf);
  double letter = fmax(LETTER_KERFS * kerf, LETTER_WEBS * limit_of(HF_LAW_THIN_LONG_WEB, process));
  if (process->thickness <= HF_COUPON_LETTERS_MM)
    set_figures(&combs[HF_COMB_LETTERS], MOST_LETTERS, 1.8 * letter, letter, letter * 0.99);
  static const double angles[] = {60, 45, 35, 27, 20, 15};
  combs[HF_COMB_POINTS].n = G_N_ELEMENTS(angles);
  for (guint i = 0; i < G_N_ELEMENTS(angles); i++)
    combs[HF_COMB_POINTS].figure[i] = angles[i];
}

/* ---- places -----------------------------------------------------------------------------------
 */

/* How wide and high one place of a comb is. */
static void
size_of(const HfCoupon *coupon, HfCombKind kind, double figure, double *wide, double *high)
{
  double slot = hf_coupon_slot(coupon), bore = hf_coupon_bore(coupon);
  switch (kind) {
  case HF_COMB_SLOTS:
    *wide = figure;
    *high = SLOT_MM;
    return;
  case HF_COMB_LONG_WEBS:
    *wide = 2 * slot + figure;
    *high = hf_coupon_web_length(coupon);
    return;
  case HF_COMB_SHORT_WEBS:
    *wide = bore;
    *high = 2 * bore + figure;
    return;
  case HF_COMB_LETTERS:
    *wide = LETTERS_WIDE * figure;
    *high = figure;
    return;
  case HF_COMB_POINTS:
    *wide = 2 * POINT_MM * tan(figure * G_PI / 360);
    *high = 0;
    return;
  default:
    *wide = *high = figure;
  }
}

double
hf_comb_reach(const HfCoupon *coupon, HfCombKind kind, guint i)
{
  double wide, high;
  size_of(coupon, kind, coupon->combs[kind].figure[i], &wide, &high);
  return hypot(wide, kind == HF_COMB_POINTS ? 2 * POINT_MM : high) / 2;
}

/* Lays a row from @left to the right with its top at @top. Returns: how far down it goes;
 * @ret_right: where it ends. */
static double
lay_row(HfCoupon *coupon, HfCombKind kind, double left, double top, double *ret_right)
{
  HfComb *comb = &coupon->combs[kind];
  double deepest = 0, x = left, gap = hf_coupon_margin(coupon);
  HfProcess process = hf_coupon_process(coupon);
  HfMarkSize size = hf_mark_size(&process);
  for (guint i = 0; i < comb->n; i++) {
    double wide, high;
    size_of(coupon, kind, comb->figure[i], &wide, &high);
    deepest = fmax(deepest, high);
  }
  for (guint i = 0; i < comb->n; i++) {
    double wide, high;
    size_of(coupon, kind, comb->figure[i], &wide, &high);
    g_autofree char *mark = hf_coupon_figure(kind, comb->figure[i]);
    double pitch = fmax(wide, hf_mark_width(&size, mark)) + gap;
    comb->at[i] = hf_point(x + pitch / 2, top - deepest / 2);
    x += pitch;
  }
  *ret_right = x;
  return deepest;
}

/* From the top left corner, y down to less than 0; then all is moved to the plate's centre. */
static void
lay(HfCoupon *coupon)
{
  double gap = hf_coupon_margin(coupon), mark = coupon->mark, top = 0, right = 0, beside = 0;
  double left = gap + mark;
  for (guint kind = 0; kind < HF_N_COMBS; kind++) {
    double to;
    double high = lay_row(coupon, (HfCombKind)kind, left, top, &to);
    right = fmax(right, to);
    if (kind < HF_COMB_LETTERS)
      beside = fmax(beside, to);
    if (kind != HF_COMB_POINTS && coupon->combs[kind].n > 0)
      top -= high + mark + 1.75 * gap;
  }
  HfProcess process = hf_coupon_process(coupon);
  HfMarkSize size = hf_mark_size(&process);
  g_autofree char *figure = hf_coupon_figure(HF_COMB_OPENINGS, coupon->window);
  double wide = fmax(coupon->window, hf_mark_width(&size, figure));
  coupon->window_at = hf_point(beside + wide / 2, coupon->combs[HF_COMB_LONG_WEBS].at[0].y);
  coupon->width = fmax(right, beside + wide + gap);
  coupon->height = -top + mark + gap;
  HfPoint move = hf_point(-coupon->width / 2, coupon->height / 2);
  coupon->window_at = hf_point_add(coupon->window_at, move);
  for (guint kind = 0; kind < HF_N_COMBS; kind++)
    for (guint i = 0; i < coupon->combs[kind].n; i++) {
      HfPoint *at = &coupon->combs[kind].at[i];
      *at = hf_point_add(*at, move);
      if (kind == HF_COMB_POINTS)
        at->y = -coupon->height / 2;
    }
}

HfProcess
hf_coupon_process(const HfCoupon *coupon)
{
  return (HfProcess){.thickness = coupon->thickness,
                     .kerf = coupon->kerf,
                     .crater = coupon->crater,
                     .metal = coupon->metal};
}

HfCoupon *
hf_coupon_new(const HfProcess *process)
{
  HfCoupon *coupon = g_new0(HfCoupon, 1);
  coupon->metal = g_strdup(process->metal);
  coupon->thickness = process->thickness;
  coupon->kerf = process->kerf;
  coupon->crater = process->crater;
  HfMarkSize size = hf_mark_size(process);
  coupon->mark = hf_mark_height(&size);
  coupon->window = hf_units_are_inches() ? WINDOW_IN * 25.4 : WINDOW_MM;
  find_figures(coupon, process);
  lay(coupon);
  return coupon;
}

void
hf_coupon_free(HfCoupon *coupon)
{
  if (coupon == NULL)
    return;
  g_free(coupon->metal);
  g_free(coupon);
}

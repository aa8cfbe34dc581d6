/* SPDX-License-Identifier: GPL-3.0-or-later
 * solve.c - one unknown that is as large as still fits.
 */
#include "layout/solve-private.h"

#include <math.h>
#include <stdlib.h>

enum { QUESTIONS = 100, DOUBLINGS = 30 };

double
hf_solve_most(HfTooMuch too_much, gpointer data, double fits, double over, double close,
              const HfCancel *cancel)
{
  double at_fits = too_much(fits, data), weight_fits = at_fits;
  double weight_over = too_much(over, data);
  int kept = 0; /* how often, one after the other, `over` (> 0) or `fits` (< 0) was kept */
  for (int i = 0; i < QUESTIONS && at_fits < -close && hf_cancel_check(cancel, NULL); i++) {
    if (fabs(over - fits) <= 1e-15 * fmax(fabs(over), fabs(fits)))
      break;
    double middle = (fits + over) / 2;
    double next = abs(kept) > 3 || !isfinite(weight_over)
                      ? middle
                      : fits + (over - fits) * weight_fits / (weight_fits - weight_over);
    double at = too_much(next, data);
    if (at <= 0) {
      fits = next;
      at_fits = weight_fits = at;
      kept = MAX(kept, 0) + 1;
      weight_over /= kept > 1 ? 2 : 1;
    } else {
      over = next;
      weight_over = isnan(at) ? INFINITY : at;
      kept = MIN(kept, 0) - 1;
      weight_fits /= kept < -1 ? 2 : 1;
    }
  }
  return fits;
}

double
hf_solve_size(HfTooMuch too_much, gpointer data, double guess, double most, double close,
              const HfCancel *cancel)
{
  double fits = fmin(guess, most), over = fits;
  if (too_much(fits, data) <= 0) {
    do {
      if (fits >= most)
        return most;
      fits = over;
      over = fmin(2 * over, most);
    } while (too_much(over, data) <= 0 && hf_cancel_check(cancel, NULL) && over < most);
    if (over >= most && too_much(most, data) <= 0)
      return most;
  } else {
    int halvings = 0;
    do {
      over = fits;
      fits /= 2;
      if (++halvings > DOUBLINGS || !hf_cancel_check(cancel, NULL))
        return NAN;
    } while (!(too_much(fits, data) <= 0));
  }
  return hf_solve_most(too_much, data, fits, over, close, cancel);
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * Clearance holes and countersunk heads of metric screws.
 *
 * Holes: ISO 273, read in engineeringhardware.com/?p=50, agreeing with
 * jlhy.miizo.top/tools/clearance-hole (fine H12, medium H13, coarse H14).
 * Heads: ISO 10642, theoretical diameter, read in
 * engineeringhardware.com/guide/standard/iso-10642-countersunk-socket-screws, agreeing for M3 to
 * M12 with joshuanava.biz/engineering-3 (hexagon socket screws, A maximum).
 */
#include "stock/screws.h"

static const HfScrew screws[] = {
    {"M3", {3.2, 3.4, 3.6}, 6.72},    {"M4", {4.3, 4.5, 4.8}, 8.96},
    {"M5", {5.3, 5.5, 5.8}, 11.2},    {"M6", {6.4, 6.6, 7}, 13.44},
    {"M8", {8.4, 9, 10}, 17.92},      {"M10", {10.5, 11, 12}, 22.4},
    {"M12", {13, 13.5, 14.5}, 26.88}, {"M16", {17, 17.5, 18.5}, 33.6},
};

const HfScrew *
hf_screw(int i)
{
  return i >= 1 && (gsize)i <= G_N_ELEMENTS(screws) ? &screws[i - 1] : NULL;
}

const char *
hf_screw_fit(HfScrewFit fit)
{
  static const char *const words[] = {
      [HF_FIT_FINE] = "fine", [HF_FIT_MEDIUM] = "medium", [HF_FIT_COARSE] = "coarse"};
  return words[fit];
}

double
hf_countersink_depth(double head, double hole)
{
  return MAX(head - hole, 0) / 2;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * drop_dump: how drops lie on slats. In, for each drop a line: pitch, angle in degrees, rings, then
 * of each ring how many points and x y of each, mm. Out, a line each: falls, lies or tips.
 */
#include "cut/plan.h"
#include <stdio.h>

static gboolean
read_ring(HfRegion *region)
{
  guint n = 0;
  if (scanf("%u", &n) != 1)
    return FALSE;
  g_autofree HfGrid *at = g_new(HfGrid, n);
  for (guint i = 0; i < n; i++) {
    HfPoint p;
    if (scanf("%lf %lf", &p.x, &p.y) != 2)
      return FALSE;
    at[i] = hf_grid_snap(p);
  }
  hf_region_add_ring(region, at, NULL, n);
  return TRUE;
}

int
main(void)
{
  static const char *const words[] = {"falls", "lies", "tips"};
  double pitch, angle;
  guint rings;
  while (scanf("%lf %lf %u", &pitch, &angle, &rings) == 3) {
    g_autoptr(HfRegion) raw = hf_region_new();
    for (guint i = 0; i < rings; i++)
      if (!read_ring(raw))
        return 2;
    g_autoptr(HfRegion) drop = hf_region_clean_even_odd(raw);
    HfPlanTable table = {.travel_speed = 100,
                         .acceleration = 1000,
                         .slat_pitch = pitch,
                         .slat_angle = angle * G_PI / 180};
    puts(words[hf_drop_judge(drop, &table)]);
  }
  return 0;
}

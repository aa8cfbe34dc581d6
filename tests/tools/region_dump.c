/* SPDX-License-Identifier: GPL-3.0-or-later
 * region_dump.c - for the checks from outside: booleans and offsets of random shapes as text.
 *
 * usage: region_dump SEED     lines of: NAME, then rings as x,y x,y ...; y separated by " | "
 *   a, b             two clean regions (the operands)
 *   union subtract intersect
 *   grown shrunk     a by +1.5 and -1.5 mm
 */
#include "base/text.h"
#include "geom/region.h"
#include <stdlib.h>

static void
put_region(const char *name, const HfRegion *region)
{
  g_autoptr(GString) line = g_string_new(name);
  g_string_append_c(line, ' ');
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    if (r > 0)
      g_string_append(line, " | ");
    g_string_append_printf(line, "%d", ring->parent);
    for (guint v = 0; v < ring->n; v++) {
      g_string_append_c(line, ' ');
      hf_text_append(line, hf_grid_point(ring->at[v]).x, 4);
      g_string_append_c(line, ',');
      hf_text_append(line, hf_grid_point(ring->at[v]).y, 4);
    }
  }
  g_print("%s\n", line->str);
}

/* Circles, boxes and curves that overlap themselves, some winding the other way. */
static HfRegion *
random_region(GRand *rand)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  int n = g_rand_int_range(rand, 1, 12);
  for (int i = 0; i < n; i++) {
    HfPoint c = {g_rand_double_range(rand, -60, 60), g_rand_double_range(rand, -40, 40)};
    double r = g_rand_double_range(rand, 0.5, 25);
    switch (g_rand_int_range(rand, 0, 3)) {
    case 0:
      hf_outline_add_circle(outline, c, r);
      break;
    case 1:
      hf_outline_add_rectangle(
          outline, (HfBox){{rint(c.x), rint(c.y)}, {rint(c.x + r) + 1, rint(c.y + r) + 2}},
          g_rand_boolean(rand) ? r / 5 : 0);
      break;
    default:
      hf_outline_begin(outline, c);
      for (int k = 0; k < 3; k++)
        hf_outline_cubic_to(outline, hf_point(c.x + g_rand_double_range(rand, -r, r), c.y + r),
                            hf_point(c.x - r, c.y + g_rand_double_range(rand, -r, r)),
                            hf_point(c.x + g_rand_double_range(rand, -r, r),
                                     c.y + g_rand_double_range(rand, -r, r)));
      hf_outline_close(outline);
    }
  }
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 0, HF_FLATTEN_MM);
  HfRegion *clean = hf_region_clean(raw);
  gboolean repaired = hf_region_repair(clean);
  g_assert(repaired);
  return clean;
}

int
main(int argc, char **argv)
{
  if (argc != 2)
    return 2;
  g_autoptr(GRand) rand = g_rand_new_with_seed((guint32)atoi(argv[1]));
  g_autoptr(HfRegion) a = random_region(rand), b = random_region(rand);
  const HfRegion *both[] = {a, b};
  g_autoptr(HfRegion) sum = hf_region_union(both, 2), rest = hf_region_subtract(a, b),
                      common = hf_region_intersect(a, b), grown = hf_region_offset(a, 1.5, 0.005),
                      shrunk = hf_region_offset(a, -1.5, 0.005);
  put_region("a", a);
  put_region("b", b);
  put_region("union", sum);
  put_region("subtract", rest);
  put_region("intersect", common);
  put_region("grown", grown);
  put_region("shrunk", shrunk);
  return 0;
}

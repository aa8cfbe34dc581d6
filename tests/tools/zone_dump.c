/* SPDX-License-Identifier: GPL-3.0-or-later
 * zone_dump.c - for the checks from outside: the thin zones of a recipe's metal and of its gaps,
 * found near facing edges as the hold check does, and from the full axis.
 *
 * usage: zone_dump RECIPE      one JSON object a line: axis, of, limit, x, y, width, length, mouths
 */
#include "base/text.h"
#include "run/run.h"
#include "thin/thin.h"

static void
put_zones(const HfThin *thin, double limit, gboolean gaps, const char *axis)
{
  g_autoptr(HfZones) zones = hf_zones_new(thin, limit);
  for (guint i = 0; i < zones->zones->len; i++) {
    const HfZone *zone = &g_array_index(zones->zones, HfZone, i);
    if ((gaps ? hf_zone_only_tapers : hf_zone_is_corner)(zones, zone))
      continue;
    double values[] = {limit, zone->place.at.x, zone->place.at.y, zone->width, zone->length};
    static const char *const names[] = {"limit", "x", "y", "width", "length"};
    g_autoptr(GString) line = g_string_new(NULL);
    g_string_append_printf(line, "{\"axis\": \"%s\", \"of\": \"%s\", \"mouths\": %u", axis,
                           gaps ? "gaps" : "metal", zone->mouths);
    for (guint v = 0; v < G_N_ELEMENTS(values); v++) {
      g_string_append_printf(line, ", \"%s\": ", names[v]);
      hf_text_append(line, values[v], 6);
    }
    g_print("%s}\n", line->str);
  }
}

static void
compare(const HfRegion *region, const double *limits, guint n, gboolean gaps)
{
  g_autoptr(HfIndex) index = hf_index_new(region, limits[0]);
  g_autoptr(HfThin) near = hf_thin_new(region, index, limits[0], gaps, NULL);
  g_autoptr(HfThin) full = hf_thin_new_full(region, index, limits[0]);
  for (guint i = 0; i < n; i++) {
    put_zones(near, limits[i], gaps, "near");
    put_zones(full, limits[i], gaps, "full");
  }
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  HfRunOptions options = {NULL, NULL, FALSE};
  g_autoptr(HfSign) sign = argc == 2 ? hf_run_file(argv[1], &options, &error) : NULL;
  if (sign == NULL) {
    g_printerr("zone_dump: %s\n", error != NULL ? error->message : "which recipe?");
    return 2;
  }
  const HfLimit *limit = sign->hold->limits;
  double webs[] = {limit[HF_LAW_THIN_LONG_WEB].caution, limit[HF_LAW_THIN_LONG_WEB].stop,
                   limit[HF_LAW_THIN_WEB].caution, limit[HF_LAW_THIN_WEB].stop};
  double gaps[] = {limit[HF_LAW_NARROW_GAP].caution, limit[HF_LAW_NARROW_GAP].stop};
  g_autoptr(HfRegion) turned = hf_region_turned(sign->metal->region);
  compare(sign->metal->region, webs, G_N_ELEMENTS(webs), FALSE);
  compare(turned, gaps, G_N_ELEMENTS(gaps), TRUE);
  return 0;
}

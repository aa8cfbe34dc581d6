/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie_dump.c - for the checks from outside: the ties that a recipe's rules chose, and how wide each
 * is on the finished metal, by the full medial axis and not by what was asked for.
 *
 * usage: tie_dump RECIPE     one JSON object
 */
#include "base/json.h"
#include "geom/axis.h"
#include "run/run.h"
#include <stdio.h>

#define PLACES 6

/* Where the bar lies within wider metal (a mended web, another tie) the axis passes elsewhere: then
 * twice the way from its middle to the nearest edge. */
static double
width_at_middle(const HfRegion *region, const HfTie *tie)
{
  HfPoint middle = hf_point_mix(tie->from, tie->to, 0.5);
  double nearest = INFINITY;
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      HfEdgeId id = {r, v};
      HfPoint on =
          hf_segment_nearest(hf_edge_start(region, id), hf_edge_end(region, id), middle, NULL);
      nearest = fmin(nearest, hf_point_distance(on, middle));
    }
  return hf_region_contains(region, middle) ? 2 * nearest : 0;
}

/* Twice the least radius of the axis where it runs through the bar between its two ends. Only a
 * circle that lies within the bar measures it: at a mouth one may lie half in the letter. */
static double
width_found(const HfRegion *region, const HfAxis *axis, const HfTie *tie)
{
  HfPoint along = hf_point_sub(tie->to, tie->from);
  double length = hf_point_length(along), least = NAN;
  HfPoint way = hf_point_scale(along, 1 / length);
  for (guint i = 0; i < axis->points->len; i++) {
    const HfAxisPoint *p = &g_array_index(axis->points, HfAxisPoint, i);
    HfPoint off = hf_point_sub(p->at, tie->from);
    double at = hf_point_dot(off, way), aside = fabs(hf_point_cross(way, off));
    gboolean within = p->radius + aside <= tie->width / 2 + 0.05;
    if (at >= 0 && at <= length && aside < tie->width / 4 && within)
      least = fmin(isnan(least) ? INFINITY : least, 2 * p->radius);
  }
  return isnan(least) ? width_at_middle(region, tie) : least;
}

static void
put_tie(HfJson *json, const HfSign *sign, const HfAxis *axis, const HfTie *tie)
{
  const HfShape *shape = hf_layout_shape(sign->layout, tie->shape);
  hf_json_line(json, NULL, '{');
  hf_json_text(json, "label", tie->label);
  hf_json_text(json, "of", shape->label);
  hf_json_number(json, "opening", tie->opening, 0);
  hf_json_number(json, "em_x", tie->em.x, PLACES);
  hf_json_number(json, "em_y", tie->em.y, PLACES);
  hf_json_number(json, "angle", tie->angle, PLACES);
  hf_json_number(json, "x", (tie->from.x + tie->to.x) / 2, PLACES);
  hf_json_number(json, "y", (tie->from.y + tie->to.y) / 2, PLACES);
  hf_json_number(json, "length", hf_point_distance(tie->from, tie->to), PLACES);
  hf_json_number(json, "width", tie->width, PLACES);
  hf_json_number(json, "found", width_found(sign->metal->region, axis, tie), PLACES);
  hf_json_number(json, "area", tie->area, PLACES);
  hf_json_close(json);
}

/* What the letters cover by themselves, mm2. */
static double
words_area(const HfSign *sign)
{
  double area = 0;
  for (guint i = 0; i < sign->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(sign->layout, i);
    if (shape->letter < 0)
      continue;
    g_autoptr(HfRegion) raw = hf_region_new();
    hf_region_flatten(raw, shape->outline, i, HF_FLATTEN_MM);
    g_autoptr(HfRegion) clean = hf_region_clean(raw);
    area += hf_region_area(clean);
  }
  return area;
}

static void
put_work(HfJson *json, const HfSign *sign, const HfAxis *axis, const HfWork *work)
{
  hf_json_open(json, NULL, '{');
  hf_json_number(json, "cost", work->cost, PLACES);
  hf_json_number(json, "area", work->area, PLACES);
  hf_json_number(json, "bound", work->bound, PLACES);
  hf_json_open(json, "untied", '[');
  for (guint i = 0; i < work->untied->len; i++) {
    const HfUntied *one = &g_array_index(work->untied, HfUntied, i);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "name", one->name);
    hf_json_text(json, "why", one->why);
    hf_json_text(json, "help", one->help);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_open(json, "ties", '[');
  for (guint i = 0; i < work->ties->len; i++)
    put_tie(json, sign, axis, &g_array_index(work->ties, HfTie, i));
  hf_json_close(json);
  hf_json_close(json);
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  HfRunOptions options = {NULL, NULL, FALSE};
  g_autoptr(HfSign) sign = argc == 2 ? hf_run_file(argv[1], &options, &error) : NULL;
  if (sign == NULL) {
    g_printerr("tie_dump: %s\n", error != NULL ? error->message : "which recipe?");
    return 2;
  }
  g_autoptr(HfAxis) axis = hf_axis_new(sign->metal->region, NULL, NULL);
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  hf_json_bool(json, "whole", sign->hold->whole);
  hf_json_number(json, "words_area", words_area(sign), PLACES);
  hf_json_open(json, "rules", '[');
  for (guint i = 0; i < sign->works->len; i++)
    put_work(json, sign, axis, g_ptr_array_index(sign->works, i));
  hf_json_close(json);
  hf_json_open(json, "stops", '[');
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *finding = g_ptr_array_index(sign->hold->findings, i);
    if (finding->gravity == HF_STOP)
      hf_json_text(json, NULL, finding->text);
  }
  hf_json_close(json);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  fwrite(g_bytes_get_data(bytes, NULL), 1, g_bytes_get_size(bytes), stdout);
  return 0;
}

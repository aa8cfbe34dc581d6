/* SPDX-License-Identifier: GPL-3.0-or-later
 * raster_dump.c - what a picture was traced as, for tests/oracle/test_raster.py: one JSON object
 * with its size, threshold and specks, and the rings of each shape, in dots.
 */
#include "base/file.h"
#include "base/json.h"
#include "raster/raster.h"
#include <stdio.h>
#include <stdlib.h>

#define CHORDS 0.01 /* dots */

static void
add_point(HfJson *json, HfPoint p)
{
  hf_json_line(json, NULL, '[');
  hf_json_number(json, NULL, p.x, 3);
  hf_json_number(json, NULL, p.y, 3);
  hf_json_close(json);
}

static void
add_shape(HfJson *json, const HfOutline *outline)
{
  hf_json_line(json, NULL, '[');
  for (guint c = 0; c < hf_outline_n_contours(outline); c++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(outline, c, &n);
    hf_json_line(json, NULL, '[');
    for (guint i = 0; i < n; i++) {
      guint steps = hf_curve_steps(&curves[i], CHORDS);
      for (guint k = 0; k < steps; k++)
        add_point(json, hf_curve_point(&curves[i], (double)k / steps));
    }
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
add_all(HfJson *json, const HfRaster *raster, const HfTraced *traced)
{
  hf_json_open(json, NULL, '{');
  hf_json_number(json, "width", raster->width, 0);
  hf_json_number(json, "height", raster->height, 0);
  hf_json_number(json, "turn", raster->turn, 0);
  hf_json_number(json, "dot mm", raster->dot_mm, 6);
  hf_json_bool(json, "light", raster->light);
  hf_json_number(json, "threshold", traced->threshold, 0);
  hf_json_number(json, "specks", traced->specks, 0);
  hf_json_number(json, "pinholes", traced->pinholes, 0);
  hf_json_bool(json, "dark paper", traced->dark_paper);
  hf_json_open(json, "shapes", '[');
  for (guint i = 0; i < traced->shapes->len; i++)
    add_shape(json, ((const HfTracedShape *)g_ptr_array_index(traced->shapes, i))->outline);
  hf_json_close(json);
  hf_json_close(json);
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = argc > 1 ? hf_file_read(argv[1], 1u << 28, &error) : NULL;
  gboolean quiet = argc > 2 && g_str_equal(argv[2], "--quiet"); /* for its time */
  double speck = argc > 2 && !quiet ? atof(argv[2]) : HF_RASTER_SPECK;
  gsize length = 0;
  const void *data = bytes != NULL ? g_bytes_get_data(bytes, &length) : NULL;
  g_autoptr(HfRaster) raster =
      data != NULL ? hf_raster_read("picture", data, length, NULL, &error) : NULL;
  g_autoptr(HfTraced) traced =
      raster != NULL ? hf_raster_trace("picture", raster, 0, speck, NULL, &error) : NULL;
  if (traced == NULL) {
    fprintf(stderr, "%s\n", error != NULL ? error->message : "raster_dump FILE [SPECK]");
    return 2;
  }
  if (quiet)
    return 0;
  g_autoptr(HfJson) json = hf_json_new();
  add_all(json, raster, traced);
  g_autoptr(GBytes) out = hf_json_finish(json);
  fwrite(g_bytes_get_data(out, NULL), 1, g_bytes_get_size(out), stdout);
  return 0;
}

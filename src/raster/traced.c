/* SPDX-License-Identifier: GPL-3.0-or-later
 * traced.c - what is dark in a picture, as outlines, through libpotrace: it finds the edges of the
 * bits, lays the polygon of fewest sides within half a bit of each, and rounds the corners of that
 * which are none. Its cost is bounded by how many edges it is given, for it can't be stopped.
 */
#include "raster/raster-private.h"
#include <math.h>
#include <potracelib.h>

#define MOST_EDGES  6000000u /* changes of colour along the rows */
#define CORNER      1.0      /* alphamax: how blunt a corner stays one; libpotrace's own choice */
#define JOIN_WITHIN 0.2      /* bits by which curves that become one may be off */

G_STATIC_ASSERT(sizeof(potrace_word) == sizeof(gulong));

static void
shape_free(gpointer data)
{
  HfTracedShape *shape = (HfTracedShape *)data;
  hf_outline_free(shape->outline);
  g_free(shape);
}

void
hf_traced_free(HfTraced *traced)
{
  if (traced == NULL)
    return;
  g_ptr_array_unref(traced->shapes);
  g_free(traced);
}

/* ---- outlines -------------------------------------------------------------------------------- */

static HfPoint
dots(potrace_dpoint_t p, double scale)
{
  return hf_point(p.x / scale, p.y / scale);
}

static void
add_contour(HfOutline *outline, const potrace_curve_t *curve, double scale)
{
  hf_outline_begin(outline, dots(curve->c[curve->n - 1][2], scale));
  for (int i = 0; i < curve->n; i++) {
    HfPoint a = dots(curve->c[i][0], scale), b = dots(curve->c[i][1], scale),
            c = dots(curve->c[i][2], scale);
    if (curve->tag[i] == POTRACE_CORNER) {
      hf_outline_line_to(outline, b);
      hf_outline_line_to(outline, c);
    } else {
      hf_outline_cubic_to(outline, a, b, c);
    }
  }
  hf_outline_close(outline);
}

/* An edge and the openings right inside it; what stands in those is a shape of its own. */
static void
add_shapes(GPtrArray *shapes, const potrace_path_t *path, double scale)
{
  for (; path != NULL; path = path->sibling) {
    HfTracedShape *shape = g_new0(HfTracedShape, 1);
    shape->outline = hf_outline_new();
    add_contour(shape->outline, &path->curve, scale);
    for (const potrace_path_t *hole = path->childlist; hole != NULL; hole = hole->sibling)
      add_contour(shape->outline, &hole->curve, scale);
    shape->area = hf_outline_area(shape->outline);
    g_ptr_array_add(shapes, shape);
    for (const potrace_path_t *hole = path->childlist; hole != NULL; hole = hole->sibling)
      add_shapes(shapes, hole->childlist, scale);
  }
}

static GPtrArray *
outlines_of(const HfBits *bits, double scale)
{
  potrace_param_t *param = potrace_param_default();
  param->turdsize = 0;
  param->alphamax = CORNER;
  param->opttolerance = JOIN_WITHIN;
  potrace_bitmap_t map = {(int)bits->width, (int)bits->height, (int)bits->words, bits->bits};
  potrace_state_t *state = potrace_trace(param, &map);
  potrace_param_free(param);
  if (state == NULL || state->status != POTRACE_STATUS_OK)
    g_error("no memory to trace a picture of %u by %u bits", bits->width, bits->height);
  GPtrArray *shapes = g_ptr_array_new_with_free_func(shape_free);
  add_shapes(shapes, state->plist, scale);
  potrace_state_free(state);
  return shapes;
}

/* ---- tracing --------------------------------------------------------------------------------- */

static gboolean
has_dark_rim(const HfBits *bits)
{
  guint64 dark = 0;
  for (guint x = 0; x < bits->width; x++)
    dark += (guint64)hf_bits_get(hf_bits_row(bits, 0), x) +
            (guint64)hf_bits_get(hf_bits_row(bits, bits->height - 1), x);
  for (guint y = 0; y < bits->height; y++)
    dark += (guint64)hf_bits_get(hf_bits_row(bits, y), 0) +
            (guint64)hf_bits_get(hf_bits_row(bits, y), bits->width - 1);
  return dark > (guint64)bits->width + bits->height;
}

static gboolean
can_be_traced(const char *where, const HfBits *bits, GError **error)
{
  guint64 edges = hf_bits_edges(bits);
  if (edges > 0 && edges <= MOST_EDGES)
    return TRUE;
  if (edges == 0)
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "draw dark on light",
                 "nothing in the picture stands out: there is no edge to trace");
  else
    hf_error_set(error, HF_ERROR_TOO_BIG, where,
                 "make a drawing of it in few tones, or say larger specks",
                 "the picture is all edges (%" G_GUINT64_FORMAT " of them): no drawing", edges);
  return FALSE;
}

HfTraced *
hf_raster_trace(const char *where, const HfRaster *raster, guint threshold, double speck,
                const HfCancel *cancel, GError **error)
{
  double scale = hf_raster_scale(raster);
  HfTraced found = {.threshold = threshold > 0 ? threshold : hf_raster_otsu(raster),
                    .off = HF_RASTER_OFF / MIN(scale, 1)};
  HfBits bits = hf_raster_bits(raster, found.threshold, scale);
  hf_bits_drop_specks(&bits, speck * scale * scale, &found.specks, &found.pinholes);
  found.dark_paper = has_dark_rim(&bits);
  HfTraced *traced = NULL;
  if (hf_cancel_check(cancel, error) && can_be_traced(where, &bits, error)) {
    traced = g_new0(HfTraced, 1);
    *traced = found;
    traced->shapes = outlines_of(&bits, scale);
    hf_cancel_count(cancel, (guint)(MIN(hf_bits_edges(&bits), MOST_EDGES)));
  }
  g_free(bits.bits);
  return traced;
}

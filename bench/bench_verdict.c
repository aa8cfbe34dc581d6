/* SPDX-License-Identifier: GPL-3.0-or-later
 * bench_verdict.c - recipe to verdict, as a multiple of one plain GEOS unary union of the same
 * polygons, both measured in this run (medians). Also the region kernels side by side.
 *
 * usage: bench_verdict RECIPE...
 */
#include "base/text.h"
#include "run/run.h"
#include <geos_c.h>

enum { ROUNDS = 11 };

static gint
compare_doubles(gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double
now_ms(void)
{
  return (double)g_get_monotonic_time() / 1000;
}

/* Median of ROUNDS runs of @work, ms. */
static double
median_ms(void (*work)(gpointer), gpointer data)
{
  double ms[ROUNDS];
  work(data);
  for (int i = 0; i < ROUNDS; i++) {
    double from = now_ms();
    work(data);
    ms[i] = now_ms() - from;
  }
  qsort(ms, ROUNDS, sizeof ms[0], compare_doubles);
  return ms[ROUNDS / 2];
}

/* ---- the stages ---------------------------------------------------------------------------- */

typedef struct {
  const char *file;
  GBytes *text;
  HfSign *sign;
  HfRegion **clean;
  GEOSGeometry *pile;
} Bench;

static void
whole_way(gpointer data)
{
  Bench *bench = data;
  HfRunOptions options = {NULL, NULL, FALSE};
  g_autoptr(GError) error = NULL;
  gsize length;
  const char *text = g_bytes_get_data(bench->text, &length);
  g_autoptr(HfSign) sign = hf_run_text(text, length, bench->file, &options, &error);
  g_assert_no_error(error);
}

static void
only_recipe(gpointer data)
{
  Bench *bench = data;
  gsize length;
  const char *text = g_bytes_get_data(bench->text, &length);
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, length, bench->file, NULL);
}

static void
only_layout(gpointer data)
{
  Bench *bench = data;
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(HfLayout) layout = hf_layout_new(bench->sign->recipe, fonts, 3, NULL, NULL);
}

static void
only_metal(gpointer data)
{
  Bench *bench = data;
  g_autoptr(HfMetal) metal = hf_metal_new(bench->sign->layout, NULL, NULL);
}

static void
only_hold(gpointer data)
{
  Bench *bench = data;
  HfSign *sign = bench->sign;
  g_autoptr(HfHold) hold =
      hf_hold_check(sign->recipe, sign->shop, sign->layout, sign->metal, NULL, NULL);
}

static void
only_fit(gpointer data)
{
  Bench *bench = data;
  g_autoptr(HfFit) fit = hf_fit_new(bench->sign->metal, bench->sign->layout, 0.01);
}

/* ---- the kernels --------------------------------------------------------------------------- */

static GEOSGeometry *
ring_of(const HfRing *ring)
{
  GEOSCoordSequence *points = GEOSCoordSeq_create(ring->n + 1, 2);
  for (guint i = 0; i <= ring->n; i++) {
    HfPoint p = hf_grid_point(ring->at[i % ring->n]);
    GEOSCoordSeq_setXY(points, i, p.x, p.y);
  }
  return GEOSGeom_createLinearRing(points);
}

static GEOSGeometry *
polygon_of(const HfRegion *region, guint outer)
{
  GPtrArray *holes = g_ptr_array_new();
  for (guint i = 0; i < region->rings->len; i++)
    if (hf_region_ring(region, i)->parent == (gint)outer)
      g_ptr_array_add(holes, ring_of(hf_region_ring(region, i)));
  GEOSGeometry *polygon = GEOSGeom_createPolygon(ring_of(hf_region_ring(region, outer)),
                                                 (GEOSGeometry **)holes->pdata, holes->len);
  g_ptr_array_unref(holes);
  return polygon;
}

static void
flatten_shapes(Bench *bench)
{
  guint n = bench->sign->layout->shapes->len;
  bench->clean = g_new(HfRegion *, n);
  GPtrArray *polygons = g_ptr_array_new();
  for (guint i = 0; i < n; i++) {
    g_autoptr(HfRegion) raw = hf_region_new();
    hf_region_flatten(raw, hf_layout_shape(bench->sign->layout, i)->outline, i, HF_FLATTEN_MM);
    bench->clean[i] = hf_region_clean(raw);
    for (guint r = 0; r < bench->clean[i]->rings->len; r++)
      if (hf_region_ring(bench->clean[i], r)->parent < 0)
        g_ptr_array_add(polygons, polygon_of(bench->clean[i], r));
  }
  bench->pile =
      GEOSGeom_createCollection(GEOS_MULTIPOLYGON, (GEOSGeometry **)polygons->pdata, polygons->len);
  g_ptr_array_unref(polygons);
}

static void
geos_union(gpointer data)
{
  Bench *bench = data;
  GEOSGeom_destroy(GEOSUnaryUnion(bench->pile));
}

static void
geos_union_on_grid(gpointer data)
{
  Bench *bench = data;
  GEOSGeom_destroy(GEOSUnaryUnionPrec(bench->pile, 1.0 / HF_GRID_PER_MM));
}

static void
clipper_union(gpointer data)
{
  Bench *bench = data;
  g_autoptr(HfRegion) sum =
      hf_region_union((const HfRegion *const *)bench->clean, bench->sign->layout->shapes->len);
}

static void
geos_offset(gpointer data)
{
  Bench *bench = data;
  GEOSGeometry *sum = GEOSUnaryUnion(bench->pile);
  double from = now_ms();
  GEOSGeom_destroy(GEOSBuffer(sum, 0.75, 24));
  g_print("  geos offset +0.75            %8.2f ms (once)\n", now_ms() - from);
  GEOSGeom_destroy(sum);
}

/* @what without names, so that the offset alone is timed: booleans drop them. */
static HfRegion *
nameless(const HfRegion *what)
{
  return hf_region_intersect(what, what);
}

static void
clipper_offset(gpointer data)
{
  g_autoptr(HfRegion) grown = hf_region_offset(data, 0.75, HF_FLATTEN_MM);
}

static void
line(const char *what, double ms, double unit)
{
  g_print("  %-28s %8.2f ms  %6.2f unions\n", what, ms, ms / unit);
}

static void
measure(const char *file)
{
  g_autoptr(GError) error = NULL;
  Bench bench = {.file = file};
  char *text;
  gsize length;
  g_file_get_contents(file, &text, &length, &error);
  g_assert_no_error(error);
  bench.text = g_bytes_new_take(text, length);
  HfRunOptions options = {NULL, NULL, FALSE};
  bench.sign = hf_run_text(text, length, file, &options, &error);
  g_assert_no_error(error);
  flatten_shapes(&bench);
  double unit = median_ms(geos_union, &bench);
  g_print("%s: %u shapes, %u edges of metal\n", file, bench.sign->layout->shapes->len,
          hf_region_n_edges(bench.sign->metal->region));
  line("geos unary union", unit, unit);
  line("geos union on the grid", median_ms(geos_union_on_grid, &bench), unit);
  line("our union (polyclipping)", median_ms(clipper_union, &bench), unit);
  geos_offset(&bench);
  g_autoptr(HfRegion) plain = nameless(bench.sign->metal->region);
  line("our offset +0.75", median_ms(clipper_offset, plain), unit);
  line("  with names looked up", median_ms(clipper_offset, bench.sign->metal->region), unit);
  line("recipe", median_ms(only_recipe, &bench), unit);
  line("fonts and layout", median_ms(only_layout, &bench), unit);
  line("metal", median_ms(only_metal, &bench), unit);
  line("hold check", median_ms(only_hold, &bench), unit);
  line("recipe to verdict", median_ms(whole_way, &bench), unit);
  line("arc fit (for the files)", median_ms(only_fit, &bench), unit);
  GEOSGeom_destroy(bench.pile);
  for (guint i = 0; i < bench.sign->layout->shapes->len; i++)
    hf_region_free(bench.clean[i]);
  g_free(bench.clean);
  hf_sign_free(bench.sign);
  g_bytes_unref(bench.text);
}

static void
say(const char *format, ...)
{
  (void)format;
}

int
main(int argc, char **argv)
{
  if (argc < 2) {
    g_printerr("usage: bench_verdict RECIPE...\n");
    return 2;
  }
  initGEOS(say, say);
  for (int i = 1; i < argc; i++)
    measure(argv[i]);
  finishGEOS();
  return 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * outline_dump.c - for the checks from outside: the outline files of a recipe, whatever its
 * verdict, and the region they were made from.
 *
 * usage: outline_dump RECIPE FOLDER [not-whole]
 * Writes out.svg, out.dxf, out-in.dxf, out-r12-mm.dxf, out-r12-in.dxf and region.json: size, area,
 * rings (mm, from the sign's lower left corner) and the places where the outline may turn.
 */
#include "base/file.h"
#include "base/text.h"
#include "run/run.h"
#include <string.h>

/* Where two sources meet: the true tangents turn by more than a degree, or another shape begins. */
static gboolean
may_turn(const HfLayout *layout, const HfEdge *a, const HfEdge *b)
{
  if (a->shape != b->shape || a->shape == HF_NO_SHAPE)
    return TRUE;
  if (a->curve == b->curve && fabs(a->t1 - b->t0) < 1e-3)
    return FALSE;
  const GArray *curves = hf_layout_shape(layout, a->shape)->outline->curves;
  double in = a->t1 > a->t0 ? -1e-4 : 1e-4, on = b->t1 > b->t0 ? 1e-4 : -1e-4;
  HfPoint u = hf_curve_derivative(&g_array_index(curves, HfCurve, a->curve), a->t1 + in);
  HfPoint v = hf_curve_derivative(&g_array_index(curves, HfCurve, b->curve), b->t0 + on);
  double turn = atan2(hf_point_cross(u, v), hf_point_dot(u, v));
  if ((in > 0) != (on < 0)) /* one of them runs against its curve */
    turn = remainder(turn + G_PI, 2 * G_PI);
  return fabs(turn) > 0.99 * G_PI / 180;
}

static void
put_pair(GString *json, HfPoint p, HfPoint corner)
{
  g_string_append_c(json, '[');
  hf_text_append(json, p.x - corner.x, 6);
  g_string_append_c(json, ',');
  hf_text_append(json, p.y - corner.y, 6);
  g_string_append_c(json, ']');
}

static void
put_ring(GString *json, const HfLayout *layout, const HfRing *ring, HfPoint corner)
{
  g_string_append_printf(json, "{\"parent\": %d, \"points\": [", ring->parent);
  for (guint i = 0; i < ring->n; i++) {
    if (i > 0)
      g_string_append_c(json, ',');
    put_pair(json, hf_grid_point(ring->at[i]), corner);
  }
  g_string_append(json, "], \"corners\": [");
  gboolean any = FALSE;
  for (guint i = 0; i < ring->n; i++) {
    if (!may_turn(layout, &ring->from[(i + ring->n - 1) % ring->n], &ring->from[i]))
      continue;
    if (any)
      g_string_append_c(json, ',');
    put_pair(json, hf_grid_point(ring->at[i]), corner);
    any = TRUE;
  }
  g_string_append(json, "]}");
}

static GBytes *
region_json(const HfLayout *layout, const HfMetal *metal, const HfFit *fit)
{
  HfBox box = hf_outline_box(fit->outline);
  HfPoint corner = {floor(box.min.x * 1e4 + 1e-6) / 1e4, floor(box.min.y * 1e4 + 1e-6) / 1e4};
  GString *json = g_string_new("{\"area\": ");
  hf_text_append(json, hf_region_area(metal->region), 6);
  g_string_append(json, ", \"size\": ");
  put_pair(json, box.max, corner);
  g_string_append(json, ", \"rings\": [\n");
  for (guint i = 0; i < metal->region->rings->len; i++) {
    if (i > 0)
      g_string_append(json, ",\n");
    put_ring(json, layout, hf_region_ring(metal->region, i), corner);
  }
  g_string_append(json, "]}\n");
  return g_string_free_to_bytes(json);
}

static gboolean
put_file(const char *folder, const char *name, GBytes *bytes, GError **error)
{
  g_autofree char *path = g_build_filename(folder, name, NULL);
  gsize length;
  gconstpointer data = g_bytes_get_data(bytes, &length);
  gboolean done = hf_file_write(path, data, length, error);
  g_bytes_unref(bytes);
  return done;
}

static gboolean
dump(const char *file, const char *folder, gboolean whole, GError **error)
{
  g_autoptr(HfRecipe) recipe = hf_recipe_read_file(file, error);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(HfLayout) layout = recipe == NULL ? NULL : hf_layout_new(recipe, fonts, 3, NULL, error);
  g_autoptr(HfMetal) metal = layout == NULL ? NULL : hf_metal_new(layout, NULL, error);
  if (metal == NULL)
    return FALSE;
  g_autoptr(HfFit) fit = hf_fit_new(metal, layout, 0.01);
  HfHold hold = {.whole = whole};
  hold.findings = g_ptr_array_new();
  hold.parts = g_array_new(FALSE, FALSE, sizeof(HfPart));
  HfSign what = {.recipe = recipe, .layout = layout, .metal = metal, .hold = &hold, .fit = fit};
  gboolean done = put_file(folder, "out.svg", hf_out_svg(&what), error) &&
                  put_file(folder, "out.dxf", hf_out_dxf(&what, HF_DXF_R2000, FALSE), error) &&
                  put_file(folder, "out-in.dxf", hf_out_dxf(&what, HF_DXF_R2000, TRUE), error) &&
                  put_file(folder, "out-r12-mm.dxf", hf_out_dxf(&what, HF_DXF_R12, FALSE), error) &&
                  put_file(folder, "out-r12-in.dxf", hf_out_dxf(&what, HF_DXF_R12, TRUE), error) &&
                  put_file(folder, "region.json", region_json(layout, metal, fit), error);
  g_ptr_array_unref(hold.findings);
  g_array_unref(hold.parts);
  return done;
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  if (argc < 3) {
    g_printerr("usage: outline_dump RECIPE FOLDER [not-whole]\n");
    return 2;
  }
  if (dump(argv[1], argv[2], argc == 3, &error))
    return 0;
  g_printerr("outline_dump: %s\n", error->message);
  return 2;
}

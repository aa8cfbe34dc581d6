/* SPDX-License-Identifier: GPL-3.0-or-later
 * layout_dump.c - for the checks from outside: where each letter of a recipe stands.
 *
 * usage: layout_dump RECIPE      one JSON object a line and shape: label, em matrix, ink box, and
 *                                its contours as polygons within 2 um of the curves
 */
#include "base/text.h"
#include "run/run.h"
#include <string.h>

static void
put(GString *line, const char *key, const double *values, guint n)
{
  g_string_append_printf(line, ", \"%s\": [", key);
  for (guint i = 0; i < n; i++) {
    if (i > 0)
      g_string_append(line, ", ");
    hf_text_append(line, values[i], 9);
  }
  g_string_append_c(line, ']');
}

static void
put_contours(GString *line, const HfOutline *outline)
{
  g_string_append(line, ", \"contours\": [");
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(outline, i, &n);
    g_string_append(line, i > 0 ? ", [" : "[");
    for (guint k = 0; k < n; k++) {
      guint steps = hf_curve_steps(&curve[k], 0.002);
      for (guint s = 0; s < steps; s++) {
        HfPoint p = hf_curve_point(&curve[k], (double)s / steps);
        g_string_append(line, k + s > 0 ? ", " : "");
        hf_text_append(line, p.x, 6);
        g_string_append(line, ", ");
        hf_text_append(line, p.y, 6);
      }
    }
    g_string_append_c(line, ']');
  }
  g_string_append_c(line, ']');
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = argc == 2 ? hf_recipe_read_file(argv[1], &error) : NULL;
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(HfLayout) layout =
      recipe == NULL ? NULL : hf_layout_new(recipe, fonts, 3, NULL, &error);
  if (layout == NULL) {
    g_printerr("layout_dump: %s\n", error != NULL ? error->message : "which recipe?");
    return 2;
  }
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    g_autoptr(GString) line = g_string_new(NULL);
    g_autofree char *plain = g_utf8_make_valid(shape->label, -1);
    for (char *c = plain; *c != '\0'; c++)
      if (*c == '"' || *c == '\\' || (guchar)*c < 32)
        *c = '\'';
    g_string_append_printf(line, "{\"label\": \"%s\", \"entry\": %u, \"letter\": %d", plain,
                           shape->entry, shape->letter);
    HfMatrix m = shape->em;
    put(line, "em", (double[]){m.xx, m.xy, m.yx, m.yy, m.x0, m.y0}, 6);
    HfBox box = hf_outline_box(shape->outline);
    put(line, "box", (double[]){box.min.x, box.min.y, box.max.x, box.max.y}, 4);
    put(line, "height", &shape->letter_height, 1);
    put_contours(line, shape->outline);
    g_print("%s}\n", line->str);
  }
  return 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * Random recipes of all kinds of entries but letters: laid or refused with a place, never a crash;
 * twice the same to the last bit; every outline closed; metal that passes its own proof.
 */
#include "layout-help.h"

static const char *const names[] = {"a", "b", "c", "d", "e", "f", "g", "h"};

static double
any(GRand *rand, double low, double high)
{
  return rint(10 * g_rand_double_range(rand, low, high)) / 10;
}

static const char *
one_of(GRand *rand, const char *const *words, guint n)
{
  return words[g_rand_int_range(rand, 0, (gint)n)];
}

#define ONE_OF(rand, words) one_of(rand, words, G_N_ELEMENTS(words))

static void
add_size(GString *text, GRand *rand, const char *kind)
{
  static const char *const plates[] = {"oval", "rectangle", "arch-topped", "shield"};
  if (strcmp(kind, "ring") == 0)
    g_string_append_printf(text, "outer: %g mm, width: %g mm", any(rand, 60, 500),
                           any(rand, 2, 29));
  else if (strcmp(kind, "plate") == 0 && g_rand_boolean(rand))
    g_string_append_printf(text, "shape: %s, width: %g mm, height: %g mm", ONE_OF(rand, plates),
                           any(rand, 20, 400), any(rand, 20, 400));
  else if (strcmp(kind, "plate") == 0)
    g_string_append_printf(text, "shape: polygon, sides: %d, diameter: %g mm",
                           g_rand_int_range(rand, 3, 12), any(rand, 30, 400));
  else if (strcmp(kind, "bar") == 0)
    g_string_append_printf(text, "length: %g mm, height: %g mm, corner: %g mm", any(rand, 20, 500),
                           any(rand, 3, 40), any(rand, 0, 1.5));
  else if (strcmp(kind, "gate arch") == 0)
    g_string_append_printf(text, "chord: %g mm, rise: %g mm, legs: %g mm, width: %g mm",
                           any(rand, 100, 400), any(rand, 5, 60), any(rand, 0, 50),
                           any(rand, 3, 30));
  else if (strcmp(kind, "hole pattern") == 0)
    g_string_append_printf(text, "diameter: %g mm, columns: %d, rows: %d, pitch: %g mm",
                           any(rand, 2, 9), g_rand_int_range(rand, 1, 6),
                           g_rand_int_range(rand, 1, 6), any(rand, 5, 30));
  else if (strcmp(kind, "ear") == 0)
    g_string_append_printf(text, "hole: %g mm", any(rand, 3, 12));
  else if (strcmp(kind, "foot") == 0)
    g_string_append_printf(text, "width: %g mm, height: %g mm", any(rand, 5, 80), any(rand, 3, 90));
  else if (strcmp(kind, "stake") == 0)
    g_string_append_printf(text, "width: %g mm, length: %g mm", any(rand, 5, 40),
                           any(rand, 40, 300));
  else if (strcmp(kind, "tie") == 0)
    g_string_append_printf(text, "of: %s, em: [%g, %g], direction: %g deg", ONE_OF(rand, names),
                           any(rand, -60, 60), any(rand, -60, 60), any(rand, 0, 360));
  else if (strcmp(kind, "diamond") == 0)
    g_string_append_printf(text, "height: %g mm", any(rand, 4, 60));
  else
    g_string_append_printf(text, "diameter: %g mm", any(rand, 3, 60));
}

static void
add_place(GString *text, GRand *rand, const char *kind, guint placed)
{
  static const char *const beside[] = {"above", "below", "left of", "right of"};
  static const char *const spots[] = {"top",
                                      "bottom",
                                      "[left end, right end]",
                                      "centre",
                                      "[8 o'clock, 4 o'clock]",
                                      "[[10 mm, 20 mm]]"};
  gboolean fixed =
      strcmp(kind, "ear") == 0 || strcmp(kind, "foot") == 0 || strcmp(kind, "stake") == 0;
  if (strcmp(kind, "tie") == 0 || placed == 0)
    return;
  const char *other = names[g_rand_int_range(rand, 0, (gint)placed)];
  if (fixed || g_rand_int_range(rand, 0, 3) == 0)
    g_string_append_printf(text, ", on: %s, at: %s", other, ONE_OF(rand, spots));
  else if (g_rand_boolean(rand))
    g_string_append_printf(text, ", %s: %s, gap: %g mm", ONE_OF(rand, beside), other,
                           any(rand, -9, 20));
  if (!fixed && g_rand_int_range(rand, 0, 3) == 0)
    g_string_append_printf(text, ", turn: %g deg", any(rand, -180, 180));
  if (!fixed && g_rand_int_range(rand, 0, 4) == 0)
    g_string_append(text, ", as: opening");
}

static char *
random_entries(GRand *rand)
{
  static const char *const kinds[] = {"ring",    "plate", "bar",  "gate arch",    "dot",
                                      "diamond", "star",  "hole", "hole pattern", "ear",
                                      "foot",    "stake", "tie"};
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
    const char *kind = kinds[g_rand_int_range(rand, 0, i < 3 ? 4 : (gint)G_N_ELEMENTS(kinds))];
    g_string_append_printf(text, "  - %s: {name: %s, ", kind, names[i]);
    add_size(text, rand, kind);
    add_place(text, rand, kind, i);
    g_string_append(text, "}\n");
  }
  return g_string_free(text, FALSE);
}

static void
assert_closed(const HfOutline *outline)
{
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(outline, i, &n);
    for (guint k = 0; k < n; k++) {
      assert_near(hf_point_distance(curves[k].p1, curves[(k + 1) % n].p0), 0, 1e-9);
      if (curves[k].kind == HF_CURVE_ARC)
        assert_near(hf_point_distance(curves[k].p1, curves[k].c0),
                    hf_point_distance(curves[k].p0, curves[k].c0), 1e-7);
    }
  }
}

static void
assert_same(const HfLayout *a, const HfLayout *b)
{
  g_assert_cmpuint(a->shapes->len, ==, b->shapes->len);
  for (guint i = 0; i < a->shapes->len; i++) {
    const HfOutline *p = hf_layout_shape(a, i)->outline, *q = hf_layout_shape(b, i)->outline;
    g_assert_cmpmem(p->curves->data, p->curves->len * sizeof(HfCurve), q->curves->data,
                    q->curves->len * sizeof(HfCurve));
    assert_closed(p);
  }
}

static void
test_random(void)
{
  guint laid = 0;
  for (guint seed = 0; seed < 400; seed++) {
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    g_autofree char *entries = random_entries(rand);
    g_autofree char *text = help_text(entries);
    g_autoptr(GError) error = NULL;
    g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), "test.yaml", &error);
    if (recipe == NULL)
      continue; /* the reader's own refusals are tested with it */
    g_autoptr(HfLayout) layout = hf_layout_new(recipe, NULL, 3, NULL, &error);
    if (layout == NULL) {
      g_assert_true(g_str_has_prefix(error->message, "test.yaml:"));
      g_assert_cmpint(hf_error_exit_code(error), ==, 2);
      continue;
    }
    g_autoptr(HfLayout) again = hf_layout_new(recipe, NULL, 3, NULL, NULL);
    assert_same(layout, again);
    help_pieces(layout);
    laid++;
  }
  g_test_message("%u of 400 laid", laid);
  g_assert_cmpuint(laid, >, 100);
}

/* A small recipe must not grow without bounds, nor reach beyond the grid. */
static void
test_caps(void)
{
  g_autoptr(GString) text = g_string_new("  - hole pattern: {diameter: 5 mm, columns: 100, rows: "
                                         "100, pitch: 6 mm, at: [");
  for (guint i = 0; i < 6; i++)
    g_string_append_printf(text, "%s[%u mm, 0 mm]", i > 0 ? ", " : "", i);
  g_string_append(text, "]}\n");
  g_autofree char *many = help_refused(text->str);
  g_assert_nonnull(strstr(many, "at most 50000"));
  g_autoptr(GString) far = g_string_new("  - bar: {name: b0, length: 9 m, height: 20 mm}\n");
  for (guint i = 1; i < 8; i++)
    g_string_append_printf(far, "  - bar: {name: b%u, length: 9 m, height: 20 mm, right of: b%u}\n",
                           i, i - 1);
  g_autofree char *away = help_refused(far->str);
  g_assert_nonnull(strstr(away, "farther than 19000 mm"));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/layout/random/recipes", test_random);
  g_test_add_func("/layout/random/caps", test_caps);
  return g_test_run();
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * The SVG writer, byte by byte where a hand can work it out. Areas and renderers: the checks from
 * outside, tests/oracle/test_outlines.py.
 */
#include "sample.h"
#include <locale.h>

static char *
svg_of(Sample *sample)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfMetal) metal = hf_metal_new(&sample->layout, NULL, &error);
  g_assert_no_error(error);
  g_autoptr(HfFit) fit = hf_fit_new(metal, &sample->layout, 0.01);
  HfSign what = sample->what;
  what.metal = metal;
  what.fit = fit;
  g_autoptr(GBytes) bytes = hf_out_svg(&what);
  g_autoptr(GBytes) again = hf_out_svg(&what);
  g_assert_true(g_bytes_equal(bytes, again));
  return g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
}

static guint
count(const char *text, const char *word)
{
  guint n = 0;
  for (const char *at = strstr(text, word); at != NULL; at = strstr(at + 1, word))
    n++;
  return n;
}

/* 100 x 50 plate, corners of 5 mm, one hole: lower left at (-20, 10). */
static Sample *
plate_with_hole(void)
{
  Sample *s = sample_new("Bakery", "mild steel");
  guint plate = sample_entry(s, HF_ENTRY_PLATE, "plate");
  sample_shape(s, sample_box(-20, 10, 80, 60, 5), FALSE, plate, "plate");
  sample_shape(s, sample_disc(30, 35, 7), TRUE, plate, "hole");
  sample_finish(s);
  return s;
}

static void
test_plate(void)
{
  g_autoptr(Sample) s = plate_with_hole();
  g_autofree char *svg = svg_of(s);
  g_assert_nonnull(strstr(svg, "width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\""));
  /* y is turned over: the lower edge is at 50; counter-clockwise is sweep flag 0 */
  const char *d = "d=\"M 100 45 L 100 5 A 5 5 0 0 0 95 0 L 5 0 A 5 5 0 0 0 0 5 L 0 45 "
                  "A 5 5 0 0 0 5 50 L 95 50 A 5 5 0 0 0 100 45 Z\n"
                  "M 57 25 A 7 7 0 0 1 43 25 A 7 7 0 0 1 57 25 Z\n\"";
  g_assert_nonnull(strstr(svg, d));
  g_assert_cmpuint(count(svg, "<path"), ==, 1);
  g_assert_nonnull(strstr(svg, "<title>plate 1</title></path>"));
  g_assert_null(strstr(svg, "transform"));
  g_assert_null(strstr(svg, "NOT TO BE CUT"));
  g_assert_null(strstr(svg, "<text"));
  g_assert_nonnull(strstr(svg, "no kerf allowance"));
  g_assert_nonnull(strstr(svg, "verdict: whole"));
}

static void
test_not_to_be_cut(void)
{
  g_autoptr(Sample) s = sample_bakery();
  g_autofree char *svg = svg_of(s);
  g_assert_nonnull(strstr(svg, "<title>NOT TO BE CUT: "));
  g_assert_nonnull(strstr(svg, "verdict: not whole; NOT TO BE CUT"));
  g_assert_nonnull(strstr(svg, "\nstop: "));
  g_assert_nonnull(strstr(svg, ">NOT TO BE CUT</text>"));
  g_assert_nonnull(strstr(svg, "<g id=\"not-to-be-cut\""));
  g_assert_null(strstr(svg, "id=\"metal\""));
}

/* What a customer may write must not break the file or get out of its place. */
static void
test_escapes(void)
{
  g_autoptr(Sample) s = plate_with_hole();
  g_free(s->recipe.sign);
  s->recipe.sign = g_strdup("</title><script>\"'&\x01 \xc3\x89");
  HfPart *part = &g_array_index(s->hold.parts, HfPart, 0);
  g_free(part->name);
  part->name = g_strdup("letter '<' of \"A<B\"");
  g_autofree char *svg = svg_of(s);
  g_assert_null(strstr(svg, "<script>"));
  g_assert_null(strchr(svg, 0x01));
  g_assert_nonnull(strstr(svg, "&lt;/title&gt;&lt;script&gt;"));
  g_assert_nonnull(strstr(svg, "A&lt;B"));
  g_assert_true(g_utf8_validate(svg, -1, NULL));
}

/* The order is for the proof only. */
static void
test_no_order(void)
{
  g_autoptr(Sample) s = sample_boat_yard();
  g_autofree char *svg = svg_of(s);
  g_assert_nonnull(s->recipe.customer);
  g_assert_null(strstr(svg, s->recipe.customer));
  g_assert_null(strstr(svg, s->recipe.order_number));
}

/* Half a turn in one arc command loses its bulge to rounding (head of svg.c): none is left. */
static void
test_no_half_turn(void)
{
  Sample *s = sample_new("Bar", "mild steel");
  guint bar = sample_entry(s, HF_ENTRY_BAR, "bar");
  sample_shape(s, sample_box(0, 0, 90, 14, 7), FALSE, bar, "bar");
  sample_finish(s);
  g_autofree char *svg = svg_of(s);
  g_assert_cmpuint(count(svg, " A 7 7 "), ==, 4);
  sample_free(s);
}

/* A circle is two halves, however large: an arc of one circle is one arc. */
static void
test_large_circle(void)
{
  g_autoptr(Sample) s = sample_new("Ring", "mild steel");
  guint ring = sample_entry(s, HF_ENTRY_RING, "ring");
  sample_shape(s, sample_disc(0, 0, 500), FALSE, ring, "ring");
  sample_finish(s);
  g_autofree char *svg = svg_of(s);
  g_assert_cmpuint(count(svg, " A 500 500 "), ==, 2);
}

/* Several separate parts are several paths, each with its own openings; openings of openings' parts
 * likewise. */
static void
test_nesting(void)
{
  g_autoptr(Sample) s = sample_new("Rings", "mild steel");
  guint ring = sample_entry(s, HF_ENTRY_RING, "ring");
  sample_shape(s, sample_disc(0, 0, 50), FALSE, ring, "ring");
  sample_shape(s, sample_disc(0, 0, 40), TRUE, ring, "ring");
  sample_shape(s, sample_disc(0, 0, 30), FALSE, ring, "inner");
  sample_shape(s, sample_disc(0, 0, 20), TRUE, ring, "inner");
  sample_finish(s);
  g_autofree char *svg = svg_of(s);
  g_assert_cmpuint(count(svg, "<path"), ==, 2);
  g_assert_cmpuint(count(svg, " Z\n"), ==, 4);
  g_assert_cmpuint(count(svg, " Z\nM "), ==, 2);
}

static void
test_no_metal(void)
{
  g_autoptr(Sample) s = sample_new("Nothing", "mild steel");
  s->hold.whole = FALSE;
  g_autofree char *svg = svg_of(s);
  g_assert_cmpuint(count(svg, "<path"), ==, 0);
  g_assert_nonnull(strstr(svg, "</svg>"));
}

static void
test_locale(void)
{
  static const char *const commas[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8", "de_DE", NULL};
  gsize i = 0;
  while (commas[i] != NULL && setlocale(LC_ALL, commas[i]) == NULL)
    i++;
  if (commas[i] == NULL) {
    g_test_skip("no locale with a decimal comma is installed");
    return;
  }
  g_autoptr(Sample) s = sample_boat_yard();
  g_autofree char *foreign = svg_of(s);
  setlocale(LC_ALL, "C");
  g_autofree char *plain = svg_of(s);
  g_assert_cmpstr(foreign, ==, plain);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/svg/plate", test_plate);
  g_test_add_func("/svg/not-to-be-cut", test_not_to_be_cut);
  g_test_add_func("/svg/escapes", test_escapes);
  g_test_add_func("/svg/no-order", test_no_order);
  g_test_add_func("/svg/no-half-turn", test_no_half_turn);
  g_test_add_func("/svg/large-circle", test_large_circle);
  g_test_add_func("/svg/nesting", test_nesting);
  g_test_add_func("/svg/no-metal", test_no_metal);
  g_test_add_func("/svg/locale", test_locale);
  return g_test_run();
}

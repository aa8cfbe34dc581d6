/* SPDX-License-Identifier: GPL-3.0-or-later
 * Picture and sheet from inside: licence bits, scales, columns, extremes. What they look like and
 * say is read from outside by tests/oracle/test_proof.py.
 */
#include "out/sheet-private.h"
#include "out/taken-private.h"
#include "sample.h"

/* OpenType OS/2 fsType, from memory: low four bits 0 installable, 2 restricted, 4 preview and
 * print, 8 editable; 0x100 no subsetting, 0x200 bitmaps only. Old fonts set several: the least
 * strict holds. */
static void
test_licence_bits(void)
{
  static const struct {
    guint bits;
    gboolean may;
  } cases[] = {{0, TRUE}, {2, FALSE},     {4, TRUE},      {8, TRUE},      {0xc, TRUE},
               {6, TRUE}, {0x100, FALSE}, {0x104, FALSE}, {0x200, FALSE}, {0x102, FALSE}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++)
    g_assert_cmpint(hf_pen_bits_allow(cases[i].bits), ==, cases[i].may);
}

static HfBox
box_of(double w, double h)
{
  return (HfBox){{0, 0}, {w, h}};
}

/* Both sides of each step: A4 is 210 x 297 mm, 10 mm are kept free all round. */
static void
test_scales(void)
{
  double around = 20 * HF_POINTS_PER_MM;
  static const struct {
    double w, h, per;
    gboolean upright;
  } cases[] = {
      {189.9, 276.9, 1, TRUE},   {190.1, 189, 1, FALSE}, {276.9, 189.9, 1, FALSE},
      {277.1, 189, 2, TRUE},     {277.1, 380, 2, TRUE},  {380.2, 379, 2, FALSE},
      {555, 300, 2.5, FALSE},    {1200, 143, 5, FALSE},  {1386, 100, 10, TRUE},
      {10000, 10000, 100, TRUE}, {0, 0, 1, TRUE},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    HfScale scale = hf_scale_choose(HF_PAPER_A4, box_of(cases[i].w, cases[i].h), around, around);
    g_test_message("%g x %g: 1 : %g", cases[i].w, cases[i].h, scale.per);
    g_assert_cmpfloat(scale.per, ==, cases[i].per);
    g_assert_cmpint(scale.upright, ==, cases[i].upright);
    g_assert_cmpint(scale.w < scale.h, ==, scale.upright);
  }
}

typedef struct {
  guint asked;
  double height;
} Frames;

static HfBox
next_frame(gpointer data, guint frame)
{
  Frames *frames = data;
  g_assert_cmpuint(frame, ==, frames->asked);
  frames->asked++;
  return (HfBox){{0, 0}, {200, frames->height}};
}

/* Every line is placed, whatever the frames are like: even those that hold nothing end. */
static void
test_flow(void)
{
  HF_AUTO_SURFACE surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 10, 10);
  HF_AUTO_CAIRO cr = cairo_create(surface);
  g_auto(HfPen) pen = {0};
  hf_pen_init(&pen, cr, FALSE);
  g_autoptr(HfFlow) flow = hf_flow_new(&pen, 200, 1);
  HfPenStyle style = {.size = 10};
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < 400; i++)
    g_string_append(text, "quay ");
  for (guint i = 0; i < 6; i++) {
    hf_flow_heading(flow, "Heading");
    hf_flow_text(flow, &style, HF_INK, text->str);
    hf_flow_row(flow, "word", NULL); /* nothing */
  }
  Frames first = {0, 500}, stopped = {0, 500};
  HfCancel cancel = {0};
  hf_cancel_ask(&cancel);
  Frames tall = {0, 1e6}, page = {0, 500}, low = {0, 30}, none = {0, 0};
  g_assert_cmpuint(hf_flow_run(flow, next_frame, &tall, TRUE, 0, NULL), ==, 1);
  guint pages = hf_flow_run(flow, next_frame, &page, TRUE, 0, NULL);
  g_assert_cmpuint(pages, >, 3);
  Frames again = {0, 500};
  g_assert_cmpuint(hf_flow_run(flow, next_frame, &again, FALSE, 0, NULL), ==,
                   pages); /* as it counted */
  g_assert_cmpuint(hf_flow_run(flow, next_frame, &low, TRUE, 0, NULL), >, pages);
  g_assert_cmpuint(hf_flow_run(flow, next_frame, &none, TRUE, 0, NULL), >, pages);
  guint some = hf_flow_run(flow, next_frame, &first, FALSE, 1, NULL); /* a block is placed whole */
  g_assert_true(some > 1 && some < pages);
  g_assert_cmpuint(hf_flow_run(flow, next_frame, &stopped, TRUE, 0, &cancel), ==, 1);
}

/* What lies under a box, by the cell and by asking all: in the room, across its edge, outside of
 * it. */
static void
test_taken(void)
{
  enum { N = 500, SIZE = 12 };
  g_autoptr(HfTaken) taken = hf_taken_new((HfBox){{10, 20}, {310, 120}}, SIZE);
  HfBox all[N];
  for (guint i = 0; i < N; i++) {
    HfPoint at = {g_test_rand_double_range(-40, 360), g_test_rand_double_range(-30, 170)};
    all[i] = hf_box_grow((HfBox){at, at}, g_test_rand_double_range(0, i < 3 ? 80 : 20));
    hf_taken_add(taken, all[i]);
  }
  for (guint k = 0; k < 300; k++) {
    HfPoint at = {g_test_rand_double_range(-40, 360), g_test_rand_double_range(-30, 170)};
    HfBox box = hf_box_grow((HfBox){at, at}, SIZE / 2);
    double sum = 0;
    for (guint i = 0; i < N; i++) {
      double w = fmin(box.max.x, all[i].max.x) - fmax(box.min.x, all[i].min.x);
      double h = fmin(box.max.y, all[i].max.y) - fmax(box.min.y, all[i].min.y);
      sum += fmax(w, 0) * fmax(h, 0);
    }
    g_assert_cmpfloat(hf_taken_cover(taken, at, INFINITY), ==, sum);
    g_assert_true((hf_taken_cover(taken, at, sum / 2) > sum / 2) == (sum > 0));
  }
}

static void
check_outputs(const Sample *sample)
{
  static const guint pixels[] = {200, 1600};
  g_autoptr(GError) error = NULL;
  for (guint i = 0; i < G_N_ELEMENTS(pixels); i++) {
    g_autoptr(GBytes) png = hf_out_png(&sample->what, pixels[i], NULL, &error);
    g_assert_no_error(error);
    const guchar *at = g_bytes_get_data(png, NULL);
    /* PNG: 8 bytes of signature, then IHDR with width and height, most significant byte first */
    guint w = (guint)at[18] << 8 | at[19], h = (guint)at[22] << 8 | at[23];
    g_assert_cmpuint(MAX(w, h), ==, pixels[i]);
  }
  for (guint paper = 0; paper < 2; paper++) {
    g_autoptr(GBytes) pdf = hf_out_pdf(&sample->what, (HfPaper)paper, NULL, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(g_bytes_get_size(pdf), >, 1000);
    g_autoptr(GBytes) sheet = hf_out_sheet(&sample->what, (HfPaper)paper, NULL, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(g_bytes_get_size(sheet), >, 1000);
  }
}

/* A wire of 10 m, a pole, a speck, a plate of the largest size. */
static void
test_extremes(void)
{
  static const struct {
    double w, h;
  } cases[] = {{10000, 0.1}, {0.1, 10000}, {0.1, 0.1}, {10000, 10000}, {300, 299}, {62, 100}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sample) sample = sample_new("Extreme", "mild steel");
    guint plate = sample_entry(sample, HF_ENTRY_PLATE, "plate");
    sample_shape(sample, sample_box(-3000, 50, -3000 + cases[i].w, 50 + cases[i].h, 0), FALSE,
                 plate, "plate");
    sample_finding(sample, HF_LAW_THIN_WEB, HF_STOP, 0.1, -3000, 50, "plate: thin");
    sample_finish(sample);
    check_outputs(sample);
  }
}

/* The caps of a recipe: 2,000 characters without a place to break, 500 entries, many findings. */
static void
test_much(void)
{
  g_autoptr(Sample) sample = sample_new("Much", "mild steel");
  g_autofree char *longest = g_strnfill(2000, 'W');
  g_free(sample->recipe.sign);
  sample->recipe.sign = g_strdup(longest);
  sample->recipe.customer = g_strdup(longest);
  sample_words(sample, longest, "Vollkorn");
  for (guint i = 1; i < 500; i++)
    sample_words(sample, "Quay", "Vollkorn");
  guint plate = sample_entry(sample, HF_ENTRY_PLATE, "plate");
  sample_shape(sample, sample_box(0, 0, 400, 300, 0), FALSE, plate, "plate");
  HfFinding *finding = sample_finding(sample, HF_LAW_THIN_WEB, HF_STOP, 1, 0, 0, longest);
  for (guint i = 0; i < 3000; i++) {
    HfPoint at = {i % 80 * 5, i / 80 * 7};
    g_array_append_val(finding->places, at);
  }
  finding->where = g_strdup("everywhere");
  finding->count = finding->places->len;
  for (guint i = 0; i < 200; i++)
    sample_finding(sample, HF_LAW_SHARP_POINT, HF_CAUTION, 30, i * 2, i, "here: sharp");
  sample_finish(sample);
  check_outputs(sample);
}

static void
test_samples(void)
{
  Sample *(*const makers[])(void) = {sample_boat_yard, sample_bakery, sample_nothing,
                                     sample_awkward};
  for (guint i = 0; i < G_N_ELEMENTS(makers); i++) {
    g_autoptr(Sample) sample = makers[i]();
    check_outputs(sample);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/picture/licence-bits", test_licence_bits);
  g_test_add_func("/picture/scales", test_scales);
  g_test_add_func("/picture/flow", test_flow);
  g_test_add_func("/picture/taken", test_taken);
  g_test_add_func("/picture/extremes", test_extremes);
  g_test_add_func("/picture/much", test_much);
  g_test_add_func("/picture/samples", test_samples);
  return g_test_run();
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_say.c - what picture, paper and report say in common, and how the pen sets it: sentences by
 * gravity, who gave a figure, text that keeps its width, marks that mean the same in each colour.
 */
#include "out/picture-private.h"
#include "sample.h"

static void
say(const Sample *sample, const char *sentence)
{
  g_autofree char *said = hf_say_sentence(&sample->hold);
  g_assert_cmpstr(said, ==, sentence);
}

static HfFinding *
find(Sample *sample, HfGravity gravity, const char *accepted)
{
  HfFinding *finding = sample_finding(sample, HF_LAW_THIN_WEB, gravity, 1, 0, 0, "rail: thin");
  finding->accepted = g_strdup(accepted);
  return finding;
}

static void
test_sentence(void)
{
  g_autoptr(Sample) one = sample_new("Quay", "mild steel");
  HfPart part = {0};
  g_array_append_val(one->hold.parts, part);
  say(one, "one piece, held and fit to be cut");
  find(one, HF_NOTE, NULL);
  say(one, "one piece, held and fit to be cut; 1 note");
  find(one, HF_CAUTION, "seen by Anke");
  find(one, HF_CAUTION, NULL);
  find(one, HF_CAUTION, NULL);
  say(one, "one piece, held and fit to be cut; 2 cautions, 1 accepted as it is, 1 note");
  g_array_append_val(one->hold.parts, part);
  say(one, "every piece held and fit to be cut; 2 cautions, 1 accepted as it is, 1 note");
  g_array_set_size(one->hold.parts, 0);
}

/* A stop can't be accepted away: it stays a stop, and the sign is not called whole. */
static void
test_stops(void)
{
  g_autoptr(Sample) sample = sample_new("Quay", "mild steel");
  find(sample, HF_STOP, "never mind");
  sample->hold.whole = FALSE;
  HfTally tally = hf_say_tally(&sample->hold);
  g_assert_cmpuint(tally.stops, ==, 1);
  g_assert_cmpuint(tally.accepted, ==, 0);
  g_assert_cmpstr(hf_say_verdict(&sample->hold), ==, "not whole");
  say(sample, "1 stop: must not be cut like this");
  find(sample, HF_STOP, NULL);
  say(sample, "2 stops: must not be cut like this");
}

static void
test_finding(void)
{
  g_autoptr(Sample) sample = sample_new("Quay", "mild steel");
  const HfFinding *finding = find(sample, HF_CAUTION, "seen by Anke");
  g_autofree char *said = hf_say_finding(finding);
  g_assert_true(g_str_has_prefix(said, "caution: rail: thin; do something about it ["));
  g_assert_true(g_str_has_suffix(said, "]; accepted: seen by Anke"));
}

/* Recipe before shop before chart; a shop's kerf that was not taken says nothing. */
static void
test_who_said_so(void)
{
  g_autoptr(Sample) sample = sample_new("Quay", "mild steel");
  const char *recipe = hf_law_said_by(HF_LAW_THIN_WEB, HF_SAID_BY_RECIPE, NULL);
  const char *shop = hf_law_said_by(HF_LAW_THIN_WEB, HF_SAID_BY_SHOP, NULL);
  g_assert_cmpstr(hf_say_kerf_said_by(&sample->what), ==, recipe);
  sample->recipe.kerf = NAN;
  g_assert_cmpstr(hf_say_kerf_said_by(&sample->what), ==, "your process (cut chart)");
  sample->shop.kerf = 1.4;
  g_assert_cmpstr(hf_say_kerf_said_by(&sample->what), ==, shop);
  sample->shop.kerf = 1.5;
  g_assert_cmpstr(hf_say_kerf_said_by(&sample->what), ==, "your process (cut chart)");
  g_assert_cmpstr(hf_say_crater_said_by(&sample->what), ==, "common practice");
  sample->shop.crater = 2;
  g_assert_cmpstr(hf_say_crater_said_by(&sample->what), ==, shop);
}

static void
test_hung(void)
{
  g_autoptr(Sample) sample = sample_new("Quay", "mild steel");
  g_assert_true(hf_say_hung(&sample->what)); /* by its mount */
  sample->recipe.mount = HF_MOUNT_NONE;
  g_assert_false(hf_say_hung(&sample->what));
  HfHang hang = {HF_HANG_FOOT, {0, 0}, NAN, 0};
  g_array_append_val(sample->layout.hangs, hang);
  g_assert_false(hf_say_hung(&sample->what));
  hang.kind = HF_HANG_HOLE;
  g_array_append_val(sample->layout.hangs, hang);
  g_assert_true(hf_say_hung(&sample->what));
}

/* ---- the pen --------------------------------------------------------------------------------- */

static double
text_height(const HfPen *pen, HfPenStyle style, const char *text, double *ret_width)
{
  g_autoptr(PangoLayout) layout = hf_pen_text(pen, &style, text);
  *ret_width = hf_pen_width(layout);
  double baseline = hf_pen_baseline(layout), height = hf_pen_height(layout);
  g_assert_cmpfloat(baseline, >, 0);
  g_assert_cmpfloat(baseline, <, height);
  return height;
}

static void
test_pen(void)
{
  HF_AUTO_SURFACE surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 10, 10);
  HF_AUTO_CAIRO cr = cairo_create(surface);
  g_auto(HfPen) pen = {0};
  hf_pen_init(&pen, cr, FALSE);
  static const char text[] = "boats for hire, by the hour or by the tide, at the third slip";
  double wide, width;
  double line = text_height(&pen, (HfPenStyle){.size = 10}, text, &wide);
  g_assert_cmpfloat(wide, >, 150);
  double broken = text_height(&pen, (HfPenStyle){.size = 10, .width = 100}, text, &width);
  g_assert_cmpfloat(broken, >, 2.5 * line); /* three lines or more */
  g_assert_cmpfloat(width, <=, 100);
  HfPenStyle cut = {.size = 10, .width = 100, .one_line = TRUE};
  g_assert_cmpfloat_with_epsilon(text_height(&pen, cut, text, &width), line, 0.01);
  g_assert_cmpfloat(width, <=, 100);
  HfPenStyle two = {.size = 10, .width = 100, .lines = 2};
  g_assert_cmpfloat_with_epsilon(text_height(&pen, two, text, &width), 2 * line, line / 2);
  text_height(&pen, (HfPenStyle){.size = 20}, text, &width);
  g_assert_cmpfloat_with_epsilon(width, 2 * wide, wide * 0.02); /* no hinting: it only grows */
  double ones, nines;
  HfPenStyle figures = {.size = 10, .figures = TRUE};
  text_height(&pen, figures, "1111", &ones);
  text_height(&pen, figures, "9999", &nines);
  g_assert_cmpfloat_with_epsilon(ones, nines, 0.01);
}

/* ---- marks ----------------------------------------------------------------------------------- */

/* Pixels of the accent in what hf_picture_marks() draws for one finding at the plate's middle. */
static guint
hot_pixels(HfGravity gravity, const char *accepted, guint *ret_any)
{
  enum { SIZE = 200 };
  g_autoptr(Sample) sample = sample_new("Quay", "mild steel");
  guint plate = sample_entry(sample, HF_ENTRY_PLATE, "plate");
  sample_shape(sample, sample_box(0, 0, 100, 100, 0), FALSE, plate, "plate");
  HfFinding *finding = sample_finding(sample, HF_LAW_THIN_WEB, gravity, 1, 50, 50, "here: thin");
  g_free(finding->where);
  finding->where = g_strdup("here");
  finding->accepted = g_strdup(accepted);
  sample_finish(sample);
  HF_AUTO_SURFACE surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, SIZE, SIZE);
  HF_AUTO_CAIRO cr = cairo_create(surface);
  g_auto(HfPen) pen = {0};
  hf_pen_init(&pen, cr, FALSE);
  HfBox room = {{0, 0}, {SIZE, SIZE}};
  hf_picture_marks(&pen, &sample->what, hf_view_centred(sample->hold.box, 1, 100, 100), room, NULL,
                   0, 12, NULL);
  cairo_surface_flush(surface);
  const guchar *data = cairo_image_surface_get_data(surface);
  int stride = cairo_image_surface_get_stride(surface);
  guint hot = 0;
  *ret_any = 0;
  for (int y = 0; y < SIZE; y++)
    for (int x = 0; x < SIZE; x++) {
      guint32 pixel;
      memcpy(&pixel, data + y * stride + x * 4, 4);
      *ret_any += pixel >> 24 != 0;
      hot += pixel == (0xff000000u | HF_HOT);
    }
  return hot;
}

/* Each gravity is drawn, and told apart without its colour too: whole, broken, dotted rings. */
static void
test_marks(void)
{
  guint any_stop, any_caution, any_accepted, any_note;
  guint stop = hot_pixels(HF_STOP, NULL, &any_stop);
  guint caution = hot_pixels(HF_CAUTION, NULL, &any_caution);
  guint accepted = hot_pixels(HF_CAUTION, "seen", &any_accepted);
  guint note = hot_pixels(HF_NOTE, NULL, &any_note);
  g_test_message("accent: %u stop, %u caution, %u accepted, %u note", stop, caution, accepted,
                 note);
  g_assert_cmpuint(caution, >, 0);
  g_assert_cmpuint(stop, >, 2 * caution); /* a whole ring and a filled number */
  g_assert_cmpuint(accepted, ==, 0);
  g_assert_cmpuint(any_accepted, >, 0);
  g_assert_cmpuint(any_note, ==, 0); /* for reading only */
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/say/sentence", test_sentence);
  g_test_add_func("/say/stops", test_stops);
  g_test_add_func("/say/finding", test_finding);
  g_test_add_func("/say/who", test_who_said_so);
  g_test_add_func("/say/hung", test_hung);
  g_test_add_func("/say/pen", test_pen);
  g_test_add_func("/say/marks", test_marks);
  return g_test_run();
}

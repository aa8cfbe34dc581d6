/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_smallest.c - how small a shape may be cut, against closed forms, and against the hold check
 * itself: just above the size that is told it has nothing to say, just below it has.
 *
 * Limits by handbook 3.1 for t = 3 mm, k = 1.5 mm, all common practice without a source: short web
 * max(t, 1.5 k, 2) = 3 mm; web longer than 3 widths max(1.2 t, 2 k, 3) = 3.6 mm; gap k = 1.5 mm;
 * room to pierce, radius k + 0.5 = 2 mm.
 */
#include "enough.h"
#include "faces/faces.h"
#include "run/run.h"
#include <string.h>

static const HfProcess process = {
    .thickness = 3, .kerf = 1.5, .crater = 1.5, .density = 7850, .metal = "mild steel"};

static HfSmallest
ask(const HfOutline *outline, gboolean cut_through)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 0, HF_FLATTEN_MM);
  g_autoptr(HfRegion) region = hf_region_clean(raw);
  return hf_hold_smallest(region, cut_through, &process, NULL, 0.01);
}

static void
check_scale(HfSmallest found, double scale, HfLawKind kind)
{
  g_assert_cmpint(found.kind, ==, kind);
  g_assert_cmpfloat(found.scale, >=, scale * 0.998);
  g_assert_cmpfloat(found.scale, <=, scale * 1.002);
}

static void
test_bar(void)
{
  g_autoptr(HfOutline) bar = hf_outline_new();
  hf_outline_add_rectangle(bar, (HfBox){{0, 0}, {100, 10}}, 0);
  check_scale(ask(bar, FALSE), 3.6 / 10, HF_LAW_THIN_LONG_WEB);
  check_scale(ask(bar, TRUE), 2.0 / 5, HF_LAW_SMALL_OPENING); /* the gap alone: 1.5 / 10 */
  g_assert_false(ask(bar, FALSE).tip);
}

/* Two rings of metal would be concentric circles 30 and 20: the wall is 10 wide and goes round. */
static void
test_ring(void)
{
  g_autoptr(HfOutline) ring = hf_outline_new();
  hf_outline_add_circle(ring, hf_point(0, 0), 30);
  g_autoptr(HfOutline) inner = hf_outline_new();
  hf_outline_add_circle(inner, hf_point(0, 0), 20);
  hf_outline_reverse(inner);
  hf_outline_append(ring, inner, HF_MATRIX_IDENTITY);
  check_scale(ask(ring, FALSE), 3.6 / 10, HF_LAW_THIN_LONG_WEB);
  /* cut through: the counter is a disc of 40, the opening 10 wide: a circle of 5 must pierce */
  check_scale(ask(ring, TRUE), 2.0 / 5, HF_LAW_SMALL_OPENING);
}

/* A small counter decides when cut through: an island of 4 across in an opening 60 across. */
static void
test_island(void)
{
  g_autoptr(HfOutline) ring = hf_outline_new();
  hf_outline_add_circle(ring, hf_point(0, 0), 30);
  g_autoptr(HfOutline) inner = hf_outline_new();
  hf_outline_add_rectangle(inner, (HfBox){{-10, -2}, {10, 2}}, 0);
  hf_outline_reverse(inner);
  hf_outline_append(ring, inner, HF_MATRIX_IDENTITY);
  check_scale(ask(ring, TRUE), 3.6 / 4, HF_LAW_THIN_LONG_WEB);
}

/* A wedge with an angle of 20 degrees is too thin at its tip for w / (2 sin 10) = 2.9 w at any
 * size; one of 40 degrees for 1.5 w, which the limits allow. Their blunt ends are no matter. */
static void
test_tips(void)
{
  g_autoptr(HfOutline) sharp = hf_outline_new(), plain = hf_outline_new();
  double half = 100 * tan(10 * G_PI / 180), wide = 100 * tan(20 * G_PI / 180);
  hf_outline_add_polygon(sharp, (HfPoint[]){{0, 0}, {100, -half}, {100, half}}, 3);
  hf_outline_add_polygon(plain, (HfPoint[]){{0, 0}, {100, -wide}, {100, wide}}, 3);
  HfSmallest found = ask(sharp, FALSE);
  g_assert_true(found.tip);
  g_assert_cmpfloat(found.scale, <, 0.5);
  g_assert_false(ask(plain, FALSE).tip);
}

/* A hairline is no tip: it has to grow to its limit. 4 long webs of 1 on a block of 40. */
static void
test_hairline(void)
{
  g_autoptr(HfOutline) block = hf_outline_new();
  hf_outline_add_polygon(
      block,
      (HfPoint[]){{0, 0}, {40, 0}, {40, 20}, {70, 20}, {70, 21}, {40, 21}, {40, 40}, {0, 40}}, 8);
  check_scale(ask(block, FALSE), 3.6, HF_LAW_THIN_LONG_WEB);
  g_assert_false(ask(block, FALSE).tip);
}

/* A slot is a gap, a notch that tapers is lost detail once the kerf gets into its mouth. */
static void
test_slot(void)
{
  g_autoptr(HfOutline) slot = hf_outline_new(), notch = hf_outline_new();
  hf_outline_add_polygon(
      slot,
      (HfPoint[]){
          {0, 0}, {49.5, 0}, {49.5, 50}, {50.5, 50}, {50.5, 0}, {100, 0}, {100, 100}, {0, 100}},
      8);
  hf_outline_add_polygon(
      notch, (HfPoint[]){{0, 0}, {45, 0}, {50, 50}, {55, 0}, {100, 0}, {100, 100}, {0, 100}}, 7);
  check_scale(ask(slot, FALSE), 1.5, HF_LAW_NARROW_GAP);
  g_assert_cmpfloat(ask(notch, FALSE).scale, <, 0.3); /* its mouth of 10 is then two kerfs wide */
}

/* ---- against the hold check
 * ---------------------------------------------------------------------- */

#define HEAD                                                                                       \
  "holdfast: 1\nsign: test\nmetal: {kind: mild steel, thickness: 3 mm}\n"                          \
  "process: {kerf: 1.5 mm}\nmount: none\nentries:\n"
#define WORDS "  - words: {text: \"%s\", font: {family: DejaVu Sans, style: Bold}, height: %s mm"

static gboolean
has_stop(const char *letter, double height, gboolean cut_through)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd(number, sizeof number, "%.3f", height);
  const char *plate = cut_through ? "  - plate: {name: back, shape: rectangle, width: 400 mm, "
                                    "height: 400 mm}\n"
                                  : "";
  g_autofree char *words = g_strdup_printf(WORDS, letter, number);
  g_autofree char *text =
      g_strconcat(HEAD, plate, words, cut_through ? ", on: back, as: opening}\n" : "}\n", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfSign) sign =
      hf_run_text(text, strlen(text), "test.yaml", &(HfRunOptions){NULL, NULL, FALSE}, &error);
  g_assert_no_error(error);
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *finding = g_ptr_array_index(sign->hold->findings, i);
    if (finding->gravity == HF_STOP &&
        (finding->kind == HF_LAW_THIN_WEB || finding->kind == HF_LAW_THIN_LONG_WEB ||
         finding->kind == HF_LAW_NARROW_GAP || finding->kind == HF_LAW_SMALL_OPENING))
      return TRUE;
  }
  return FALSE;
}

static void
compare(HfFonts *fonts, const GPtrArray *faces, const char *letter, gboolean cut_through)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) found =
      hf_fonts_smallest(fonts, faces, letter, &process, NULL, NULL, NULL, NULL, &error);
  g_assert_no_error(error);
  const HfFaceSmallest *one = g_ptr_array_index(found, 0);
  const HfFaceLeast *least = cut_through ? &one->cut_through : &one->standing;
  g_test_message("%s %s: %s %.1f mm%s", letter, cut_through ? "cut through" : "standing",
                 hf_law(least->kind)->key, least->height, least->tips != NULL ? ", tips" : "");
  g_assert_true(has_stop(letter, least->height * 0.98, cut_through));
  g_assert_false(has_stop(letter, least->height * 1.005, cut_through));
}

static void
test_as_the_check_says(void)
{
  static const char *const letters[] = {"H", "O", "S", "B", "R", "M", "a", "e", "g", "k", "3", "8"};
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(GPtrArray) faces = hf_fonts_matching(fonts, "DejaVu Sans Bold", NULL);
  if (faces == NULL || strcmp(((HfFontListed *)g_ptr_array_index(faces, 0))->style, "Bold") != 0) {
    g_test_skip("DejaVu Sans Bold is not installed");
    return;
  }
  g_ptr_array_set_size(faces, 1);
  for (gsize i = 0; i < enough(G_N_ELEMENTS(letters)); i++) {
    compare(fonts, faces, letters[i], FALSE);
    compare(fonts, faces, letters[i], TRUE);
  }
}

static void
test_stopped_and_unanswered(void)
{
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(GPtrArray) faces = hf_fonts_matching(fonts, NULL, NULL);
  HfCancel cancel = {1};
  g_autoptr(GError) error = NULL;
  g_assert_null(hf_fonts_smallest(fonts, faces, NULL, &process, NULL, NULL, NULL, &cancel, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_CANCELLED);
  g_ptr_array_set_size(faces, MIN(faces->len, 1));
  g_autoptr(GPtrArray) found =
      hf_fonts_smallest(fonts, faces, "\u2603\u6d77\u05e9", &process, NULL, NULL, NULL, NULL, NULL);
  g_assert_nonnull(((HfFaceSmallest *)g_ptr_array_index(found, 0))->why);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/smallest/bar", test_bar);
  g_test_add_func("/smallest/ring", test_ring);
  g_test_add_func("/smallest/island", test_island);
  g_test_add_func("/smallest/tips", test_tips);
  g_test_add_func("/smallest/hairline", test_hairline);
  g_test_add_func("/smallest/slot", test_slot);
  g_test_add_func("/smallest/as-the-check-says", test_as_the_check_says);
  g_test_add_func("/smallest/stopped-and-unanswered", test_stopped_and_unanswered);
  return g_test_run();
}

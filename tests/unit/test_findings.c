/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_findings.c - cases into findings: gathered, accepted, worded, in order; sizes and letters.
 */
#include "hold-fixture.h"
#include "hold/hold-private.h"

/* A check without metal: t 3, k 1.5, so thin-web stops at 3 and cautions at 3.75. */
typedef struct {
  Sign *sign;
  HfCheck check;
} Bench;

static void
bench_begin(Bench *bench)
{
  Sign *sign = sign_new(3, 1.5);
  sign_add_box(sign, "rail", 0, 0, 100, 20);
  sign_add_box(sign, "post", 0, 0, 20, 100);
  sign_check(sign);
  g_ptr_array_set_size(sign->hold->findings, 0);
  bench->sign = sign;
  bench->check = (HfCheck){.recipe = &sign->recipe,
                           .shop = &sign->shop,
                           .layout = &sign->layout,
                           .metal = sign->metal,
                           .hold = sign->hold};
}

static HfFinding *
add(Bench *bench, HfLawKind kind, double measured, double x, guint shape)
{
  HfFinding *finding = hf_check_add(&bench->check, kind, measured, hf_point(x, 0));
  if (finding != NULL)
    hf_finding_name(&bench->check, finding, shape);
  return finding;
}

static const HfFinding *
nth(const Bench *bench, guint i)
{
  g_assert_cmpuint(i, <, bench->sign->hold->findings->len);
  return bench->sign->hold->findings->pdata[i];
}

static void
test_gathers(void)
{
  Bench bench;
  bench_begin(&bench);
  add(&bench, HF_LAW_THIN_WEB, 3.2, 1, 0);
  add(&bench, HF_LAW_THIN_WEB, 2.4, 2, 0);
  add(&bench, HF_LAW_THIN_WEB, 1.2, 3, 0);
  add(&bench, HF_LAW_THIN_WEB, 2.9, 4, 1);
  add(&bench, HF_LAW_NARROW_GAP, 1, 5, 0);
  g_assert_null(add(&bench, HF_LAW_THIN_WEB, 3.8, 6, 0));
  hf_findings_settle(&bench.check);
  g_assert_cmpuint(bench.sign->hold->findings->len, ==, 4);
  const HfFinding *worst = nth(&bench, 0); /* stop, thin-web, at x 3, before the one at x 4 */
  g_assert_cmpint(worst->kind, ==, HF_LAW_THIN_WEB);
  g_assert_cmpint(worst->gravity, ==, HF_STOP);
  g_assert_cmpfloat(worst->measured, ==, 1.2);
  g_assert_cmpuint(worst->count, ==, 2);
  g_assert_cmpuint(worst->places->len, ==, 2);
  g_assert_cmpfloat(g_array_index(worst->places, HfPoint, 0).x, ==, 3);
  g_assert_cmpfloat(g_array_index(worst->places, HfPoint, 1).x, ==, 2);
  g_assert_cmpstr(worst->text, ==,
                  "plate \"rail\", and 1 more place: web is 1.2 mm at the worst, needs 3 mm; "
                  "make it wider, or have holdfast thicken it");
  g_assert_cmpstr(nth(&bench, 1)->where, ==, "plate \"post\"");
  g_assert_cmpint(nth(&bench, 2)->kind, ==, HF_LAW_NARROW_GAP);
  g_assert_cmpint(nth(&bench, 3)->gravity, ==, HF_CAUTION);
  g_assert_cmpstr(nth(&bench, 3)->what, ==, "web is 3.2 mm, should be 3.75 mm");
  sign_free(bench.sign);
}

/* Forms are told apart; what hangs beyond is said; at most eight names. */
static void
test_words(void)
{
  Bench bench;
  bench_begin(&bench);
  HfFinding *neck = add(&bench, HF_LAW_THIN_WEB, 2.9875, 1, 0); /* not `3 mm, needs 3 mm` */
  hf_finding_form(neck, "neck");
  neck->mass = 0.034;
  HfFinding *tail = add(&bench, HF_LAW_THIN_WEB, 2, 2, 0);
  hf_finding_form(tail, "tail");
  hf_findings_settle(&bench.check);
  g_assert_cmpuint(bench.sign->hold->findings->len, ==, 2);
  g_assert_cmpstr(nth(&bench, 0)->what, ==,
                  "web is 2.99 mm, needs 3 mm, a neck with 34 g beyond it");
  g_assert_cmpstr(nth(&bench, 1)->what, ==, "web is 2 mm, needs 3 mm, a tail");
  sign_free(bench.sign);
}

static void
test_many_names(void)
{
  Bench bench;
  bench_begin(&bench);
  HfFinding *finding = add(&bench, HF_LAW_LOOSE_PART, NAN, 0, 0);
  finding->mass = 0.0012;
  hf_finding_call(finding, "the dot of letter 'i' of \"Pier\"");
  for (guint i = 0; i < 20; i++) {
    g_autofree char *name = g_strdup_printf("plate \"p%u\"", i);
    hf_finding_name(&bench.check, finding, sign_add_box(bench.sign, name, 0, 0, 1, 1));
  }
  g_assert_cmpuint(finding->names->len, ==, 8);
  g_assert_cmpstr(finding->names->pdata[0], ==, "the dot of letter 'i' of \"Pier\"");
  hf_findings_settle(&bench.check);
  g_assert_nonnull(
      strstr(nth(&bench, 0)->text, ": loose, nothing holds it: 1.2 g would fall out; "));
  sign_free(bench.sign);
}

static void
test_accepts(void)
{
  Bench bench;
  bench_begin(&bench);
  sign_accept(bench.sign, "thin-web", "rail", "only for show");
  add(&bench, HF_LAW_THIN_WEB, 3.2, 1, 0);
  add(&bench, HF_LAW_THIN_WEB, 3.3, 2, 1);
  hf_findings_settle(&bench.check);
  g_assert_cmpuint(bench.sign->hold->findings->len, ==, 2);
  g_assert_cmpstr(nth(&bench, 0)->accepted, ==, "only for show");
  g_assert_null(nth(&bench, 1)->accepted);
  sign_free(bench.sign);
}

/* A stop stays a stop, and that is said. */
static void
test_accepts_no_stop(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  const HfPoint points[] = {{0, 0}, {20, 0}, {10, 100}};
  sign_add_polygon(sign, "spire", points, 3);
  sign_accept(sign, "sharp-point", NULL, "it is high up");
  const HfHold *hold = sign_check(sign);
  g_assert_cmpstr(sign_find(hold, HF_LAW_SHARP_POINT)->accepted, ==, "it is high up");
  g_assert_null(sign_find(hold, HF_LAW_ACCEPTANCE));
  sign->recipe.within_reach = TRUE;
  hold = sign_check(sign);
  const HfFinding *stop = sign_find(hold, HF_LAW_SHARP_POINT);
  g_assert_cmpint(stop->gravity, ==, HF_STOP);
  g_assert_null(stop->accepted);
  g_assert_false(hold->whole);
  const HfFinding *note = sign_find(hold, HF_LAW_ACCEPTANCE);
  g_assert_nonnull(note);
  g_assert_cmpint(note->gravity, ==, HF_NOTE);
  g_assert_nonnull(strstr(note->text, "a stop stays"));
}

static void
test_accepts_what_is_not_there(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "rail", 0, 0, 100, 20);
  sign_accept(sign, "out-of-level", NULL, "the nail is bent too");
  const HfFinding *note = sign_find(sign_check(sign), HF_LAW_ACCEPTANCE);
  g_assert_nonnull(note);
  g_assert_nonnull(strstr(note->text, "there is none"));
}

static void
test_no_metal(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  const HfHold *hold = sign_check(sign);
  g_assert_false(hold->whole);
  g_assert_cmpint(sign_find(hold, HF_LAW_NO_METAL)->gravity, ==, HF_STOP);
}

/* 100 x 20 x 3 mm of steel: 6000 mm3 x 7850 kg/m3 = 47.1 g; 240 mm of cut and one pierce. */
static void
test_figures_of_the_sign(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "rail", 0, 0, 100, 20);
  const HfHold *hold = sign_check(sign);
  g_assert_true(hold->whole);
  g_assert_cmpfloat_with_epsilon(hold->area, 2000, 1e-6);
  g_assert_cmpfloat_with_epsilon(hold->mass, 0.0471, 1e-9);
  g_assert_cmpfloat_with_epsilon(hold->cut_length, 240, 1e-6);
  g_assert_cmpuint(hold->pierces, ==, 1);
  g_assert_cmpfloat_with_epsilon(hold->centroid.x, 50, 1e-6);
  g_assert_cmpfloat_with_epsilon(hold->centroid.y, 10, 1e-6);
}

static void
test_size(void)
{
  const struct {
    double table_w, table_h;
    gboolean found;
  } cases[] = {
      {1250, 625, FALSE}, {300, 100, FALSE},  {100, 300, FALSE}, /* turned */
      {299.9, 100, TRUE}, {100, 299.9, TRUE}, {1000, 99.9, TRUE}, {NAN, NAN, FALSE},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    sign_add_box(sign, "board", 0, 0, 300, 100);
    sign->shop.table_width = cases[i].table_w;
    sign->shop.table_height = cases[i].table_h;
    const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_TOO_LARGE);
    g_assert_cmpint(finding != NULL, ==, cases[i].found);
    if (finding != NULL)
      g_assert_cmpint(finding->gravity, ==, HF_CAUTION);
  }
}

/* A numeral 1 as a plain stroke of @width x @height, of cap height @height. */
static void
add_numeral(Sign *sign, double width, double height)
{
  guint i = sign_add_box(sign, "number", 0, 0, width, height);
  HfEntry *entry = sign->recipe.entries->pdata[sign_shape(sign, i)->entry];
  entry->kind = HF_ENTRY_WORDS;
  entry->words.lines = g_ptr_array_new();
  g_ptr_array_add(entry->words.lines, (gpointer) "1");
  HfShape *shape = sign_shape(sign, i);
  shape->letter = 0;
  shape->letter_height = height;
  g_free(shape->label);
  shape->label = g_strdup("letter '1' of \"1\"");
  shape->em = hf_matrix_scale(height / 0.7, height / 0.7);
}

static void
drop_lines(Sign *sign)
{
  for (guint i = 0; i < sign->recipe.entries->len; i++)
    g_clear_pointer(&((HfEntry *)sign->recipe.entries->pdata[i])->words.lines, g_ptr_array_unref);
}

/* IFC/IBC 505.1: 4 in (102 mm) high, stroke 0.5 in (12.7 mm). */
static void
test_house_number(void)
{
  const struct {
    double stroke, height;
    guint findings;
  } cases[] = {{13, 103, 0}, {13, 101, 1}, {12.4, 103, 1}, {12.4, 101, 2}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    add_numeral(sign, cases[i].stroke, cases[i].height);
    const HfHold *hold = sign_check(sign);
    g_assert_cmpuint(sign_count(hold, HF_LAW_SMALL_NUMBER), ==, 0); /* not said to be one */
    sign->recipe.house_number = TRUE;
    hold = sign_check(sign);
    g_assert_cmpuint(sign_count(hold, HF_LAW_SMALL_NUMBER), ==, cases[i].findings);
    const HfFinding *finding = sign_find(hold, HF_LAW_SMALL_NUMBER);
    if (finding != NULL) {
      g_assert_cmpint(finding->gravity, ==, HF_CAUTION);
      g_assert_cmpstr(hf_law_said_by(finding->kind, finding->said_by, finding->coupon), ==,
                      "standard IFC clause 505.1");
    }
    drop_lines(sign);
  }
}

static void
test_house_without_number(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", 0, 0, 300, 100);
  sign->recipe.house_number = TRUE;
  g_assert_nonnull(strstr(sign_find(sign_check(sign), HF_LAW_SMALL_NUMBER)->text, "no numeral"));
}

/* Read from 10 m: 50 mm (distance / 200, 17 minutes of arc: handbook 10). */
static void
test_distance(void)
{
  const struct {
    double height;
    gboolean found;
  } cases[] = {{49, TRUE}, {51, FALSE}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    add_numeral(sign, 10, cases[i].height);
    sign->recipe.read_from = 10000;
    const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_SMALL_LETTERS);
    g_assert_cmpint(finding != NULL, ==, cases[i].found);
    if (finding != NULL) {
      g_assert_cmpint(finding->gravity, ==, HF_NOTE);
      g_assert_cmpstr(
          finding->text, ==,
          "words \"number\": letters are 49 mm high, easy reading from 10 m wants 50 mm; "
          "make them larger");
    }
    drop_lines(sign);
  }
}

static void
test_missed_pin(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", 0, 0, 300, 100);
  HfMissed missed = {0, hf_point(1, 2), (char *)"there is no 2nd 'A' in BAKERY"};
  g_array_append_val(sign->layout.missed, missed);
  const HfFinding *finding = sign_find(sign_check(sign), HF_LAW_PIN_MISSED);
  g_assert_nonnull(finding);
  g_assert_cmpstr(finding->text, ==,
                  "tie \"board\": left out, there is no 2nd 'A' in BAKERY; place it anew");
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/findings/gathers", test_gathers);
  g_test_add_func("/findings/words", test_words);
  g_test_add_func("/findings/many-names", test_many_names);
  g_test_add_func("/findings/accepts", test_accepts);
  g_test_add_func("/findings/accepts-no-stop", test_accepts_no_stop);
  g_test_add_func("/findings/accepts-what-is-not-there", test_accepts_what_is_not_there);
  g_test_add_func("/findings/no-metal", test_no_metal);
  g_test_add_func("/findings/figures-of-the-sign", test_figures_of_the_sign);
  g_test_add_func("/findings/size", test_size);
  g_test_add_func("/findings/house-number", test_house_number);
  g_test_add_func("/findings/house-without-number", test_house_without_number);
  g_test_add_func("/findings/distance", test_distance);
  g_test_add_func("/findings/missed-pin", test_missed_pin);
  return g_test_run();
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_law.c - the table of limits: its figures, who may change them, the process they rest on.
 * Figures: handbook 3.1, common practice, no source, where nothing else is said.
 */
#include "base/file.h"
#include "hold-fixture.h"
#include "hold/formula-private.h"
#include "hold/hold-private.h"
#include <string.h>

static const HfRecipe nobody = {.read_from = NAN};

static HfLimit
limit_of(HfLawKind kind, double t, double k)
{
  HfProcess process = {t, k, k, 7850, 12e-6, "mild steel"};
  return hf_law_limit(kind, &process, NULL, &nobody);
}

/* Worked by hand from the formulas of the handbook's table. */
static void
test_figures(void)
{
  const struct {
    HfLawKind kind;
    double t, k, stop, caution;
  } cases[] = {
      {HF_LAW_THIN_WEB, 3, 1.5, 3, 3.75},        /* max(3, 2.25, 2); 1.25 x 3 */
      {HF_LAW_THIN_WEB, 1.5, 1.2, 2, 2.5},       /* max(1.5, 1.8, 2) */
      {HF_LAW_THIN_WEB, 2, 2, 3, 3.75},          /* max(2, 3, 2) */
      {HF_LAW_THIN_LONG_WEB, 3, 1.5, 3.6, 4.5},  /* max(3.6, 3, 3) */
      {HF_LAW_THIN_LONG_WEB, 1.5, 1.2, 3, 3.75}, /* max(1.8, 2.4, 3) */
      {HF_LAW_WEAK_JOINT, 3, 1.5, 3, 3.75},      /* as the short web */
      {HF_LAW_SMALL_OPENING, 3, 1.5, 2, 3.25},   /* 1.5 + 0.5; 1.5 + 0.75 + 1 */
      {HF_LAW_SMALL_HOLE, 3, 1.5, 4.5, 6},       /* max(4.5, 4.5, 4.5); max(6, 6, 6) */
      {HF_LAW_SMALL_HOLE, 5, 2, 7.5, 10},        /* max(7.5, 6, 4.5); max(10, 8, 6) */
      {HF_LAW_NARROW_GAP, 3, 1.5, 1.5, 4.5},     /* k; max(4.5, 2.25) */
      {HF_LAW_NARROW_GAP, 1, 1.5, 1.5, 2.25},    /* k; max(1.5, 2.25) */
      {HF_LAW_HOLE_NEAR_EDGE, 3, 1.5, 3, 4.5},   /* max(4.5, 3, 3.75) */
      {HF_LAW_HOLE_NEAR_EDGE, 1.5, 2, 3, 4},     /* max(2.25, 4, 3.75) */
      {HF_LAW_LOST_DETAIL, 3, 1.5, NAN, 1},      /* % of a letter */
      {HF_LAW_HIDDEN, 3, 1.5, 5, 50},            /* % of a letter's outline */
      {HF_LAW_OFF_METAL, 3, 1.5, 0, NAN},        /* any of a cut-through letter's outline */
      {HF_LAW_CHANGED_LETTER, 3, 1.5, 25, 50},   /* % of a piece, counter or stroke */
      {HF_LAW_TIGHT_MARGIN, 3, 1.5, NAN, 100},   /* % of a stroke */
      {HF_LAW_CRACK, 3, 1.5, 4.5, NAN},          /* 3 k */
      {HF_LAW_BURNT_TIP, 3, 1.5, 30, 10},        /* mm */
      {HF_LAW_SHARP_POINT, 3, 1.5, NAN, 60},     /* degrees */
      {HF_LAW_BOWING_STRIP, 3, 1.5, NAN, 27},    /* K */
      {HF_LAW_OUT_OF_LEVEL, 3, 1.5, NAN, 1},     /* degree */
      {HF_LAW_ONE_TIE, 2, 1.5, NAN, 25},         /* sheet up to 2 mm */
      {HF_LAW_ONE_TIE, 2.1, 1.5, NAN, 40},       /* above */
      {HF_LAW_SMALL_NUMBER, 3, 1.5, NAN, 102},   /* IFC/IBC 505.1: 4 in, 102 mm */
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    HfLimit limit = limit_of(cases[i].kind, cases[i].t, cases[i].k);
    g_test_message("%s", hf_law(cases[i].kind)->key);
    g_assert_cmpint(isnan(limit.stop), ==, isnan(cases[i].stop));
    if (!isnan(limit.stop))
      g_assert_cmpfloat_with_epsilon(limit.stop, cases[i].stop, 1e-9);
    g_assert_cmpint(isnan(limit.caution), ==, isnan(cases[i].caution));
    if (!isnan(limit.caution))
      g_assert_cmpfloat_with_epsilon(limit.caution, cases[i].caution, 1e-9);
  }
}

/* Every law with a limit speaks on one side of it and is silent on the other. */
static void
test_both_sides(void)
{
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    HfLawKind kind = (HfLawKind)i;
    HfLimit limit = limit_of(kind, 3, 1.5);
    double bad = law->at_least ? -0.02 : 0.02, at;
    HfGravity gravity;
    if (law->unit[0] == '\0') {
      g_assert_true(hf_law_weigh(kind, limit, NAN, &gravity, &at));
      g_assert_cmpint(gravity, ==, law->gravity);
      continue;
    }
    if (!isnan(limit.stop)) {
      g_assert_true(hf_law_weigh(kind, limit, limit.stop + bad, &gravity, &at));
      g_assert_cmpint(gravity, ==, HF_STOP);
      g_assert_cmpfloat(at, ==, limit.stop);
      gboolean milder = hf_law_weigh(kind, limit, limit.stop - bad, &gravity, &at);
      g_assert_cmpint(milder, ==, !isnan(limit.caution) || law->note_within);
      g_assert_true(!milder || gravity == (isnan(limit.caution) ? HF_NOTE : HF_CAUTION));
      g_assert_true(isnan(limit.caution) || at == limit.caution);
    }
    if (isnan(limit.caution))
      continue;
    g_assert_true(hf_law_weigh(kind, limit, limit.caution + bad, &gravity, &at));
    g_assert_cmpint(gravity, <=, HF_CAUTION);
    gboolean found = hf_law_weigh(kind, limit, limit.caution - bad, &gravity, &at);
    g_assert_cmpint(found, ==, law->note_within);
    if (found)
      g_assert_cmpint(gravity, ==, HF_NOTE);
  }
}

/* Every law has words for people, and a key of its own. */
static void
test_rows(void)
{
  g_autoptr(GHashTable) keys = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    g_assert_true(g_hash_table_add(keys, (gpointer)law->key));
    g_assert_true(hf_law_by_key(law->key) == law);
    for (const char *at = law->key; *at != '\0'; at++)
      g_assert_true(g_ascii_islower(*at) || *at == '-');
    g_assert_cmpint(law->quantity[0], !=, '\0');
    g_assert_cmpint(law->why[0], !=, '\0');
    g_assert_true(law->cures[0] != NULL || law->unit[0] == '\0');
    g_assert_true(law->stop.formula != NULL || law->caution.formula != NULL);
    g_assert_cmpint(law->stop.formula != NULL, ==,
                    law->gravity == HF_STOP || law->stop_within_reach);
    g_assert_cmpint(law->what[0], !=, '\0');
    g_assert_cmpint(law->fix[0], !=, '\0');
    g_assert_cmpint(law->reference[0], !=, '\0');
    g_assert_true(law->check != NULL || i == HF_LAW_NO_METAL || i == HF_LAW_ACCEPTANCE);
    g_assert_cmpint(law->measures, !=, 0);
    g_assert_cmpint(law->trouble, !=, 0);
    g_assert_cmpint(law->mends, !=, 0);
    g_assert_true(g_str_equal(law->source, "common practice") ||
                  g_str_has_prefix(law->source, "standard "));
  }
  g_assert_null(hf_law_by_key("thin web"));
}

/* The text that people read is the one that counts: all of every formula is understood, and it
 * comes to what is read by hand. */
static void
test_formulas(void)
{
  HfProcess process = {.thickness = 3, .kerf = 1.5, .crater = 1.6};
  HfRecipe recipe = {.read_from = 4000};
  HfFormulaTerms terms = {&process, NULL, &recipe, "mm", 8, HF_SAID_BY_PRACTICE};
  const char *rest;
  const struct {
    const char *text;
    double value;
    const char *rest; /* what is not understood */
  } cases[] = {
      {"any", 0, NULL},
      {"k", 1.5, NULL},
      {"2 mm", 2, NULL},
      {"1.5 k", 2.25, NULL},
      {"c + k/2 + 1 mm", 1.6 + 0.75 + 1, NULL},
      {"max(t, 1.5 k, 2 mm)", 3, NULL},
      {"max(1.5 t, 2 k, 1.25 times the stop)", 10, NULL},
      {"reading distance / {small-letters distance}", 20, NULL},
      {"25 mm on sheet up to 3 mm, 40 mm above", 25, NULL},
      {"25 mm on sheet up to 2.9 mm, 40 mm above", 40, NULL},
      {"2", NAN, ""},
      {"2 deg", NAN, " deg"}, /* of a law in mm */
      {"2 kg", NAN, " kg"},
      {"max(t, 2 mm", NAN, ""},
      {"t - k", 3, " - k"},
      {"t / {small-letters}", 3, " / {small-letters}"},
      {"25 mm on sheet up to 2 mm", NAN, " on sheet up to 2 mm"},
      {"the kerf", NAN, "the kerf"},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    double value = hf_formula_value(cases[i].text, &terms, &rest);
    g_test_message("%s", cases[i].text);
    g_assert_cmpstr(rest, ==, cases[i].rest);
    if (cases[i].rest == NULL)
      g_assert_cmpfloat_with_epsilon(value, cases[i].value, 1e-12);
  }
  g_assert_true(isnan(hf_formula_value(NULL, &terms, &rest)));
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    terms.unit = law->unit;
    const HfBound bounds[] = {law->stop, law->caution};
    for (guint k = 0; k < 2; k++) {
      double value = hf_formula_value(bounds[k].formula, &terms, &rest);
      g_test_message("%s: %s", law->key, bounds[k].formula);
      g_assert_null(rest);
      g_assert_cmpint(isnan(value), ==, bounds[k].formula == NULL);
    }
  }
}

/* Whatever a finding has or lacks besides its measure, its law has words for it. */
static void
test_sentences(void)
{
  for (guint i = 0; i < 2 * HF_N_LAWS; i++) {
    gboolean bare = i % 2 == 0, measured = hf_law((HfLawKind)(i / 2))->unit[0] != '\0';
    HfFinding finding = {.kind = (HfLawKind)(i / 2),
                         .gravity = HF_STOP,
                         .count = 1,
                         .measured = measured ? 12 : NAN,
                         .limit = measured ? 34 : NAN,
                         .mass = bare ? NAN : 0.056,
                         .area = bare ? NAN : 789,
                         .form = bare ? NULL : "neck",
                         .names = g_ptr_array_new()};
    hf_finding_word(&finding, 0);
    g_test_message("%s", finding.text);
    g_assert_nonnull(strstr(finding.text, "; "));
    g_assert_null(strpbrk(finding.text, "{}[]"));
    g_assert_null(strstr(finding.text, "  "));
    g_ptr_array_unref(finding.names);
    g_free(finding.what);
    g_free(finding.fix);
    g_free(finding.text);
  }
}

static void
test_what_the_recipe_says(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  HfProcess process = {3, 1.5, 1.5, 7850, 12e-6, "mild steel"};
  HfRecipe *recipe = &sign->recipe;
  g_assert_true(isnan(hf_law_limit(HF_LAW_SMALL_LETTERS, &process, NULL, recipe).caution));
  recipe->read_from = 20000; /* distance / 200 */
  g_assert_cmpfloat(hf_law_limit(HF_LAW_SMALL_LETTERS, &process, NULL, recipe).caution, ==, 100);
  sign_limit(recipe->limits, "small-letters distance", 250);
  HfLimit limit = hf_law_limit(HF_LAW_SMALL_LETTERS, &process, NULL, recipe);
  g_assert_cmpfloat(limit.caution, ==, 80);
  g_assert_cmpint(limit.said_by, ==, HF_SAID_BY_RECIPE);
  recipe->within_reach = TRUE;
  g_assert_cmpfloat(hf_law_limit(HF_LAW_SHARP_POINT, &process, NULL, recipe).stop, ==, 60);
  limit = hf_law_limit(HF_LAW_SMALL_NUMBER, &process, NULL, recipe);
  g_assert_cmpint(limit.said_by, ==, HF_SAID_BY_STANDARD);
  g_assert_cmpstr(hf_law_said_by(HF_LAW_SMALL_NUMBER, limit.said_by, NULL), ==,
                  "standard IFC clause 505.1");
}

static void
test_overrides(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  HfProcess process = {3, 1.5, 1.5, 7850, 12e-6, "mild steel"};
  /* the shop moves the stop: the caution keeps its proportion, 3.75 / 3 x 4 */
  sign_limit(sign->shop.limits, "thin-web", 4);
  HfLimit limit = hf_law_limit(HF_LAW_THIN_WEB, &process, &sign->shop, &sign->recipe);
  g_assert_cmpfloat_with_epsilon(limit.stop, 4, 1e-9);
  g_assert_cmpfloat_with_epsilon(limit.caution, 5, 1e-9);
  g_assert_cmpint(limit.said_by, ==, HF_SAID_BY_SHOP);
  g_assert_cmpstr(hf_law_said_by(HF_LAW_THIN_WEB, limit.said_by, NULL), ==,
                  "your process (shop file)");
  /* the recipe has the last word */
  sign_limit(sign->recipe.limits, "thin-web", 2.5);
  limit = hf_law_limit(HF_LAW_THIN_WEB, &process, &sign->shop, &sign->recipe);
  g_assert_cmpfloat_with_epsilon(limit.stop, 2.5, 1e-9);
  g_assert_cmpfloat_with_epsilon(limit.caution, 3.125, 1e-9);
  g_assert_cmpint(limit.said_by, ==, HF_SAID_BY_RECIPE);
  /* the caution alone */
  sign_limit(sign->recipe.limits, "thin-web caution", 6);
  limit = hf_law_limit(HF_LAW_THIN_WEB, &process, &sign->shop, &sign->recipe);
  g_assert_cmpfloat_with_epsilon(limit.stop, 2.5, 1e-9);
  g_assert_cmpfloat_with_epsilon(limit.caution, 6, 1e-9);
  /* a caution beyond its stop is moved to it */
  sign_limit(sign->recipe.limits, "narrow-gap caution", 0.5);
  limit = hf_law_limit(HF_LAW_NARROW_GAP, &process, &sign->shop, &sign->recipe);
  g_assert_cmpfloat(limit.caution, ==, limit.stop);
  /* a law with a caution alone takes either key */
  sign_limit(sign->recipe.limits, "bowing-strip", 20);
  limit = hf_law_limit(HF_LAW_BOWING_STRIP, &process, &sign->shop, &sign->recipe);
  g_assert_true(isnan(limit.stop));
  g_assert_cmpfloat(limit.caution, ==, 20);
  /* other laws are as they were */
  limit = hf_law_limit(HF_LAW_WEAK_JOINT, &process, &sign->shop, &sign->recipe);
  g_assert_cmpfloat(limit.stop, ==, 3);
  g_assert_cmpint(limit.said_by, ==, HF_SAID_BY_PRACTICE);
}

static void
test_override_mistakes(void)
{
  const struct {
    const char *key;
    double value;
    const char *unit, *says;
  } cases[] = {
      {"thin-wep", 2, "mm",
       "quay.yaml:7:3: there is no limit called \"thin-wep\"; did you mean \"thin-web\"?"},
      {"thin-web cautoin", 2, "mm",
       "quay.yaml:7:3: there is no limit called \"thin-web cautoin\"; did you mean \"thin-web "
       "caution\"?"},
      {"loose-part", 2, "",
       "quay.yaml:7:3: \"loose-part\" has no limit that can be changed: any is found; take it out"},
      {"thin-web", 0, "mm",
       "quay.yaml:7:3: with a limit of 0 or less \"thin-web\" would let everything pass; give the "
       "figure that your process holds, or take the line out"},
      {"thin-web", 2, "deg",
       "quay.yaml:7:3: \"thin-web\" is not a matter of deg; give it in mm: 2 mm"},
      {"sharp-point radius", 2, "deg",
       "quay.yaml:7:3: \"sharp-point radius\" is not a matter of deg; give it in mm: 2 mm"},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    g_autoptr(GError) error = NULL;
    sign_limit(sign->recipe.limits, cases[i].key, cases[i].value);
    g_array_index(sign->recipe.limits, HfLimitOverride, 0).unit = cases[i].unit;
    g_assert_false(hf_law_check_overrides(&sign->recipe, &sign->shop, &error));
    g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
    g_assert_cmpstr(error->message, ==, cases[i].says);
  }
}

static void
test_accept_mistakes(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  g_autoptr(GError) error = NULL;
  sign_add_box(sign, "rail", 0, 0, 100, 20);
  sign_accept(sign, "sharp-pont", NULL, "high on a gable");
  g_assert_false(hf_law_check_overrides(&sign->recipe, &sign->shop, &error));
  g_assert_cmpstr(error->message, ==,
                  "quay.yaml:9:5: there is no finding called \"sharp-pont\"; did you mean "
                  "\"sharp-point\"?");
  g_clear_error(&error);
  g_array_set_size(sign->recipe.accept, 0);
  sign_accept(sign, "sharp-point", "rial", "high on a gable");
  g_assert_false(hf_law_check_overrides(&sign->recipe, &sign->shop, &error));
  g_assert_cmpstr(error->message, ==,
                  "quay.yaml:9:5: there is no entry called \"rial\"; did you mean \"rail\"?");
  g_array_set_size(sign->recipe.accept, 0);
  sign_accept(sign, "sharp-point", "rail", "high on a gable");
  g_assert_true(hf_law_check_overrides(&sign->recipe, &sign->shop, NULL));
}

/* The kerf: the recipe's, the shop's, the chart's. */
static void
add_row(Sign *sign, const char *metal, double thickness, double kerf)
{
  HfChartRow row = {.metal = (char *)metal, .thickness = thickness, .kerf = kerf};
  g_array_append_val(sign->shop.chart, row);
}

static double
kerf_of(Sign *sign, GError **error)
{
  HfProcess process = {.kerf = NAN};
  return hf_process_of(&sign->recipe, &sign->shop, &process, error) ? process.kerf : NAN;
}

static void
test_process(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.4);
  g_autoptr(GError) error = NULL;
  HfProcess process;
  sign->shop.kerf = 1.7;
  add_row(sign, "mild steel", 2, 1.2);
  add_row(sign, "aluminium", 3, 2.2);
  add_row(sign, "mild steel", 4, 1.6);
  g_assert_true(hf_process_of(&sign->recipe, &sign->shop, &process, &error));
  g_assert_cmpfloat(process.kerf, ==, 1.4);
  g_assert_cmpfloat(process.crater, ==, 1.4); /* the kerf unless someone says otherwise */
  g_assert_cmpfloat(process.density, ==, 7850);
  g_assert_cmpfloat(process.expansion, ==, 12e-6);
  sign->shop.crater = 2;
  sign->recipe.kerf = NAN;
  g_assert_true(hf_process_of(&sign->recipe, &sign->shop, &process, &error));
  g_assert_cmpfloat(process.kerf, ==, 1.7);
  g_assert_cmpfloat(process.crater, ==, 2);
  sign->shop.kerf = NAN;
  g_assert_cmpfloat_with_epsilon(kerf_of(sign, NULL), 1.4, 1e-12); /* half way from 1.2 to 1.6 */
  sign->recipe.thickness = 2.5;
  g_assert_cmpfloat_with_epsilon(kerf_of(sign, NULL), 1.3, 1e-12);
  sign->recipe.thickness = 4;
  g_assert_cmpfloat(kerf_of(sign, NULL), ==, 1.6);
  add_row(sign, "mild steel", 4, 1.9); /* of two the wider */
  g_assert_cmpfloat(kerf_of(sign, NULL), ==, 1.9);
}

static void
test_no_kerf(void)
{
  g_autoptr(Sign) sign = sign_new(3, NAN);
  g_autoptr(GError) error = NULL;
  g_assert_true(isnan(kerf_of(sign, &error)));
  g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
  g_assert_nonnull(strstr(error->message, "measure yours"));
  add_row(sign, "mild steel", 1, 1.2);
  add_row(sign, "mild steel", 2, 1.4);
  g_assert_true(isnan(kerf_of(sign, NULL))); /* never beyond the chart */
  sign->recipe.thickness = 0.5;
  g_assert_true(isnan(kerf_of(sign, NULL)));
  sign->recipe.row = (char *)"fine";
  g_clear_error(&error);
  g_assert_true(isnan(kerf_of(sign, &error)));
  g_assert_nonnull(strstr(error->message, "no row called \"fine\""));
  g_array_index(sign->shop.chart, HfChartRow, 1).name = (char *)"fine";
  g_clear_error(&error);
  g_assert_true(isnan(kerf_of(sign, &error))); /* measured on 2 mm, the sheet is 0.5 mm */
  g_assert_cmpstr(
      error->message, ==,
      "quay.yaml: the row \"fine\" of the cut chart is for mild steel of 2 mm, the sheet is "
      "mild steel of 0.5 mm; name a row for this sheet, or give the kerf");
  sign->recipe.thickness = 2;
  g_assert_cmpfloat(kerf_of(sign, NULL), ==, 1.4);
}

static void
test_document(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = hf_file_read(HF_SOURCE_ROOT "/docs/limits.md", 1 << 20, &error);
  g_assert_no_error(error);
  gsize n;
  const char *text = g_bytes_get_data(bytes, &n);
  g_autofree char *written = g_strndup(text, n), *made = hf_law_table();
  if (!g_str_equal(written, made))
    g_test_message("run build/tools/limits > docs/limits.md");
  g_assert_true(g_str_equal(written, made));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/law/figures", test_figures);
  g_test_add_func("/law/formulas", test_formulas);
  g_test_add_func("/law/sentences", test_sentences);
  g_test_add_func("/law/both-sides", test_both_sides);
  g_test_add_func("/law/rows", test_rows);
  g_test_add_func("/law/what-the-recipe-says", test_what_the_recipe_says);
  g_test_add_func("/law/overrides", test_overrides);
  g_test_add_func("/law/override-mistakes", test_override_mistakes);
  g_test_add_func("/law/accept-mistakes", test_accept_mistakes);
  g_test_add_func("/law/process", test_process);
  g_test_add_func("/law/no-kerf", test_no_kerf);
  g_test_add_func("/law/document", test_document);
  return g_test_run();
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * Lengths, quantities and directions: good, tolerated and bad, one row each.
 *
 * 1 in = 25.4 mm and 1 ft = 304.8 mm exactly: NIST SP 811, appendix B (from memory).
 */
#include "base/error.h"
#include "recipe/measure-private.h"
#include <math.h>
#include <string.h>

/* --- good and tolerated lengths --- */

static const struct {
  const char *text;
  double mm;
  const char *why;
} good[] = {
    {"3 mm", 3, "plain"},
    {"3mm", 3, "no space"},
    {"  3 mm ", 3, "space around"},
    {"3\tmm", 3, "a tab between"},
    {"1.5 cm", 15, "decimal"},
    {".5 m", 500, "no digit before the point"},
    {"2. mm", 2, "no digit behind the point"},
    {"0.1 mm", 0.1, "least"},
    {"18 in", 457.2, "inch"},
    {"18 inches", 457.2, "inches"},
    {"1 inch", 25.4, "inch, spelled out"},
    {"1-1/2 in", 38.1, "mixed with a hyphen"},
    {"1 1/2 in", 38.1, "mixed with a space"},
    {"1\xc2\xbd in", 38.1, "vulgar fraction"},
    {"1 \xc2\xbd in", 38.1, "vulgar fraction behind a space"},
    {"\xe2\x85\x9c\"", 9.525, "three eighths"},
    {"3/16\"", 4.7625, "fraction"},
    {"3/16 in", 4.7625, "fraction, in"},
    {"5'", 1524, "feet"},
    {"5 ft", 1524, "feet"},
    {"5' 6-1/2\"", 1689.1, "feet and inches"},
    {"5'6\"", 1676.4, "feet and inches without a space"},
    {"5'-6\"", 1676.4, "feet-inches as drawings have it"},
    {"5 ft 6 in", 1676.4, "spelled out"},
    {"1 foot 1 inch", 330.2, "spelled out"},
    {"5\xe2\x80\xb2 6\xe2\x80\xb3", 1676.4, "primes"},
    {"5\xe2\x80\x99 6\xe2\x80\x9d", 1676.4, "typographic quotes"},
    {"-3 mm", -3, "negative"},
    {"- 3 mm", -3, "negative, apart"},
    {"\xe2\x88\x92"
     "3 mm",
     -3, "true minus sign"},
    {"+3 mm", 3, "plus"},
    {"-1-1/2 in", -38.1, "negative mixed"},
    {"3 MM", 3, "capitals"},
};

static void
test_good_lengths(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(good); i++) {
    g_autoptr(GError) error = NULL;
    double mm = 0;
    if (!hf_measure_length(good[i].text, HF_NO_GAUGE, NULL, &mm, &error))
      g_error("%s (%s): %s", good[i].text, good[i].why, error->message);
    if (!(fabs(mm - good[i].mm) <= 1e-9))
      g_error("%s (%s): %g, not %g", good[i].text, good[i].why, mm, good[i].mm);
  }
}

/* --- bad lengths: the exact message --- */

static const struct {
  const char *text, *message;
} bad[] = {
    {"3", "\"3\" has no unit; say the unit: 3 mm, or 3 in"},
    {"1-1/2", "\"1-1/2\" has no unit; say the unit: 1-1/2 mm, or 1-1/2 in"},
    {"", "\"\" is not a length; write a number and its unit: 140 mm, 5-1/2 in, 3/16\""},
    {"mm", "\"mm\" is not a length; write a number and its unit: 140 mm, 5-1/2 in, 3/16\""},
    {"big", "\"big\" is not a length; write a number and its unit: 140 mm, 5-1/2 in, 3/16\""},
    {"3 mmm", "\"3 mmm\" has the unit \"mmm\", which is not known; use mm, cm, m, in or ft"},
    {"3 px", "\"3 px\" has the unit \"px\", which is not known; use mm, cm, m, in or ft"},
    {"1e3 mm", "\"1e3 mm\" has the unit \"e3 mm\", which is not known; use mm, cm, m, in or ft"},
    {"1,5 mm", "\"1,5 mm\" has a decimal comma; write decimals with a point: 1.5 mm"},
    {"3 mm 4", "\"3 mm 4\" is not a length; write a number and its unit: 140 mm, 5-1/2 in, 3/16\""},
    {"5' 13\"",
     "\"5' 13\"\" is not a length; write a number and its unit: 140 mm, 5-1/2 in, 3/16\""},
    {"5' 6 mm",
     "\"5' 6 mm\" is not a length; write a number and its unit: 140 mm, 5-1/2 in, 3/16\""},
    {"3/0 in", "\"3/0 in\" has the unit \"/0 in\", which is not known; use mm, cm, m, in or ft"},
    {"0x10 mm", "\"0x10 mm\" has the unit \"x10 mm\", which is not known; use mm, cm, m, in or ft"},
    {"nan mm", "\"nan mm\" is not a length; write a number and its unit: 140 mm, 5-1/2 in, 3/16\""},
    {"--3 mm", "\"--3 mm\" is not a length; write a number and its unit: 140 mm, 5-1/2 in, 3/16\""},
    {"60 %", "\"60 %\" is a share, a length is wanted; write a length such as 140 mm"},
    {"10 ga", "\"10 ga\": a gauge is only a thickness of metal; write a length such as 3 mm"},
};

static void
test_bad_lengths(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(bad); i++) {
    g_autoptr(GError) error = NULL;
    double mm = -77;
    g_assert_false(hf_measure_length(bad[i].text, HF_NO_GAUGE, NULL, &mm, &error));
    g_assert_cmpstr(error->message, ==, bad[i].message);
    g_assert_cmpfloat(mm, ==, -77);
  }
}

/* Manufacturers' Standard Gauge and its kin: the figures are test_stock's, here only the way. */
static void
test_gauges(void)
{
  g_autoptr(GError) error = NULL;
  double mm = 0;
  g_assert_true(hf_measure_length("10 ga", HF_GAUGE_ALLOWED, hf_metal("mild steel"), &mm, NULL));
  g_assert_cmpfloat_with_epsilon(mm, 0.1345 * 25.4, 1e-9);
  g_assert_true(hf_measure_length("10 gauge", HF_GAUGE_ALLOWED, hf_metal("aluminium"), &mm, NULL));
  g_assert_cmpfloat_with_epsilon(mm, 0.1019 * 25.4, 1e-9);
  g_assert_true(hf_measure_length("3 mm", HF_GAUGE_ALLOWED, NULL, &mm, NULL));
  g_assert_false(hf_measure_length("10 ga", HF_GAUGE_ALLOWED, NULL, &mm, &error));
  g_assert_cmpstr(error->message, ==,
                  "\"10 ga\": a gauge needs its metal; say the kind of metal, or write the "
                  "thickness in mm or in");
  g_clear_error(&error);
  g_assert_false(hf_measure_length("15 ga", HF_GAUGE_ALLOWED, hf_metal("mild steel"), &mm, &error));
  g_assert_cmpstr(error->message, ==,
                  "\"15 ga\" is not a gauge of mild steel; write 14 ga, or the thickness in mm or "
                  "in");
  g_clear_error(&error);
  g_assert_false(
      hf_measure_length("10.5 ga", HF_GAUGE_ALLOWED, hf_metal("mild steel"), &mm, &error));
}

static void
test_spots(void)
{
  static const struct {
    const char *text;
    HfSpotKind kind;
    double degrees;
  } rows[] = {
      {"top", HF_SPOT_DIRECTION, 90},
      {"Bottom", HF_SPOT_DIRECTION, 270},
      {"left", HF_SPOT_DIRECTION, 180},
      {"right", HF_SPOT_DIRECTION, 0},
      {"top left", HF_SPOT_DIRECTION, 135},
      {"bottom right", HF_SPOT_DIRECTION, 315},
      {"12 o'clock", HF_SPOT_DIRECTION, 90},
      {"3 o'clock", HF_SPOT_DIRECTION, 0},
      {"11 o'clock", HF_SPOT_DIRECTION, 120},
      {"6 o\xe2\x80\x99"
       "clock",
       HF_SPOT_DIRECTION, 270},
      {"1 oclock", HF_SPOT_DIRECTION, 60},
      {"30 deg", HF_SPOT_DIRECTION, 30},
      {"-30 deg", HF_SPOT_DIRECTION, -30},
      {"22.5\xc2\xb0", HF_SPOT_DIRECTION, 22.5},
      {"left end", HF_SPOT_LEFT_END, 0},
      {"right end", HF_SPOT_RIGHT_END, 0},
      {"centre", HF_SPOT_CENTRE, 0},
      {"center", HF_SPOT_CENTRE, 0},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(GError) error = NULL;
    HfSpot spot;
    if (!hf_measure_spot(rows[i].text, &spot, &error))
      g_error("%s: %s", rows[i].text, error->message);
    g_assert_cmpint(spot.kind, ==, rows[i].kind);
    g_assert_cmpfloat_with_epsilon(spot.angle, rows[i].degrees * G_PI / 180, 1e-12);
  }
}

static void
test_bad_spots(void)
{
  static const char general[] =
      "write top, bottom left, 11 o'clock, 30 deg, left end, centre or [10 mm, 20 mm]";
  static const struct {
    const char *text, *fix;
  } rows[] = {
      {"topp", "write \"top\""},
      {"left-end", "write \"left end\""},
      {"13 o'clock", general},
      {"0 o'clock", general},
      {"30", general},
      {"30 rad", general},
      {"north", general},
      {"500 deg", general},
      {"", general},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(GError) error = NULL;
    HfSpot spot;
    g_assert_false(hf_measure_spot(rows[i].text, &spot, &error));
    g_assert_cmpstr(hf_error_fix(error), ==, rows[i].fix);
  }
}

static void
test_shares_and_quantities(void)
{
  HfMeasure measure;
  double value = 0;
  const char *unit = NULL;
  g_assert_true(hf_measure_share("12.5 %", &measure, NULL));
  g_assert_true(measure.is_share);
  g_assert_cmpfloat(measure.value, ==, 0.125);
  g_assert_true(hf_measure_share("-2 mm", &measure, NULL));
  g_assert_false(measure.is_share);
  g_assert_cmpfloat(measure.value, ==, -2);
  g_assert_false(hf_measure_share("12", &measure, NULL));
  g_assert_true(hf_measure_quantity("100 in/min", hf_units_feed, "", &value, NULL));
  g_assert_cmpfloat(value, ==, 2540);
  g_assert_true(hf_measure_quantity("2.6 m/min", hf_units_feed, "", &value, NULL));
  g_assert_cmpfloat(value, ==, 2600);
  g_assert_true(hf_measure_quantity("400 ms", hf_units_time, "", &value, NULL));
  g_assert_cmpfloat(value, ==, 0.4);
  g_assert_false(hf_measure_quantity("2600", hf_units_feed, "", &value, NULL));
  g_assert_true(hf_measure_limit("3 mm", &value, &unit, NULL));
  g_assert_cmpstr(unit, ==, "mm");
  g_assert_true(hf_measure_limit("1/8 in", &value, &unit, NULL));
  g_assert_cmpfloat(value, ==, 3.175);
  g_assert_cmpstr(unit, ==, "mm");
  g_assert_true(hf_measure_limit("10 mm2", &value, &unit, NULL));
  g_assert_cmpstr(unit, ==, "mm2");
  g_assert_true(hf_measure_limit("2 deg", &value, &unit, NULL));
  g_assert_cmpstr(unit, ==, "deg");
  g_assert_true(hf_measure_limit("27 K", &value, &unit, NULL));
  g_assert_cmpstr(unit, ==, "K");
  g_assert_true(hf_measure_limit("4", &value, &unit, NULL));
  g_assert_cmpstr(unit, ==, "");
  g_assert_false(hf_measure_limit("-4 mm", &value, &unit, NULL));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/recipe/measure/good", test_good_lengths);
  g_test_add_func("/recipe/measure/bad", test_bad_lengths);
  g_test_add_func("/recipe/measure/gauge", test_gauges);
  g_test_add_func("/recipe/measure/spots", test_spots);
  g_test_add_func("/recipe/measure/bad-spots", test_bad_spots);
  g_test_add_func("/recipe/measure/others", test_shares_and_quantities);
  return g_test_run();
}

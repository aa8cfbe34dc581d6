/* SPDX-License-Identifier: GPL-3.0-or-later
 * Finishes, colours and walls; RAL against lists that were read in public.
 */
#include "recipe/recipe.h"
#include <math.h>
#include <string.h>

/* CIE 1976 L*a*b* of an sRGB colour, D65 (IEC 61966-2-1 and CIE 15, from memory). */
static void
lab_of(guint rgb, double lab[3])
{
  static const double m[3][3] = {
      {0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}};
  static const double white[3] = {0.9505, 1, 1.089};
  double linear[3], f[3];
  for (int i = 0; i < 3; i++) {
    double v = (rgb >> (16 - 8 * i) & 0xff) / 255.0;
    linear[i] = v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4);
  }
  for (int i = 0; i < 3; i++) {
    double t = (m[i][0] * linear[0] + m[i][1] * linear[1] + m[i][2] * linear[2]) / white[i];
    f[i] = t > 216.0 / 24389 ? cbrt(t) : (24389.0 / 27 * t + 16) / 116;
  }
  lab[0] = 116 * f[1] - 16;
  lab[1] = 500 * (f[0] - f[1]);
  lab[2] = 200 * (f[1] - f[2]);
}

static double
difference(guint a, guint b)
{
  double p[3], q[3];
  lab_of(a, p);
  lab_of(b, q);
  return sqrt((p[0] - q[0]) * (p[0] - q[0]) + (p[1] - q[1]) * (p[1] - q[1]) +
              (p[2] - q[2]) * (p[2] - q[2]));
}

/* w3schools.com/colors/colors_ral.asp, as copied in github.com/MarcBrillault/namedColors, both read
 * on 30 November 2026. It calls its values approximate itself, and they are another set than ours:
 * lists differ by up to 12 among themselves, so no more can be asked. */
static void
test_ral_against_a_public_list(void)
{
  static const struct {
    int number;
    guint rgb;
  } rows[] = {
      {1000, 0xccc58f}, {1001, 0xd1bc8a}, {1002, 0xd2b773}, {1003, 0xf7ba0b}, {1013, 0xe9e5ce},
      {1015, 0xeadebd}, {1024, 0xb89c50}, {1028, 0xffab00}, {2000, 0xdd7907}, {2001, 0xbe4e20},
      {2002, 0xc63927}, {2004, 0xe75b12}, {2009, 0xe15501}, {2010, 0xd4652f}, {3000, 0xab2524},
      {3001, 0xa02128}, {3002, 0xa1232b}, {3003, 0x8d1d2c}, {3004, 0x701f29}, {3005, 0x5e2028},
      {3007, 0x402225}, {3009, 0x703731}, {3011, 0x7e292c}, {3012, 0xcb8d73}, {3015, 0xe1a6ad},
      {3016, 0xac4034}, {3020, 0xc1121c}, {3022, 0xd56d56}, {3027, 0xb42041}, {4001, 0x8a5a83},
      {4003, 0xd15b8f}, {4004, 0x691639}, {4006, 0x992572}, {4007, 0x4a203b}, {4010, 0xc63678},
      {5003, 0x2a3756}, {5004, 0x1d1f2a}, {5008, 0x313c48}, {5014, 0x6c7c98}, {9005, 0x0a0a0d}};
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    const HfRal *ral = hf_ral(rows[i].number);
    g_assert_nonnull(ral);
    g_test_message("RAL %d: %.1f", rows[i].number, difference(ral->rgb, rows[i].rgb));
    g_assert_cmpfloat(difference(ral->rgb, rows[i].rgb), <, 12);
  }
}

/* The table that opens "RAL Classic color table (CSV)" of github.com/lunohodov, its first rows as
 * read on 30 November 2026, and a second public copy of the same set read on the same day
 * (file 60277937411 of the project's store): equal but for rounding. */
static void
test_ral_against_another(void)
{
  static const struct {
    int number;
    guint rgb;
  } rows[] = {
      {1000, 0xcdba88}, {1001, 0xd0b084}, {1002, 0xd2aa6d}, {1003, 0xf9a900}, {1013, 0xe3d9c6},
      {1015, 0xe6d2b5}, {3000, 0xa72920}, {3004, 0x6b1c23}, {3005, 0x59191f}, {3009, 0x6d342d},
      {3020, 0xbb1e10}, {5011, 0x1a2b3c}, {5013, 0x193153}, {5014, 0x637d96}, {6005, 0x0f4336},
      {6016, 0x00694c}, {7015, 0x51565c}, {7016, 0x373f43}, {7021, 0x2e3234}, {8019, 0x3d3635},
      {8024, 0x795038}, {9001, 0xe9e0d2}, {9002, 0xd7d5cb}, {9003, 0xecece7}, {9004, 0x2b2b2c},
      {9005, 0x0e0e10}, {9010, 0xf1ece1}, {9011, 0x27292b}, {9016, 0xf1f0ea}, {9017, 0x2a292a}};
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_test_message("RAL %d", rows[i].number);
    g_assert_cmpfloat(difference(hf_ral(rows[i].number)->rgb, rows[i].rgb), <, 3);
  }
}

static void
test_ral_is_in_order(void)
{
  g_assert_cmpint(hf_ral_at(0)->number, ==, 1000);
  for (guint i = 1; hf_ral_at(i) != NULL; i++)
    g_assert_cmpint(hf_ral_at(i)->number, >, hf_ral_at(i - 1)->number);
  g_assert_null(hf_ral(1026)); /* luminous: no screen shows it */
  g_assert_null(hf_ral(9999));
}

static HfRecipe *
read_with(const char *metal, const char *line, GError **error)
{
  g_autofree char *text =
      g_strdup_printf("holdfast: 1\nmetal: {kind: %s, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
                      "%s\nentries:\n  - plate: {shape: round, diameter: 200 mm}\n",
                      metal, line);
  return hf_recipe_read(text, strlen(text), "sign.yaml", error);
}

static void
test_finishes_read(void)
{
  static const struct {
    const char *line, *text;
    double coat;
  } rows[] = {
      {"finish: raw", "raw", 0},
      {"finish: oiled", "oiled", 0},
      {"finish: rusted", "rusted", 0},
      {"finish: Brushed", "brushed", 0},
      {"finish: powder coat RAL 9005", "powder coat RAL 9005 (jet black)", 0.08},
      {"finish: powder coat dark green", "powder coat dark green", 0.08},
      {"finish: {powder coat: ral7016}", "powder coat RAL 7016 (anthracite grey)", 0.08},
      {"finish: {powder coat: RAL 9005, coat: 0.12 mm}", "powder coat RAL 9005 (jet black)", 0.12},
      {"finish: {paint: \"#1f3d2b\", coat: 0.06 mm}", "paint #1F3D2B", 0.06},
      {"finish: paint cream", "paint cream", 0.05},
      {"", NULL, 0}};
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(GError) error = NULL;
    g_autoptr(HfRecipe) recipe = read_with("mild steel", rows[i].line, &error);
    g_assert_no_error(error);
    g_autofree char *text = hf_finish_text(&recipe->finish);
    g_assert_cmpstr(text, ==, rows[i].text);
    g_assert_cmpfloat_with_epsilon(hf_finish_coat(&recipe->finish), rows[i].coat, 1e-12);
  }
}

static void
test_finishes_refused(void)
{
  static const struct {
    const char *metal, *line, *says;
  } rows[] = {
      {"mild steel", "finish: chrome", "finish can't be \"chrome\""},
      {"mild steel", "finish: bare", "write raw"},
      {"mild steel", "finish: powder coat", "the powder coat has no colour"},
      {"mild steel", "finish: powder coat RAL 9999", "RAL 9999 is no colour of RAL Classic"},
      {"mild steel", "finish: paint blackk", "write \"black\""},
      {"mild steel", "finish: {powder coat: black, paint: black}", "can't be both"},
      {"mild steel", "finish: {coat: 0.1 mm}", "needs \"powder coat\" or \"paint\""},
      {"mild steel", "finish: {powder coat: black, coat: 3 mm}",
       "coat is 3 mm, which is too large"},
      {"mild steel", "finish: {powdercoat: black}", "write \"powder coat\""},
      {"aluminium", "finish: rusted", "aluminium does not rust"},
      {"stainless steel", "finish: rusted", "stainless steel does not rust"},
      {"mild steel", "wall: brickk", "write \"brick\""},
      {"mild steel", "wall: marble", "write plaster"},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(GError) error = NULL;
    g_autoptr(HfRecipe) recipe = read_with(rows[i].metal, rows[i].line, &error);
    g_assert_null(recipe);
    g_test_message("%s: %s", rows[i].line, error->message);
    g_assert_nonnull(strstr(error->message, rows[i].says));
  }
}

static void
test_walls(void)
{
  for (guint i = 0; hf_wall_words()[i] != NULL; i++) {
    HfWall wall = {0};
    g_assert_true(hf_wall_read(hf_wall_words()[i], &wall, NULL));
    g_autofree char *text = hf_wall_text(&wall);
    g_assert_cmpstr(text, ==, hf_wall_words()[i]);
  }
  HfWall plain = {0};
  g_assert_true(hf_wall_read("RAL 1015", &plain, NULL));
  g_assert_cmphex(hf_wall_tone(&plain), ==, hf_ral(1015)->rgb);
}

/* Everything that can be said looks like something, and no two bare finishes alike. */
static void
test_looks(void)
{
  guint seen[HF_N_FINISHES];
  for (int kind = HF_FINISH_RAW; kind <= HF_FINISH_BRUSHED; kind++) {
    HfFinish finish = {.kind = (HfFinishKind)kind};
    seen[kind] = hf_finish_surface(&finish, "mild steel").tones[1];
    for (int other = HF_FINISH_RAW; other < kind; other++)
      g_assert_cmpfloat(difference(seen[kind], seen[other]), >, 5);
  }
  HfFinish powder = {.kind = HF_FINISH_POWDER};
  g_assert_true(hf_colour_read("RAL 9005", &powder.powder, NULL));
  g_assert_cmphex(hf_finish_surface(&powder, "aluminium").tones[1], ==, hf_ral(9005)->rgb);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/finish/ral", test_ral_against_a_public_list);
  g_test_add_func("/finish/ral/another", test_ral_against_another);
  g_test_add_func("/finish/ral/order", test_ral_is_in_order);
  g_test_add_func("/finish/read", test_finishes_read);
  g_test_add_func("/finish/refused", test_finishes_refused);
  g_test_add_func("/finish/walls", test_walls);
  g_test_add_func("/finish/looks", test_looks);
  return g_test_run();
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_words_fill.c - bites measured by brute force: words that fill a band, contacts, flat ends.
 *
 * The oracle knows the letters of the kit: I, H, T, V and ' end flat at the capital height (I, H,
 * T, V at the baseline too), so every point of such an end must bite; O, i's dot and p's bowl end
 * round, so their deepest point must. It samples placed outlines; it shares no code with contact.c.
 */
#include "layout/fill-private.h"
#include "words_kit.h"

enum { ROUNDS = 80, DENSE = 2000 };

typedef struct {
  double least, deepest;
} Bites;

static gboolean
ends_flat(double y, HfSide side, char letter)
{
  if (side == HF_SIDE_TOPS)
    return strchr("IHTV'", letter) != NULL && fabs(y - 0.7) < 1e-9;
  return (strchr("IHTVi", letter) != NULL && fabs(y) < 1e-9) ||
         (letter == 'p' && fabs(y + 0.2) < 1e-9) || (letter == ',' && fabs(y + 0.1) < 1e-9);
}

static gboolean
ends_round(char letter, guint contour, HfSide side)
{
  if (letter == 'O')
    return contour == 0;
  if (side == HF_SIDE_TOPS)
    return letter == 'i' && contour == 1;
  return letter == 'p' && contour == 1;
}

/* Depth of a placed point into the ring that this side stands to. */
static double
sampled_depth(const HfBand *band, gboolean to_outer, HfPoint p)
{
  return to_outer ? hf_point_length(p) - band->outer : band->inner - hf_point_length(p);
}

static void
take_contour(const HfLetter *letter, guint contour, HfMatrix em, const HfBand *band, HfSide side,
             gboolean to_outer, Bites *bites)
{
  guint n;
  const HfCurve *curve = hf_outline_contour(letter->outline, contour, &n);
  double round = -INFINITY;
  for (guint i = 0; i < n * DENSE; i++) {
    HfPoint p = hf_curve_point(&curve[i / DENSE], (double)(i % DENSE) / DENSE);
    double depth = sampled_depth(band, to_outer, hf_matrix_apply(em, p));
    bites->deepest = MAX(bites->deepest, depth);
    round = MAX(round, depth);
    if (ends_flat(p.y, side, letter->text[0]))
      bites->least = MIN(bites->least, depth);
  }
  if (ends_round(letter->text[0], contour, side))
    bites->least = MIN(bites->least, round);
}

static Bites
sampled_bites(const HfWording *wording, const HfSetting *s, const HfBand *band, HfSide side)
{
  Bites bites = {INFINITY, -INFINITY};
  g_autoptr(HfPlaced) placed = hf_place_round(wording, s, 0);
  for (guint i = 0; i < wording->letters->len; i++) {
    const HfLetter *letter = hf_wording_letter(wording, i);
    for (guint k = 0; letter->outline != NULL && k < hf_outline_n_contours(letter->outline); k++)
      take_contour(letter, k, hf_placed_letter(placed, i)->em, band, side,
                   (side == HF_SIDE_TOPS) != s->inward, &bites);
  }
  return bites;
}

static HfBand
some_band(GRand *rand)
{
  double middle = g_rand_double_range(rand, 150, 500), high = g_rand_double_range(rand, 30, 90);
  HfBand band = {.inner = middle - high / 2, .outer = middle + high / 2};
  band.inner_far = band.inner - g_rand_double_range(rand, 30, 40);
  band.outer_far = band.outer + g_rand_double_range(rand, 20, 30);
  band.bite = g_rand_double_range(rand, 0.8, 4);
  return band;
}

static gboolean
solve(const HfWording *wording, HfSetting *s, const HfBand *band, HfCrown **feet, HfCrown **tops,
      HfFilled *filled)
{
  double reach = HF_REACH * wording->cap;
  g_autoptr(HfCrown) all_feet = hf_crown_new(wording, HF_SIDE_FEET, -1, reach);
  g_autoptr(HfCrown) all_tops = hf_crown_new(wording, HF_SIDE_TOPS, -1, reach);
  return hf_fill_solve(all_feet, all_tops, s, band, feet, tops, filled);
}

static void
test_fill(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(51);
  for (int round = 0; round < ROUNDS; round++) {
    g_autoptr(Kit) kit = kit_new();
    g_autofree char *some = kit_text(rand, "IHTOVp',i- ", 5);
    g_autofree char *text = g_strconcat("H", some, NULL);
    g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, text, rand, round % 2 == 0));
    HfBand band = some_band(rand);
    HfSetting s = {.wide = round % 4 == 0 ? 0.9 : 1, .inward = g_rand_boolean(rand)};
    g_autoptr(HfCrown) feet = NULL;
    g_autoptr(HfCrown) tops = NULL;
    HfFilled filled;
    g_assert_true(solve(wording, &s, &band, &feet, &tops, &filled));
    Bites foot = sampled_bites(wording, &s, &band, HF_SIDE_FEET);
    Bites top = sampled_bites(wording, &s, &band, HF_SIDE_TOPS);
    g_test_message("%s inward %d: %.6f %.6f want %.6f", text, s.inward, foot.least, top.least,
                   band.bite);
    g_assert_cmpfloat(fabs(foot.least - band.bite), <, 1e-4);
    g_assert_cmpfloat(fabs(top.least - band.bite), <, 1e-4);
    double width = s.inward ? band.inner - band.inner_far : band.outer_far - band.outer;
    g_assert_cmpfloat(fabs(top.deepest - width - filled.top_shows), <, 1e-3);
  }
}

/* Bent letters: tops and feet are circles about the centre, so level tops all bite alike. */
static void
test_fill_bent(void)
{
  g_autoptr(Kit) kit = kit_new();
  g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, "HIT", NULL, FALSE));
  HfBand band = {400, 460, 380, 480, 2};
  HfSetting s = {.wide = 1, .bent = TRUE};
  g_autoptr(HfCrown) feet = NULL;
  g_autoptr(HfCrown) tops = NULL;
  HfFilled filled;
  g_assert_true(solve(wording, &s, &band, &feet, &tops, &filled));
  g_assert_cmpfloat(fabs(s.size * 0.7 - 64), <, 1e-6); /* 60 mm of band and two bites */
  g_assert_cmpfloat(fabs(s.radius - 398), <, 1e-6);
}

/* An accent as high as a narrow ring can't hide: only what is nearly as high can reach. */
static void
test_reach_gives_in(void)
{
  g_autoptr(Kit) kit = kit_new();
  g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, "IHi", NULL, FALSE));
  HfBand band = {400, 460, 380, 463, 2}; /* ring of 3 mm; the dot is 0.02 ems above the capitals */
  HfSetting s = {.wide = 1};
  g_autoptr(HfCrown) feet = NULL;
  g_autoptr(HfCrown) tops = NULL;
  HfFilled filled;
  g_assert_true(solve(wording, &s, &band, &feet, &tops, &filled));
  g_assert_cmpfloat(filled.top_shows, <=, 1e-6);
  g_assert_cmpfloat(fabs(filled.least_top - 2), <, 1e-6);
}

/* T's flat top on a concave edge: shallowest half way; H has two contacts a side; O one. */
static void
test_contacts(void)
{
  g_autoptr(Kit) kit = kit_new();
  g_autoptr(HfWording) wording = hf_wording_from_line(kit_line(kit, "THO", NULL, FALSE));
  HfBand band = {300, 360, 270, 390, 2};
  HfSetting s = {.wide = 1};
  g_autoptr(HfCrown) feet = NULL;
  g_autoptr(HfCrown) tops = NULL;
  HfFilled filled;
  g_assert_true(solve(wording, &s, &band, &feet, &tops, &filled));
  HfBiteEdge edge = hf_fill_edge(&band, &s, HF_SIDE_TOPS);
  g_autoptr(GArray) contacts = hf_crown_contacts(tops, &edge);
  g_assert_cmpuint(contacts->len, ==, 4);
  const HfBiteMark *t = &g_array_index(contacts, HfBiteMark, 0);
  g_assert_cmpuint(t->letter, ==, 0);
  g_assert_cmpfloat(fabs(t->em.x), <, 1e-6);
  for (guint i = 0; i < contacts->len; i++)
    g_assert_cmpfloat(g_array_index(contacts, HfBiteMark, i).depth, >=, 2 - 1e-6);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/words/fill/band", test_fill);
  g_test_add_func("/words/fill/bent", test_fill_bent);
  g_test_add_func("/words/fill/reach-gives-in", test_reach_gives_in);
  g_test_add_func("/words/fill/contacts", test_contacts);
  return g_test_run();
}

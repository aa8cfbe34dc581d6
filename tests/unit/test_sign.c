/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_sign.c - a sign that was made stays as it is, whatever is made of it; what two signs share
 * lives as long as the longer lived of them. t = 3 mm, k = 1.5 mm.
 */
#include "mend/mend.h"
#include "out/out.h"
#include "tie/tie.h"
#include <string.h>

#define HEAD "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
/* A ring, a bead in it that would fall out, and in the bead a port that is too small to cut: the
 * tie rule and the mending rule each have something to do. Ties are asked for narrower than their
 * limit.
 */
#define HARBOUR                                                                                    \
  HEAD "entries:\n"                                                                                \
       "  - ring: {name: rim, outer: 240 mm, width: 20 mm}\n"                                      \
       "  - dot: {name: bead, diameter: 60 mm}\n"                                                  \
       "  - hole: {name: port, diameter: 3 mm, hanging: no, at: [10 mm, 0 mm]}\n"                  \
       "  - ties: {name: bars, width: 1 mm}\n"                                                     \
       "  - mend: {name: put right, enlarge: yes}\n"

enum { BARS = 3, MENDING = 4 };

static HfSign *
drawn(const char *text, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), "harbour.yaml", error);
  g_assert_no_error(*error);
  g_autoptr(HfShop) shop = hf_shop_find("/nowhere/harbour.yaml", error);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  return hf_sign_new(recipe, shop, fonts, HF_SIGN_CHECKED, cancel, error);
}

/* All that can be said of it. */
static GBytes *
told(const HfSign *sign)
{
  return hf_out_report(sign, &(HfReportMore){NULL});
}

static void
assert_same(GBytes *a, GBytes *b)
{
  g_assert_true(g_bytes_equal(a, b));
}

/* Each pass makes another sign; what the ones before say does not change, not even the notes. */
static void
test_passes_leave_the_given(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfSign) first = drawn(HARBOUR, NULL, &error);
  g_assert_no_error(error);
  g_autoptr(GBytes) first_told = told(first);
  guint n = first->layout->shapes->len;
  g_autoptr(HfSign) tied = hf_tie(first, BARS, HF_SIGN_CHECKED, NULL, &error);
  g_assert_no_error(error);
  g_autoptr(GBytes) tied_told = told(tied);
  g_autoptr(HfSign) mended = hf_mend(tied, MENDING, HF_SIGN_CHECKED, NULL, &error);
  g_assert_no_error(error);
  g_autoptr(GBytes) first_again = told(first), tied_again = told(tied);
  assert_same(first_told, first_again);
  assert_same(tied_told, tied_again);
  g_assert_cmpuint(first->layout->shapes->len, ==, n);
  g_assert_cmpuint(first->works->len, ==, 0);
  g_assert_cmpuint(tied->layout->shapes->len, ==, n + hf_sign_work(tied, 0)->shapes->len);
  g_assert_cmpuint(hf_sign_work(tied, 0)->ties->len, >, 0);
  g_assert_cmpuint(first->layout->notes->len, ==, 0);
  g_assert_cmpuint(tied->layout->notes->len, ==, 1); /* ties wider than was asked */
  g_assert_cmpuint(tied->layout->solved->len, ==, first->layout->solved->len + 1);
  g_assert_cmpuint(mended->works->len, ==, 2);
  g_assert_cmpuint(hf_sign_work(mended, 1)->shapes->len, >, 0); /* the port, large enough */
  g_assert_true(mended->hold->whole);
}

/* What a pass leaves alone is the same thing, not a copy of it. */
static void
test_passes_share(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfSign) first = drawn(HARBOUR, NULL, &error);
  g_autoptr(HfSign) tied = hf_tie(first, BARS, HF_SIGN_CHECKED, NULL, &error);
  g_assert_true(tied->recipe == first->recipe && tied->shop == first->shop);
  g_assert_true(tied->layout->hangs == first->layout->hangs);
  g_assert_true(tied->layout->missed == first->layout->missed);
  for (guint i = 0; i < first->layout->shapes->len; i++)
    g_assert_true(tied->layout->shapes->pdata[i] == first->layout->shapes->pdata[i]);
  /* nothing is loose any more: a second pass of the rule has nothing to lay */
  g_autoptr(HfSign) again = hf_tie(tied, BARS, HF_SIGN_CHECKED, NULL, &error);
  g_assert_true(again->layout == tied->layout && again->hold == tied->hold);
  g_assert_cmpuint(again->works->len, ==, 2);
  g_assert_cmpuint(tied->works->len, ==, 1);
}

/* True arcs where they were asked for; who has them gives them on. */
static void
test_arcs(void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfSign) plain = drawn(HARBOUR, NULL, &error);
  g_assert_null(plain->fit);
  g_autoptr(HfSign) fitted = hf_sign_fitted(plain), same = hf_sign_fitted(fitted);
  g_assert_null(plain->fit);
  g_assert_nonnull(fitted->fit);
  g_assert_true(same == fitted && fitted->metal == plain->metal);
  g_autoptr(HfSign) tied = hf_tie(fitted, BARS, HF_SIGN_SHOWN, NULL, &error);
  g_assert_true(tied->fit != NULL && tied->fit != fitted->fit);
}

/* The one before goes first: what the next one has of it stays. Under the address sanitizer this
 * says that nothing is freed too early, or never. */
static void
test_lives_on(void)
{
  g_autoptr(GError) error = NULL;
  HfSign *first = drawn(HARBOUR, NULL, &error);
  HfSign *tied = hf_tie(first, BARS, HF_SIGN_SHOWN, NULL, &error);
  hf_sign_free(first);
  g_autoptr(GBytes) before = told(tied);
  HfSign *mended = hf_mend(tied, MENDING, HF_SIGN_SHOWN, NULL, &error);
  hf_sign_free(mended);
  g_autoptr(GBytes) after = told(tied);
  assert_same(before, after);
  hf_sign_free(tied);
}

static gpointer
hold_on_and_let_go(gpointer data)
{
  for (guint i = 0; i < 1000; i++) {
    g_autoptr(HfSign) own = hf_sign_ref(data);
    g_autoptr(HfSign) next = hf_sign_worked(own, hf_work_new(BARS));
    g_assert_cmpuint(next->works->len, ==, own->works->len + 1);
  }
  return NULL;
}

/* In several threads at once: the last one out, whoever it is, frees it. */
static void
test_threads(void)
{
  enum { THREADS = 4 };
  g_autoptr(GError) error = NULL;
  HfSign *sign = drawn(HARBOUR, NULL, &error);
  GThread *threads[THREADS];
  for (guint i = 0; i < THREADS; i++)
    threads[i] = g_thread_new("owner", hold_on_and_let_go, sign);
  for (guint i = 0; i < THREADS; i++)
    g_thread_join(threads[i]);
  g_assert_cmpint(sign->others, ==, 0);
  g_assert_cmpint(sign->layout->others, ==, 0);
  g_assert_cmpint(sign->recipe->others, ==, 0);
  hf_sign_free(sign);
}

/* What planning finds makes another sign of it: not whole where it is a stop; the given stays. */
static void
test_found(void)
{
  static const char plate[] =
      "holdfast: 1\nsign: Plate\nmetal: {kind: mild steel, thickness: 3 mm}\n"
      "process: {kerf: 1.5 mm}\nentries:\n"
      "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 100 mm}\n";
  g_autoptr(GError) error = NULL;
  g_autoptr(HfSign) given = drawn(plate, NULL, &error);
  g_assert_no_error(error);
  g_assert_true(given->hold->whole);
  const HfCutFound doubt = {HF_LAW_PROGRAM_DOUBT, {NAN, NAN}, HF_LAYER_UNSAID, NULL, "it tips"};
  const HfCutFound stop = {
      HF_LAW_NO_WAY_IN, {3, 4}, HF_LAYER_BACK, "hole 1", "the torch can't start here"};
  g_autoptr(HfSign) noted = hf_sign_with_found(given, &doubt, 1);
  g_assert_true(noted->hold->whole);
  g_assert_cmpuint(noted->hold->findings->len, ==, given->hold->findings->len + 1);
  g_autoptr(HfSign) stopped = hf_sign_with_found(noted, &stop, 1);
  g_assert_false(stopped->hold->whole);
  const HfFinding *first = hf_sign_finding(stopped, 0);
  g_assert_cmpint(first->gravity, ==, HF_STOP);
  g_assert_cmpstr(first->text, ==,
                  "back: hole 1: the torch can't start here; make it larger, or leave it out and "
                  "drill it");
  g_assert_cmpint(first->layer, ==, HF_LAYER_BACK);
  g_assert_true(given->hold->whole && noted->hold->whole);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/sign/passes-leave-the-given", test_passes_leave_the_given);
  g_test_add_func("/sign/passes-share", test_passes_share);
  g_test_add_func("/sign/arcs", test_arcs);
  g_test_add_func("/sign/lives-on", test_lives_on);
  g_test_add_func("/sign/found", test_found);
  g_test_add_func("/sign/threads", test_threads);
  return g_test_run();
}

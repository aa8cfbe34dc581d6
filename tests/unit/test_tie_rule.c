/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_cure_ties.c - ties on shapes whose best ties are known in closed form. Limits: t = 3 mm,
 * k = 1.5 mm: web 3 mm, long web 3.6 mm, a tie 1.25 times that (handbook 3.1, common practice, no
 * source).
 */
#include "enough.h"
#include "hold-fixture.h"
#include "tie/offers-private.h"
#include "tie/tie.h"

#define SHORT 3.75
#define LONG  4.5

static HfEntry *
add_rule(Sign *sign)
{
  HfEntry *entry = g_new0(HfEntry, 1);
  entry->kind = HF_ENTRY_TIES;
  entry->name = g_strdup("ties 1");
  entry->ties.width = NAN;
  entry->ties.of = g_ptr_array_new_with_free_func(g_free);
  entry->ties.not_on = g_ptr_array_new_with_free_func(g_free);
  entry->ties.keep_free = g_array_new(FALSE, TRUE, sizeof(HfSpot));
  g_ptr_array_add(sign->recipe.entries, entry);
  return entry;
}

static void
free_rule(HfEntry *entry)
{
  g_ptr_array_unref(entry->ties.of);
  g_ptr_array_unref(entry->ties.not_on);
  g_array_unref(entry->ties.keep_free);
}

static HfWork *
work_out(Sign *sign, const HfEntry *rule)
{
  g_autoptr(GError) error = NULL;
  sign_check(sign);
  guint entry = 0;
  while (sign->recipe.entries->pdata[entry] != rule)
    entry++;
  HfSign given = sign_whole(sign);
  HfWork *work = hf_tie_work(&given, entry, 1, NULL, &error);
  g_assert_no_error(error);
  return work;
}

/* Lays the ties and checks again. */
static const HfHold *
check_tied(Sign *sign, HfWork *work)
{
  for (guint i = 0; i < work->shapes->len; i++)
    g_ptr_array_add(sign->layout.shapes, hf_shape_ref(work->shapes->pdata[i]));
  return sign_check(sign);
}

static const HfTie *
tie_at(const HfWork *work, guint i)
{
  return &g_array_index(work->ties, HfTie, i);
}

static void
add_circle(Sign *sign, const char *name, double x, double y, double radius, gboolean opening)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(x, y), radius);
  sign_add(sign, HF_ENTRY_PLATE, name, outline, opening);
}

/* A round island in a round window, @gap between them: one bar along a radius, upright, at the
 * foot, shows about width times gap. */
static void
test_island(void)
{
  static const struct {
    double gap, width;
  } cases[] = {{8, SHORT}, {9.5, LONG}, {30, LONG}};
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    add_circle(sign, "plate", 40, -20, 100, FALSE);
    add_circle(sign, "window", 40, -20, 15 + cases[i].gap, TRUE);
    add_circle(sign, "island", 40, -20, 15, FALSE);
    HfEntry *rule = add_rule(sign);
    g_autoptr(HfWork) work = work_out(sign, rule);
    g_assert_cmpuint(work->ties->len, ==, 1);
    g_assert_cmpuint(work->untied->len, ==, 0);
    const HfTie *tie = tie_at(work, 0);
    g_assert_cmpfloat_with_epsilon(tie->width, cases[i].width, 1e-9);
    g_assert_cmpfloat_with_epsilon(tie->from.x, 40, 0.01);
    g_assert_cmpfloat_with_epsilon(tie->from.y, -20 - 15, 0.02);
    g_assert_cmpfloat_with_epsilon(tie->to.y, -20 - 15 - cases[i].gap, 0.02);
    /* between two arcs the bar is longer or shorter at its sides by r - sqrt(r2 - w2 / 4) */
    g_assert_cmpfloat_with_epsilon(tie->area, cases[i].width * cases[i].gap, 1);
    g_assert_cmpfloat(work->bound, <=, work->area + 1e-6);
    g_assert_cmpfloat(work->area, <=, work->cost);
    const HfHold *hold = check_tied(sign, work);
    g_assert_true(hold->whole);
    g_assert_null(sign_find(hold, HF_LAW_LOOSE_PART));
    g_assert_null(sign_find(hold, HF_LAW_THIN_WEB));
    g_assert_null(sign_find(hold, HF_LAW_THIN_LONG_WEB));
    g_assert_null(sign_find(hold, HF_LAW_ONE_TIE));
    free_rule(rule);
  }
}

/* An island that reaches farther than 40 mm gets two, opposite each other. */
static void
test_far(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", -150, -100, 150, 100);
  sign_cut_box(sign, "window", -40, -80, 40, 80);
  sign_add_box(sign, "island", -20, -60, 20, 60);
  HfEntry *rule = add_rule(sign);
  g_autoptr(HfWork) work = work_out(sign, rule);
  g_assert_cmpuint(work->ties->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    g_assert_cmpfloat_with_epsilon(tie_at(work, i)->from.x, 0, 0.01);
  g_assert_cmpfloat_with_epsilon(tie_at(work, 0)->from.y, 60, 0.01);
  g_assert_cmpfloat_with_epsilon(tie_at(work, 1)->from.y, -60, 0.01);
  const HfHold *hold = check_tied(sign, work);
  g_assert_true(hold->whole);
  g_assert_null(sign_find(hold, HF_LAW_ONE_TIE));
  free_rule(rule);
}

/* A dot over its stem, with a wall nearer than the stem: it goes to its own letter. */
static void
test_dot(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "bar", -60, -20, 60, 0);
  sign_add_box(sign, "wall", 14, -10, 24, 70);
  HfOutline *outline = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{-5, -5}, {5, 40}}, 0);
  hf_outline_add_circle(outline, hf_point(0, 54), 6);
  HfShape *letter = sign_shape(sign, sign_add(sign, HF_ENTRY_WORDS, "w", outline, FALSE));
  letter->letter = 0;
  letter->em = (HfMatrix){60, 0, 0, 60, -8, 0};
  HfEntry *rule = add_rule(sign);
  g_autoptr(HfWork) work = work_out(sign, rule);
  g_assert_cmpuint(work->ties->len, ==, 1);
  const HfTie *tie = tie_at(work, 0);
  g_assert_cmpfloat_with_epsilon(tie->to.x, 0, 0.01);
  g_assert_cmpfloat_with_epsilon(tie->to.y, 40, 0.01);
  g_assert_cmpfloat_with_epsilon(tie->em.x, 8 / 60.0, 0.01);
  g_assert_true(g_str_has_prefix(tie->label, "tie 1 of "));
  g_assert_true(check_tied(sign, work)->whole);
  free_rule(rule);
}

/* What stands behind another loose part hangs on it. */
static void
test_chain(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "body", -50, -50, 0, 50);
  sign_add_box(sign, "near", 10, -10, 30, 10);
  sign_add_box(sign, "far", 40, -10, 60, 10);
  HfEntry *rule = add_rule(sign);
  g_autoptr(HfWork) work = work_out(sign, rule);
  g_assert_cmpuint(work->ties->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    g_assert_cmpfloat_with_epsilon(tie_at(work, i)->from.y, 0, 0.01);
  const HfHold *hold = check_tied(sign, work);
  g_assert_cmpuint(hold->parts->len, ==, 1);
  free_rule(rule);
}

/* Directions that are asked for, and one that leaves no way. */
static void
test_asked(void)
{
  for (int level = 0; level < 2; level++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    sign_add_box(sign, "board", -100, -100, 100, 100);
    sign_cut_box(sign, "window", -20, -22, 20, 22);
    sign_add_box(sign, "island", -12, -10, 12, 10);
    HfEntry *rule = add_rule(sign);
    rule->ties.direction = level ? HF_TIE_LEVEL : HF_TIE_UPRIGHT;
    rule->ties.count = 2;
    rule->ties.width = 6;
    g_autoptr(HfWork) work = work_out(sign, rule);
    g_assert_cmpuint(work->ties->len, ==, 2);
    for (guint i = 0; i < 2; i++) {
      const HfTie *tie = tie_at(work, i);
      g_assert_cmpfloat_with_epsilon(tie->width, 6, 1e-9);
      HfPoint way = hf_point_sub(tie->to, tie->from);
      g_assert_cmpfloat_with_epsilon(level ? way.y : way.x, 0, 1e-6);
      g_assert_cmpfloat_with_epsilon(hf_point_length(way), level ? 8 : 12, 0.01);
    }
    free_rule(rule);
  }
}

static void
test_untied(void)
{
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  sign_add_box(sign, "board", -100, -100, 100, 100);
  sign_cut_box(sign, "window", -20, -20, 20, 20);
  sign_add_box(sign, "island", -1, -10, 1, 10); /* nowhere as wide as a tie */
  HfEntry *rule = add_rule(sign);
  g_autoptr(HfWork) work = work_out(sign, rule);
  g_assert_cmpuint(work->ties->len, ==, 0);
  g_assert_cmpuint(work->untied->len, ==, 1);
  const HfUntied *untied = &g_array_index(work->untied, HfUntied, 0);
  g_assert_cmpstr(untied->name, ==, "plate \"island\"");
  g_assert_nonnull(untied->why);
  g_assert_nonnull(untied->help);
  free_rule(rule);
}

/* The same sign turned by any angle has the same ties, turned. */
static void
test_turned(void)
{
  HfPoint first[4];
  for (int k = 0; k < 5; k++) {
    g_autoptr(Sign) sign = sign_new(3, 1.5);
    HfMatrix m = hf_matrix_then(hf_matrix_turn(0.3 * k), hf_matrix_move(10.3 * k, -7.1 * k));
    static const HfBox boxes[] = {{{-100, -100}, {100, 100}},
                                  {{-40, -40}, {40, 40}},
                                  {{-30, -22}, {-4, 20}},
                                  {{4, -26}, {33, 15}}};
    for (guint i = 0; i < G_N_ELEMENTS(boxes); i++) {
      HfOutline *plain = hf_outline_new(), *outline = hf_outline_new();
      hf_outline_add_rectangle(plain, boxes[i], 0);
      hf_outline_append(outline, plain, m);
      hf_outline_free(plain);
      guint shape = sign_add(sign, HF_ENTRY_PLATE, i == 2 ? "left" : "other", outline, i == 1);
      sign_shape(sign, shape)->em = m;
    }
    HfEntry *rule = add_rule(sign);
    g_autoptr(HfWork) work = work_out(sign, rule);
    g_assert_cmpuint(work->ties->len, ==, 2);
    for (guint i = 0; i < 2; i++) {
      const HfTie *tie = tie_at(work, i);
      HfPoint back[2] = {tie->em, hf_point_polar(hf_point(0, 0), 1, tie->angle)};
      for (int j = 0; j < 2; j++) {
        if (k == 0)
          first[2 * i + j] = back[j];
        g_assert_cmpfloat(hf_point_distance(first[2 * i + j], back[j]), <, 0.01);
      }
    }
    free_rule(rule);
  }
}

/* A lace of a thousand dots (a sanitizer: 250), each 5 mm from the next: each held, a tie each. */
static void
test_lace(void)
{
  int columns = 40, rows = (int)enough(25);
  g_autoptr(Sign) sign = sign_new(3, 1.5);
  double step = 17, wide = columns * step, high = rows * step;
  sign_add_box(sign, "frame", -30, -30, wide + 30, high + 30);
  sign_cut_box(sign, "window", 0, 0, wide, high);
  HfOutline *dots = hf_outline_new();
  for (int i = 0; i < columns * rows; i++)
    hf_outline_add_circle(dots, hf_point(step * (i % columns + 0.5), step * (i / columns + 0.5)),
                          6);
  sign_add(sign, HF_ENTRY_PLATE, "lace", dots, FALSE);
  HfEntry *rule = add_rule(sign);
  gint64 from = g_get_monotonic_time();
  g_autoptr(HfWork) work = work_out(sign, rule);
  g_test_message("%d dots: check and ties in %.2f s", columns * rows,
                 (double)(g_get_monotonic_time() - from) * 1e-6);
  g_assert_cmpuint(work->untied->len, ==, 0);
  g_assert_cmpuint(work->ties->len, ==, (guint)(columns * rows));
  g_assert_cmpuint(check_tied(sign, work)->parts->len, ==, 1);
  free_rule(rule);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/cure/ties/island", test_island);
  g_test_add_func("/cure/ties/far", test_far);
  g_test_add_func("/cure/ties/dot", test_dot);
  g_test_add_func("/cure/ties/chain", test_chain);
  g_test_add_func("/cure/ties/asked", test_asked);
  g_test_add_func("/cure/ties/untied", test_untied);
  g_test_add_func("/cure/ties/turned", test_turned);
  g_test_add_func("/cure/ties/lace", test_lace);
  return g_test_run();
}

/* SPDX-License-Identifier: GPL-3.0-or-later
 * Parts, body, what falls and what may stand alone; cutting a region along chords.
 */
#include "sign.h"
#include "thin/splice.h"
#include <string.h>

#define near(a, b, eps) g_assert_cmpfloat_with_epsilon(a, b, eps)

static HfBox
box(double x0, double y0, double x1, double y1)
{
  return (HfBox){{x0, y0}, {x1, y1}};
}

static void
bar(Sign *sign, const char *name, HfBox b)
{
  hf_outline_add_rectangle(sign_add(sign, HF_ENTRY_BAR, name, FALSE), b, 0);
}

static const HfPart *
part(const Sign *sign, guint i)
{
  return &g_array_index(sign->hold->parts, HfPart, i);
}

static guint
count(const Sign *sign, HfLawKind kind)
{
  guint n = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *f = sign->hold->findings->pdata[i];
    n += f->kind == kind ? f->count : 0;
  }
  return n;
}

/* One plate: one part, the body, figures of plane geometry, whole. */
static void
test_one(void)
{
  Sign *sign = sign_new(2, 1);
  bar(sign, "plate", box(10, 20, 110, 60));
  sign_check(sign);
  g_assert_cmpuint(sign->hold->parts->len, ==, 1);
  near(part(sign, 0)->area, 4000, 1e-6);
  near(part(sign, 0)->centroid.x, 60, 1e-9);
  near(part(sign, 0)->centroid.y, 40, 1e-9);
  g_assert_true(part(sign, 0)->body);
  g_assert_cmpstr(part(sign, 0)->name, ==, "entry \"plate\"");
  near(part(sign, 0)->mass, 4000 * 2 * sign->hold->process.density * 1e-9, 1e-9);
  g_assert_true(sign->hold->whole);
  sign_free(sign);
}

/* A letter on a rail, its dot joined to nothing. */
static void
test_loose_dot(void)
{
  Sign *sign = sign_new(2, 1);
  bar(sign, "rail", box(0, 0, 100, 10));
  HfOutline *i = sign_add(sign, HF_ENTRY_WORDS, "name", FALSE);
  ((HfShape *)sign->layout.shapes->pdata[1])->letter = 0;
  hf_outline_add_rectangle(i, box(20, 5, 26, 40), 0);
  hf_outline_add_rectangle(i, box(20, 46, 26, 52), 0);
  sign_check(sign);
  g_assert_cmpuint(sign->hold->parts->len, ==, 2);
  g_assert_true(part(sign, 0)->body && !part(sign, 0)->loose);
  g_assert_true(part(sign, 1)->loose);
  near(part(sign, 1)->area, 36, 1e-6);
  const HfFinding *f = sign_finding(sign, HF_LAW_LOOSE_PART);
  g_assert_nonnull(f);
  g_assert_cmpint(f->gravity, ==, HF_STOP);
  g_assert_nonnull(strstr(f->text, "a piece of entry \"name\""));
  near(f->area, 36, 1e-6);
  g_assert_false(sign->hold->whole);
  sign_free(sign);
}

/* Two squares that meet in one corner are two parts. */
static void
test_point(void)
{
  Sign *sign = sign_new(2, 1);
  bar(sign, "one", box(0, 0, 20, 20));
  bar(sign, "two", box(20, 20, 30, 30));
  sign_check(sign);
  g_assert_cmpuint(sign->hold->parts->len, ==, 2);
  const HfFinding *f = sign_finding(sign, HF_LAW_LOOSE_PART);
  g_assert_nonnull(f);
  g_assert_nonnull(strstr(f->text, "only at a point"));
  sign_free(sign);
}

/* Two squares whose corners overlap by a little: the joint is sqrt 2 times the overlap wide. Under
 * the joint limit it counts as open, over it does not. */
static void
test_weak_joint(void)
{
  for (int i = 0; i < 2; i++) {
    double bite = i == 0 ? 1.0 : 2.0;
    Sign *sign = sign_new(2, 1);
    bar(sign, "one", box(0, 0, 20, 20));
    bar(sign, "two", box(20 - bite, 20 - bite, 32, 32));
    sign_check(sign);
    const HfFinding *f = sign_finding(sign, HF_LAW_WEAK_JOINT);
    g_assert_cmpuint(sign->hold->parts->len, ==, i == 0 ? 2 : 1);
    g_assert_cmpuint(count(sign, HF_LAW_LOOSE_PART), ==, i == 0 ? 1 : 0);
    if (i == 0) {
      g_assert_nonnull(f);
      near(f->measured, bite * G_SQRT2, 0.001);
      near(part(sign, 0)->area + part(sign, 1)->area, sign->hold->area, 0.01);
      g_assert_nonnull(strstr(sign_finding(sign, HF_LAW_LOOSE_PART)->text, "joint of 1.41 mm"));
    }
    sign_free(sign);
  }
}

/* Held by two weak joints: both count as open together. */
static void
test_two_weak_joints(void)
{
  Sign *sign = sign_new(2, 1);
  HfOutline *fork = sign_add(sign, HF_ENTRY_PLATE, "fork", FALSE);
  hf_outline_add_rectangle(fork, box(0, 0, 40, 10), 0);
  hf_outline_add_rectangle(fork, box(0, 0, 10, 30), 0);
  hf_outline_add_rectangle(fork, box(30, 0, 40, 30), 0);
  HfPoint roof[] = {{9, 29}, {31, 29}, {31, 45}, {9, 45}};
  hf_outline_add_polygon(sign_add(sign, HF_ENTRY_PLATE, "roof", FALSE), roof, 4);
  sign_check(sign);
  g_assert_cmpuint(count(sign, HF_LAW_WEAK_JOINT), ==, 2);
  g_assert_cmpuint(sign->hold->parts->len, ==, 2);
  near(part(sign, 0)->area + part(sign, 1)->area, sign->hold->area, 0.01);
  g_assert_cmpuint(count(sign, HF_LAW_LOOSE_PART), ==, 1);
  sign_free(sign);
}

/* Two plates apart: one is the sign, the other was not asked for. Named in `alone` it is. */
static void
test_alone(void)
{
  for (int named = 0; named < 2; named++) {
    Sign *sign = sign_new(2, 1);
    bar(sign, "one", box(0, 0, 50, 50));
    bar(sign, "two", box(60, 0, 90, 50));
    if (named)
      g_ptr_array_add(sign->recipe.alone, g_strdup("two"));
    sign_check(sign);
    g_assert_cmpuint(count(sign, HF_LAW_STANDS_ALONE), ==, !named);
    g_assert_true(sign->hold->whole == named);
    g_assert_true(part(sign, 1)->alone == named);
    sign_free(sign);
  }
}

/* Letters named in `alone`: each letter's largest piece may stand, its dot falls unless named. */
static void
test_alone_letters(void)
{
  for (int dots = 0; dots < 2; dots++) {
    Sign *sign = sign_new(2, 1);
    HfOutline *i = sign_add(sign, HF_ENTRY_WORDS, "number", FALSE);
    ((HfShape *)sign->layout.shapes->pdata[0])->letter = 0;
    hf_outline_add_rectangle(i, box(0, 0, 8, 40), 0);
    hf_outline_add_rectangle(i, box(0, 46, 8, 54), 0);
    hf_outline_add_rectangle(sign_add_letter(sign, "l"), box(20, 0, 28, 54), 0);
    g_ptr_array_add(sign->recipe.alone, g_strdup("number"));
    if (dots)
      g_ptr_array_add(sign->recipe.alone, g_strdup("dots of number"));
    sign_check(sign);
    g_assert_cmpuint(sign->hold->parts->len, ==, 3);
    g_assert_cmpuint(count(sign, HF_LAW_LOOSE_PART), ==, !dots);
    g_assert_cmpuint(count(sign, HF_LAW_STANDS_ALONE), ==, 0);
    g_assert_true(sign->hold->whole == dots);
    sign_free(sign);
  }
}

/* The middle of a cut-through O falls, whatever is named. */
static void
test_counter(void)
{
  Sign *sign = sign_new(2, 1);
  bar(sign, "plate", box(0, 0, 100, 100));
  HfOutline *o = sign_add(sign, HF_ENTRY_WORDS, "shop", TRUE);
  ((HfShape *)sign->layout.shapes->pdata[1])->letter = 0;
  hf_outline_add_circle(o, hf_point(50, 50), 30);
  HfOutline *inner = hf_outline_new();
  hf_outline_add_circle(inner, hf_point(50, 50), 20);
  hf_outline_reverse(inner);
  hf_outline_append(o, inner, HF_MATRIX_IDENTITY);
  hf_outline_free(inner);
  g_ptr_array_add(sign->recipe.alone, g_strdup("shop"));
  sign_check(sign);
  g_assert_cmpuint(sign->hold->parts->len, ==, 2);
  const HfFinding *f = sign_finding(sign, HF_LAW_LOOSE_PART);
  g_assert_nonnull(f);
  near(f->area, G_PI * 400, 1);
  g_assert_nonnull(strstr(f->text, "the metal inside entry \"shop\""));
  sign_free(sign);
}

/* The body carries the hanging points, however small; on different parts they are a stop. */
static void
test_hanging(void)
{
  for (int split = 0; split < 2; split++) {
    Sign *sign = sign_new(2, 1);
    bar(sign, "large", box(0, 0, 100, 50));
    bar(sign, "small", box(110, 0, 150, 50));
    hf_outline_add_circle(sign_add(sign, HF_ENTRY_HOLE, "a", TRUE), hf_point(130, 40), 4);
    hf_outline_add_circle(sign_add(sign, HF_ENTRY_HOLE, "b", TRUE), hf_point(split ? 50 : 130, 12),
                          4);
    HfHang a = {HF_HANG_HOLE, {130, 40}, 8, 2}, b = {HF_HANG_HOLE, {split ? 50 : 130, 12}, 8, 3};
    g_array_append_val(sign->layout.hangs, a);
    g_array_append_val(sign->layout.hangs, b);
    sign_check(sign);
    g_assert_cmpuint(count(sign, HF_LAW_HANGING_SPLIT), ==, split);
    g_assert_true(part(sign, 1)->body);
    g_assert_true(part(sign, 0)->body == split);
    g_assert_false(sign->hold->whole);
    sign_free(sign);
  }
}

/* Random chords of a disc with a window, taken so that they do not cross: areas add up, each part
 * valid, as many parts as chords across metal ask for. */
static void
test_splice(void)
{
  for (guint seed = 1; seed <= 200; seed++) {
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    g_autoptr(HfOutline) outer = hf_outline_new(), inner = hf_outline_new();
    hf_outline_add_circle(outer, hf_point(0, 0), 30);
    hf_outline_add_circle(inner, hf_point(0, 0), 10);
    g_autoptr(HfRegion) raw = hf_region_new(), raw2 = hf_region_new();
    hf_region_flatten(raw, outer, 0, HF_FLATTEN_MM);
    hf_region_flatten(raw2, inner, 1, HF_FLATTEN_MM);
    g_autoptr(HfRegion) a = hf_region_clean(raw), b = hf_region_clean(raw2);
    g_autoptr(HfRegion) ring = hf_region_subtract(a, b);
    g_autoptr(GArray) cuts = g_array_new(FALSE, FALSE, sizeof(HfCut));
    guint n = (guint)g_rand_int_range(rand, 1, 9);
    for (guint i = 0; i < n; i++) { /* a spoke from vertex to vertex, or a chord that clips a cap */
      guint o = hf_ring_area(hf_region_ring(ring, 0)) > 0 ? 0 : 1, w = 1 - o;
      const HfRing *r = hf_region_ring(ring, o), *h = hf_region_ring(ring, w);
      guint v = i * r->n / n, u = 0;
      for (guint k = 1; k < h->n; k++)
        if (hf_point_distance(hf_grid_point(h->at[k]), hf_grid_point(r->at[v])) <
            hf_point_distance(hf_grid_point(h->at[u]), hf_grid_point(r->at[v])))
          u = k;
      HfCut cut = {hf_grid_point(r->at[v]), hf_grid_point(h->at[u]), {o, v}, {w, u}};
      if (g_rand_boolean(rand)) {
        guint e = (v + 2) % r->n; /* in the middle of an edge */
        cut.b = hf_point_mix(hf_grid_point(r->at[e]), hf_grid_point(r->at[(e + 1) % r->n]), 0.5);
        cut.site_b = (HfEdgeId){o, e};
      }
      g_array_append_val(cuts, cut);
    }
    g_autoptr(HfRegion) parts = hf_region_splice(ring, cuts);
    near(hf_region_area(parts), hf_region_area(ring), 0.01);
    guint spokes = 0, caps = 0, outers = 0;
    for (guint i = 0; i < n; i++) {
      const HfCut *cut = &g_array_index(cuts, HfCut, i);
      spokes += cut->site_a.ring != cut->site_b.ring;
      caps += cut->site_a.ring == cut->site_b.ring;
    }
    for (guint i = 0; i < parts->rings->len; i++)
      outers += hf_region_ring(parts, i)->parent < 0;
    g_assert_cmpuint(outers, ==, MAX(spokes, 1) + caps);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/parts/one", test_one);
  g_test_add_func("/parts/loose-dot", test_loose_dot);
  g_test_add_func("/parts/point", test_point);
  g_test_add_func("/parts/weak-joint", test_weak_joint);
  g_test_add_func("/parts/two-weak-joints", test_two_weak_joints);
  g_test_add_func("/parts/alone", test_alone);
  g_test_add_func("/parts/alone-letters", test_alone_letters);
  g_test_add_func("/parts/counter", test_counter);
  g_test_add_func("/parts/hanging", test_hanging);
  g_test_add_func("/parts/splice", test_splice);
  return g_test_run();
}

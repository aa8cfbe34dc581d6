/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_wide.cpp - wide whole numbers and far floats against Boost.Polygon's own, bit for bit.
 */
#include "geom/wide-private.hpp"
#include <glib.h>

namespace bd = boost::polygon::detail;
using holdfast::Far;
using holdfast::Wide;
using Boost = bd::extended_int<64>;

/* The same number twice, grown by the same steps. */
struct Both {
  Wide wide;
  Boost boost;
};

static Both
of(std::int64_t value)
{
  return {Wide(value), Boost(value)};
}

static void
assert_same(const Both &both)
{
  auto ours = both.wide.p(), theirs = both.boost.p();
  g_assert_cmpint(memcmp(&ours.first, &theirs.first, sizeof ours.first), ==, 0);
  g_assert_cmpint(ours.second, ==, theirs.second);
  g_assert_true(is_pos(both.wide) == bd::is_pos(both.boost));
  g_assert_true(is_neg(both.wide) == bd::is_neg(both.boost));
  g_assert_true(is_zero(both.wide) == bd::is_zero(both.boost));
}

static Both
step(GRand *rand, const Both &a, const Both &b)
{
  switch (g_rand_int_range(rand, 0, 4)) {
  case 0:
    return {a.wide + b.wide, a.boost + b.boost};
  case 1:
    return {a.wide - b.wide, a.boost - b.boost};
  case 2:
    return {-a.wide, -a.boost};
  default:
    return {a.wide * b.wide, a.boost * b.boost};
  }
}

/* Short of 2048 bits, where both would drop what is above. */
static bool
has_room(const Both &a, const Both &b)
{
  return a.boost.size() + b.boost.size() < 60;
}

static std::int64_t
some(GRand *rand)
{
  std::int64_t bits = (std::int64_t)((guint64)g_rand_int(rand) << 32 | g_rand_int(rand));
  return bits >> g_rand_int_range(rand, 1, 64);
}

static void
test_random(void)
{
  GRand *rand = g_rand_new_with_seed(7);
  Both pool[16];
  for (Both &one : pool)
    one = of(some(rand));
  for (int i = 0; i < 200000; i++) {
    Both a = pool[g_rand_int_range(rand, 0, 16)], b = pool[g_rand_int_range(rand, 0, 16)];
    Both c = has_room(a, b) ? step(rand, a, b) : of(some(rand));
    assert_same(c);
    pool[g_rand_int_range(rand, 0, 16)] = g_rand_int_range(rand, 0, 20) == 0 ? of(some(rand)) : c;
  }
  g_rand_free(rand);
}

/* Limbs that are 0 within, carries and borrows through all of them. */
static void
test_edges(void)
{
  const std::int64_t values[] = {
      0, 1, -1, 0xffffffff, -0xffffffffLL, 1LL << 32, -(1LL << 32), G_MAXINT64, -G_MAXINT64};
  for (std::int64_t a : values)
    for (std::int64_t b : values)
      for (std::int64_t c : values) {
        Both x = of(a), y = of(b), z = of(c);
        Both product = {x.wide * y.wide * y.wide, x.boost * y.boost * y.boost};
        assert_same(product);
        assert_same({product.wide + z.wide, product.boost + z.boost});
        assert_same({product.wide - z.wide, product.boost - z.boost});
        assert_same({z.wide - product.wide, z.boost - product.boost});
        assert_same({product.wide - product.wide, product.boost - product.boost});
      }
}

static void
assert_same_far(const Far &ours, const bd::efpt64 &theirs)
{
  double a = ours.d(), b = theirs.d();
  g_assert_cmpint(memcmp(&a, &b, sizeof a), ==, 0);
  g_assert_true(is_neg(ours) == bd::is_neg(theirs));
}

static void
test_far(void)
{
  GRand *rand = g_rand_new_with_seed(8);
  for (int i = 0; i < 200000; i++) {
    double a = g_rand_double_range(rand, -1, 1) * (i % 7 != 0),
           b = g_rand_double_range(rand, -1, 1);
    int e = g_rand_int_range(rand, -300, 300), f = e + g_rand_int_range(rand, -70, 70);
    Far x(a, e), y(b, f);
    bd::efpt64 p(a, e), q(b, f);
    assert_same_far(x + y, p + q);
    assert_same_far(x - y, p - q);
    assert_same_far(y - x, q - p);
    assert_same_far(x * y, p * q);
    assert_same_far(x / y, p / q);
    if (a > 0)
      assert_same_far(get_sqrt(x), bd::get_sqrt(p));
  }
  g_rand_free(rand);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/wide/random", test_random);
  g_test_add_func("/wide/edges", test_edges);
  g_test_add_func("/wide/far", test_far);
  return g_test_run();
}

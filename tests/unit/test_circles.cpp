/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_circles.cpp - circles about three sites, and whole diagrams, against Boost.Polygon's own.
 */
#include "geom/circles-private.hpp"
#include <algorithm>
#include <glib.h>
#include <vector>

namespace bp = boost::polygon;
namespace bd = boost::polygon::detail;
using Site = bd::site_event<std::int32_t>;
using Circle = bd::circle_event<double>;
using Point = bd::point_2d<std::int32_t>;
using Own = bd::voronoi_predicates<holdfast::WideTraits>;
using Theirs = Own::circle_formation_predicate<Site, Circle>;
using Ours = holdfast::Predicates::circle_formation_predicate<Site, Circle>;

/* Of 53 bits Boost takes six to be lost. */
static const double ROUGH = 0x1p-46;

/* A place from which the three sites are near, or not at all so. */
struct Where {
  std::int32_t x, y, size;
};

static std::int32_t
about(GRand *rand, std::int32_t at, std::int32_t size)
{
  return at + g_rand_int_range(rand, -size, size + 1);
}

/* Also what lies along an axis, and what is nearly parallel to the one before. */
static Site
some_site(GRand *rand, const Where &where, Point *way)
{
  Point p(about(rand, where.x, where.size), about(rand, where.y, where.size));
  std::int32_t length = MAX(where.size / 8, 4);
  switch (g_rand_int_range(rand, 0, 5)) {
  case 0:
    return Site(p);
  case 1:
    *way = Point(about(rand, 0, length), 0);
    break;
  case 2:
    *way = Point(0, about(rand, 0, length));
    break;
  case 3:
    *way = Point(about(rand, 0, length), about(rand, 0, length));
    break;
  default:
    *way = Point(-way->x() + g_rand_int_range(rand, -2, 3), -way->y());
  }
  if (way->x() == 0 && way->y() == 0)
    return Site(p);
  Site site(p, Point(p.x() + way->x(), p.y() + way->y()));
  return g_rand_boolean(rand) ? site.inverse() : site;
}

static void
assert_near(double a, double b)
{
  g_assert_cmpfloat(std::fabs(a - b), <=, ROUGH * MAX(std::fabs(a), std::fabs(b)));
}

static void
test_triples(void)
{
  GRand *rand = g_rand_new_with_seed(9);
  Theirs theirs;
  Ours ours;
  guint compared = 0;
  for (int i = 0; i < 200000; i++) {
    std::int32_t far = i % 3 == 0 ? 1000 : 1 << g_rand_int_range(rand, 10, 28);
    std::int32_t size = 1 << g_rand_int_range(rand, 2, i % 50 == 0 ? 30 : 22);
    Where where = {about(rand, 0, far), about(rand, 0, far), size};
    Point way(7, 3);
    Site sites[3];
    for (std::size_t k = 0; k < 3; k++) {
      sites[k] = some_site(rand, where, &way);
      sites[k].sorted_index(k);
    }
    Circle a, b;
    bool there = theirs(sites[0], sites[1], sites[2], a);
    g_assert_true(ours(sites[0], sites[1], sites[2], b) == there);
    if (!there || !std::isfinite(a.x() + a.y() + a.lower_x()) || !(a.lower_x() > a.x()))
      continue;
    compared++;
    assert_near(a.x(), b.x());
    assert_near(a.y(), b.y());
    assert_near(a.lower_x(), b.lower_x());
  }
  g_assert_cmpuint(compared, >, 30000);
  g_rand_free(rand);
}

/* ---- diagrams -------------------------------------------------------------------------------- */

using Segment = std::pair<Point, Point>;

static void
put_ring(std::vector<Segment> *all, const std::vector<Point> &ring)
{
  for (std::size_t i = 0; i < ring.size(); i++)
    all->push_back({ring[i], ring[(i + 1) % ring.size()]});
}

/* A box within a box within a round ring of chords, each in a square of its own. */
static std::vector<Segment>
some_rings(GRand *rand, std::int32_t x0, std::int32_t y0)
{
  std::vector<Segment> all;
  for (int square = 0; square < 9; square++) {
    double x = x0 + square % 3 * 300000, y = y0 + square / 3 * 300000;
    for (double r = 140000; r > 20000; r -= g_rand_int_range(rand, 5000, 40000)) {
      std::vector<Point> ring;
      int n = g_rand_boolean(rand) ? 4 : g_rand_int_range(rand, 5, 90);
      double turn = n == 4 ? G_PI / 4 : g_rand_double(rand);
      double out = n == 4 ? r : r * 0.97;
      for (int i = 0; i < n; i++)
        ring.push_back(Point((std::int32_t)std::lround(x + out * cos(turn + 2 * G_PI * i / n)),
                             (std::int32_t)std::lround(y + out * sin(turn + 2 * G_PI * i / n))));
      put_ring(&all, ring);
      r = out * cos(G_PI / n);
    }
  }
  return all;
}

struct Spot {
  double x, y;
};

template <typename P>
static std::vector<Spot>
spots_of(const std::vector<Segment> &segments)
{
  bp::voronoi_builder<std::int32_t, holdfast::WideTraits, P> builder;
  bp::voronoi_diagram<double> diagram;
  for (const Segment &s : segments)
    builder.insert_segment(s.first.x(), s.first.y(), s.second.x(), s.second.y());
  builder.construct(&diagram);
  std::vector<Spot> spots;
  for (const auto &vertex : diagram.vertices())
    spots.push_back({vertex.x(), vertex.y()});
  return spots;
}

/* Each of the one is one of the other. Where four sites have one circle there may be one vertex or
 * two at one place. */
static void
assert_among(const std::vector<Spot> &some, const std::vector<Spot> &others)
{
  for (const Spot &one : some)
    g_assert_true(std::any_of(others.begin(), others.end(), [&](const Spot &other) {
      return std::fabs(one.x - other.x) < 1e-3 && std::fabs(one.y - other.y) < 1e-3;
    }));
}

static void
test_diagrams(void)
{
  GRand *rand = g_rand_new_with_seed(10);
  for (int i = 0; i < 12; i++) {
    std::int32_t far = i % 2 == 0 ? 0 : 100000000;
    auto segments = some_rings(rand, about(rand, far, 1000000), about(rand, -far, 1000000));
    auto ours = spots_of<holdfast::Predicates>(segments), theirs = spots_of<Own>(segments);
    g_assert_cmpuint(ours.size(), >, segments.size());
    assert_among(ours, theirs);
    assert_among(theirs, ours);
  }
  g_rand_free(rand);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/circles/triples", test_triples);
  g_test_add_func("/circles/diagrams", test_diagrams);
  return g_test_run();
}

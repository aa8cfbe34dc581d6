/* SPDX-License-Identifier: GPL-3.0-or-later
 * circles-private.hpp - the circles that touch three sites, of the Voronoi diagram: worked out from
 * one of the sites in pairs of floats, each with a bound of how far it is off.
 *
 *              o three sites         seen from the sheet's corner, far away, what tells the three
 *     o______  |                     apart are the last digits of large numbers; seen from one of
 *     |      ( )____                 them it is all there is
 *     |
 *   corner of the sheet
 *
 * Boost.Polygon tries floats first, from the corner; chords of a curve are nearly parallel, so in
 * lettering half of its circles fell through to whole numbers of hundreds of bits, and two thirds
 * of the diagram's time went there. Here the three sites are moved so that one lies at 0 (whole
 * numbers: exact), and the circle is computed with twice the digits of a float. Invariant: what is
 * given out is off by at most 2^-51 of itself, while Boost takes 2^-47 for good and its whole
 * numbers' roots keep 2^-48; what can't be had so well goes Boost's own way. Formulas: those of
 * Boost's lazy_circle_formation_functor, with the site at 0. Pairs of floats: Dekker, "A
 * floating-point technique for extending the available precision" (1971), from memory.
 * tests/unit/test_circles.cpp holds the circles against Boost's.
 */
#pragma once
#include "geom/wide-private.hpp"

/* A Pair handed over in memory costs as much as what is done with it. */
#define HF_INLINE [[gnu::always_inline]]

namespace holdfast
{

/* hi + lo, off from the true value by at most `off`. */
class Pair
{
public:
  Pair(std::int64_t value)
      : hi((double)value), lo((double)(value - (std::int64_t)hi)), off(0) /* |value| < 2^62 */
  {
  }

  HF_INLINE Pair operator-() const
  {
    return Pair(-hi, -lo, off);
  }
  HF_INLINE Pair operator+(const Pair &b) const
  {
    double sum = hi + b.hi, part = sum - hi;
    double rest = (hi - (sum - part)) + (b.hi - part) + (lo + b.lo);
    return settled(sum, rest, off + b.off + TINY * (std::fabs(hi) + std::fabs(b.hi)));
  }
  HF_INLINE Pair operator-(const Pair &b) const
  {
    return *this + -b;
  }
  HF_INLINE Pair operator*(const Pair &b) const
  {
    double p = hi * b.hi, rest = lost(hi, b.hi, p) + (hi * b.lo + lo * b.hi);
    return settled(
        p, rest, std::fabs(hi) * b.off + std::fabs(b.hi) * off + off * b.off + TINY * std::fabs(p));
  }
  HF_INLINE Pair operator/(const Pair &b) const
  {
    double first = hi / b.hi;
    Pair left = bare() - b.bare() * whole(first);
    double next = left.hi / b.hi, room = std::fabs(b.hi) - 2 * b.off;
    Pair result = settled(first, next, 0);
    result.off =
        room > 0 ? 2 * (off + std::fabs(first) * b.off) / std::fabs(b.hi) + TINY * std::fabs(first)
                 : INFINITY;
    return result;
  }
  HF_INLINE Pair sqrt() const
  {
    if (hi == 0 && off == 0)
      return *this;
    if (!(hi > 2 * off))
      return Pair(0, 0, INFINITY);
    double first = std::sqrt(hi);
    Pair left = bare() - whole(first) * whole(first);
    return settled(first, left.hi / (2 * first), off / first + TINY * first);
  }
  Pair half() const
  {
    return Pair(hi / 2, lo / 2, off / 2);
  }
  Pair abs() const
  {
    return hi < 0 ? -*this : *this;
  }
  bool is_neg() const
  {
    return hi < 0;
  }

  /* Good enough to be given out as a float? */
  bool is_good() const
  {
    return std::isfinite(hi + off) && off <= GOOD * std::fabs(hi);
  }
  double value() const
  {
    return hi;
  }

private:
  static constexpr double TINY = 0x1p-97; /* of a result: far more than an operation is off */
  static constexpr double GOOD = 0x1p-52;

  Pair(double h, double l, double o) : hi(h), lo(l), off(o)
  {
  }
  static Pair whole(double value)
  {
    return Pair(value, 0, 0);
  }
  Pair bare() const
  {
    return Pair(hi, lo, 0);
  }
  /* |rest| <= |sum| but for what cancels, which is exact then */
  static Pair settled(double sum, double rest, double off)
  {
    double all = sum + rest;
    return Pair(all, rest - (all - sum), off);
  }
  /* a b - p, exactly */
  static double lost(double a, double b, double p)
  {
#ifdef FP_FAST_FMA
    return std::fma(a, b, -p);
#else
    double s = a * 134217729.0, t = b * 134217729.0; /* 2^27 + 1 */
    double a1 = s - (s - a), b1 = t - (t - b), a2 = a - a1, b2 = b - b1;
    return ((a1 * b1 - p) + a1 * b2 + a2 * b1) + a2 * b2;
#endif
  }

  double hi, lo, off;
};

/* The three sites as seen from a place; coordinates below 2^29, so that products of two of their
 * differences, and sums of two such, are whole numbers of 64 bits. */
class Seen
{
public:
  template <typename Point> explicit Seen(const Point &from) : x0_(from.x()), y0_(from.y())
  {
  }
  template <typename Point> bool sees(const Point &p) const
  {
    return is_near(p.x() - x0_) && is_near(p.y() - y0_);
  }
  template <typename Point> std::int64_t x(const Point &p) const
  {
    return p.x() - x0_;
  }
  template <typename Point> std::int64_t y(const Point &p) const
  {
    return p.y() - y0_;
  }

  /* Gives the circle out in the sheet's coordinates: its middle, its radius. */
  template <typename Circle>
  bool put(const Pair &x, const Pair &y, const Pair &r, Circle *circle) const
  {
    Pair at_x = x + Pair(x0_), at_y = y + Pair(y0_), lower = at_x + r;
    if (!at_x.is_good() || !at_y.is_good() || !lower.is_good())
      return false;
    *circle = Circle(at_x.value(), at_y.value(), lower.value());
    return true;
  }

private:
  static bool is_near(std::int64_t d)
  {
    return d > -(1 << 29) && d < 1 << 29;
  }
  std::int64_t x0_, y0_;
};

/* Boost's circle of three sites; `Otherwise` is its own way. */
template <typename Site, typename Circle, typename Otherwise> class Circles
{
public:
  void ppp(const Site &a, const Site &b, const Site &c, Circle &circle)
  {
    Seen seen(b.point0());
    if (!seen.sees(a.point0()) || !seen.sees(c.point0()) || !points(seen, a, c, &circle))
      otherwise_.ppp(a, b, c, circle);
  }
  void pps(const Site &a, const Site &b, const Site &s, int segment, Circle &circle)
  {
    Seen seen(a.point0());
    if (!seen.sees(b.point0()) || !sees(seen, s) || !two_points(seen, b, s, segment, &circle))
      otherwise_.pps(a, b, s, segment, circle);
  }
  void pss(const Site &p, const Site &s, const Site &t, int point, Circle &circle)
  {
    Seen seen(p.point0());
    if (!sees(seen, s) || !sees(seen, t) || !one_point(seen, s, t, point, &circle))
      otherwise_.pss(p, s, t, point, circle);
  }
  void sss(const Site &s, const Site &t, const Site &u, Circle &circle)
  {
    Seen seen(t.point0());
    if (!sees(seen, s) || !sees(seen, t) || !sees(seen, u) || !segments(seen, s, t, u, &circle))
      otherwise_.sss(s, t, u, circle);
  }

private:
  typedef std::int64_t Int;

  static bool sees(const Seen &seen, const Site &s)
  {
    return seen.sees(s.point0()) && seen.sees(s.point1());
  }

  /* b lies at 0 */
  static bool points(const Seen &seen, const Site &a, const Site &c, Circle *circle)
  {
    Int ax = seen.x(a.point0()), ay = seen.y(a.point0());
    Int cx = seen.x(c.point0()), cy = seen.y(c.point0());
    Pair twice(2 * (cx * ay - cy * ax)), aa(ax * ax + ay * ay), cc(cx * cx + cy * cy);
    Pair x = (cc * Pair(ay) - aa * Pair(cy)) / twice;
    Pair y = (aa * Pair(cx) - cc * Pair(ax)) / twice;
    return seen.put(x, y, (x * x + y * y).sqrt(), circle);
  }

  /* a lies at 0 */
  static bool two_points(const Seen &seen, const Site &b, const Site &s, int segment,
                         Circle *circle)
  {
    Int x0 = seen.x(s.point0()), y0 = seen.y(s.point0());
    Int line_a = seen.y(s.point1()) - y0, line_b = x0 - seen.x(s.point1());
    Int bx = seen.x(b.point0()), by = seen.y(b.point0()), vec_x = by, vec_y = -bx;
    Int teta = line_a * vec_x + line_b * vec_y, denom = vec_x * line_b - vec_y * line_a;
    Int off_a = -line_a * x0 - line_b * y0, off_b = off_a + line_a * bx + line_b * by;
    Pair t(0), q(teta), d(denom), a(off_a), b_off(off_b);
    if (denom == 0) {
      t = q / (Pair(8) * a) - a / (Pair(2) * q);
    } else {
      Pair root = ((q * q + d * d) * a * b_off).sqrt();
      t = ((q * (a + b_off)).half() + (segment == 2 ? -root : root)) / (d * d);
    }
    Pair x = Pair(bx).half() + Pair(vec_x) * t, y = Pair(by).half() + Pair(vec_y) * t;
    Pair length = Pair(line_a * line_a + line_b * line_b).sqrt();
    return seen.put(x, y, ((Pair(line_a) * x + Pair(line_b) * y + a) / length).abs(), circle);
  }

  /* The point lies at 0. The first segment is run backwards, as Boost does. */
  static bool one_point(const Seen &seen, const Site &s, const Site &t, int point, Circle *circle)
  {
    Int sx = seen.x(s.point1()), sy = seen.y(s.point1());
    Int ex = seen.x(s.point0()), ey = seen.y(s.point0());
    Int tx = seen.x(t.point0()), ty = seen.y(t.point0());
    Int fx = seen.x(t.point1()), fy = seen.y(t.point1());
    Int a1 = ex - sx, b1 = ey - sy, a2 = fx - tx, b2 = fy - ty;
    Int turned = b1 * a2 - a1 * b2;
    if (turned == 0) {
      Pair square(a1 * a1 + b1 * b1), apart(b1 * (tx - sx) - a1 * (ty - sy));
      Pair root = (Pair(b1 * sx - a1 * sy) * Pair(a1 * ty - b1 * tx)).sqrt();
      Pair mx = Pair(sx + tx).half(), my = Pair(sy + ty).half();
      Pair along = -(Pair(a1) * mx) - Pair(b1) * my;
      Pair step = (point == 2 ? along + root : along - root) / square;
      return seen.put(mx + Pair(a1) * step, my + Pair(b1) * step,
                      (apart / square.sqrt()).half().abs(), circle);
    }
    Pair len1 = Pair(a1 * a1 + b1 * b1).sqrt(), len2 = Pair(a2 * a2 + b2 * b2).sqrt();
    Pair turn(turned), dot(a1 * a2 + b1 * b2), o1(b1 * ex - a1 * ey), o2(a2 * fy - b2 * fx);
    Pair open = dot.is_neg() ? turn * turn / (len1 * len2 - dot) : dot + len1 * len2;
    Pair root = (Pair(2) * open * o1 * o2).sqrt();
    Pair ix = (Pair(a2) * o1 + Pair(a1) * o2) / turn, iy = (Pair(b1) * o2 + Pair(b2) * o1) / turn;
    Pair ux = Pair(a1) * len2 + Pair(a2) * len1, uy = Pair(b1) * len2 + Pair(b2) * len1;
    Pair back = -(ix * ux) - iy * uy;
    Pair step = (point == 2 ? back + root : back - root) / (open * open);
    return seen.put(ix + step * ux, iy + step * uy, (step * turn).abs(), circle);
  }

  struct Line {
    Int a, b;
    Pair length, c; /* c: how far 0 lies beside it, times its length */
    Line(const Seen &seen, const Site &s)
        : a(seen.x(s.point1()) - seen.x(s.point0())), b(seen.y(s.point1()) - seen.y(s.point0())),
          length(Pair(a * a + b * b).sqrt()), c(seen.x(s.point0()) * b - seen.y(s.point0()) * a)
    {
    }
  };

  static Pair cross(const Line &p, const Line &q)
  {
    return Pair(p.a * q.b - p.b * q.a);
  }

  static bool segments(const Seen &seen, const Site &s, const Site &t, const Site &u,
                       Circle *circle)
  {
    Line p(seen, s), q(seen, t), r(seen, u);
    Pair pq = cross(p, q), qr = cross(q, r), rp = cross(r, p);
    Pair denom = pq * r.length + qr * p.length + rp * q.length;
    Pair radius = -(pq * r.c) - qr * p.c - rp * q.c;
    Pair x = (Pair(p.a) * q.c - Pair(q.a) * p.c) * r.length +
             (Pair(q.a) * r.c - Pair(r.a) * q.c) * p.length +
             (Pair(r.a) * p.c - Pair(p.a) * r.c) * q.length;
    Pair y = (Pair(p.b) * q.c - Pair(q.b) * p.c) * r.length +
             (Pair(q.b) * r.c - Pair(r.b) * q.c) * p.length +
             (Pair(r.b) * p.c - Pair(p.b) * r.c) * q.length;
    return seen.put(x / denom, y / denom, radius / denom, circle);
  }

  Otherwise otherwise_;
};

/* Boost's predicates, but for the circles. */
struct Predicates : boost::polygon::detail::voronoi_predicates<WideTraits> {
  typedef boost::polygon::detail::voronoi_predicates<WideTraits> Own;

  template <typename Site, typename Circle>
  class circle_formation_predicate
      : public Own::circle_formation_predicate<
            Site, Circle, Own::circle_existence_predicate<Site>,
            Circles<Site, Circle, Own::lazy_circle_formation_functor<Site, Circle>>>
  {
  };
};

} // namespace holdfast

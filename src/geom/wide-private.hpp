/* SPDX-License-Identifier: GPL-3.0-or-later
 * wide-private.hpp - the exact whole numbers of the Voronoi diagram's predicates, and floats with a
 * wide exponent, for Boost.Polygon in the place of its own.
 *
 *   value = sign * sum of limb[i] * 2^(64 i)        i < size; the last limb is not 0; 0 has none
 *
 * Boost's own have 32-bit limbs, look at every pair of them twice, and copy all 64 of them with
 * each number; half of a verdict on fine lettering went there. These give the same numbers to the
 * last bit, also as floats (p() rounds as Boost's does), so that the diagram is the same:
 * tests/unit/test_wide.cpp holds them against Boost's. Products of coordinates of 32 bits have at
 * most a few hundred bits in these predicates; there is room for 2048, as in Boost.
 */
#pragma once
#include <boost/polygon/voronoi.hpp>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <utility>

namespace holdfast
{

class Wide
{
public:
  static constexpr int LIMBS = 32;

  Wide()
  {
    limb_[0] = 0; /* of nought never read, which a compiler can't see */
  }
  Wide(std::int32_t value) : Wide((std::int64_t)value)
  {
  }
  Wide(std::int64_t value) : size_(value != 0), negative_(value < 0)
  {
    limb_[0] = value < 0 ? 0 - (std::uint64_t)value : (std::uint64_t)value;
  }
  Wide(const Wide &other)
  {
    *this = other;
  }
  Wide &operator=(const Wide &other)
  {
    size_ = other.size_;
    negative_ = other.negative_;
    for (int i = 0; i < size_; i++)
      limb_[i] = other.limb_[i];
    return *this;
  }

  bool is_zero() const
  {
    return size_ == 0;
  }
  bool is_neg() const
  {
    return size_ > 0 && negative_;
  }
  bool is_pos() const
  {
    return size_ > 0 && !negative_;
  }

  Wide operator-() const
  {
    Wide result(*this);
    result.negative_ = !negative_;
    return result;
  }
  Wide operator+(const Wide &other) const
  {
    return sum(*this, other, other.negative_);
  }
  Wide operator-(const Wide &other) const
  {
    return sum(*this, other, !other.negative_);
  }
  Wide operator*(std::int32_t other) const
  {
    return *this * Wide(other);
  }
  Wide operator*(std::int64_t other) const
  {
    return *this * Wide(other);
  }
  Wide operator*(const Wide &other) const
  {
    Wide result;
    result.size_ = 0;
    if (size_ == 0 || other.size_ == 0)
      return result;
    int n = size_ + other.size_ < LIMBS ? size_ + other.size_ : LIMBS;
    for (int i = 0; i < n; i++)
      result.limb_[i] = 0;
    for (int i = 0; i < size_; i++) {
      std::uint64_t carry = 0;
      for (int k = 0; k < other.size_ && i + k < n; k++) {
        Twice t = (Twice)limb_[i] * other.limb_[k] + result.limb_[i + k] + carry;
        result.limb_[i + k] = (std::uint64_t)t;
        carry = (std::uint64_t)(t >> 64);
      }
      if (i + other.size_ < n)
        result.limb_[i + other.size_] = carry;
    }
    result.size_ = n;
    result.trim();
    result.negative_ = negative_ != other.negative_;
    return result;
  }

  /* As Boost's: the three highest halves of limbs, first to last, and the exponent of the rest. */
  std::pair<double, int> p() const
  {
    std::pair<double, int> result(0, 0);
    int n = halves();
    for (int i = n - 1; i >= 0 && i >= n - 3; i--)
      result.first = result.first * 4294967296.0 + (double)half(i);
    result.second = n > 3 ? (n - 3) * 32 : 0;
    if (is_neg())
      result.first = -result.first;
    return result;
  }
  double d() const
  {
    std::pair<double, int> both = p();
    return std::ldexp(both.first, both.second);
  }

private:
  __extension__ typedef unsigned __int128 Twice;

  int halves() const
  {
    return size_ == 0 ? 0 : 2 * size_ - (limb_[size_ - 1] >> 32 == 0);
  }
  std::uint32_t half(int i) const
  {
    return (std::uint32_t)(limb_[i / 2] >> (i % 2 * 32));
  }

  void trim()
  {
    while (size_ > 0 && limb_[size_ - 1] == 0)
      size_--;
  }

  /* < 0, 0, > 0: sign left out */
  static int compare(const Wide &a, const Wide &b)
  {
    if (a.size_ != b.size_)
      return a.size_ - b.size_;
    for (int i = a.size_ - 1; i >= 0; i--)
      if (a.limb_[i] != b.limb_[i])
        return a.limb_[i] < b.limb_[i] ? -1 : 1;
    return 0;
  }

  /* a + b, b with the sign @negative */
  static Wide sum(const Wide &a, const Wide &b, bool negative)
  {
    if (a.size_ == 0 || b.size_ == 0) {
      Wide result(a.size_ == 0 ? b : a);
      result.negative_ = a.size_ == 0 ? negative : a.negative_;
      return result;
    }
    Wide result;
    if (a.negative_ == negative) {
      result.add(a.size_ >= b.size_ ? a : b, a.size_ >= b.size_ ? b : a);
      result.negative_ = negative;
      return result;
    }
    int order = compare(a, b);
    result.size_ = 0;
    if (order > 0)
      result.take(a, b);
    else if (order < 0)
      result.take(b, a);
    result.negative_ = order > 0 ? a.negative_ : negative;
    return result;
  }

  /* @a no shorter than @b */
  void add(const Wide &a, const Wide &b)
  {
    std::uint64_t carry = 0;
    for (int i = 0; i < a.size_; i++) {
      Twice t = (Twice)a.limb_[i] + (i < b.size_ ? b.limb_[i] : 0) + carry;
      limb_[i] = (std::uint64_t)t;
      carry = (std::uint64_t)(t >> 64);
    }
    size_ = a.size_;
    if (carry != 0 && size_ < LIMBS)
      limb_[size_++] = carry;
  }

  /* @a larger than @b */
  void take(const Wide &a, const Wide &b)
  {
    std::uint64_t borrow = 0;
    for (int i = 0; i < a.size_; i++) {
      std::uint64_t other = i < b.size_ ? b.limb_[i] : 0, less = a.limb_[i] - other;
      limb_[i] = less - borrow;
      borrow = (a.limb_[i] < other) | (less < borrow);
    }
    size_ = a.size_;
    trim();
  }

  std::uint64_t limb_[LIMBS];
  int size_ = 0;
  bool negative_ = false;
};

inline bool
is_pos(const Wide &value)
{
  return value.is_pos();
}
inline bool
is_neg(const Wide &value)
{
  return value.is_neg();
}
inline bool
is_zero(const Wide &value)
{
  return value.is_zero();
}

/* part * 2^exponent, 1/2 <= |part| < 1, or 0: Boost's extended_exponent_fpt, its library calls to
 * take a float apart and put it together written out. Same values: scaling by a power of two is
 * exact. */
class Far
{
public:
  explicit Far(double value) : Far(value, 0)
  {
  }
  Far(double value, int exponent)
  {
    std::uint64_t bits;
    std::memcpy(&bits, &value, sizeof bits);
    if (bits << 1 == 0) {
      part_ = value;
      exponent_ = exponent;
      return;
    }
    exponent_ = exponent + (int)(bits >> 52 & 0x7ff) - 1022;
    bits = (bits & ~((std::uint64_t)0x7ff << 52)) | (std::uint64_t)1022 << 52;
    std::memcpy(&part_, &bits, sizeof bits);
  }

  bool is_pos() const
  {
    return part_ > 0;
  }
  bool is_neg() const
  {
    return part_ < 0;
  }
  bool is_zero() const
  {
    return part_ == 0;
  }

  Far operator-() const
  {
    return Far(-part_, exponent_);
  }
  Far operator+(const Far &other) const
  {
    return sum(*this, other, other.part_);
  }
  Far operator-(const Far &other) const
  {
    return sum(*this, other, -other.part_);
  }
  Far operator*(const Far &other) const
  {
    return Far(part_ * other.part_, exponent_ + other.exponent_);
  }
  Far operator/(const Far &other) const
  {
    return Far(part_ / other.part_, exponent_ - other.exponent_);
  }
  Far &operator+=(const Far &other)
  {
    return *this = *this + other;
  }
  Far &operator-=(const Far &other)
  {
    return *this = *this - other;
  }
  Far &operator*=(const Far &other)
  {
    return *this = *this * other;
  }
  Far &operator/=(const Far &other)
  {
    return *this = *this / other;
  }

  Far sqrt() const
  {
    bool odd = (exponent_ & 1) != 0;
    return Far(std::sqrt(odd ? 2 * part_ : part_), (odd ? exponent_ - 1 : exponent_) >> 1);
  }
  double d() const
  {
    return std::ldexp(part_, exponent_);
  }

private:
  enum { SIGNIFICANT = 54 };

  /* 2^n, 0 <= n <= SIGNIFICANT */
  static double power(int n)
  {
    return (double)((std::uint64_t)1 << n);
  }

  static Far sum(const Far &a, const Far &b, double part)
  {
    if (a.part_ == 0 || b.exponent_ > a.exponent_ + SIGNIFICANT)
      return Far(part, b.exponent_);
    if (part == 0 || a.exponent_ > b.exponent_ + SIGNIFICANT)
      return a;
    return a.exponent_ >= b.exponent_
               ? Far(a.part_ * power(a.exponent_ - b.exponent_) + part, b.exponent_)
               : Far(part * power(b.exponent_ - a.exponent_) + a.part_, a.exponent_);
  }

  double part_;
  int exponent_;
};

inline Far
get_sqrt(const Far &value)
{
  return value.sqrt();
}
inline bool
is_pos(const Far &value)
{
  return value.is_pos();
}
inline bool
is_neg(const Far &value)
{
  return value.is_neg();
}
inline bool
is_zero(const Far &value)
{
  return value.is_zero();
}

struct WideToFloat {
  template <typename T> double operator()(const T &value) const
  {
    return static_cast<double>(value);
  }
  double operator()(const Wide &value) const
  {
    return value.d();
  }
  double operator()(const Far &value) const
  {
    return value.d();
  }
};

struct WideToFar {
  Far operator()(const Wide &value) const
  {
    std::pair<double, int> both = value.p();
    return Far(both.first, both.second);
  }
};

struct WideTraits : boost::polygon::detail::voronoi_ctype_traits<std::int32_t> {
  typedef Wide big_int_type;
  typedef Far efpt_type;
  typedef WideToFloat to_fpt_converter_type;
  typedef WideToFar to_efpt_converter_type;
};

} // namespace holdfast

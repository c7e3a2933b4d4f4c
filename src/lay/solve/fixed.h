/// Fractions in fixed point: whole numbers of 2^-40, the same on every machine. For prices and
/// amounts that guide a search; what is proved is worked out in whole numbers besides.
///
/// Inside `lay` only.
#pragma once

#include <compare>

#include "lay/solve/whole.h"

namespace pouchwright::lay {

/// Good for values below 2^40; a product or quotient is off by less than one unit.
class Fixed {
 public:
  static constexpr int kBits = 40;

  constexpr Fixed() = default;
  static constexpr Fixed units(Wide raw) {
    Fixed made;
    made.raw_ = raw;
    return made;
  }
  static constexpr Fixed whole(Whole number) { return units(Wide{number} << kBits); }
  /// Requires: below != 0, above / below < 2^40.
  static constexpr Fixed fraction(Whole above, Whole below) {
    return units((Wide{above} << kBits) / below);
  }

  [[nodiscard]] constexpr Wide raw() const { return raw_; }
  /// The greatest whole number not above.
  [[nodiscard]] constexpr Whole floor() const { return static_cast<Whole>(raw_ >> kBits); }

  friend constexpr Fixed operator+(Fixed a, Fixed b) { return units(a.raw_ + b.raw_); }
  friend constexpr Fixed operator-(Fixed a, Fixed b) { return units(a.raw_ - b.raw_); }
  friend constexpr Fixed operator-(Fixed a) { return units(-a.raw_); }
  friend constexpr Fixed operator*(Fixed a, Fixed b) { return units((a.raw_ * b.raw_) >> kBits); }
  /// Requires: b != 0.
  friend constexpr Fixed operator/(Fixed a, Fixed b) { return units((a.raw_ << kBits) / b.raw_); }
  constexpr Fixed& operator+=(Fixed b) { return *this = *this + b; }
  constexpr Fixed& operator-=(Fixed b) { return *this = *this - b; }
  constexpr bool operator==(const Fixed&) const = default;
  constexpr std::strong_ordering operator<=>(const Fixed& b) const {
    return raw_ < b.raw_   ? std::strong_ordering::less
           : raw_ > b.raw_ ? std::strong_ordering::greater
                           : std::strong_ordering::equal;
  }

 private:
  Wide raw_ = 0;
};

}  // namespace pouchwright::lay

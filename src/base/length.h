/// Lengths as whole nanometres, so that millimetres and inch fractions are both exact.
///
///     auto width = Length::whole_mm(190) + 2 * Length::inches(1, 4);
///     auto reading = read_length("7 1/4 in", Unit::mm);
///
/// How a length is said to people is the Voice's (voice.h). Not for points on paper or pixels: those are doubles inside `drawing` and `render`.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>

#include "base/named.h"

namespace pouchwright::base {

/// The unit in which a job prints lengths and reads bare numbers.
enum class Unit { mm, inch };
inline constexpr Named<Unit> kUnitWords[] = {{Unit::mm, "mm"}, {Unit::inch, "in"}};

/// A length, signed, exact to the nanometre. Sums and differences are exact; readers accept at
/// most kLongest either way, which leaves room for any sum this program forms.
class Length {
 public:
  constexpr Length() = default;

  static constexpr Length nm(std::int64_t count) { return Length(count); }
  static constexpr Length whole_mm(std::int64_t count) { return Length(count * 1'000'000); }
  /// `numerator / denominator` of an inch. Requires: the denominator divides 25,400,000.
  static constexpr Length inches(std::int64_t numerator, std::int64_t denominator = 1) {
    return Length(numerator * 25'400'000 / denominator);
  }
  /// The nearest whole nanometre, halves away from zero. Requires: finite and below 9e12 mm.
  static Length mm(double millimetres);

  [[nodiscard]] constexpr std::int64_t in_nm() const { return nm_; }
  [[nodiscard]] constexpr double in_mm() const { return static_cast<double>(nm_) / 1e6; }

  constexpr auto operator<=>(const Length&) const = default;

  constexpr Length operator-() const { return Length(-nm_); }
  constexpr Length& operator+=(Length other) {
    nm_ += other.nm_;
    return *this;
  }
  constexpr Length& operator-=(Length other) {
    nm_ -= other.nm_;
    return *this;
  }
  friend constexpr Length operator+(Length a, Length b) { return a += b; }
  friend constexpr Length operator-(Length a, Length b) { return a -= b; }
  friend constexpr Length operator*(std::int64_t k, Length a) { return Length(k * a.nm_); }
  friend constexpr Length operator*(Length a, std::int64_t k) { return Length(k * a.nm_); }

 private:
  constexpr explicit Length(std::int64_t nm) : nm_(nm) {}
  std::int64_t nm_ = 0;
};

/// The longest length that a reader accepts: 100 m.
inline constexpr Length kLongest = Length::whole_mm(100'000);

/// Half of `length`, rounded up to the nanometre.
[[nodiscard]] constexpr Length half(Length length) {
  const std::int64_t n = length.in_nm();
  return Length::nm(n / 2 + (n % 2 > 0 ? 1 : 0));
}

/// The smallest multiple of `step` not below `length`. Requires: `step` > 0.
[[nodiscard]] Length rounded_up(Length length, Length step);
/// The largest multiple of `step` not above `length`. Requires: `step` > 0.
[[nodiscard]] Length rounded_down(Length length, Length step);
/// The multiple of `step` nearest to `length`, halves up. Requires: `step` > 0.
[[nodiscard]] Length rounded_nearest(Length length, Length step);

/// A length that both systems have, each on its own ruler: what holds where a job says nothing.
struct PerUnit {
  Length mm, inch;

  [[nodiscard]] constexpr Length of(Unit unit) const { return unit == Unit::mm ? mm : inch; }
};

/// Why a text is no length, and where: `at` and `size` are bytes of the text.
struct LengthFault {
  enum class Kind {
    empty,             ///< nothing there, or only blanks
    not_a_number,      ///< what stands there is no number (nan), or not in one (two commas, e3)
    two_readings,      ///< a mark and three digits: of thousands, or of decimals
    unknown_unit,      ///< a number, then something that is no unit
    bad_fraction,      ///< 5/4 after a whole number, any fraction after decimals, n/0 or `1/`
    fine_denominator,  ///< a denominator that does not divide 64: use one up to 64
    too_fine,          ///< more digits than whole nanometres can hold: finer than 0.000001 mm
    larger_behind,     ///< a unit behind another that is no larger: 5 mm 8 cm
    too_long,          ///< over kLongest either way
  };
  Kind kind{};
  std::size_t at = 0;
  std::size_t size = 0;

  bool operator==(const LengthFault&) const = default;
};

/// Reads `180 mm`, `18 cm`, `7 in`, `7.25in`, `7,25 in`, `7 1/4 in`, `7-1/4"`, `7¼ in`, `8″`, `8”`,
/// `8''`, `8 inches`, `8 IN`, `2 ft`, `1.5 yd`, `2 m` and the units' names in full, also with
/// ½ ¾ ⅛ ⅜ ⅝ ⅞ and ⁄ for /; `8 cm 5 mm`, `1 ft 2 in` and `1' 2"` are one length, the larger unit
/// first; `1 500 mm` has its digits in threes; a bare number is in `bare`. Blanks (also no-break
/// ones) around and between the parts are free, but not around the hyphen of a mixed number, which
/// would look like a subtraction. A leading minus sign is read (callers refuse negative sizes with
/// their own words), digits are ASCII, no exponent, never the locale. A comma is a decimal comma,
/// unless three digits follow it: `1,000 mm` may be a metre. So may `1.000 mm`, where millimetres or
/// centimetres end in a nought that no decimal needs. Nothing is rounded: a text that is no
/// whole number of nanometres is a fault. 1 in = 25.4 mm and 1 yd = 914.4 mm exactly (international
/// yard and pound agreement, 1959). Takes time linear in the text, however long.
[[nodiscard]] std::variant<Length, LengthFault> read_length(std::string_view text, Unit bare);

/// How fractions of an inch are written: `7 1/2` in plain letters, as machines and terminals read
/// them, or as a printer sets them, `7½`, `9 5⁄16`. read_length() takes both.
enum class Fractions { plain, set };

/// How lengths print: the unit, and the step to which a ruler is read.
/// Default of `ruler`: kRulerMm or kRulerInch.
struct LengthStyle {
  Unit unit = Unit::mm;
  Length ruler = Length::whole_mm(1);
  Fractions fractions = Fractions::plain;

  bool operator==(const LengthStyle&) const = default;
};

inline constexpr Length kRulerMm = Length::whole_mm(1);
inline constexpr Length kRulerInch = Length::inches(1, 8);

/// The style of `unit` with that unit's default ruler step.
[[nodiscard]] LengthStyle default_style(Unit unit);

/// To which side a length is rounded that is not on the step.
enum class Toward { nearest, less, more };

/// A length as a person reads it off a ruler, before it is text.
struct RulerReading {
  Length shown;           ///< on the step that is read
  bool is_about = false;  ///< `shown` is not the length itself
  bool is_under = false;  ///< would read 0 and is not: the length is less than `shown`
  bool is_fine = false;   ///< read more finely than the ruler, since it is small

  bool operator==(const RulerReading&) const = default;
};

/// A length below this is read more finely than the ruler where it is not on the step: kFineMm or
/// kFineInch.
inline constexpr Length kSmall = Length::whole_mm(25);
inline constexpr Length kFineMm = Length::nm(500'000);
inline constexpr Length kFineInch = Length::inches(1, 32);

/// What is on the ruler's step, or on that of the unit's default, is read as it is. A step coarser
/// than the default is for what is cut, not for reading: then the default counts. Requires:
/// ruler > 0.
[[nodiscard]] RulerReading ruler_reading(Length length, LengthStyle style, Toward toward);

/// What is read of a length that must not be passed: on the step, and not more than it is; 0 where
/// that is less than any step.
[[nodiscard]] Length read_at_most(Length length, LengthStyle style);

/// `190 mm`, `7 1/4 in` or `7¼ in`: what a reading shows. Inches with a denominator above 64 are decimals of a
/// millimetre. Never `-0`.
[[nodiscard]] std::string ruler_text(Length shown, Unit unit,
                                     Fractions fractions = Fractions::plain);

/// The exact length with its unit, as read_length reads it again: `12.7 mm`, `1/2 in`; inches that
/// are no 64th are decimals of a millimetre.
[[nodiscard]] std::string exact_text(Length length, Unit unit);

/// Exact decimals of a millimetre, up to six, without trailing zeros and without unit: `12.7`.
[[nodiscard]] std::string decimal_mm(Length length);

}  // namespace pouchwright::base

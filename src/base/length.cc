#include "base/length.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <optional>
#include <utility>

#include "base/text.h"

namespace pouchwright::base {

Length Length::mm(double millimetres) { return Length(std::llround(millimetres * 1e6)); }

Length rounded_down(Length length, Length step) {
  const std::int64_t over = length.in_nm() % step.in_nm();
  return Length::nm(length.in_nm() - over - (over < 0 ? step.in_nm() : 0));
}

Length rounded_up(Length length, Length step) {
  const Length down = rounded_down(length, step);
  return down == length ? down : down + step;
}

Length rounded_nearest(Length length, Length step) {
  const Length down = rounded_down(length, step);
  const Length over = length - down;
  return over >= step - over ? down + step : down;
}

// ---- Reading -----------------------------------------------------------------------------------

namespace {

using Kind = LengthFault::Kind;

struct UnitName {
  std::string_view name;
  std::int64_t nm;
};

// Inch and yard: the international yard and pound agreement of 1959.
constexpr std::int64_t kNmInInch = 25'400'000;
constexpr std::int64_t kNmInMm = 1'000'000;
constexpr std::array kWordUnits = {
    UnitName{"mm", kNmInMm},
    UnitName{"millimetre", kNmInMm},
    UnitName{"millimetres", kNmInMm},
    UnitName{"millimeter", kNmInMm},
    UnitName{"millimeters", kNmInMm},
    UnitName{"cm", 10 * kNmInMm},
    UnitName{"centimetre", 10 * kNmInMm},
    UnitName{"centimetres", 10 * kNmInMm},
    UnitName{"centimeter", 10 * kNmInMm},
    UnitName{"centimeters", 10 * kNmInMm},
    UnitName{"m", 1000 * kNmInMm},
    UnitName{"metre", 1000 * kNmInMm},
    UnitName{"metres", 1000 * kNmInMm},
    UnitName{"meter", 1000 * kNmInMm},
    UnitName{"meters", 1000 * kNmInMm},
    UnitName{"in", kNmInInch},
    UnitName{"inch", kNmInInch},
    UnitName{"inches", kNmInInch},
    UnitName{"ft", 12 * kNmInInch},
    UnitName{"foot", 12 * kNmInInch},
    UnitName{"feet", 12 * kNmInInch},
    UnitName{"yd", 36 * kNmInInch},
    UnitName{"yds", 36 * kNmInInch},
    UnitName{"yard", 36 * kNmInInch},
    UnitName{"yards", 36 * kNmInInch},
};
/// Longer words are no abbreviations, and a full stop behind one is none of theirs.
constexpr std::size_t kLongestAbbreviation = 3;
/// Those that begin like another come before it.
constexpr std::array<UnitName, 9> kSignUnits = {{{"''", kNmInInch},
                                                 {"’’", kNmInInch},
                                                 {"′′", kNmInInch},
                                                 {"\"", kNmInInch},
                                                 {"″", kNmInInch},
                                                 {"”", kNmInInch},
                                                 {"'", 12 * kNmInInch},
                                                 {"’", 12 * kNmInInch},
                                                 {"′", 12 * kNmInInch}}};

struct NamedFraction {
  std::string_view sign;
  std::int64_t numerator;
  std::int64_t denominator;
};

constexpr std::array<NamedFraction, 7> kNamedFractions = {
    {{"¼", 1, 4}, {"½", 1, 2}, {"¾", 3, 4}, {"⅛", 1, 8}, {"⅜", 3, 8}, {"⅝", 5, 8}, {"⅞", 7, 8}}};

constexpr std::int64_t kFinestDenominator = 64;

/// Digits are counted up to here and no further, so that no text overflows: 1e9 of the smallest
/// unit is above kLongest, and 1e9 of the largest is 1e18 nm, which an int64 holds.
constexpr std::int64_t kCountsAsTooMany = 1'000'000'000;

/// More decimals than this (after dropping zeros) never make whole nanometres: the last one is
/// neither 0 nor, at once, a multiple of 2 and of 5, so 2 or 5 would have to divide the unit's
/// nanometres that often, and no unit above has more than nine of either (a metre has 10^9).
constexpr int kMostDecimals = 9;

/// Plain, no-break and narrow no-break space, and tab.
constexpr std::array<std::string_view, 4> kBlanks = {{" ", "\t", "\u00A0", "\u202F"}};

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// A place in the text, moved on by what is read. Whatever does not match leaves it where it is.
class Cursor {
 public:
  explicit Cursor(std::string_view text) : text_(text) {}

  [[nodiscard]] std::size_t at() const { return at_; }
  [[nodiscard]] std::string_view rest() const { return text_.substr(at_); }
  [[nodiscard]] bool at_end() const { return at_ == text_.size(); }
  [[nodiscard]] bool at_digit() const { return !at_end() && is_digit(text_[at_]); }

  bool skip(std::string_view what) {
    if (!rest().starts_with(what)) return false;
    at_ += what.size();
    return true;
  }

  bool skip_slash() { return skip("/") || skip("⁄"); }

  void skip_blanks() {
    while (std::any_of(kBlanks.begin(), kBlanks.end(), [&](auto blank) { return skip(blank); })) {
    }
  }

  /// The digits that stand here, maybe none.
  std::string_view digits() {
    const std::size_t begin = at_;
    while (at_digit()) ++at_;
    return text_.substr(begin, at_ - begin);
  }

  /// The ASCII letters that stand here, maybe none.
  std::string_view letters() {
    const std::size_t begin = at_;
    while (!at_end() && is_letter(text_[at_])) ++at_;
    return text_.substr(begin, at_ - begin);
  }

  [[nodiscard]] LengthFault fault(Kind kind, std::size_t from) const {
    return {kind, from, at_ - from};
  }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

bool drop_one_trailing_blank(std::string_view& text) {
  for (const std::string_view blank : kBlanks) {
    if (!text.ends_with(blank)) continue;
    text.remove_suffix(blank.size());
    return true;
  }
  return false;
}

/// The text without the blanks at its end; offsets into it stay those of the whole text.
std::string_view without_trailing_blanks(std::string_view text) {
  while (drop_one_trailing_blank(text)) {
  }
  return text;
}

std::int64_t counted(std::string_view digits) {
  std::int64_t count = 0;
  for (const char c : digits) {
    count = count * 10 + (c - '0');
    if (count >= kCountsAsTooMany) return kCountsAsTooMany;
  }
  return count;
}

/// What stands before the unit. A number has decimals or a fraction, never both.
struct Number {
  std::int64_t whole = 0;
  std::string_view decimals;                  ///< without trailing zeros
  std::optional<LengthFault> two_readings{};  ///< of the point, where the unit is as small as a mm
  std::int64_t numerator = 0;
  std::int64_t denominator = 1;
};

template <class T>
using Reading = std::variant<T, LengthFault>;

/// One of ¼ ½ ¾ ⅛ ⅜ ⅝ ⅞, if one stands here.
bool read_named_fraction(Cursor& cursor, Number& number) {
  for (const NamedFraction& named : kNamedFractions) {
    if (!cursor.skip(named.sign)) continue;
    number.numerator = named.numerator;
    number.denominator = named.denominator;
    return true;
  }
  return false;
}

/// The denominator, the cursor standing behind the slash of a fraction that began at `from`.
Reading<std::int64_t> read_denominator(Cursor& cursor, std::size_t from) {
  const LengthFault broken_off = cursor.fault(Kind::bad_fraction, from);
  cursor.skip_blanks();
  const std::size_t begin = cursor.at();
  const std::string_view digits = cursor.digits();
  if (digits.empty()) return broken_off;
  const std::int64_t denominator = counted(digits);
  if (denominator == 0) return cursor.fault(Kind::bad_fraction, from);
  if (kFinestDenominator % denominator != 0) return cursor.fault(Kind::fine_denominator, begin);
  return denominator;
}

/// `1/4` or `¼`, if a fraction stands here; its value goes into `number`. True if there was one.
Reading<bool> read_fraction(Cursor& cursor, Number& number) {
  if (read_named_fraction(cursor, number)) return true;
  Cursor ahead = cursor;
  const std::string_view digits = ahead.digits();
  ahead.skip_blanks();
  if (digits.empty() || !ahead.skip_slash()) return false;
  const auto denominator = read_denominator(ahead, cursor.at());
  if (const auto* fault = std::get_if<LengthFault>(&denominator)) return *fault;
  number.numerator = counted(digits);
  number.denominator = std::get<std::int64_t>(denominator);
  cursor = ahead;
  return true;
}

/// The fraction after a whole number or after decimals, where it is a fault. The hyphen of
/// `7-1/4` has no blank on either side: `7 - 1/4` looks like a subtraction and is not read.
std::optional<LengthFault> read_fraction_behind(Cursor& cursor, Number& number, bool has_decimals) {
  Cursor ahead = cursor;
  if (!ahead.skip("-")) ahead.skip_blanks();
  const std::size_t begin = ahead.at();
  const auto reading = read_fraction(ahead, number);
  if (const auto* fault = std::get_if<LengthFault>(&reading)) return *fault;
  if (!std::get<bool>(reading)) return std::nullopt;
  if (has_decimals || number.numerator >= number.denominator) {
    return ahead.fault(Kind::bad_fraction, begin);
  }
  cursor = ahead;
  return std::nullopt;
}

/// The decimals behind the point or the comma, if one stands here. Either needs digits behind it;
/// a comma not three, which would be thousands to others, unless a further mark tells.
Reading<bool> read_decimals(Cursor& cursor, Number& number) {
  const std::size_t begin = cursor.at();
  const bool is_comma = cursor.skip(",");
  if (!is_comma && !cursor.skip(".")) return false;
  const std::size_t behind = cursor.at();
  const std::string_view digits = cursor.digits();
  if (digits.empty()) return LengthFault{Kind::not_a_number, begin, behind - begin};
  const bool is_marked = cursor.rest().starts_with(".") || cursor.rest().starts_with(",");
  const bool may_be_thousands =
      number.whole > 0 && number.whole < 1000 && digits.size() == 3 && !is_marked;
  if (is_comma && may_be_thousands) return cursor.fault(Kind::two_readings, begin);
  if (may_be_thousands && digits.ends_with('0')) {
    number.two_readings = cursor.fault(Kind::two_readings, begin);
  }
  number.decimals = digits.substr(0, digits.find_last_not_of('0') + 1);
  return true;
}

/// Further digits in threes, a blank before each: `1 500`, but the 125 of `7 125/128` is a
/// numerator.
void read_threes(Cursor& cursor, Number& number) {
  while (number.whole > 0 && number.whole < kCountsAsTooMany) {
    Cursor ahead = cursor;
    const auto skips = [&](std::string_view blank) { return ahead.skip(blank); };
    if (!std::any_of(kBlanks.begin(), kBlanks.end(), skips)) return;
    const std::string_view three = ahead.digits();
    Cursor behind = ahead;
    behind.skip_blanks();
    if (three.size() != 3 || behind.skip_slash()) return;
    number.whole = std::min(number.whole * 1000 + counted(three), kCountsAsTooMany);
    cursor = ahead;
  }
}

/// The word that stands where a number should: up to the next blank.
LengthFault no_number_here(Cursor cursor) {
  const std::size_t begin = cursor.at();
  const std::size_t size = std::min(cursor.rest().find_first_of(" \t"), cursor.rest().size());
  return {Kind::not_a_number, begin, size};
}

Reading<Number> read_number(Cursor& cursor) {
  Number number;
  const auto fraction = read_fraction(cursor, number);
  if (const auto* fault = std::get_if<LengthFault>(&fraction)) return *fault;
  if (std::get<bool>(fraction)) return number;

  const Cursor start = cursor;
  const std::string_view whole = cursor.digits();
  number.whole = counted(whole);
  if (!whole.empty() && whole.size() <= 3) read_threes(cursor, number);
  const auto decimals = read_decimals(cursor, number);
  if (const auto* fault = std::get_if<LengthFault>(&decimals)) return *fault;
  if (whole.empty() && !std::get<bool>(decimals)) return no_number_here(start);
  if (auto fault = read_fraction_behind(cursor, number, std::get<bool>(decimals))) return *fault;
  return number;
}

/// What stands behind the number and is no unit. A second comma and an exponent are told apart from
/// unknown units, since the person meant a number by them.
LengthFault no_unit_here(Cursor cursor) {
  const std::size_t begin = cursor.at();
  const std::string_view whole_rest = cursor.rest();
  if (cursor.skip(",")) return cursor.fault(Kind::not_a_number, begin);
  if (cursor.skip("e") || cursor.skip("E")) {
    if (!cursor.skip("+")) cursor.skip("-");
    if (!cursor.digits().empty()) return cursor.fault(Kind::not_a_number, begin);
  }
  return {Kind::unknown_unit, begin, whole_rest.size()};
}

/// The nanometres of the unit that stands here; empty where none does.
std::optional<std::int64_t> unit_here(Cursor& cursor) {
  for (const UnitName& unit : kSignUnits) {
    if (cursor.skip(unit.name)) return unit.nm;
  }
  Cursor ahead = cursor;
  const std::string word = lower(ahead.letters());
  for (const UnitName& unit : kWordUnits) {
    if (word != unit.name) continue;
    if (word.size() <= kLongestAbbreviation) ahead.skip(".");
    cursor = ahead;
    return unit.nm;
  }
  return std::nullopt;
}

/// Does a number begin here, so that what stands before it was a part of a length?
bool at_number(const Cursor& cursor) {
  Cursor ahead = cursor;
  Number ignored;
  return ahead.at_digit() || read_named_fraction(ahead, ignored);
}

/// `decimals` as a fraction of `unit_nm`; empty if that is no whole number of nanometres.
std::optional<std::int64_t> nm_of_decimals(std::string_view decimals, std::int64_t unit_nm) {
  if (decimals.size() > kMostDecimals) return std::nullopt;
  std::int64_t parts = 1;
  for (std::size_t i = 0; i < decimals.size(); ++i) parts *= 10;
  const std::int64_t product = counted(decimals) * unit_nm;
  if (product % parts != 0) return std::nullopt;
  return product / parts;
}

/// A number and its unit, as one of a length's parts.
struct Part {
  std::int64_t nm = 0;
  std::int64_t unit_nm = 0;
};

/// The part that stands here. Only the first may lack a unit, which is then `bare`'s.
Reading<Part> read_part(Cursor& cursor, Unit bare, bool is_first) {
  const std::size_t begin = cursor.at();
  const auto number_read = read_number(cursor);
  if (const auto* fault = std::get_if<LengthFault>(&number_read)) return *fault;
  const Number& number = std::get<Number>(number_read);
  const LengthFault too_fine = cursor.fault(Kind::too_fine, begin);
  cursor.skip_blanks();
  const Cursor before_unit = cursor;
  auto unit_nm = unit_here(cursor);
  if (!unit_nm && cursor.at_end()) {
    if (!is_first) return cursor.fault(Kind::unknown_unit, begin);
    unit_nm = bare == Unit::mm ? 1'000'000 : kNmInInch;
  }
  const bool is_one_word = !cursor.at_end() && unit_nm && is_letter(cursor.rest().front());
  cursor.skip_blanks();
  if (!unit_nm || is_one_word || (!cursor.at_end() && !at_number(cursor))) {
    return no_unit_here(before_unit);
  }
  if (number.two_readings && *unit_nm <= 10 * kNmInMm) return *number.two_readings;
  const auto decimals = nm_of_decimals(number.decimals, *unit_nm);
  if (!decimals) return too_fine;
  // Every unit's nanometres are divisible by 64, so fractions come out whole.
  return Part{
      number.whole * *unit_nm + *decimals + number.numerator * (*unit_nm / number.denominator),
      *unit_nm};
}

}  // namespace

std::variant<Length, LengthFault> read_length(std::string_view text, Unit bare) {
  Cursor cursor(without_trailing_blanks(text));
  if (cursor.at_end()) return LengthFault{Kind::empty, 0, text.size()};
  cursor.skip_blanks();
  const std::size_t begin = cursor.at();
  const bool negative = cursor.skip("-");
  if (cursor.at_end()) return cursor.fault(Kind::not_a_number, begin);
  if (negative) cursor.skip_blanks();

  std::int64_t nm = 0;
  std::int64_t last_unit = 0;
  do {
    const std::size_t part_begin = cursor.at();
    const bool is_first = last_unit == 0;
    const auto part_read = read_part(cursor, bare, is_first);
    if (const auto* fault = std::get_if<LengthFault>(&part_read)) return *fault;
    const Part& part = std::get<Part>(part_read);
    if (!is_first && part.unit_nm >= last_unit) {
      return cursor.fault(Kind::larger_behind, part_begin);
    }
    last_unit = part.unit_nm;
    nm += part.nm;
    if (nm > kLongest.in_nm()) {
      return LengthFault{Kind::too_long, begin, cursor.at() + cursor.rest().size() - begin};
    }
  } while (!cursor.at_end());
  return Length::nm(negative ? -nm : nm);
}

// ---- Printing ----------------------------------------------------------------------------------

namespace {

/// |nm|, also of the lowest number there is.
std::uint64_t magnitude(Length length) {
  const auto bits = static_cast<std::uint64_t>(length.in_nm());
  return length < Length() ? 0 - bits : bits;
}

std::string sign_of(Length length) { return length < Length() ? "-" : ""; }

/// A length as inches in lowest terms.
struct Inches {
  std::uint64_t whole;
  std::uint64_t numerator;
  std::uint64_t denominator;
};

Inches in_lowest_terms(Length length) {
  constexpr auto kInch = static_cast<std::uint64_t>(kNmInInch);
  const std::uint64_t over = magnitude(length) % kInch;
  const std::uint64_t common = std::gcd(over, kInch);
  return {magnitude(length) / kInch, over / common, kInch / common};
}

std::string mixed_number(const Inches& inches) {
  const std::string fraction =
      std::to_string(inches.numerator) + "/" + std::to_string(inches.denominator);
  if (inches.numerator == 0) return std::to_string(inches.whole);
  return inches.whole == 0 ? fraction : std::to_string(inches.whole) + " " + fraction;
}

/// The one sign where Unicode has it. Else U+2044, which has fonts set the digits around it small,
/// behind a narrow blank (U+202F) at which no line breaks: `91⁄16` would be more than ninety.
std::string set_number(const Inches& inches) {
  if (inches.numerator == 0) return std::to_string(inches.whole);
  const std::string whole = inches.whole == 0 ? std::string() : std::to_string(inches.whole);
  for (const NamedFraction& one : kNamedFractions) {
    if (static_cast<std::uint64_t>(one.numerator) == inches.numerator &&
        static_cast<std::uint64_t>(one.denominator) == inches.denominator) {
      return whole + std::string(one.sign);
    }
  }
  return whole + (whole.empty() ? "" : "\u202F") + std::to_string(inches.numerator) + "\u2044" +
         std::to_string(inches.denominator);
}

/// A fraction of an inch if its denominator may be shown, else decimals of a millimetre.
std::string in_inches(Length length, bool (*may_be_fraction)(std::uint64_t denominator),
                      Fractions fractions) {
  const Inches inches = in_lowest_terms(length);
  if (!may_be_fraction(inches.denominator)) return decimal_mm(length) + " mm";
  return sign_of(length) +
         (fractions == Fractions::set ? set_number(inches) : mixed_number(inches)) + " in";
}

/// A fraction that read_length would read again.
bool is_readable(std::uint64_t denominator) { return kFinestDenominator % denominator == 0; }

/// A fraction that a ruler may be divided into, tenths of an inch among them.
bool is_on_rulers(std::uint64_t denominator) { return denominator <= kFinestDenominator; }

}  // namespace

LengthStyle default_style(Unit unit) {
  return {.unit = unit, .ruler = unit == Unit::mm ? kRulerMm : kRulerInch};
}

std::string decimal_mm(Length length) {
  constexpr std::uint64_t kNmInOne = 1'000'000;
  const std::uint64_t size = magnitude(length);
  std::string digits = std::to_string(size / kNmInOne);
  if (size % kNmInOne != 0) {
    // The 1 in front keeps the leading zeros of the decimals.
    std::string decimals = std::to_string(kNmInOne + size % kNmInOne);
    decimals.erase(decimals.find_last_not_of('0') + 1);
    digits += "." + decimals.substr(1);
  }
  return sign_of(length) + digits;
}

std::string exact_text(Length length, Unit unit) {
  if (unit == Unit::mm) return decimal_mm(length) + " mm";
  return in_inches(length, is_readable, Fractions::plain);
}

namespace {

Length magnitude_of(Length length) { return length < Length() ? -length : length; }

Length reading_step(LengthStyle style) {
  return std::min(style.ruler, default_style(style.unit).ruler);
}

/// What is cut lies on the ruler's own step, however coarse.
bool is_on_step(Length length, LengthStyle style) {
  return rounded_down(length, style.ruler) == length ||
         rounded_down(length, reading_step(style)) == length;
}

Length rounded(Length length, Length step, Toward toward) {
  switch (toward) {
    case Toward::nearest:
      return rounded_nearest(length, step);
    case Toward::less:
      return rounded_down(length, step);
    case Toward::more:
      return rounded_up(length, step);
  }
  return length;
}

/// What is small and on no step is read more finely.
Length step_at(Length length, LengthStyle style) {
  const Length fine = style.unit == Unit::mm ? kFineMm : kFineInch;
  return magnitude_of(length) < kSmall ? std::min(reading_step(style), fine) : reading_step(style);
}

}  // namespace

RulerReading ruler_reading(Length length, LengthStyle style, Toward toward) {
  if (is_on_step(length, style)) return {length, false, false, false};
  const bool is_small = magnitude_of(length) < kSmall;
  const Length step = step_at(length, style);
  const Length shown = rounded(length, step, toward);
  // What lacks a little reads as lacking a step, never as nothing.
  if (shown == Length())
    return {length < Length() ? -step : step, length<Length(), length> Length(), is_small};
  return {shown, shown != length, false, is_small};
}

Length read_at_most(Length length, LengthStyle style) {
  return is_on_step(length, style) ? length : rounded_down(length, step_at(length, style));
}

std::string ruler_text(Length shown, Unit unit, Fractions fractions) {
  return unit == Unit::mm ? decimal_mm(shown) + " mm" : in_inches(shown, is_on_rulers, fractions);
}

}  // namespace pouchwright::base

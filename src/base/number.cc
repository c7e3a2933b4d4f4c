#include "base/number.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "base/number_read.h"

namespace pouchwright::base {

namespace {

std::string without_minus_on_zero(std::string digits) {
  const bool is_zero = digits.find_first_of("123456789") == std::string::npos;
  if (is_zero && digits.starts_with('-')) digits.erase(0, 1);
  return digits;
}

constexpr std::array<std::int64_t, 7> kPowers = {1, 10, 100, 1000, 10'000, 100'000, 1'000'000};

/// `value` rounded to a whole number of the last of `places`, where a product of doubles tells
/// which that is: not next to a half, nor where too few digits are left.
std::optional<std::int64_t> whole_of(double value, int places) {
  constexpr double kMost = 1e9;
  if (static_cast<std::size_t>(places) >= kPowers.size()) return std::nullopt;
  const double scaled =
      std::abs(value) * static_cast<double>(kPowers.at(static_cast<std::size_t>(places)));
  if (!(scaled < kMost)) return std::nullopt;
  const auto below = static_cast<std::int64_t>(scaled);
  const double rest = scaled - static_cast<double>(below);
  if (std::abs(rest - 0.5) < 1e-6) return std::nullopt;
  return below + (rest > 0.5 ? 1 : 0);
}

/// The exponent of a number printed as `d.dde+xx`.
int exponent_of(std::string_view scientific) {
  std::string_view digits = scientific.substr(scientific.find('e') + 1);
  if (digits.starts_with('+')) digits.remove_prefix(1);
  int exponent = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), exponent);
  return exponent;
}

/// `-1.98e+05` as `-198000`. Requires: no digit of it lies behind the decimal point.
std::string padded_with_zeros(const std::string& scientific, int exponent) {
  const bool negative = scientific.starts_with('-');
  std::string digits;
  for (const char c : scientific.substr(0, scientific.find('e'))) {
    if (c >= '0' && c <= '9') digits += c;
  }
  digits.resize(static_cast<std::size_t>(exponent) + 1, '0');
  return (negative ? "-" : "") + digits;
}

}  // namespace

std::string decimal(double value, int places) {
  return without_minus_on_zero(fmt::format("{:.{}f}", value, places));
}

std::string shortest(double value, int places) {
  std::string digits;
  append_shortest(digits, value, places);
  return digits;
}

void append_shortest(std::string& text, double value, int places) {
  const auto whole = whole_of(value, places);
  if (!whole) {
    std::string digits = decimal(value, places);
    if (digits.find('.') != std::string::npos) {
      digits.erase(digits.find_last_not_of('0') + 1);
      if (digits.back() == '.') digits.pop_back();
    }
    text += digits;
    return;
  }
  const std::int64_t power = kPowers.at(static_cast<std::size_t>(places));
  std::array<char, 24> buffer;  // NOLINT(cppcoreguidelines-pro-type-member-init): written below
  char* at = buffer.data();
  if (value < 0 && *whole != 0) *at++ = '-';
  at = std::to_chars(at, buffer.end(), *whole / power).ptr;
  std::int64_t rest = *whole % power;
  if (rest != 0) *at++ = '.';
  for (std::int64_t place = power / 10; rest != 0; place /= 10) {
    *at++ = static_cast<char>('0' + rest / place);
    rest %= place;
  }
  text.append(buffer.data(), at);
}

DecimalRead read_decimal(std::string_view text) {
  std::string plain(text);
  const std::size_t comma = plain.find(',');
  if (comma != std::string::npos) {
    const bool is_of_digits = plain.find_first_not_of("0123456789", comma + 1) == std::string::npos;
    const bool has_three = is_of_digits && plain.size() == comma + 4;
    const bool has_thousands = comma > 0 && comma <= 3 && plain.front() != '0' &&
                               plain.substr(0, comma).find('-') == std::string::npos;
    if (has_three && has_thousands) return {.thousands_at = comma};
    if (!is_of_digits || plain.size() == comma + 1) return {};
    plain[comma] = '.';
  }
  const bool is_negative = plain.starts_with('-');
  if (is_negative) plain.erase(0, 1);
  if (plain.find_first_of("eE") != std::string::npos) return {};
  const auto read = number_at_front(plain);
  if (!read || read->size != plain.size()) return {};
  return {.value = is_negative ? -read->value : read->value};
}

std::string significant(double value, int digits) {
  if (value == 0) return "0";
  // Rounding may carry into one more place (99.6 with two is 1.0e+02), so the exponent is read
  // after it, not before.
  const std::string scientific = fmt::format("{:.{}e}", value, digits - 1);
  const int exponent = exponent_of(scientific);
  const int places = digits - 1 - exponent;
  return places > 0 ? decimal(value, places) : padded_with_zeros(scientific, exponent);
}

}  // namespace pouchwright::base

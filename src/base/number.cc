#include "base/number.h"

#include <charconv>
#include <cstddef>
#include <string_view>
#include <system_error>

namespace pouchwright::base {

namespace {

/// The longest double has 309 digits before the point; a sign, a point and an exponent come on top.
constexpr std::size_t kLongestWithoutDecimals = 320;

std::string printed(double value, std::chars_format form, int places) {
  std::string buffer(kLongestWithoutDecimals + static_cast<std::size_t>(places), '\0');
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, form, places);
  buffer.resize(static_cast<std::size_t>(end.ptr - buffer.data()));
  return buffer;
}

std::string without_minus_on_zero(std::string digits) {
  const bool is_zero = digits.find_first_of("123456789") == std::string::npos;
  if (is_zero && digits.starts_with('-')) digits.erase(0, 1);
  return digits;
}

/// The exponent of a number that to_chars printed as `d.dde+xx`.
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
  return without_minus_on_zero(printed(value, std::chars_format::fixed, places));
}

std::string shortest(double value, int places) {
  std::string digits = decimal(value, places);
  if (digits.find('.') == std::string::npos) return digits;
  digits.erase(digits.find_last_not_of('0') + 1);
  if (digits.back() == '.') digits.pop_back();
  return digits;
}

std::string significant(double value, int digits) {
  if (value == 0) return "0";
  // Rounding may carry into one more place (99.6 with two is 1.0e+02), so the exponent is read
  // after it, not before.
  const std::string scientific = printed(value, std::chars_format::scientific, digits - 1);
  const int exponent = exponent_of(scientific);
  const int places = digits - 1 - exponent;
  return places > 0 ? decimal(value, places) : padded_with_zeros(scientific, exponent);
}

}  // namespace pouchwright::base

#include "base/number.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string_view>
#include <system_error>

namespace pouchwright::base {

namespace {

/// How many of `letters` stand at the front of `text` from `from` on.
std::size_t run_of(std::string_view text, std::size_t from, std::string_view letters) {
  return std::min(text.find_first_not_of(letters, from), text.size()) - std::min(from, text.size());
}

constexpr std::string_view kDigits = "0123456789";

/// How much of `text` is a number without sign: `12`, `1.5`, `.5`, `2.`, `1e-3`.
std::size_t number_length(std::string_view text) {
  std::size_t size = run_of(text, 0, kDigits);
  std::size_t digits = size;
  if (size < text.size() && text[size] == '.') {
    const std::size_t decimals = run_of(text, size + 1, kDigits);
    digits += decimals;
    if (digits > 0) size += 1 + decimals;
  }
  if (digits == 0) return 0;
  if (size < text.size() && (text[size] == 'e' || text[size] == 'E')) {
    const std::size_t sign =
        size + 1 < text.size() && (text[size + 1] == '-' || text[size + 1] == '+');
    const std::size_t power = run_of(text, size + 1 + sign, kDigits);
    if (power > 0) size += 1 + sign + power;
  }
  return size;
}

/// The double next to `text`. Fails: empty beyond the largest and below the smallest.
/// Requires: number_length() is all of it.
std::optional<double> next_double(std::string_view text) {
#ifdef __cpp_lib_to_chars
  double value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  return read.ec == std::errc() ? std::optional(value) : std::nullopt;
#else
  // The C++ library in a browser has no other; the C library there knows no locale.
  try {
    return std::stod(std::string(text));
  } catch (const std::out_of_range&) {
    return std::nullopt;
  }
#endif
}

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

std::optional<NumberRead> number_at_front(std::string_view text) {
  const std::size_t size = number_length(text);
  if (size == 0) return std::nullopt;
  const auto value = next_double(text.substr(0, size));
  return value ? std::optional(NumberRead{*value, size}) : std::nullopt;
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

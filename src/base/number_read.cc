#include "base/number_read.h"

#include <algorithm>
#include <charconv>
#include <stdexcept>
#include <string>
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

}  // namespace

std::optional<NumberRead> number_at_front(std::string_view text) {
  const std::size_t size = number_length(text);
  if (size == 0) return std::nullopt;
  const auto value = next_double(text.substr(0, size));
  return value ? std::optional(NumberRead{*value, size}) : std::nullopt;
}

}  // namespace pouchwright::base

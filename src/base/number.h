/// Numbers to text and back, the same on every machine: never the locale, never `-0`.
///
///     decimal(12.3456, 2)          // "12.35"
///     shortest(12.50, 3)           // "12.5"
///
/// The value rounded is the double's own, exactly: 0.125 has its half in the middle and goes to the
/// even neighbour ("0.12" with two places), while 2.675 is stored just below its half ("2.67").
/// Not for lengths: those print through `length.h`, without rounding errors.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace pouchwright::base {

/// `value` with exactly `places` decimals. Requires: finite, `places` >= 0.
[[nodiscard]] std::string decimal(double value, int places);

/// `value` with at most `places` decimals, trailing zeros dropped. Requires: finite, `places` >= 0.
[[nodiscard]] std::string shortest(double value, int places);

/// `shortest` put behind `text`, for those who print many.
void append_shortest(std::string& text, double value, int places);

/// `value` rounded to `digits` significant figures, as plain digits: 1984 with two is "2000", 0.996
/// is "1.0"; zero is "0". Requires: finite, `digits` >= 1.
[[nodiscard]] std::string significant(double value, int digits);

/// What `text` says as a decimal number: `4.5`, `4,5`, `-3`, `.5`; nothing around it, no exponent.
struct DecimalRead {
  std::optional<double> value{};              ///< empty: it is none, or may be two
  std::optional<std::size_t> thousands_at{};  ///< the comma of `1,500`, which may be of thousands
};
[[nodiscard]] DecimalRead read_decimal(std::string_view text);

}  // namespace pouchwright::base

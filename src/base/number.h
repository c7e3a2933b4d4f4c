/// Numbers to text, the same on every machine: over std::to_chars, never the locale, never `-0`.
///
///     decimal(12.3456, 2)          // "12.35"
///     shortest(12.50, 3)           // "12.5"
///
/// The value rounded is the double's own, exactly: 0.125 has its half in the middle and goes to the
/// even neighbour ("0.12" with two places), while 2.675 is stored just below its half ("2.67").
/// Not for lengths: those print through `length.h`, without rounding errors.
#pragma once

#include <string>

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

}  // namespace pouchwright::base

/// Which lengths a value of a job is likely to have: a number in the wrong unit lies far outside.
///
///     check_likely(node, "liners.width", length, context);  // "8 mm: did you mean 8 cm?"
///
/// Not for what a value must not be: that is an error, and whoever reads the value tells it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "input/reader.h"

namespace pouchwright::input {

struct LikelyLengths {
  Length least, most;

  [[nodiscard]] bool has(Length length) const { return least <= length && length <= most; }
};

/// Wide enough for anything that a group sews; empty for what can be of any length.
[[nodiscard]] std::optional<LikelyLengths> likely_lengths(std::string_view path);

/// The same number with the unit, or with the decimal point, that makes it likely: `8 cm` for `8 mm`;
/// empty where nothing does, or where it is of several units. A bare number is in `bare`.
[[nodiscard]] std::optional<std::string> likely_meant(std::string_view typed, Length length,
                                                      base::Unit bare, const LikelyLengths& likely);

/// Warns of a length that is hardly meant. 0 says that there is none of it, and is left alone.
void check_likely(const Node& node, const std::string& path, Length length, Context context);

}  // namespace pouchwright::input

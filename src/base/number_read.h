/// A number as it begins a text, read the same on every machine; decimals with a comma: see number.h.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace pouchwright::base {

/// The number without sign that `text` begins with, as `1.5`, `.5` or `2e-3`, and how many bytes it
/// has. Fails: empty where there is none, or none that a double can hold.
struct NumberRead {
  double value = 0;
  std::size_t size = 0;
};
[[nodiscard]] std::optional<NumberRead> number_at_front(std::string_view text);

}  // namespace pouchwright::base

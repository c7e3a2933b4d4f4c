/// The three sides of a folded liner as people write them: "80 x 120 x 9 mm".
///
///     if (const auto sides = three_sides("80 x 120 x 9 mm", base::Unit::mm)) use(sides->width);
///
/// Inside `job` only.
#pragma once

#include <optional>
#include <string>

#include "base/length.h"

namespace pouchwright::job {

struct Sides {
  base::Length width, length, thickness;
};

/// "WIDTH x LENGTH x THICKNESS", each above zero; a unit after the last only holds for all, bare
/// numbers are in `bare`. Empty where `text` cannot be read so.
[[nodiscard]] std::optional<Sides> three_sides(const std::string& text, base::Unit bare);

}  // namespace pouchwright::job

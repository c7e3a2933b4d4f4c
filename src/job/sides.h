/// The three sides of a folded liner as people write them: "80 x 120 x 9 mm".
///
///     if (const auto sides = three_sides("80 x 120 x 9 mm", units::Unit::mm)) use(sides->width);
///
/// Inside `job` only.
#pragma once

#include <optional>
#include <string>

#include "units/length.h"

namespace pouchwright::job {

struct Sides {
  units::Length width, length, thickness;
};

/// "WIDTH x LENGTH x THICKNESS", each above zero; a unit after the last only holds for all, bare
/// numbers are in `bare`. Empty where `text` cannot be read so.
[[nodiscard]] std::optional<Sides> three_sides(const std::string& text, units::Unit bare);

}  // namespace pouchwright::job

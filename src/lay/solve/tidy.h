/// The same plan with fewer settings of the ruler: like parts lie next to each other, and lengths
/// that hold the same become alike.
///
/// Inside `lay` only.
#pragma once

#include <vector>

#include "lay/solve/part.h"

namespace pouchwright::lay {

/// How often a person sets the ruler for these lengths: once for all cut off alike, then inside
/// them once for every run of like parts (orders.h makes one step of each).
[[nodiscard]] int settings_for(const std::vector<Part>& cut_offs);

/// As long as before, of the same pieces, with at most as many settings; as it was where there
/// would be no fewer.
[[nodiscard]] std::vector<Part> tidied(std::vector<Part> cut_offs);

}  // namespace pouchwright::lay

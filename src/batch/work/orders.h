/// Orders of the steps that plans are tried in.
///
/// Inside `batch` only, for plan.cc and assignment.cc.
#pragma once

#include <cstdint>
#include <vector>

#include "batch/work/plan.h"

namespace pouchwright::batch {

/// A step is as urgent as its place in an order, times this.
inline constexpr std::int64_t kRank = 64;

/// The line's end first, so that bundles are finished and few lie about; the longest station first,
/// then what feeds it, nearest first; the line's beginning first, so that work spreads.
[[nodiscard]] std::vector<std::vector<std::int64_t>> step_orders(const Line& line);

}  // namespace pouchwright::batch

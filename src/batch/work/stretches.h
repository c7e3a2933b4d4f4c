/// A work plan by helper: what each one does without a break.
#pragma once

#include <cstddef>
#include <vector>

#include "batch/work/plan.h"

namespace pouchwright::batch {

/// A stretch of one helper's day on one step without a break: bundles in order, one after another.
struct Stretch {
  Task first;  ///< with its start
  Time end{};
  std::vector<Time> between;  ///< where one bundle ends and the next begins
  std::size_t last_bundle = 0;
};

/// Each helper's stretches in order, by helper.
[[nodiscard]] std::vector<std::vector<Stretch>> stretches(const Schedule& plan);

}  // namespace pouchwright::batch

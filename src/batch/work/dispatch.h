/// List scheduling: whenever a helper and a station are free, the most urgent step that can be
/// done is begun. Deterministic.
///
/// Inside `batch` only, for plan.cc.
#pragma once

#include <cstdint>
#include <vector>

#include "batch/work/plan.h"

namespace pouchwright::batch {

/// The task with the least `step[s] + per_bundle * bundle` is the most urgent, less `stay` if
/// somebody who did that step last is free; of equal ones that of the earlier step.
struct Urgency {
  std::vector<std::int64_t> step;
  std::int64_t per_bundle = 0;
  std::int64_t stay = 0;
};

struct Dispatched {
  std::vector<Task> tasks;  ///< in order of start
  Time finish{};
  int most_helpers = 0;  ///< so many worked at the same time at most, and no others did anything
  int moves = 0;         ///< how often somebody went to another step
};

/// A plan may be finished so much later for each time that somebody need not leave a step for
/// another one: people who stay where they are make fewer mistakes (common practice, no source).
inline constexpr Time kMove = base::Time::seconds(1);
[[nodiscard]] inline Time cost(const Dispatched& made) { return made.finish + kMove * made.moves; }

/// The plan, the same for every number of helpers that is not below its `most_helpers`.
/// Requires: as planned(); an urgency a step.
[[nodiscard]] Dispatched dispatched(const Line& line, const Urgency& urgency);

}  // namespace pouchwright::batch

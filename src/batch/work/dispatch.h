/// List scheduling: whenever a helper and a station are free, the most urgent step that can be
/// done is begun. Deterministic.
///
/// Inside `batch` only, for plan.cc and assignment.cc.
#pragma once

#include <cstdint>
#include <vector>

#include "batch/work/plan.h"
#include "batch/work/posts.h"

namespace pouchwright::batch {

/// The task with the least `step[s] + per_bundle * bundle` is the most urgent, less `stay` if
/// somebody who did that step last is free; of equal ones that of the earlier step. Nobody comes to a
/// step from another one before `pile` bundles wait for it, or all that are left, while anything else
/// is still going on.
struct Urgency {
  std::vector<std::int64_t> step;
  std::int64_t per_bundle = 0;
  std::int64_t stay = 0;
  std::int64_t pile = 1;
};

struct Dispatched {
  std::vector<Task> tasks;  ///< in order of start
  Time finish{};            ///< longer than any other where not all could be done
  int most_helpers = 0;     ///< so many worked at the same time at most, and no others did anything
  int moves = 0;            ///< how often somebody went to another step
};

/// A plan may be finished so much later for each time that somebody need not leave a step for
/// another one: people who stay where they are make fewer mistakes (common practice, no source).
inline constexpr Time kMove = base::Time::seconds(1);
[[nodiscard]] inline Time cost(const Dispatched& made) {
  return made.finish == Time::longest() ? made.finish : made.finish + kMove * made.moves;
}

/// The plan in which whoever is free does what is most urgent; for people who are alike the same for
/// every number of helpers that is not below its `most_helpers`.
/// Requires: as planned(); an urgency a step.
[[nodiscard]] Dispatched dispatched(const Line& line, const Urgency& urgency);

/// The plan in which each does only what the post says that is hers at that moment. Somebody leaves
/// a post for the next one when nothing of it is left to begin.
/// Fails: finish is the longest time where steps are nobody's, or wait for each other.
[[nodiscard]] Dispatched dispatched(const Line& line, const Urgency& urgency,
                                    const Assignment& posts);

}  // namespace pouchwright::batch

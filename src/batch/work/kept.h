/// What each person keeps to in a plan that is made, and how often she changes it.
///
/// Inside `batch` only; Schedule::kept has the answer.
#pragma once

#include <vector>

#include "batch/work/plan.h"
#include "batch/work/posts.h"

namespace pouchwright::batch {

/// A stretch for each post that somebody did any of. Tasks by start.
[[nodiscard]] std::vector<Kept> kept_posts(const Line& line, const Assignment& posts,
                                           const std::vector<Task>& tasks);
/// Without posts: as long as somebody stays at one step, or at one kind of station.
[[nodiscard]] std::vector<Kept> kept_as_done(const Line& line, const std::vector<Task>& tasks);

[[nodiscard]] int most_changes(const std::vector<Kept>& kept);

}  // namespace pouchwright::batch

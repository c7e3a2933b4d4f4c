/// Who has which post: the assignment with the shortest day, and its plan.
///
///     const FoundPosts found = plan_by_posts(line, bound(line).time);
///     tasks = found.made.tasks;
///
/// Inside `batch` only, for plan.cc.
#pragma once

#include "batch/work/dispatch.h"
#include "batch/work/posts.h"

namespace pouchwright::batch {

struct FoundPosts {
  Assignment posts;
  Dispatched made;
};

/// Posts are as small as they can be: one place each while that is nearly as short as more would be.
/// From the exact balance of the line (balance.h) and from nothing, one person's post after the other
/// is exchanged while what the fullest have to do gets less; the best of these are planned bundle by
/// bundle, then exchanged further; last, whoever is done early gets a second post where that is worth
/// a change. Nothing is sought below `least`.
/// Where there are more than kMostBlocks blocks, or no smaller posts do every step, each has all that
/// she can do. Requires: as planned().
[[nodiscard]] FoundPosts plan_by_posts(const Line& line, Time least);

}  // namespace pouchwright::batch

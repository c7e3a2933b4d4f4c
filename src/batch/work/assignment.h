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

/// By the strictest PostRule by which everything is somebody's. Of all ways to share the line out
/// (post_covers.h) those that promise most, and what becomes of them and of the exact balance
/// (balance.h) when posts are exchanged by what the fullest have to do, are planned bundle by bundle;
/// the best of these plans are exchanged further; last, whoever is done early gets a second post where
/// that is worth a change. Nothing is sought below `least`.
/// Where there are more than kMostBlocks blocks, or no posts do every step, each has all that she can
/// do. Requires: as planned().
[[nodiscard]] FoundPosts plan_by_posts(const Line& line, Time least);

}  // namespace pouchwright::batch

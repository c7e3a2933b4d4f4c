/// Every way to share a line out into posts of which none has anything of another's, by branch and
/// bound; the ones that promise the shortest day are kept.
///
///     const Covers found = covers(line, blocks, candidates, 24);
///     const Posts& posts = found.best.front().posts;
///
/// Inside `batch` only, for assignment.cc.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "batch/work/post_pool.h"

namespace pouchwright::batch {

/// Each block is in one person's post, or in the same post of several.
struct Cover {
  /// No day of these posts is shorter, without breaks: for each of them the least time before its
  /// first task, its work shared out among those who have it, and the least time after its last.
  Time least{};
  Posts posts;  ///< by helper
};

struct Covers {
  std::vector<Cover> best;  ///< the shortest first
  bool all = false;         ///< none was left out that would have been among them
};

/// Posts looked at, at most.
inline constexpr std::int64_t kCoverWork = 100'000;

/// Whoever is left over joins the fullest post that she may have.
/// Requires: no more blocks than kMostBlocks; candidates for each helper.
[[nodiscard]] Covers covers(const Line& line, const std::vector<Block>& blocks,
                            const Candidates& candidates, std::size_t most);

}  // namespace pouchwright::batch

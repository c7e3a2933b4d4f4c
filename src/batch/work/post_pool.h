/// Posts exchanged by what they make people do alone, without a plan; the best ones are kept.
///
/// Inside `batch` only, for assignment.cc.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "batch/work/post_loads.h"

namespace pouchwright::batch {

/// For each helper what her post may be, for one size of posts.
using Candidates = std::vector<std::vector<BlockSet>>;

class Pool {
 public:
  /// Keeps no more than `most`, after `looks` at loads at most. What is given must outlive it.
  Pool(const Line& line, const PostLoads& loads, const Candidates& candidates, std::size_t most,
       std::int64_t looks);

  /// From these posts on one or two are exchanged while that is better.
  void descend(Posts posts);

  /// The least loaded first.
  [[nodiscard]] const std::map<std::pair<PostLoad, Posts>, bool>& best() const { return best_; }

 private:
  PostLoad look(const Posts& posts);
  bool exchange_one(Posts& posts, PostLoad& load);
  bool exchange_two(Posts& posts, PostLoad& load);

  const PostLoads& loads_;
  const Candidates& candidates_;
  bool all_alike_;  ///< who has which of the same posts makes no difference
  std::size_t most_;
  std::int64_t looks_;
  std::map<std::pair<PostLoad, Posts>, bool> best_;
};

}  // namespace pouchwright::batch

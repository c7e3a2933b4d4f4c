/// What posts make people do, without a plan: a bound that is worked out in microseconds.
///
/// Inside `batch` only, for assignment.cc.
#pragma once

#include <bitset>
#include <cstdint>
#include <tuple>
#include <vector>

#include "batch/settings.h"
#include "batch/work/posts.h"

namespace pouchwright::batch {

/// A post for each helper; 0: none.
using Posts = std::vector<BlockSet>;

/// Less is better, in this order.
struct PostLoad {
  Time undone{};  ///< work of blocks that nobody has
  Time fullest{};
  int held = 0;  ///< blocks in all posts

  auto operator<=>(const PostLoad&) const = default;
};

class PostLoads {
 public:
  /// Both must outlive it.
  PostLoads(const Line& line, const std::vector<Block>& blocks);

  /// `fullest`: the work that only some have, shared out among them by speed; no more people count
  /// at a place than there are places. Over the sets of people that hold a block and over what two
  /// of them have together: no plan with these posts is shorter (without breaks).
  [[nodiscard]] PostLoad of(const Posts& posts) const;

  /// How many blocks that looks at, about: what it costs.
  [[nodiscard]] std::int64_t cost() const { return cost_; }

 private:
  using Crowd = std::bitset<kMostPeople + 1>;  // one more is asked about

  [[nodiscard]] Time shared(Time work, const Crowd& crowd, const Posts& posts) const;

  const Line& line_;
  const std::vector<Block>& blocks_;
  std::vector<BlockSet> at_place_;  ///< by Station: the blocks done there
  std::int64_t cost_;
};

}  // namespace pouchwright::batch

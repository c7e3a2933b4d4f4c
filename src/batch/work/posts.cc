#include "batch/work/posts.h"

#include <algorithm>
#include <bit>
#include <set>
#include <utility>

namespace pouchwright::batch {
namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// By step: the first step of bundles that needs it, itself or through others done once.
std::vector<std::size_t> first_users(const Line& line) {
  std::vector<std::size_t> user(line.steps.size(), kNone);
  for (std::size_t i = line.steps.size(); i-- > 0;) {
    if (!line.steps[i].once) user[i] = i;
  }
  for (std::size_t i = line.steps.size(); i-- > 0;) {
    for (const std::size_t need : line.steps[i].needs) {
      if (line.steps[need].once) user[need] = std::min(user[need], user[i]);
    }
  }
  return user;
}

}  // namespace

std::vector<Block> blocks_of(const Line& line) {
  const std::vector<std::size_t> user = first_users(line);
  std::vector<Block> blocks;
  std::vector<std::size_t> block_of(line.steps.size(), kNone);
  for (std::size_t i = 0; i < line.steps.size(); ++i) {
    if (user[i] != i && user[i] != kNone) continue;
    // The same work on another job's bundles is the same person's.
    if (line.steps[i].like && *line.steps[i].like != i) {
      block_of[i] = block_of[*line.steps[i].like];
      continue;
    }
    block_of[i] = blocks.size();
    Block block;
    block.main = i;
    block.station = line.steps[i].station;
    blocks.push_back(std::move(block));
  }
  for (std::size_t i = 0; i < line.steps.size(); ++i) {
    Block& block = blocks[block_of[user[i] == kNone ? i : user[i]]];
    block.steps.push_back(i);
    block.work += work_of(line.steps[i], line);
    block.wet = block.wet || line.steps[i].wet;
    block.iron = block.iron || line.steps[i].station == Station::iron;
  }
  return blocks;
}

namespace {

constexpr BlockSet bit(std::size_t index) { return BlockSet{1} << index; }

/// The posts of one line, each once.
class PostMaker {
 public:
  explicit PostMaker(const std::vector<Block>& blocks) : blocks_(blocks) {}

  /// Every stretch, without what is done at the kinds of station that are not in `kinds`.
  void add_stretches(unsigned kinds) {
    for (std::size_t from = 0; from < blocks_.size(); ++from) {
      BlockSet post = 0;
      for (std::size_t i = from; i < blocks_.size(); ++i) {
        if (((kinds >> static_cast<unsigned>(blocks_[i].station)) & 1U) == 0) continue;
        post |= bit(i);
        found_.insert(post);
      }
    }
  }

  /// All that is done at one kind of place: alone, or with the handwork that comes directly after each
  /// of its tasks; and what is done by hand directly before the first and after the last one.
  void add_place(Station station) {
    BlockSet alone = 0;
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      if (blocks_[i].station == station) alone |= bit(i);
    }
    if (alone == 0) return;
    const auto first = static_cast<std::size_t>(std::countr_zero(alone));
    const auto last = static_cast<std::size_t>(std::bit_width(alone)) - 1;
    BlockSet after = alone;
    for (std::size_t i = first; i < last; ++i) {
      if ((alone >> i & 1U) != 0 && is_by_hand(i + 1)) after |= bit(i + 1);
    }
    const BlockSet before = first > 0 && is_by_hand(first - 1) ? bit(first - 1) : 0;
    const BlockSet behind = last + 1 < blocks_.size() && is_by_hand(last + 1) ? bit(last + 1) : 0;
    for (const BlockSet inner : {alone, after}) {
      for (const BlockSet ends : {BlockSet{0}, before, behind, before | behind}) {
        found_.insert(inner | ends);
      }
    }
  }

  [[nodiscard]] std::vector<BlockSet> found(bool may_mix) const {
    std::vector<BlockSet> posts;
    for (const BlockSet post : found_) {
      if (may_mix || !is_wet_and_hot(post)) posts.push_back(post);
    }
    std::stable_sort(posts.begin(), posts.end(),
                     [](BlockSet a, BlockSet b) { return std::popcount(a) < std::popcount(b); });
    return posts;
  }

 private:
  [[nodiscard]] bool is_by_hand(std::size_t block) const {
    return blocks_[block].station == Station::hands;
  }

  [[nodiscard]] bool is_wet_and_hot(BlockSet post) const {
    bool wet = false;
    bool iron = false;
    for (BlockSet rest = post; rest != 0; rest &= rest - 1) {
      const Block& block = blocks_[static_cast<std::size_t>(std::countr_zero(rest))];
      wet = wet || block.wet;
      iron = iron || block.iron;
    }
    return wet && iron;
  }

  const std::vector<Block>& blocks_;
  std::set<BlockSet> found_;
};

}  // namespace

std::vector<BlockSet> posts_by(PostRule rule, const std::vector<Block>& blocks) {
  constexpr unsigned kKinds = 1U << kStations.size();
  PostMaker posts(blocks);
  if (rule == PostRule::follows) {
    posts.add_stretches(kKinds - 1);
    for (const Station station : kStations) {
      if (station != Station::hands) posts.add_place(station);
    }
    return posts.found(false);
  }
  for (unsigned kinds = 1; kinds < kKinds; ++kinds) posts.add_stretches(kinds);
  return posts.found(rule == PostRule::all);
}

bool follows_each_other(const std::vector<std::size_t>& own, const std::vector<Block>& blocks) {
  if (own.back() - own.front() + 1 == own.size()) return true;
  const auto is_at = [&](std::size_t block, Station station) {
    return blocks[block].station == station;
  };
  // All of it is there, and what is left is by hand, next to one of its tasks.
  const auto is_all_of = [&](Station station) {
    std::size_t found = 0;
    for (const std::size_t i : own) {
      if (is_at(i, station)) {
        ++found;
        continue;
      }
      const bool before = i > 0 && is_at(i - 1, station);
      const bool behind = i + 1 < blocks.size() && is_at(i + 1, station);
      if (!is_at(i, Station::hands) || (!before && !behind)) return false;
    }
    const auto all = std::count_if(blocks.begin(), blocks.end(),
                                   [&](const Block& one) { return one.station == station; });
    return all > 0 && found == static_cast<std::size_t>(all);
  };
  return std::any_of(kStations.begin(), kStations.end(), [&](Station station) {
    return station != Station::hands && is_all_of(station);
  });
}

}  // namespace pouchwright::batch

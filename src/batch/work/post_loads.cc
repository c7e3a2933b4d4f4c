#include "batch/work/post_loads.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>

namespace pouchwright::batch {

PostLoads::PostLoads(const Line& line, const std::vector<Block>& blocks)
    : line_(line), blocks_(blocks), at_place_(kStations.size(), 0) {
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    at_place_[static_cast<std::size_t>(blocks[i].station)] |= BlockSet{1} << i;
  }
  const auto many = static_cast<std::int64_t>(blocks.size());
  cost_ = many * many * std::max(1, line.helpers / 10) + line.helpers;
}

PostLoad PostLoads::of(const Posts& posts) const {
  PostLoad load;
  std::array<Crowd, kMostBlocks> has{};
  for (std::size_t helper = 0; helper < posts.size(); ++helper) {
    load.held += std::popcount(posts[helper]);
    for (BlockSet rest = posts[helper]; rest != 0; rest &= rest - 1) {
      has[static_cast<std::size_t>(std::countr_zero(rest))].set(helper);
    }
  }
  std::vector<Crowd> crowds;
  std::vector<Time> own;
  for (std::size_t i = 0; i < blocks_.size(); ++i) {
    if (has[i].none()) {
      load.undone += blocks_[i].work;
      continue;
    }
    const auto found = std::find(crowds.begin(), crowds.end(), has[i]);
    if (found == crowds.end()) {
      crowds.push_back(has[i]);
      own.push_back(blocks_[i].work);
    } else {
      own[static_cast<std::size_t>(found - crowds.begin())] += blocks_[i].work;
    }
  }
  for (std::size_t a = 0; a < crowds.size(); ++a) {
    for (std::size_t b = a; b < crowds.size(); ++b) {
      // People who have nothing in common cannot be fuller together than one by one.
      if (a != b && (crowds[a] & crowds[b]).none()) continue;
      const Crowd both = crowds[a] | crowds[b];
      Time work{};
      for (std::size_t i = 0; i < crowds.size(); ++i) {
        if ((crowds[i] & ~both).none()) work += own[i];
      }
      load.fullest = std::max(load.fullest, shared(work, both, posts));
    }
  }
  return load;
}

Time PostLoads::shared(Time work, const Crowd& crowd, const Posts& posts) const {
  std::array<int, kStations.size()> free_places{};
  for (std::size_t i = 1; i < kStations.size(); ++i) free_places[i] = line_.stations[i];
  double speed = 0;
  for (std::size_t helper = 0; helper < posts.size(); ++helper) {
    if (!crowd.test(helper)) continue;
    bool finds_room = true;
    for (std::size_t i = 1; i < kStations.size(); ++i) {
      if ((posts[helper] & ~at_place_[i]) == 0) finds_room = free_places[i]-- > 0;
    }
    if (finds_room) speed += line_.speed_of(helper);
  }
  if (speed == std::floor(speed) && speed > 0) {
    return work.shared_out(static_cast<std::int64_t>(speed));
  }
  return speed > 0 ? at_speed(work, speed) : work;
}

}  // namespace pouchwright::batch

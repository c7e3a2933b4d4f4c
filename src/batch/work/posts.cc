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
    blocks.push_back({{}, i, line.steps[i].station, {}});
  }
  for (std::size_t i = 0; i < line.steps.size(); ++i) {
    Block& block = blocks[block_of[user[i] == kNone ? i : user[i]]];
    block.steps.push_back(i);
    block.work += work_of(line.steps[i], line);
  }
  return blocks;
}

std::vector<BlockSet> posts_within(const std::vector<Block>& blocks, const PostLimits& limits) {
  constexpr unsigned kKinds = 1U << kStations.size();
  std::set<BlockSet> found;
  for (unsigned kinds = 1; kinds < kKinds; ++kinds) {
    // Hands are the first kind, and no place.
    if (std::popcount(kinds >> 1U) > limits.places) continue;
    for (std::size_t from = 0; from < blocks.size(); ++from) {
      BlockSet post = 0;
      for (std::size_t i = from; i < blocks.size(); ++i) {
        if (((kinds >> static_cast<unsigned>(blocks[i].station)) & 1U) == 0) continue;
        post |= BlockSet{1} << i;
        if (std::popcount(post) > limits.blocks) break;
        found.insert(post);
      }
    }
  }
  std::vector<BlockSet> posts(found.begin(), found.end());
  std::stable_sort(posts.begin(), posts.end(),
                   [](BlockSet a, BlockSet b) { return std::popcount(a) < std::popcount(b); });
  return posts;
}

}  // namespace pouchwright::batch

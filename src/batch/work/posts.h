/// Posts: what one person keeps to in a work plan, for the day or until it is all begun. Papers and
/// reports call it a station.
///
///     const std::vector<Block> blocks = blocks_of(line);
///     Assignment all{{blocks.front().steps}};   // of one helper: her posts in order of time
///
/// A post is one step, some that follow each other, or all that is done at one machine or iron; where
/// helpers are few, a stretch of the line with what is done at some places left to others.
/// What is done once (threading, the iron trial) belongs to the step that it makes ready.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "batch/work/plan.h"

namespace pouchwright::batch {

/// By helper: her posts in order of time, each the steps that it holds, sorted.
using Post = std::vector<std::size_t>;
using Assignment = std::vector<std::vector<Post>>;

/// A step with all that is done once for it alone or for it first.
struct Block {
  std::vector<std::size_t> steps;  ///< sorted
  std::size_t main = 0;            ///< the step that is done to bundles
  Station station = Station::hands;
  Time work{};  ///< of all its steps, all bundles
};
/// In order of their main steps. A line of nothing but steps done once has a block for each.
[[nodiscard]] std::vector<Block> blocks_of(const Line& line);

/// Blocks as bits. More than kMostBlocks are not planned by posts.
using BlockSet = std::uint64_t;
inline constexpr std::size_t kMostBlocks = 64;

/// How much one post may hold.
struct PostLimits {
  int blocks = 1;
  int places = 1;  ///< kinds of station besides hands
};
/// All posts within the limits, the smallest first: stretches of the line, and stretches of it with
/// what is done at some kinds of station left to others.
[[nodiscard]] std::vector<BlockSet> posts_within(const std::vector<Block>& blocks,
                                                 const PostLimits& limits);

}  // namespace pouchwright::batch

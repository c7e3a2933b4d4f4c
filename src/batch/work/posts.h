/// Posts: what one person keeps to in a work plan, for the day or until it is all begun. Papers and
/// reports call it a station.
///
///     const std::vector<Block> blocks = blocks_of(line);
///     Assignment all{{blocks.front().steps}};   // of one helper: her posts in order of time
///
/// A post is one step, some that follow each other, or all that is done at one kind of place with the
/// handwork directly before and after its tasks; never water and an iron. Where people or skills do not
/// allow that, the rule gives way in the order of PostRule.
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
  Time work{};        ///< of all its steps, all bundles
  bool wet = false;   ///< any of its steps
  bool iron = false;  ///< any of its steps is at one
};
/// In order of their main steps. A line of nothing but steps done once has a block for each.
[[nodiscard]] std::vector<Block> blocks_of(const Line& line);

/// Blocks as bits. More than kMostBlocks are not planned by posts.
using BlockSet = std::uint64_t;
inline constexpr std::size_t kMostBlocks = 64;

/// What a post may be, the strictest first.
enum class PostRule {
  follows,  ///< a stretch of the line, or all of one place with handwork beside it; no water with an iron
  gaps,  ///< a stretch without what is done at some kinds of place; no water with an iron
  all    ///< such a stretch, water and iron as well
};
inline constexpr PostRule kPostRules[] = {PostRule::follows, PostRule::gaps, PostRule::all};

/// All that is tried of what the rule allows, the smallest first: every stretch; all of one kind of
/// place with the handwork directly after each of its tasks or with none of it, and with or without
/// what comes directly before the first and after the last one.
[[nodiscard]] std::vector<BlockSet> posts_by(PostRule rule, const std::vector<Block>& blocks);

/// Without a gap, or all of one kind of place and what is done by hand directly before or after one of
/// its tasks.
/// `own`: indices of blocks, sorted, not empty.
[[nodiscard]] bool follows_each_other(const std::vector<std::size_t>& own,
                                      const std::vector<Block>& blocks);

}  // namespace pouchwright::batch

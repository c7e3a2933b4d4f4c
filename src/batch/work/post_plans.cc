#include "batch/work/post_plans.h"

#include <algorithm>
#include <array>
#include <bit>
#include <utility>

#include "batch/work/orders.h"

namespace pouchwright::batch {
namespace {

/// What one more block in somebody's post has to save: who does fewer things makes fewer mistakes
/// (common practice, no source).
constexpr Time kBlock = base::Time::seconds(15);
/// What each turn from one step of a post to another has to save besides: whoever has two cloths to
/// cut cuts a pile of one first.
constexpr Time kToAndFro = base::Time::seconds(4);
/// What each person more than there are of a kind of place has to save, and each preparation that
/// somebody makes for others: one who sits at the machine all day is in nobody's way (common
/// practice, no source).
constexpr Time kSharedPlace = base::Time::whole_minutes(2);
constexpr Time kForOthers = base::Time::seconds(30);
/// What a change of post has to save.
constexpr Time kChange = base::Time::whole_minutes(2);
/// Orders of urgency that are tried first: of those that make_urgencies() makes.
const std::vector<std::size_t> kFewUrgencies = {0, 3, 6};

/// What is done once comes before all others.
std::vector<Urgency> made_urgencies(const Line& line) {
  std::vector<Urgency> urgencies;
  const std::int64_t all = kRank * static_cast<std::int64_t>(line.steps.size());
  for (const std::int64_t per_bundle : {std::int64_t{0}, all}) {
    for (std::vector<std::int64_t> order : step_orders(line)) {
      for (std::size_t i = 0; i < order.size(); ++i) {
        if (line.steps[i].once) order[i] = kRank * static_cast<std::int64_t>(i) - 4 * all;
      }
      for (const std::int64_t stay : {2 * all, all / 2, std::int64_t{0}}) {
        urgencies.push_back({order, per_bundle, stay});
      }
      for (const std::int64_t pile : {2, 4})
        urgencies.push_back({order, per_bundle, 2 * all, pile});
    }
  }
  return urgencies;
}

bool holds(const std::vector<BlockSet>& candidates, BlockSet post) {
  return post == 0 || std::find(candidates.begin(), candidates.end(), post) != candidates.end();
}

BlockSet first_of(const std::vector<BlockSet>& posts) { return posts.empty() ? 0 : posts.front(); }

/// What she goes on to keeps nothing of the first, as far as that may be a post.
std::vector<BlockSet> with_first(const std::vector<BlockSet>& posts, BlockSet first,
                                 const std::vector<BlockSet>& candidates) {
  std::vector<BlockSet> made;
  if (first != 0) made.push_back(first);
  for (std::size_t i = 1; i < posts.size(); ++i) {
    const BlockSet rest = posts[i] & ~first;
    if (rest != 0 && holds(candidates, rest)) made.push_back(rest);
  }
  return made;
}

}  // namespace

PostPlans::PostPlans(const Line& line, const std::vector<Block>& blocks, const PostLoads& loads,
                     Time least)
    : line_(line),
      blocks_(blocks),
      loads_(loads),
      least_(least),
      urgencies_(made_urgencies(line)) {}

std::vector<std::size_t> PostPlans::every_urgency() const {
  std::vector<std::size_t> all(urgencies_.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  return all;
}

Assignment PostPlans::assignment_of(const BlockPosts& blocks) const {
  Assignment posts(blocks.of.size());
  for (std::size_t i = 0; i < blocks.of.size(); ++i) {
    for (const BlockSet set : blocks.of[i]) {
      Post post;
      for (std::size_t block = 0; block < blocks_.size(); ++block) {
        if ((set >> block & 1U) == 0) continue;
        for (const std::size_t step : blocks_[block].steps) {
          if (!blocks.once[step]) post.push_back(step);
        }
      }
      posts[i].push_back(std::move(post));
    }
  }
  for (std::size_t step = 0; step < blocks.once.size(); ++step) {
    if (!blocks.once[step]) continue;
    auto& own = posts[*blocks.once[step]];
    if (own.empty()) own.emplace_back();
    own.front().push_back(step);
  }
  for (auto& own : posts) {
    for (Post& post : own) std::sort(post.begin(), post.end());
  }
  return posts;
}

/// Over all kinds of place, how many more people have a part of their first post there than there
/// are places.
std::int64_t PostPlans::shared_places(const BlockPosts& blocks) const {
  std::array<std::int64_t, kStations.size()> people{};
  for (const auto& own : blocks.of) {
    std::array<bool, kStations.size()> is_there{};
    for (std::size_t block = 0; block < blocks_.size(); ++block) {
      if ((first_of(own) >> block & 1U) == 0) continue;
      is_there[static_cast<std::size_t>(blocks_[block].station)] = true;
    }
    for (std::size_t kind = 1; kind < people.size(); ++kind) people[kind] += is_there[kind] ? 1 : 0;
  }
  std::int64_t more = 0;
  for (std::size_t kind = 1; kind < people.size(); ++kind) {
    more += std::max<std::int64_t>(0, people[kind] - line_.stations[kind]);
  }
  return more;
}

/// Somebody has water in her first post, and an iron there or to make ready.
bool PostPlans::mixes(const BlockPosts& blocks) const {
  for (std::size_t helper = 0; helper < blocks.of.size(); ++helper) {
    bool wet = false;
    bool iron = false;
    for (std::size_t block = 0; block < blocks_.size(); ++block) {
      if ((first_of(blocks.of[helper]) >> block & 1U) == 0) continue;
      wet = wet || blocks_[block].wet;
      iron = iron || blocks_[block].iron;
    }
    for (std::size_t step = 0; step < blocks.once.size(); ++step) {
      if (blocks.once[step] != helper) continue;
      wet = wet || line_.steps[step].wet;
      iron = iron || line_.steps[step].station == Station::iron;
    }
    if (wet && iron) return true;
  }
  return false;
}

/// Kept where it is better.
bool PostPlans::try_blocks(const BlockPosts& blocks, Tried& best,
                           const std::vector<std::size_t>& urgencies) {
  if (!may_mix_ && mixes(blocks)) return false;
  const Assignment posts = assignment_of(blocks);
  bool is_better = false;
  for (const std::size_t urgency : urgencies) {
    if (best.is_there() && tasks_left_ < plan_costs_) break;
    Dispatched made = dispatched(line_, urgencies_[urgency], posts);
    // Each task looks at all helpers.
    plan_costs_ = static_cast<std::int64_t>(made.tasks.size()) * (8 + line_.helpers) / 8 + 1;
    tasks_left_ -= plan_costs_;
    if (made.finish == Time::longest()) continue;
    Time all = cost(made) + kToAndFro * made.moves + kSharedPlace * shared_places(blocks);
    for (const auto& own : blocks.of) {
      for (const BlockSet set : own) all += kBlock * std::popcount(set);
    }
    for (const auto& helper : blocks.once) all += kForOthers * (helper ? 1 : 0);
    if (best.is_there() && all + by_ >= best.cost) continue;
    if (best.is_there() && by_time_ && made.finish + by_ >= best.made.finish) continue;
    best = {posts, blocks, std::move(made), all, urgency};
    is_better = true;
  }
  return is_better;
}

void PostPlans::try_posts(const Posts& posts, Orders orders, Tried& best) {
  BlockPosts blocks{std::vector<std::vector<BlockSet>>(posts.size()), {}};
  blocks.once.resize(line_.steps.size());
  for (std::size_t i = 0; i < posts.size(); ++i) {
    if (posts[i] != 0) blocks.of[i].push_back(posts[i]);
  }
  try_blocks(blocks, best, orders == Orders::few ? kFewUrgencies : every_urgency());
}

/// Only where everything is somebody's and the loads leave room for a shorter day.
bool PostPlans::try_if_possible(const BlockPosts& blocks, Tried& best) {
  Posts all(blocks.of.size(), 0);
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (const BlockSet post : blocks.of[i]) all[i] |= post;
  }
  tasks_left_ -= loads_.cost() / kLooks + 1;
  const PostLoad load = loads_.of(all);
  if (load.undone > Time() || load.fullest >= best.made.finish) return false;
  return try_blocks(blocks, best, {best.urgency});
}

bool PostPlans::replace_posts(Tried& best, const Candidates& candidates) {
  bool is_better = false;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    for (const BlockSet post : candidates[i]) {
      if (!may_go_on()) return is_better;
      if (first_of(best.blocks.of[i]) == post) continue;
      BlockPosts other = best.blocks;
      other.of[i] = with_first(other.of[i], post, candidates[i]);
      is_better = try_if_possible(other, best) || is_better;
    }
  }
  return is_better;
}

bool PostPlans::move_blocks(Tried& best, const Candidates& candidates) {
  bool is_better = false;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    for (std::size_t k = 0; k < candidates.size(); ++k) {
      for (std::size_t block = 0; block < blocks_.size(); ++block) {
        // With itself: only given away.
        for (std::size_t back = 0; back < blocks_.size(); ++back) {
          if (!may_go_on()) return is_better;
          const BlockSet a = first_of(best.blocks.of[i]);
          const BlockSet b = first_of(best.blocks.of[k]);
          const BlockSet given = BlockSet{1} << block;
          const BlockSet taken = back == block ? 0 : BlockSet{1} << back;
          if (i == k || (a & given) == 0 || (b & given) != 0) continue;
          if ((b & taken) != taken || (a & taken) != 0 || (taken != 0 && i > k)) continue;
          const BlockSet own = (a & ~given) | taken;
          const BlockSet others = (b & ~taken) | given;
          if (!holds(candidates[i], own) || !holds(candidates[k], others)) continue;
          BlockPosts other = best.blocks;
          other.of[i] = with_first(other.of[i], own, candidates[i]);
          other.of[k] = with_first(other.of[k], others, candidates[k]);
          is_better = try_if_possible(other, best) || is_better;
        }
      }
    }
  }
  return is_better;
}

bool PostPlans::move_once(Tried& best) {
  bool is_better = false;
  for (std::size_t step = 0; step < line_.steps.size(); ++step) {
    if (!line_.steps[step].once) continue;
    for (std::size_t i = 0; i < best.blocks.of.size(); ++i) {
      if (!may_go_on()) return is_better;
      if (best.blocks.once[step] == i || !line_.can_do(i, step)) continue;
      BlockPosts other = best.blocks;
      other.once[step] = i;
      is_better = try_blocks(other, best, {best.urgency}) || is_better;
    }
  }
  return is_better;
}

void PostPlans::improve(Tried& best, const Candidates& candidates) {
  try_blocks(BlockPosts(best.blocks), best, every_urgency());
  bool is_better = true;
  while (is_better && may_go_on() && best.made.finish > least_) {
    is_better = move_blocks(best, candidates);
    is_better = replace_posts(best, candidates) || is_better;
    is_better = move_once(best) || is_better;
    if (is_better) try_blocks(BlockPosts(best.blocks), best, every_urgency());
  }
}

void PostPlans::add_changes(Tried& best, const Candidates& candidates, int changes) {
  by_time_ = true;
  bool is_better = true;
  while (is_better && may_go_on() && best.made.finish > least_ + kChange) {
    is_better = false;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      for (const BlockSet post : candidates[i]) {
        const auto& own = best.blocks.of[i];
        if (!may_go_on() || own.empty() || own.size() > static_cast<std::size_t>(changes)) break;
        if ((post & own.back()) != 0) continue;
        BlockPosts other = best.blocks;
        other.of[i].push_back(post);
        by_ = kChange;
        is_better = try_if_possible(other, best) || is_better;
        by_ = Time();
      }
    }
    if (!is_better) continue;
    move_once(best);
    move_blocks(best, candidates);
    replace_posts(best, candidates);
  }
  by_time_ = false;
}

}  // namespace pouchwright::batch

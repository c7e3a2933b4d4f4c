#include "batch/work/assignment.h"

#include <algorithm>
#include <utility>

#include "batch/work/balance.h"
#include "batch/work/post_loads.h"
#include "batch/work/post_plans.h"
#include "batch/work/post_pool.h"

namespace pouchwright::batch {
namespace {

/// What larger posts have to save.
constexpr double kLargerPosts = 0.03;
/// Where a plan is so near to what none is below, no larger posts are tried.
constexpr std::int64_t kNear = 20;
/// Assignments that are planned bundle by bundle first.
constexpr std::size_t kPool = 8;
/// Of them, so many are exchanged further.
constexpr std::size_t kStarts = 1;
/// Parts of a line's work: for looks at loads within one size of posts, for plans bundle by bundle
/// of one size, and for each number of changes.
constexpr std::int64_t kLookPart = 8;
constexpr std::int64_t kPlanPart = 2;
constexpr std::int64_t kChangePart = 6;

class Finder {
 public:
  Finder(const Line& line, Time least)
      : line_(line),
        least_(least),
        blocks_(blocks_of(line)),
        helpers_(static_cast<std::size_t>(line.helpers)),
        loads_(line, blocks_),
        plans_(line, blocks_, loads_, least) {}

  FoundPosts run() {
    if (blocks_.size() > kMostBlocks) return everything();
    const auto many = static_cast<int>(blocks_.size());
    const int share = (3 * many + 2 * line_.helpers - 1) / (2 * line_.helpers) + 1;
    for (const PostLimits& limits : {PostLimits{share, 1}, PostLimits{share + 2, 2},
                                     PostLimits{many, static_cast<int>(kStations.size())}}) {
      within(limits);
      if (best_.is_there() && best_.made.finish <= least_ + Time::ms(least_.in_ms() / kNear)) break;
    }
    if (!best_.is_there()) return everything();
    for (int changes = 1; changes <= line_.changes; ++changes) {
      plans_.allow(line_.work / kChangePart);
      plans_.add_changes(best_, candidates_, changes);
    }
    return {std::move(best_.posts), std::move(best_.made)};
  }

 private:
  /// Where no smaller posts do: each has all that she can do.
  [[nodiscard]] FoundPosts everything() const {
    FoundPosts found{Assignment(helpers_), {}};
    for (std::size_t i = 0; i < helpers_; ++i) {
      Post post;
      for (std::size_t step = 0; step < line_.steps.size(); ++step) {
        if (line_.can_do(i, step)) post.push_back(step);
      }
      if (!post.empty()) found.posts[i].push_back(std::move(post));
    }
    found.made.finish = Time::longest();
    for (const Urgency& urgency : plans_.urgencies()) {
      Dispatched made = dispatched(line_, urgency, found.posts);
      if (made.finish < found.made.finish) found.made = std::move(made);
    }
    return found;
  }

  /// Larger posts are kept only where they are worth it.
  void within(const PostLimits& limits) {
    const std::vector<BlockSet> all = posts_within(blocks_, limits);
    Candidates candidates(helpers_);
    for (std::size_t i = 0; i < helpers_; ++i) candidates[i] = of_helper(i, all);
    Pool pool(line_, loads_, candidates, kPool, kLooks * line_.work / kLookPart / loads_.cost());
    pool.descend(by_places(candidates));
    pool.descend(by_balance(candidates));
    pool.descend(Posts(helpers_, 0));
    std::vector<Tried> starts = tried(pool, by_places(candidates));
    if (starts.empty()) return;
    Tried best = starts.front();
    for (Tried& start : starts) {
      plans_.allow(line_.work / kPlanPart / static_cast<std::int64_t>(starts.size()));
      plans_.improve(start, candidates);
      if (start.cost < best.cost) best = std::move(start);
    }
    if (best_.is_there()) {
      const auto worth =
          static_cast<std::int64_t>(kLargerPosts * static_cast<double>(best_.made.finish.in_ms()));
      if (best.made.finish + Time::ms(worth) >= best_.made.finish) return;
    }
    best_ = std::move(best);
    candidates_ = std::move(candidates);
  }

  /// The best of what the pool found, planned, the shortest first.
  [[nodiscard]] std::vector<Tried> tried(const Pool& pool, const Posts& places) {
    std::vector<Tried> all;
    plans_.allow(line_.work / kPlanPart);
    const auto take = [&](const Posts& posts, PostPlans::Orders orders) {
      if (!all.empty() && !plans_.may_go_on()) return;
      Tried one;
      plans_.try_posts(posts, orders, one);
      if (one.is_there()) all.push_back(std::move(one));
    };
    for (const auto& [key, is_there] : pool.best()) {
      if (key.first.undone == Time()) take(key.second, PostPlans::Orders::few);
    }
    take(places, PostPlans::Orders::few);
    if (all.empty()) {
      for (const auto& [key, is_there] : pool.best()) take(key.second, PostPlans::Orders::all);
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Tried& a, const Tried& b) { return a.cost < b.cost; });
    if (all.size() > kStarts) all.resize(kStarts);
    return all;
  }

  /// What the helper can do of each post.
  [[nodiscard]] std::vector<BlockSet> of_helper(std::size_t helper,
                                                const std::vector<BlockSet>& all) const {
    BlockSet can = 0;
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      const auto& steps = blocks_[i].steps;
      const bool does = std::all_of(steps.begin(), steps.end(),
                                    [&](std::size_t step) { return line_.can_do(helper, step); });
      if (does) can |= BlockSet{1} << i;
    }
    std::vector<BlockSet> own;
    for (const BlockSet post : all) {
      const BlockSet part = post & can;
      if (part != 0 && std::find(own.begin(), own.end(), part) == own.end()) own.push_back(part);
    }
    return own;
  }

  /// Operations shared out exactly, as if all were alike and every place were there for each.
  [[nodiscard]] Posts by_balance(const Candidates& candidates) const {
    std::vector<Time> times;
    std::vector<std::vector<std::size_t>> needs(blocks_.size());
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      times.push_back(blocks_[i].work);
      const auto& own = line_.steps[blocks_[i].main].needs;
      for (std::size_t k = 0; k < i; ++k) {
        if (std::find(own.begin(), own.end(), blocks_[k].main) != own.end()) needs[i].push_back(k);
      }
    }
    const Balance shared = balanced(times, needs, line_.helpers);
    Posts posts(helpers_, 0);
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      posts[static_cast<std::size_t>(shared.place[i])] |= BlockSet{1} << i;
    }
    for (std::size_t i = 0; i < helpers_; ++i) {
      const auto& own = candidates[i];
      if (std::find(own.begin(), own.end(), posts[i]) == own.end()) posts[i] = 0;
    }
    return posts;
  }

  /// Somebody for each place with all that is done there, the fullest kind first; what is left is
  /// shared out among all others as it follows each other.
  [[nodiscard]] Posts by_places(const Candidates& candidates) const {
    std::vector<std::pair<Time, BlockSet>> kinds;
    BlockSet left = 0;
    for (std::size_t i = 0; i < blocks_.size(); ++i) left |= BlockSet{1} << i;
    for (const Station station : kStations) {
      const auto count = line_.stations[static_cast<std::size_t>(station)];
      std::pair<Time, BlockSet> kind{};
      for (std::size_t i = 0; i < blocks_.size(); ++i) {
        if (station == Station::hands || blocks_[i].station != station) continue;
        kind.first += blocks_[i].work.shared_out(count);
        kind.second |= BlockSet{1} << i;
      }
      kinds.insert(kinds.end(), static_cast<std::size_t>(kind.second == 0 ? 0 : count), kind);
    }
    std::stable_sort(kinds.begin(), kinds.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    Posts posts(helpers_, 0);
    std::vector<std::size_t> others;
    for (std::size_t helper = 0; helper < helpers_; ++helper) {
      const auto fits = [&](const auto& kind) { return can_hold(candidates[helper], kind.second); };
      const auto kind = std::find_if(kinds.begin(), kinds.end(), fits);
      if (kind == kinds.end()) {
        others.push_back(helper);
        continue;
      }
      posts[helper] = kind->second;
      left &= ~kind->second;
      kinds.erase(kind);
    }
    share_out(left, others, posts);
    return posts;
  }

  [[nodiscard]] static bool can_hold(const std::vector<BlockSet>& candidates, BlockSet post) {
    return std::find(candidates.begin(), candidates.end(), post) != candidates.end();
  }

  /// In order, each about as much.
  void share_out(BlockSet left, const std::vector<std::size_t>& helpers, Posts& posts) const {
    if (helpers.empty()) return;
    Time sum{};
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      if ((left >> i & 1U) != 0) sum += blocks_[i].work;
    }
    const auto count = static_cast<std::int64_t>(helpers.size());
    Time before{};
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      if ((left >> i & 1U) == 0) continue;
      const std::int64_t middle = 2 * before.in_ms() + blocks_[i].work.in_ms();
      const std::int64_t place = middle * count / std::max<std::int64_t>(1, 2 * sum.in_ms());
      posts[helpers[static_cast<std::size_t>(std::min(place, count - 1))]] |= BlockSet{1} << i;
      before += blocks_[i].work;
    }
  }

  const Line& line_;
  Time least_;
  std::vector<Block> blocks_;
  std::size_t helpers_;
  PostLoads loads_;
  PostPlans plans_;
  Tried best_;
  Candidates candidates_;  ///< of the best
};

}  // namespace

FoundPosts plan_by_posts(const Line& line, Time least) { return Finder(line, least).run(); }

}  // namespace pouchwright::batch

#include "batch/work/assignment.h"

#include <algorithm>
#include <bit>
#include <utility>

#include "batch/work/balance.h"
#include "batch/work/post_covers.h"
#include "batch/work/post_loads.h"
#include "batch/work/post_plans.h"
#include "batch/work/post_pool.h"

namespace pouchwright::batch {
namespace {

/// What larger posts have to save: who does fewer things is sooner at home in them (common practice,
/// no source).
constexpr double kLargerPosts = 0.03;
/// Ways to share the line out, and posts exchanged by their loads alone, that are planned bundle by
/// bundle first.
constexpr std::size_t kCovers = 24;
constexpr std::size_t kPool = 4;
/// Of them, so many are exchanged further.
constexpr std::size_t kStarts = 3;
/// Parts of a line's work: for looks at loads, for plans bundle by bundle, and for each number of
/// changes.
constexpr std::int64_t kLookPart = 16;
constexpr std::int64_t kPlanPart = 1;
constexpr std::int64_t kChangePart = 2;

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
    const int many = static_cast<int>(blocks_.size());
    for (const PostRule rule : kPostRules) {
      within(rule, (3 * many + 2 * line_.helpers - 1) / (2 * line_.helpers) + 1);
      within(rule, many);
      if (best_.is_there()) break;
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

  /// Nothing where the rule leaves something to nobody.
  /// Posts of more than `most` blocks are kept only where they are worth it.
  void within(PostRule rule, int most) {
    std::vector<BlockSet> all = posts_by(rule, blocks_);
    std::erase_if(all, [most](BlockSet post) { return std::popcount(post) > most; });
    Candidates candidates(helpers_);
    for (std::size_t i = 0; i < helpers_; ++i) candidates[i] = of_helper(i, all, rule);
    plans_.let_mix(rule == PostRule::all);
    const Covers shared = covers(line_, blocks_, candidates, kCovers);
    Pool pool(line_, loads_, candidates, kPool, kLooks * line_.work / kLookPart / loads_.cost());
    if (!shared.best.empty()) pool.descend(shared.best.front().posts);
    pool.descend(by_balance(candidates));
    pool.descend(Posts(helpers_, 0));
    Tried best;
    for (Tried& start : tried(shared, pool)) {
      plans_.allow(line_.work / kPlanPart);
      plans_.improve(start, candidates);
      if (!best.is_there() || start.cost < best.cost) best = std::move(start);
    }
    if (!best.is_there()) return;
    if (best_.is_there()) {
      const auto worth =
          static_cast<std::int64_t>(kLargerPosts * static_cast<double>(best_.made.finish.in_ms()));
      if (best.made.finish + Time::ms(worth) >= best_.made.finish) return;
    }
    best_ = std::move(best);
    candidates_ = std::move(candidates);
  }

  /// What was found, planned, the shortest first.
  [[nodiscard]] std::vector<Tried> tried(const Covers& shared, const Pool& pool) {
    std::vector<Tried> all;
    plans_.allow(line_.work / kPlanPart);
    const auto take = [&](const Posts& posts, PostPlans::Orders orders) {
      if (!all.empty() && !plans_.may_go_on()) return;
      Tried one;
      plans_.try_posts(posts, orders, one);
      if (one.is_there()) all.push_back(std::move(one));
    };
    const auto take_all = [&](PostPlans::Orders orders) {
      for (const Cover& one : shared.best) take(one.posts, orders);
      for (const auto& [key, is_there] : pool.best()) {
        if (key.first.undone == Time()) take(key.second, orders);
      }
    };
    take_all(PostPlans::Orders::few);
    if (all.empty()) take_all(PostPlans::Orders::all);
    std::stable_sort(all.begin(), all.end(),
                     [](const Tried& a, const Tried& b) { return a.cost < b.cost; });
    if (all.size() > kStarts) all.resize(kStarts);
    return all;
  }

  /// The posts of which the helper can do everything; where there may be gaps, what she can do.
  [[nodiscard]] std::vector<BlockSet> of_helper(std::size_t helper,
                                                const std::vector<BlockSet>& all,
                                                PostRule rule) const {
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
      if (rule == PostRule::follows && part != post) continue;
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

#include "batch/work/assignment.h"

#include <algorithm>
#include <bit>
#include <map>
#include <utility>

#include "batch/work/balance.h"
#include "batch/work/orders.h"
#include "batch/work/post_loads.h"

namespace pouchwright::batch {
namespace {

/// What one more block in somebody's post has to save: who does fewer things makes fewer mistakes
/// (common practice, no source).
constexpr Time kBlock = base::Time::seconds(15);
/// What each turn from one step of a post to another has to save besides: whoever has two cloths to
/// cut cuts a pile of one first.
constexpr Time kToAndFro = base::Time::seconds(4);
/// What a change of post has to save, and what larger posts have to.
constexpr Time kChange = base::Time::whole_minutes(2);
constexpr double kLargerPosts = 0.03;
/// Assignments that are planned bundle by bundle first.
constexpr std::size_t kPool = 40;
/// Looks at loads, counted as PostLoads::cost(), for each task that may be placed.
constexpr std::int64_t kLooks = 20;

/// Posts for one size of them: exchanged by their loads alone, the best ones kept.
class Pool {
 public:
  Pool(const Line& line, const std::vector<Block>& blocks,
       std::vector<std::vector<BlockSet>> candidates)
      : loads_(line, blocks),
        candidates_(std::move(candidates)),
        all_alike_(line.people.empty()),
        looks_(kLooks * line.work / loads_.cost()) {}

  void descend(Posts posts) {
    PostLoad load = look(posts);
    while (looks_ > 0 && (exchange_one(posts, load) || exchange_two(posts, load))) {
    }
  }

  /// The least loaded first.
  [[nodiscard]] const std::map<std::pair<PostLoad, Posts>, bool>& best() const { return best_; }
  [[nodiscard]] PostLoad look(const Posts& posts) {
    --looks_;
    PostLoad load = loads_.of(posts);
    Posts kept = posts;
    if (all_alike_) std::sort(kept.begin(), kept.end());
    best_.try_emplace({load, std::move(kept)}, true);
    if (best_.size() > kPool) best_.erase(std::prev(best_.end()));
    return load;
  }

 private:
  bool exchange_one(Posts& posts, PostLoad& load) {
    const Posts before = posts;
    Posts better = posts;
    for (std::size_t i = 0; i < posts.size(); ++i) {
      Posts other = before;
      for (const BlockSet post : candidates_[i]) {
        if (looks_ <= 0) break;
        other[i] = post;
        const PostLoad found = look(other);
        if (found >= load) continue;
        load = found;
        better = other;
      }
    }
    const bool is_better = better != before;
    posts = better;
    return is_better;
  }

  /// Two at once, where one alone cannot leave.
  bool exchange_two(Posts& posts, PostLoad& load) {
    for (std::size_t i = 0; i < posts.size(); ++i) {
      for (std::size_t k = i + 1; k < posts.size(); ++k) {
        Posts other = posts;
        for (const BlockSet a : candidates_[i]) {
          other[i] = a;
          for (const BlockSet b : candidates_[k]) {
            if (looks_ <= 0) return false;
            other[k] = b;
            const PostLoad found = look(other);
            if (found >= load) continue;
            load = found;
            posts = other;
            return true;
          }
        }
      }
    }
    return false;
  }

  PostLoads loads_;
  std::vector<std::vector<BlockSet>> candidates_;
  bool all_alike_;  ///< who has which of the same posts makes no difference
  std::int64_t looks_;
  std::map<std::pair<PostLoad, Posts>, bool> best_;
};

class Finder {
 public:
  Finder(const Line& line, Time least)
      : line_(line),
        least_(least),
        blocks_(blocks_of(line)),
        helpers_(static_cast<std::size_t>(line.helpers)),
        tasks_left_(line.work / 2) {}

  FoundPosts run() {
    make_urgencies();
    if (blocks_.size() > kMostBlocks) return everything();
    const auto many = static_cast<int>(blocks_.size());
    const int share = (3 * many + 2 * line_.helpers - 1) / (2 * line_.helpers) + 1;
    for (const PostLimits& limits : {PostLimits{share, 1}, PostLimits{share + 2, 2},
                                     PostLimits{many, static_cast<int>(kStations.size())}}) {
      if (best_ && tasks_left_ <= 0) break;
      if (auto found = within(limits)) take(std::move(*found));
      if (best_ && best_->made.finish <= least_ + Time::ms(least_.in_ms() / 20)) break;
    }
    return best_ ? std::move(*best_) : everything();
  }

 private:
  struct Found {
    Assignment posts;
    std::vector<std::vector<BlockSet>> blocks;  ///< the same
    Dispatched made;
    Time cost = Time::longest();
    std::size_t urgency = 0;
  };

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
    for (const Urgency& urgency : urgencies_) {
      Dispatched made = dispatched(line_, urgency, found.posts);
      if (made.finish < found.made.finish) found.made = std::move(made);
    }
    return found;
  }

  /// Larger posts only where they are worth it.
  void take(Found found) {
    if (best_) {
      const auto worth =
          static_cast<std::int64_t>(kLargerPosts * static_cast<double>(best_->made.finish.in_ms()));
      if (found.made.finish + Time::ms(worth) >= best_->made.finish) return;
    }
    best_ = {std::move(found.posts), std::move(found.made)};
  }

  void make_urgencies() {
    const std::int64_t all = kRank * static_cast<std::int64_t>(line_.steps.size());
    for (const std::int64_t per_bundle : {std::int64_t{0}, all}) {
      for (const auto& order : step_orders(line_)) {
        for (const std::int64_t stay : {2 * all, all / 2, std::int64_t{0}}) {
          urgencies_.push_back({order, per_bundle, stay});
        }
      }
    }
  }

  [[nodiscard]] std::optional<Found> within(const PostLimits& limits) {
    const std::vector<BlockSet> all = posts_within(blocks_, limits);
    std::vector<std::vector<BlockSet>> candidates(helpers_);
    for (std::size_t i = 0; i < helpers_; ++i) candidates[i] = of_helper(i, all);
    Pool pool(line_, blocks_, candidates);
    pool.descend(Posts(helpers_, 0));
    pool.descend(by_balance(candidates));
    Found best;
    for (const auto& [key, is_there] : pool.best()) {
      if (key.first.undone > Time()) break;
      try_posts(key.second, best, {0, 4, 6});
    }
    if (best.cost == Time::longest()) {
      for (const auto& [key, is_there] : pool.best()) try_posts(key.second, best, every_urgency());
    }
    if (best.cost == Time::longest()) return std::nullopt;
    improve(best, candidates);
    change_posts(best, candidates);
    return best;
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
  [[nodiscard]] Posts by_balance(const std::vector<std::vector<BlockSet>>& candidates) const {
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

  // ---- By plans --------------------------------------------------------------------------------

  [[nodiscard]] Assignment assignment_of(const std::vector<std::vector<BlockSet>>& sets) const {
    Assignment posts(helpers_);
    for (std::size_t i = 0; i < helpers_; ++i) {
      for (const BlockSet set : sets[i]) {
        Post post;
        for (std::size_t block = 0; block < blocks_.size(); ++block) {
          if ((set >> block & 1U) == 0) continue;
          post.insert(post.end(), blocks_[block].steps.begin(), blocks_[block].steps.end());
        }
        std::sort(post.begin(), post.end());
        posts[i].push_back(std::move(post));
      }
    }
    return posts;
  }

  void try_posts(const Posts& posts, Found& best, const std::vector<std::size_t>& urgencies) {
    std::vector<std::vector<BlockSet>> sets(helpers_);
    for (std::size_t i = 0; i < helpers_; ++i) {
      if (posts[i] != 0) sets[i].push_back(posts[i]);
    }
    try_sets(sets, best, urgencies, Time());
  }

  /// Kept where it is better by more than `by`.
  bool try_sets(const std::vector<std::vector<BlockSet>>& sets, Found& best,
                const std::vector<std::size_t>& urgencies, Time by) {
    const Assignment posts = assignment_of(sets);
    bool is_better = false;
    for (const std::size_t urgency : urgencies) {
      if (best.cost != Time::longest() && tasks_left_ <= 0) break;
      Dispatched made = dispatched(line_, urgencies_[urgency], posts);
      // Each task looks at all helpers.
      tasks_left_ -= static_cast<std::int64_t>(made.tasks.size()) * (8 + line_.helpers) / 8 + 1;
      if (made.finish == Time::longest()) continue;
      Time all = cost(made) + kToAndFro * made.moves;
      for (const auto& own : sets) {
        for (const BlockSet set : own) all += kBlock * std::popcount(set);
      }
      if (best.cost != Time::longest() && all + by >= best.cost) continue;
      best = {posts, sets, std::move(made), all, urgency};
      is_better = true;
      by = Time();
    }
    return is_better;
  }

  [[nodiscard]] std::vector<std::size_t> every_urgency() const {
    std::vector<std::size_t> all(urgencies_.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    return all;
  }

  /// One post after the other against every other one that could be shorter, until none is.
  void improve(Found& best, const std::vector<std::vector<BlockSet>>& candidates) {
    const PostLoads loads(line_, blocks_);
    try_sets(std::vector(best.blocks), best, every_urgency(), Time());
    bool is_better = true;
    while (is_better && tasks_left_ > 0 && best.made.finish > least_) {
      is_better = false;
      for (std::size_t i = 0; i < helpers_ && tasks_left_ > 0; ++i) {
        for (const BlockSet post : candidates[i]) {
          Posts posts(helpers_, 0);
          for (std::size_t k = 0; k < helpers_; ++k) {
            if (!best.blocks[k].empty()) posts[k] = best.blocks[k].front();
          }
          if (posts[i] == post) continue;
          posts[i] = post;
          const PostLoad load = loads.of(posts);
          if (load.undone > Time() || load.fullest >= best.made.finish) continue;
          auto sets = best.blocks;
          sets[i] = {post};
          is_better = try_sets(sets, best, {best.urgency}, Time()) || is_better;
          if (tasks_left_ <= 0) break;
        }
      }
    }
    try_sets(std::vector(best.blocks), best, every_urgency(), Time());
  }

  /// One change after the other, as long as it is worth it.
  void change_posts(Found& best, const std::vector<std::vector<BlockSet>>& candidates) {
    tasks_left_ = std::max(tasks_left_, line_.work / 12);
    bool is_better = true;
    while (is_better && tasks_left_ > 0 && best.made.finish > least_ + kChange) {
      is_better = false;
      for (std::size_t i = 0; i < helpers_; ++i) {
        const auto own = best.blocks[i];
        if (own.empty() || own.size() > static_cast<std::size_t>(line_.changes)) continue;
        for (const BlockSet post : candidates[i]) {
          if (tasks_left_ <= 0) break;
          if ((post & own.back()) != 0) continue;
          auto sets = best.blocks;
          sets[i] = own;
          sets[i].push_back(post);
          is_better = try_sets(sets, best, {best.urgency}, kChange) || is_better;
        }
      }
    }
  }

  const Line& line_;
  Time least_;
  std::vector<Block> blocks_;
  std::size_t helpers_;
  std::int64_t tasks_left_;
  std::vector<Urgency> urgencies_;
  std::optional<FoundPosts> best_;
};

}  // namespace

FoundPosts plan_by_posts(const Line& line, Time least) { return Finder(line, least).run(); }

}  // namespace pouchwright::batch

#include "batch/work/post_covers.h"

#include <algorithm>
#include <bit>
#include <utility>

namespace pouchwright::batch {
namespace {

constexpr BlockSet bit(std::size_t index) { return BlockSet{1} << index; }

/// By block: the least time that passes before its first task and after its last one. The first
/// pouches alone are waited for by their own bundles.
struct Around {
  std::vector<Time> before, after;
};

Around around(const Line& line, const std::vector<Block>& blocks) {
  const int least = *std::min_element(line.bundles.begin(), line.bundles.end());
  const auto takes = [&](const Step& step) {
    return step.once ? step.takes(1) : step.firsts ? Time() : step.takes(least);
  };
  const auto waits = [](const Step& step) {
    return step.firsts && !step.once ? Time() : step.waits;
  };
  std::vector<Time> before(line.steps.size());
  std::vector<Time> after(line.steps.size());
  for (std::size_t i = 0; i < line.steps.size(); ++i) {
    for (const std::size_t need : line.steps[i].needs) {
      const Step& step = line.steps[need];
      before[i] = std::max(before[i], before[need] + takes(step) + waits(step));
    }
  }
  for (std::size_t i = line.steps.size(); i-- > 0;) {
    for (const std::size_t need : line.steps[i].needs) {
      const Time behind = takes(line.steps[i]) + after[i];
      if (behind > Time()) after[need] = std::max(after[need], waits(line.steps[need]) + behind);
    }
  }
  Around made;
  for (const Block& block : blocks) {
    made.before.push_back(before[block.main]);
    made.after.push_back(after[block.main]);
  }
  return made;
}

/// A post and who has it.
struct Group {
  BlockSet post = 0;
  Time work{}, around{};
  int places = 0;  ///< more people than that are of no use
  std::vector<std::size_t> crew;
};

class Search {
 public:
  Search(const Line& line, const std::vector<Block>& blocks, const Candidates& candidates,
         std::size_t most)
      : line_(line),
        blocks_(blocks),
        around_(around(line, blocks)),
        most_(most),
        helpers_(candidates.size()),
        is_used_(candidates.size(), false) {
    set_kinds(candidates);
    for (const Block& block : blocks) left_ += block.work;
  }

  Covers run() {
    look(0);
    std::stable_sort(made_.best.begin(), made_.best.end(),
                     [](const Cover& a, const Cover& b) { return a.least < b.least; });
    made_.all = work_left_ > 0;
    return std::move(made_);
  }

 private:
  /// Helpers who are alike in speed and candidates: which of them takes a post is all the same.
  struct Kind {
    double speed = 1;
    std::vector<BlockSet> own;
    std::vector<std::vector<Group>> by_first;  ///< by block: those of which it is the first
  };

  void set_kinds(const Candidates& candidates) {
    for (std::size_t i = 0; i < helpers_; ++i) {
      const double speed = line_.speed_of(i);
      const auto same = std::find_if(kinds_.begin(), kinds_.end(), [&](const Kind& kind) {
        return kind.speed == speed && kind.own == candidates[i];
      });
      kind_of_.push_back(static_cast<std::size_t>(same - kinds_.begin()));
      if (same == kinds_.end()) kinds_.push_back(kind_of(speed, candidates[i]));
    }
  }

  /// The posts that are nearest to an even share come first.
  [[nodiscard]] Kind kind_of(double speed, const std::vector<BlockSet>& own) const {
    Time share{};
    for (const Block& block : blocks_) share += block.work;
    share = share.shared_out(static_cast<std::int64_t>(helpers_));
    Kind made{speed, own, std::vector<std::vector<Group>>(blocks_.size())};
    for (const BlockSet post : own) {
      made.by_first[static_cast<std::size_t>(std::countr_zero(post))].push_back(group_of(post));
    }
    const auto off = [&](const Group& group) {
      return std::max(group.work - share, share - group.work);
    };
    for (auto& posts : made.by_first) {
      std::stable_sort(posts.begin(), posts.end(),
                       [&](const Group& a, const Group& b) { return off(a) < off(b); });
    }
    return made;
  }

  [[nodiscard]] Group group_of(BlockSet post) const {
    Group made;
    made.post = post;
    Time before = Time::longest();
    Time after = Time::longest();
    BlockSet kinds = 0;
    for (BlockSet rest = post; rest != 0; rest &= rest - 1) {
      const auto i = static_cast<std::size_t>(std::countr_zero(rest));
      made.work += blocks_[i].work;
      before = std::min(before, around_.before[i]);
      after = std::min(after, around_.after[i]);
      kinds |= bit(static_cast<std::size_t>(blocks_[i].station));
    }
    made.around = before + after;
    const bool is_one_place = std::popcount(kinds) == 1 && (kinds & 1U) == 0;
    made.places = is_one_place ? line_.stations[static_cast<std::size_t>(std::countr_zero(kinds))]
                               : static_cast<int>(helpers_);
    return made;
  }

  /// With so many more of the quickest.
  [[nodiscard]] Time takes(const Group& group, std::size_t more = 0) const {
    const std::size_t count =
        std::min(group.crew.size() + more, static_cast<std::size_t>(std::max(1, group.places)));
    if (line_.people.empty()) {
      return group.around + group.work.shared_out(static_cast<std::int64_t>(count));
    }
    double speed = 0;
    for (std::size_t i = 0; i < std::min(count, group.crew.size()); ++i) {
      speed += line_.speed_of(group.crew[i]);
    }
    if (count > group.crew.size()) {
      double quickest = 0;
      for (const Kind& kind : kinds_) quickest = std::max(quickest, kind.speed);
      speed += quickest * static_cast<double>(count - group.crew.size());
    }
    return group.around + at_speed(group.work, speed);
  }

  [[nodiscard]] Time worst_kept() const {
    if (made_.best.size() < most_) return Time::longest();
    Time worst{};
    for (const Cover& one : made_.best) worst = std::max(worst, one.least);
    return worst;
  }

  void look(BlockSet covered) {
    const BlockSet all = blocks_.size() == kMostBlocks ? ~BlockSet{0} : bit(blocks_.size()) - 1;
    if (covered == all) return keep();
    if (groups_.size() == helpers_) return;
    const auto first = static_cast<std::size_t>(std::countr_one(covered));
    std::vector<bool> tried(kinds_.size(), false);
    for (std::size_t helper = 0; helper < helpers_; ++helper) {
      if (is_used_[helper] || tried[kind_of_[helper]]) continue;
      tried[kind_of_[helper]] = true;
      for (const Group& group : kinds_[kind_of_[helper]].by_first[first]) {
        if ((group.post & covered) != 0) continue;
        if (--work_left_ <= 0) return;
        take(helper, group, covered, all);
      }
    }
  }

  void take(std::size_t helper, const Group& group, BlockSet covered, BlockSet all) {
    covered |= group.post;
    groups_.push_back(group);
    groups_.back().crew.push_back(helper);
    is_used_[helper] = true;
    const Time before = left_;
    left_ = left_ - groups_.back().work;
    if (may_be_kept(covered == all)) look(covered);
    left_ = before;
    is_used_[helper] = false;
    groups_.pop_back();
  }

  /// As if whoever is left over joined each.
  [[nodiscard]] bool may_be_kept(bool is_whole) const {
    const std::size_t unused = helpers_ - groups_.size();
    if (!is_whole && unused == 0) return false;
    const Time worst = worst_kept();
    if (worst == Time::longest()) return true;
    const std::size_t more = is_whole ? unused : unused - 1;
    const bool all_alike = line_.people.empty();
    if (!is_whole && all_alike && left_.shared_out(static_cast<std::int64_t>(unused)) >= worst) {
      return false;
    }
    return std::all_of(groups_.begin(), groups_.end(),
                       [&](const Group& group) { return takes(group, more) < worst; });
  }

  void keep() {
    work_left_ -= static_cast<std::int64_t>(helpers_ - groups_.size());
    std::vector<Group> groups = groups_;
    for (std::size_t helper = 0; helper < helpers_; ++helper) {
      if (!is_used_[helper]) join(groups, helper);
    }
    Cover made{{}, Posts(helpers_, 0)};
    for (const Group& group : groups) {
      made.least = std::max(made.least, takes(group));
      for (const std::size_t helper : group.crew) made.posts[helper] = group.post;
    }
    if (made.least >= worst_kept()) return;
    if (made_.best.size() == most_) {
      made_.best.erase(
          std::max_element(made_.best.begin(), made_.best.end(),
                           [](const Cover& a, const Cover& b) { return a.least < b.least; }));
    }
    made_.best.push_back(std::move(made));
  }

  /// Nobody where she would be of no use.
  void join(std::vector<Group>& groups, std::size_t helper) const {
    const auto& own = kinds_[kind_of_[helper]].own;
    Group* fullest = nullptr;
    for (Group& group : groups) {
      if (static_cast<int>(group.crew.size()) >= group.places) continue;
      if (std::find(own.begin(), own.end(), group.post) == own.end()) continue;
      if (fullest == nullptr || takes(group) > takes(*fullest)) fullest = &group;
    }
    if (fullest != nullptr) fullest->crew.push_back(helper);
  }

  const Line& line_;
  const std::vector<Block>& blocks_;
  Around around_;
  std::size_t most_;
  std::size_t helpers_;
  std::vector<Kind> kinds_;
  std::vector<std::size_t> kind_of_;  ///< by helper
  std::vector<bool> is_used_;
  std::vector<Group> groups_;
  Time left_{};  ///< work that is nobody's yet
  std::int64_t work_left_ = kCoverWork;
  Covers made_;
};

}  // namespace

Covers covers(const Line& line, const std::vector<Block>& blocks, const Candidates& candidates,
              std::size_t most) {
  return Search(line, blocks, candidates, most).run();
}

}  // namespace pouchwright::batch

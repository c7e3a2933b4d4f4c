#include "lay/solve/combined.h"

#include <algorithm>
#include <utility>

#include "lay/solve/joined.h"

namespace pouchwright::lay {

namespace {

constexpr Wide kMostWasted = 30;  ///< of a pattern, in thousandths
constexpr std::size_t kMostPatterns = 1500;
constexpr std::size_t kMostCutOffs = 1000, kMostOfManyKinds = 24;  ///< laid anew
/// Plans begun are compared with those that have laid about as much.
constexpr int kStages = 128;
constexpr std::size_t kKept = 64;  ///< of each stage
constexpr std::int64_t kFewSets = 6'000;
constexpr std::int64_t kRestWork = 500'000;
/// What is likely to be wasted of the rest: one part in so many.
constexpr int kLikelyWaste = 20;

Wide share(Wide waste, Wide area) { return (waste << 20U) / area; }

/// Patterns that hold some of the pieces.
struct Begun {
  std::vector<int> left;
  Whole length = 0;
  Wide area = 0, waste = 0;
  int before = -1;          ///< index of the plan that it goes on from
  std::size_t pattern = 0;  ///< its last; none with a lower index follows, so each set comes once

  [[nodiscard]] Wide wasted() const { return area == 0 ? 0 : share(waste, area); }
};

class Combiner {
 public:
  Combiner(const RollQuestion& question, const Patterns& patterns, Work& work)
      : question_(question), work_(work), stages_(kStages + 1) {
    Begun none;
    for (const Shape& shape : question.shapes) {
      total_ += shape.takes() * shape.demand;
      none.left.push_back(shape.demand);
    }
    // With no smaller ones every pattern leads to a later stage.
    patterns_ = patterns.fullest(total_ / kStages + 1);
    begun_.push_back(std::move(none));
    stages_.front().push_back(0);
    for (std::vector<int>& stage : stages_) {
      keep_best(stage);
      for (const int begun : stage) go_on(begun);
    }
  }

  /// A plan shorter than `length`; empty where none is found.
  std::vector<Part> shorter_than(Whole length) {
    std::vector<int> ends;
    for (const std::vector<int>& stage : stages_) {
      for (const int end : stage) {
        if (Joined::possible(rest_of(end).shapes, kFewSets)) ends.push_back(end);
      }
    }
    std::stable_sort(ends.begin(), ends.end(),
                     [&](int a, int b) { return likely_waste(a) < likely_waste(b); });
    std::vector<Part> best;
    for (const int end : ends) {
      if (work_.ended()) break;
      std::vector<Part> plan = finished(end, length - 1);
      if (plan.empty()) continue;
      length = 0;
      for (const Part& part : plan) length += part.length;
      best = std::move(plan);
    }
    return best;
  }

 private:
  [[nodiscard]] const Begun& at(int index) const { return begun_[static_cast<std::size_t>(index)]; }

  [[nodiscard]] Wide likely_waste(int index) const {
    return at(index).waste + (total_ - at(index).area) / kLikelyWaste;
  }

  [[nodiscard]] RollQuestion rest_of(int index) const {
    RollQuestion rest = question_;
    for (std::size_t k = 0; k < rest.shapes.size(); ++k) rest.shapes[k].demand = at(index).left[k];
    return rest;
  }

  void keep_best(std::vector<int>& stage) const {
    std::stable_sort(stage.begin(), stage.end(),
                     [&](int a, int b) { return at(a).wasted() < at(b).wasted(); });
    std::vector<int> kept;
    for (const int one : stage) {
      const bool known = std::any_of(kept.begin(), kept.end(),
                                     [&](int other) { return at(other).left == at(one).left; });
      if (!known) kept.push_back(one);
      if (kept.size() == kKept) break;
    }
    stage = std::move(kept);
  }

  void go_on(int from) {
    work_.spend(static_cast<std::int64_t>(patterns_.size()));
    for (std::size_t p = at(from).pattern; p < patterns_.size() && !work_.ended(); ++p) {
      const Pattern& pattern = patterns_[p];
      const std::vector<int>& left = at(from).left;
      if (!std::equal(left.begin(), left.end(), pattern.counts.begin(), std::greater_equal<>())) {
        continue;
      }
      Begun next;
      next.area = at(from).area + pattern.area;
      next.waste = at(from).waste + pattern.waste;
      std::vector<int>& stage = stages_[static_cast<std::size_t>(next.area * kStages / total_)];
      if (stage.size() >= 8 * kKept) keep_best(stage);
      if (stage.size() >= kKept && next.wasted() >= at(stage[kKept - 1]).wasted()) continue;
      work_.spend(20);
      next.left = left;
      for (std::size_t k = 0; k < next.left.size(); ++k) next.left[k] -= pattern.counts[k];
      next.length = at(from).length + pattern.part.length;
      next.before = from;
      next.pattern = p;
      stage.push_back(static_cast<int>(begun_.size()));
      begun_.push_back(std::move(next));
    }
  }

  /// With the rest laid exactly, if all is no longer than `most`; else empty.
  std::vector<Part> finished(int end, Whole most) {
    const Whole room = most - at(end).length;
    const Wide area = total_ - at(end).area;
    if (Wide{room} * question_.width < area) return {};
    std::vector<Part> plan;
    if (area > 0) {
      const std::int64_t steps = std::min(work_.left(), kRestWork);
      Work some(steps);
      const Joined rest(rest_of(end), room, some);
      work_.spend(steps - some.left() + 1000);
      if (rest.outcome() != Joined::Outcome::found) return {};
      plan = rest.cut_offs();
    }
    for (int i = end; at(i).before >= 0; i = at(i).before) {
      plan.push_back(patterns_[at(i).pattern].part);
    }
    return plan;
  }

  const RollQuestion& question_;
  Work& work_;
  Wide total_ = 0;
  std::vector<Pattern> patterns_;
  std::vector<Begun> begun_;
  std::vector<std::vector<int>> stages_;
};

Wide filled_area(const Part& part, const std::vector<Shape>& shapes) {
  Wide area = 0;
  const std::vector<int> counts = count_pieces(part, shapes.size());
  for (std::size_t k = 0; k < shapes.size(); ++k) area += shapes[k].takes() * counts[k];
  return area;
}

}  // namespace

bool Patterns::wants(const std::vector<int>& counts, Wide area, Wide whole) const {
  if (area == 0 || (whole - area) * 1000 > whole * kMostWasted) return false;
  const auto known = by_counts_.find(counts);
  return known == by_counts_.end() || whole - area < known->second.waste;
}

std::vector<Pattern> Patterns::fullest(Wide area) const {
  std::vector<Pattern> all;
  for (const auto& known : by_counts_) {
    if (known.second.area >= area) all.push_back(known.second);
  }
  std::stable_sort(all.begin(), all.end(), [](const Pattern& a, const Pattern& b) {
    return share(a.waste, a.area) < share(b.waste, b.area);
  });
  if (all.size() > kMostPatterns) all.resize(kMostPatterns);
  return all;
}

void combine(const RollQuestion& question, const Patterns& patterns, std::vector<Part>& cut_offs,
             Work& work) {
  std::stable_sort(cut_offs.begin(), cut_offs.end(), [&](const Part& a, const Part& b) {
    return filled_area(a, question.shapes) * b.length < filled_area(b, question.shapes) * a.length;
  });
  // Where kinds are many, what is left of them at the end is seldom laid exactly.
  const std::size_t most = question.shapes.size() > kFewKinds ? kMostOfManyKinds : kMostCutOffs;
  const auto end = cut_offs.begin() + static_cast<std::ptrdiff_t>(std::min(cut_offs.size(), most));
  RollQuestion anew = question;
  for (Shape& shape : anew.shapes) shape.demand = 0;
  Whole length = 0;
  for (auto part = cut_offs.begin(); part != end; ++part) {
    length += part->length;
    const std::vector<int> counts = count_pieces(*part, anew.shapes.size());
    for (std::size_t k = 0; k < counts.size(); ++k) anew.shapes[k].demand += counts[k];
  }
  const auto better = Combiner(anew, patterns, work).shorter_than(length);
  if (better.empty()) return;
  cut_offs.erase(cut_offs.begin(), end);
  cut_offs.insert(cut_offs.end(), better.begin(), better.end());
}

}  // namespace pouchwright::lay

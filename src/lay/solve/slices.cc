#include "lay/solve/slices.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "lay/solve/cover.h"

namespace pouchwright::lay {

namespace {

/// A finer width is rounded down, so that more may lie side by side than do.
constexpr Whole kMostSteps = 30'000;
constexpr int kRounds = 300;
/// What a unit of worth is told in, per unit of length.
constexpr Whole kScale = Whole{1} << 36U;

/// The slice of the greatest worth.
struct Slice {
  Whole worth = 0;
  std::vector<int> counts;  ///< by pose
};

class Slices {
 public:
  explicit Slices(const RollQuestion& question)
      : shapes_(question.shapes), poses_(poses(shapes_, question.width, question.longest)) {
    std::erase_if(poses_, [&](const Pose& pose) { return shape_of(pose).demand == 0; });
    Whole step = 0;
    for (const Pose& pose : poses_) {
      step = std::gcd(step, pose.width);
      unit_ = std::max(unit_, pose.length);
    }
    step = std::max(step, divided_up(question.width, kMostSteps));
    cloth_ = question.width;
    width_ = cloth_ / step;
    for (const Pose& pose : poses_) widths_.push_back(std::max<Whole>(pose.width / step, 1));
  }

  [[nodiscard]] const std::vector<Pose>& lying() const { return poses_; }
  /// The length that amounts are told in: a slice lasts for it.
  [[nodiscard]] Whole unit() const { return unit_; }

  /// The best slice, where a pose is worth `worths` a unit of length. Exact.
  [[nodiscard]] Slice best(const std::vector<Whole>& worths, Work& work) const {
    const auto room = static_cast<std::size_t>(width_);
    std::vector<Whole> most(room + 1, 0);
    std::vector<int> last(room + 1, -1);
    work.spend(static_cast<std::int64_t>(room * poses_.size()));
    for (std::size_t at = 1; at <= room; ++at) {
      most[at] = most[at - 1];
      for (std::size_t p = 0; p < poses_.size(); ++p) {
        const auto wide = static_cast<std::size_t>(widths_[p]);
        if (wide > at || most[at - wide] + worths[p] <= most[at]) continue;
        most[at] = most[at - wide] + worths[p];
        last[at] = static_cast<int>(p);
      }
    }
    Slice slice{most[room], std::vector<int>(poses_.size(), 0)};
    for (std::size_t at = room; at > 0;) {
      if (last[at] < 0) {
        --at;
        continue;
      }
      const auto pose = static_cast<std::size_t>(last[at]);
      ++slice.counts[pose];
      at -= static_cast<std::size_t>(widths_[pose]);
    }
    return slice;
  }

  /// How much of each kind a slice gives while it lasts for unit().
  [[nodiscard]] Cover::Column column(const Slice& slice) const {
    Cover::Column column{std::vector<Fixed>(shapes_.size()), Fixed::whole(1)};
    for (std::size_t p = 0; p < poses_.size(); ++p) {
      column.covers[kind_of(p)] += Fixed::fraction(slice.counts[p] * unit_, poses_[p].length);
    }
    return column;
  }

  /// One kind alone, in whichever direction it takes the least cloth.
  [[nodiscard]] Cover::Column alone(std::size_t kind) const {
    Cover::Column best;
    for (std::size_t p = 0; p < poses_.size(); ++p) {
      if (kind_of(p) != kind) continue;
      Slice slice{0, std::vector<int>(poses_.size(), 0)};
      slice.counts[p] = static_cast<int>(width_ / widths_[p]);
      Cover::Column made = column(slice);
      if (best.covers.empty() || made.covers[kind] > best.covers[kind]) best = std::move(made);
    }
    return best;
  }

  /// The bound, if each piece is worth so much: what a piece is worth is shared out over its length,
  /// rounded up, so that no slice holds more than it is thought to.
  SlicesBound bound(const std::vector<Whole>& worth_of_kind, Slice& slice, Work& work) const {
    std::vector<Whole> worths;
    for (std::size_t p = 0; p < poses_.size(); ++p) {
      worths.push_back(divided_up(Wide{worth_of_kind[kind_of(p)]} * unit_, poses_[p].length));
    }
    slice = best(worths, work);
    SlicesBound bound;
    Wide all = 0;
    for (std::size_t k = 0; k < shapes_.size(); ++k) {
      all += Wide{worth_of_kind[k]} * shapes_[k].demand;
      bound.shares.push_back(Wide{worth_of_kind[k]} * unit_ / std::max<Whole>(slice.worth, 1) *
                             cloth_);
    }
    bound.length = slice.worth == 0 ? 0 : divided_up(all * unit_, slice.worth);
    return bound;
  }

 private:
  [[nodiscard]] std::size_t kind_of(std::size_t pose) const {
    return static_cast<std::size_t>(poses_[pose].kind);
  }
  [[nodiscard]] const Shape& shape_of(const Pose& pose) const {
    return shapes_[static_cast<std::size_t>(pose.kind)];
  }

  const std::vector<Shape>& shapes_;
  std::vector<Pose> poses_;
  std::vector<Whole> widths_;  ///< of poses, in steps
  Whole width_ = 0;            ///< of the cloth, in steps
  Whole cloth_ = 0;            ///< its width
  Whole unit_ = 1;
};

}  // namespace

SlicesBound slices_bound(const RollQuestion& question, Work& work) {
  const Slices slices(question);
  SlicesBound bound{0, std::vector<Wide>(question.shapes.size(), 0)};
  if (slices.lying().empty()) return bound;
  std::vector<Fixed> demands;
  for (const Shape& shape : question.shapes) demands.push_back(Fixed::whole(shape.demand));
  Cover cover(std::move(demands));
  for (std::size_t k = 0; k < question.shapes.size(); ++k) cover.add(slices.alone(k));
  for (int round = 0; round < kRounds && !work.ended(); ++round) {
    cover.solve(work);
    std::vector<Whole> worths;
    for (const Fixed price : cover.prices()) {
      worths.push_back(static_cast<Whole>(price.raw() >> (Fixed::kBits - 36)));
    }
    Slice slice;
    SlicesBound found = slices.bound(worths, slice, work);
    if (found.length > bound.length) bound = std::move(found);
    // A slice that is worth no more than it costs would change nothing.
    if (slice.worth <= kScale + (kScale >> 24U)) break;
    cover.add(slices.column(slice));
  }
  return bound;
}

}  // namespace pouchwright::lay

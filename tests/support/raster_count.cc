#include "support/raster_count.h"

#include <algorithm>
#include <vector>

#include "lay/solve/whole.h"

namespace pouchwright::support {

namespace {

using lay::Pose;
using lay::Whole;

/// G(w, l): the most pieces from w x l over sums of sides.
class RasterCount {
 public:
  RasterCount(const std::vector<Pose>& all, Whole width, Whole length) {
    std::vector<Whole> across;
    std::vector<Whole> along;
    for (const Pose& pose : all) {
      across.push_back(pose.width);
      along.push_back(pose.length);
    }
    xs_ = *lay::sums_of(across, width, 100'000);
    ys_ = *lay::sums_of(along, length, 100'000);
    most_.assign(xs_.size() * ys_.size(), 0);
    for (std::size_t j = 1; j < ys_.size(); ++j) {
      for (std::size_t i = 1; i < xs_.size(); ++i) at(i, j) = count(all, i, j);
    }
  }
  [[nodiscard]] Whole least_length(int demand) {
    for (std::size_t j = 0; j < ys_.size(); ++j) {
      if (at(xs_.size() - 1, j) >= demand) return ys_[j];
    }
    return lay::kNever;
  }

 private:
  int& at(std::size_t i, std::size_t j) { return most_[j * xs_.size() + i]; }

  int count(const std::vector<Pose>& all, std::size_t i, std::size_t j) {
    int most = 0;
    for (const Pose& pose : all) {
      if (pose.width <= xs_[i] && pose.length <= ys_[j]) most = 1;
    }
    for (std::size_t u = 1; 2 * xs_[u] <= xs_[i]; ++u) {
      most = std::max(most, at(u, j) + at(lay::last_not_above(xs_, xs_[i] - xs_[u]), j));
    }
    for (std::size_t u = 1; 2 * ys_[u] <= ys_[j]; ++u) {
      most = std::max(most, at(i, u) + at(i, lay::last_not_above(ys_, ys_[j] - ys_[u])));
    }
    return most;
  }

  std::vector<Whole> xs_, ys_;
  std::vector<int> most_;
};

/// Of like rows, as long as the least length can be.
Whole length_of_rows(const std::vector<Pose>& all, Whole width, int demand) {
  Whole least = lay::kNever;
  for (const Pose& pose : all) {
    const Whole side_by_side = width / pose.width;
    least = std::min(least, (demand + side_by_side - 1) / side_by_side * pose.length);
  }
  return least;
}

}  // namespace

Whole one_kind_by_raster(const lay::RollQuestion& question) {
  const std::vector<Pose> all = lay::poses(question.shapes, question.width, lay::kNever);
  const int demand = question.shapes.front().demand;
  RasterCount count(all, question.width, length_of_rows(all, question.width, demand));
  return count.least_length(demand);
}

}  // namespace pouchwright::support

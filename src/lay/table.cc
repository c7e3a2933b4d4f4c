#include "lay/table.h"

#include <algorithm>
#include <utility>

namespace pouchwright::lay {

Table::Table(std::vector<Whole> across, std::vector<Whole> along, const std::vector<Shape>& shapes,
             Limits limits, Work& work)
    : xs_(std::move(across)), ys_(std::move(along)), shapes_(shapes), limits_(limits) {
  poses_ = poses(shapes_, xs_.back(), ys_.back());
  cells_.resize(xs_.size() * ys_.size());
  if (limits_ == Limits::kept) counts_.assign(cells_.size() * shapes_.size(), 0);
  for (std::size_t j = 1; j < ys_.size(); ++j) {
    for (std::size_t i = 1; i < xs_.size(); ++i) fill(i, j, work);
  }
}

std::vector<int> Table::counts(std::size_t i, std::size_t j) const {
  const std::size_t at = cell(i, j) * shapes_.size();
  if (limits_ == Limits::ignored) return count_pieces(build(i, j), shapes_.size());
  return {counts_.begin() + static_cast<std::ptrdiff_t>(at),
          counts_.begin() + static_cast<std::ptrdiff_t>(at + shapes_.size())};
}

void Table::fill(std::size_t i, std::size_t j, Work& work) {
  start(i, j);
  const std::size_t to = cell(i, j);
  if (!work.spend(static_cast<std::int64_t>(i + j))) return;
  // The rest beside a cut shrinks as the cut moves on: one pass finds its position.
  for (std::size_t u = 1, v = i; 2 * xs_[u] <= xs_[i]; ++u) {
    while (xs_[v] > xs_[i] - xs_[u]) --v;
    join(to, cell(u, j), cell(v, j), How::along, u);
  }
  for (std::size_t u = 1, v = j; 2 * ys_[u] <= ys_[j]; ++u) {
    while (ys_[v] > ys_[j] - ys_[u]) --v;
    join(to, cell(i, u), cell(i, v), How::across, u);
  }
}

void Table::start(std::size_t i, std::size_t j) {
  const std::size_t to = cell(i, j);
  const std::size_t kinds = shapes_.size();
  const auto copy = [&](std::size_t from, How how) {
    if (cells_[from].value <= cells_[to].value) return;
    cells_[to] = {cells_[from].value, how, 0};
    if (limits_ == Limits::ignored) return;
    std::copy_n(counts_.begin() + static_cast<std::ptrdiff_t>(from * kinds), kinds,
                counts_.begin() + static_cast<std::ptrdiff_t>(to * kinds));
  };
  copy(cell(i - 1, j), How::narrower);
  copy(cell(i, j - 1), How::shorter);
  for (std::size_t p = 0; p < poses_.size(); ++p) {
    const auto kind = static_cast<std::size_t>(poses_[p].kind);
    if (poses_[p].width > xs_[i] || poses_[p].length > ys_[j]) continue;
    if (shapes_[kind].value <= cells_[to].value || shapes_[kind].demand == 0) continue;
    cells_[to] = {shapes_[kind].value, How::piece, static_cast<int>(p)};
    if (limits_ == Limits::ignored) continue;
    std::fill_n(counts_.begin() + static_cast<std::ptrdiff_t>(to * kinds), kinds, 0);
    counts_[to * kinds + kind] = 1;
  }
}

void Table::join(std::size_t to, std::size_t a, std::size_t b, How how, std::size_t first) {
  const Whole most = cells_[a].value + cells_[b].value;
  if (most <= cells_[to].value) return;
  if (limits_ == Limits::ignored) {
    cells_[to] = {most, how, static_cast<int>(first)};
    return;
  }
  const std::size_t kinds = shapes_.size();
  Whole value = most;
  for (std::size_t k = 0; k < kinds; ++k) {
    const int over = counts_[a * kinds + k] + counts_[b * kinds + k] - shapes_[k].demand;
    if (over > 0) value -= over * shapes_[k].value;
  }
  if (value <= cells_[to].value) return;
  cells_[to] = {value, how, static_cast<int>(first)};
  for (std::size_t k = 0; k < kinds; ++k) {
    const int both = counts_[a * kinds + k] + counts_[b * kinds + k];
    counts_[to * kinds + k] = static_cast<unsigned short>(std::min(both, shapes_[k].demand));
  }
}

Part Table::part(std::size_t i, std::size_t j) const {
  std::vector<int> most;
  for (const Shape& shape : shapes_) {
    most.push_back(limits_ == Limits::kept ? shape.demand : std::numeric_limits<int>::max());
  }
  return trimmed(within(build(i, j), xs_[i], ys_[j]), std::move(most));
}

Part Table::build(std::size_t i, std::size_t j) const {
  const Cell& here = cells_[cell(i, j)];
  const auto at = static_cast<std::size_t>(here.first);
  switch (here.how) {
    case How::empty:
      return waste_part(xs_[i], ys_[j]);
    case How::narrower:
      return build(i - 1, j);
    case How::shorter:
      return build(i, j - 1);
    case How::piece: {
      const Pose& pose = poses_[at];
      return piece_part(pose.kind, pose.turned, pose.width, pose.length);
    }
    case How::along: {
      std::vector<Part> parts;
      parts.push_back(build(at, j));
      parts.push_back(build(last_not_above(xs_, xs_[i] - xs_[at]), j));
      return beside(std::move(parts), xs_[i], ys_[j]);
    }
    case How::across: {
      std::vector<Part> parts;
      parts.push_back(build(i, at));
      parts.push_back(build(i, last_not_above(ys_, ys_[j] - ys_[at])));
      return behind(std::move(parts), xs_[i], ys_[j]);
    }
  }
  return {};
}

}  // namespace pouchwright::lay

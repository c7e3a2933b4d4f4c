#include "lay/solve/table.h"

#include <algorithm>
#include <utility>

namespace pouchwright::lay {

Table::Rests::Rests(const std::vector<Whole>& positions) {
  for (std::size_t i = 0; i < positions.size(); ++i) {
    starts_.push_back(rests_.size());
    // The rest shrinks as the cut moves on: one pass finds its position.
    for (std::size_t u = 0, v = i; 2 * positions[u] <= positions[i]; ++u) {
      while (positions[v] > positions[i] - positions[u]) --v;
      rests_.push_back(static_cast<unsigned short>(v));
      if (u == i) break;
    }
  }
  starts_.push_back(rests_.size());
}

Table::Table(std::vector<Whole> across, std::vector<Whole> along, const std::vector<Shape>& shapes,
             Limits limits, Work& work)
    : xs_(std::move(across)),
      ys_(std::move(along)),
      shapes_(shapes),
      rests_across_(xs_),
      rests_along_(ys_),
      limits_(limits) {
  poses_ = poses(shapes_, xs_.back(), ys_.back());
  cells_.resize(xs_.size() * ys_.size());
  columns_.resize(ys_.size());
  rows_.resize(xs_.size());
  values_.assign(cells_.size(), 0);
  values_upright_.assign(cells_.size(), 0);
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

void Table::set_value(std::size_t i, std::size_t j, Whole value) {
  values_[cell(i, j)] = value;
  values_upright_[i * ys_.size() + j] = value;
}

void Table::fill(std::size_t i, std::size_t j, Work& work) {
  start(i, j);
  const std::size_t to = cell(i, j);
  const std::vector<unsigned short>& columns = columns_[j];
  const std::vector<unsigned short>& rows = rows_[i];
  if (work.spend(static_cast<std::int64_t>(columns.size() + rows.size()))) {
    const unsigned short* rests = rests_across_.of(i);
    const std::size_t across_cuts = rests_across_.count(i);
    const Whole* row = &values_[cell(0, j)];
    for (const std::size_t u : columns) {
      if (u >= across_cuts) break;
      if (row[u] + row[rests[u]] > values_[to]) {
        join(to, cell(u, j), cell(rests[u], j), How::along, u);
      }
    }
    rests = rests_along_.of(j);
    const std::size_t along_cuts = rests_along_.count(j);
    const Whole* column = &values_upright_[i * ys_.size()];
    for (const std::size_t u : rows) {
      if (u >= along_cuts) break;
      if (column[u] + column[rests[u]] > values_[to]) {
        join(to, cell(i, u), cell(i, rests[u]), How::across, u);
      }
    }
  }
  set_value(i, j, values_[to]);
  const bool across = cells_[to].first_cut == How::across;
  const bool along = cells_[to].first_cut == How::along;
  if (!along && values_[to] > values_[cell(i - 1, j)])
    columns_[j].push_back(static_cast<unsigned short>(i));
  if (!across && values_[to] > values_[cell(i, j - 1)])
    rows_[i].push_back(static_cast<unsigned short>(j));
}

void Table::start(std::size_t i, std::size_t j) {
  const std::size_t to = cell(i, j);
  const std::size_t kinds = shapes_.size();
  const auto copy = [&](std::size_t from, How how) {
    if (values_[from] <= values_[to]) return;
    values_[to] = values_[from];
    cells_[to] = {how, 0, cells_[from].first_cut};
    if (limits_ == Limits::ignored) return;
    std::copy_n(counts_.begin() + static_cast<std::ptrdiff_t>(from * kinds), kinds,
                counts_.begin() + static_cast<std::ptrdiff_t>(to * kinds));
  };
  copy(cell(i - 1, j), How::narrower);
  copy(cell(i, j - 1), How::shorter);
  for (std::size_t p = 0; p < poses_.size(); ++p) {
    const auto kind = static_cast<std::size_t>(poses_[p].kind);
    if (poses_[p].width > xs_[i] || poses_[p].length > ys_[j]) continue;
    if (shapes_[kind].value <= values_[to] || shapes_[kind].demand == 0) continue;
    values_[to] = shapes_[kind].value;
    cells_[to] = {How::piece, static_cast<int>(p), How::piece};
    if (limits_ == Limits::ignored) continue;
    std::fill_n(counts_.begin() + static_cast<std::ptrdiff_t>(to * kinds), kinds, 0);
    counts_[to * kinds + kind] = 1;
  }
}

void Table::join(std::size_t to, std::size_t a, std::size_t b, How how, std::size_t first) {
  Whole value = values_[a] + values_[b];
  const std::size_t kinds = shapes_.size();
  if (limits_ == Limits::kept) {
    for (std::size_t k = 0; k < kinds; ++k) {
      const int over = counts_[a * kinds + k] + counts_[b * kinds + k] - shapes_[k].demand;
      if (over > 0) value -= over * shapes_[k].value;
    }
    if (value <= values_[to]) return;
    for (std::size_t k = 0; k < kinds; ++k) {
      const int both = counts_[a * kinds + k] + counts_[b * kinds + k];
      counts_[to * kinds + k] = static_cast<unsigned short>(std::min(both, shapes_[k].demand));
    }
  }
  values_[to] = value;
  cells_[to] = {how, static_cast<int>(first), how};
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

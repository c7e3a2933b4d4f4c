#include "lay/solve/columns.h"

#include <algorithm>
#include <utility>

namespace pouchwright::lay {

Columns::Columns(std::vector<Whole> across, std::vector<Whole> along,
                 const std::vector<Shape>& shapes, Work& work)
    : xs_(std::move(across)), ys_(std::move(along)), shapes_(shapes) {
  poses_ = poses(shapes_, xs_.back(), ys_.back());
  std::erase_if(poses_, [&](const Pose& pose) {
    return shapes_[static_cast<std::size_t>(pose.kind)].demand == 0;
  });
  for (const Pose& pose : poses_) {
    std::vector<int>& rests = rests_.emplace_back(ys_.size(), -1);
    for (std::size_t j = 0; j < ys_.size(); ++j) {
      if (pose.length <= ys_[j]) {
        rests[j] = static_cast<int>(last_not_above(ys_, ys_[j] - pose.length));
      }
    }
  }
  for (std::size_t i = 0; i < xs_.size(); ++i) {
    std::vector<std::size_t>& beside = beside_.emplace_back();
    for (std::size_t u = 0, v = i; u <= i; ++u) {
      while (xs_[v] > xs_[i] - xs_[u]) --v;
      beside.push_back(v);
    }
  }
  values_.assign(xs_.size() * ys_.size(), 0);
  rows_.resize(values_.size());
  most_.assign(ys_.size(), 0);
  for (std::size_t i = 1; i < xs_.size(); ++i) {
    if (!fill_column(i, work)) return;
  }
  std::vector<std::size_t> last;
  for (std::size_t j = 1; j < ys_.size(); ++j) {
    if (!work.spend(static_cast<std::int64_t>(xs_.size() * xs_.size() / 4))) return;
    most_[j] = beside_at(j, last).back();
  }
}

bool Columns::fill_column(std::size_t i, Work& work) {
  if (!work.spend(static_cast<std::int64_t>(ys_.size() * poses_.size()))) return false;
  std::vector<int> counts;
  for (const Pose& pose : poses_) counts.push_back(static_cast<int>(xs_[i] / pose.width));
  for (std::size_t j = 1; j < ys_.size(); ++j) {
    Whole best = values_[cell(i, j - 1)];
    Row row;
    for (std::size_t p = 0; p < poses_.size(); ++p) {
      if (counts[p] == 0 || rests_[p][j] < 0) continue;
      const Whole value = values_[cell(i, static_cast<std::size_t>(rests_[p][j]))] +
                          counts[p] * shapes_[static_cast<std::size_t>(poses_[p].kind)].value;
      if (value > best) best = value, row = {static_cast<int>(p), counts[p]};
    }
    values_[cell(i, j)] = best;
    rows_[cell(i, j)] = row;
  }
  return true;
}

std::vector<Whole> Columns::beside_at(std::size_t j, std::vector<std::size_t>& last) const {
  std::vector<std::size_t> worth_it;  // those worth more than the next narrower one
  for (std::size_t u = 1; u < xs_.size(); ++u) {
    if (values_[cell(u, j)] > values_[cell(u - 1, j)]) worth_it.push_back(u);
  }
  std::vector<Whole> most(xs_.size(), 0);
  last.assign(xs_.size(), 0);
  for (std::size_t i = 1; i < xs_.size(); ++i) {
    most[i] = most[i - 1];
    for (const std::size_t u : worth_it) {
      if (u > i) break;
      const Whole value = values_[cell(u, j)] + most[beside_[i][u]];
      if (value > most[i]) most[i] = value, last[i] = u;
    }
  }
  return most;
}

Part Columns::part(std::size_t j) const {
  std::vector<std::size_t> last;
  (void)beside_at(j, last);
  std::vector<Part> parts;
  for (std::size_t i = xs_.size() - 1; i > 0;) {
    const std::size_t u = last[i];
    if (u == 0) {
      --i;
      continue;
    }
    parts.push_back(column(u, j));
    i = beside_[i][u];
  }
  std::stable_sort(parts.begin(), parts.end(),
                   [](const Part& a, const Part& b) { return a.width < b.width; });
  return beside(std::move(parts), xs_.back(), ys_[j]);
}

/// Like rows next to each other.
Part Columns::column(std::size_t i, std::size_t j) const {
  std::vector<Row> rows;
  for (std::size_t at = j; at > 0;) {
    const Row& row = rows_[cell(i, at)];
    if (row.pose < 0) {
      --at;
      continue;
    }
    rows.push_back(row);
    at = static_cast<std::size_t>(rests_[static_cast<std::size_t>(row.pose)][at]);
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Row& a, const Row& b) { return a.pose < b.pose; });
  std::vector<Part> parts;
  for (const Row& row : rows) {
    const Pose& pose = poses_[static_cast<std::size_t>(row.pose)];
    const Part piece = piece_part(pose.kind, pose.turned, pose.width, pose.length);
    parts.push_back(
        beside(std::vector<Part>(static_cast<std::size_t>(row.count), piece), xs_[i], pose.length));
  }
  return behind(std::move(parts), xs_[i], ys_[j]);
}

}  // namespace pouchwright::lay

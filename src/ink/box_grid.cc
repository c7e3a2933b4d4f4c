#include "ink/box_grid.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace pouchwright::ink {
namespace {

/// The side of a cell, mm: a few words' height.
constexpr double kCell = 12;
/// A box over more cells is asked for itself: some have no lower end.
constexpr double kMostCells = 64;

struct Cells {
  int x0, y0, x1, y1;  ///< both ends included
};

/// What a box reaches into; empty where that is too much.
std::optional<Cells> cells_of(const Box& box) {
  const double across = box.width() / kCell + 1;
  const double down = box.height() / kCell + 1;
  const bool is_small = across >= 0 && down >= 0 && across * down <= kMostCells;
  if (!is_small) return std::nullopt;
  const auto cell = [](double at) { return static_cast<int>(std::floor(at / kCell)); };
  return Cells{cell(box.x0), cell(box.y0), cell(box.x1), cell(box.y1)};
}

}  // namespace

void BoxGrid::add(const Box& box) {
  const std::size_t index = boxes_.size();
  boxes_.push_back(box);
  const auto cells = cells_of(box);
  if (!cells) {
    wide_.push_back(index);
    return;
  }
  for (int x = cells->x0; x <= cells->x1; ++x) {
    for (int y = cells->y0; y <= cells->y1; ++y) cells_[{x, y}].push_back(index);
  }
}

bool BoxGrid::any_overlaps(const Box& box) const {
  const auto cells = cells_of(box);
  if (!cells) {
    return std::any_of(boxes_.begin(), boxes_.end(),
                       [&](const Box& other) { return overlap(box, other); });
  }
  const auto meets = [&](std::size_t index) { return overlap(box, boxes_[index]); };
  if (std::any_of(wide_.begin(), wide_.end(), meets)) return true;
  for (int x = cells->x0; x <= cells->x1; ++x) {
    // One column's cells follow each other in the map.
    const auto end = cells_.upper_bound({x, cells->y1});
    for (auto at = cells_.lower_bound({x, cells->y0}); at != end; ++at) {
      if (std::any_of(at->second.begin(), at->second.end(), meets)) return true;
    }
  }
  return false;
}

}  // namespace pouchwright::ink

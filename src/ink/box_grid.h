/// Boxes on a sheet, kept so that asking whether one is overlapped costs little however many there
/// are: a cut plan's numbers ask for thousands of places.
///
///     BoxGrid taken;
///     taken.add({0, 0, 20, 20});
///     taken.any_overlaps({10, 10, 30, 12});   // true
#pragma once

#include <cstddef>
#include <map>
#include <utility>
#include <vector>

#include "ink/scene.h"

namespace pouchwright::ink {

class BoxGrid {
 public:
  void add(const Box& box);

  /// Does any share inner points with `box`?
  [[nodiscard]] bool any_overlaps(const Box& box) const;
  /// In the order in which they came.
  [[nodiscard]] const std::vector<Box>& boxes() const { return boxes_; }

 private:
  std::vector<Box> boxes_;
  /// Of boxes_, by column and row: what reaches into the cell. Those over many cells stand apart.
  std::map<std::pair<int, int>, std::vector<std::size_t>> cells_;
  std::vector<std::size_t> wide_;
};

}  // namespace pouchwright::ink

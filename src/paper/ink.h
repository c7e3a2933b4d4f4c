/// Where the ink of a drawing is, for choosing places: strokes flattened to segments, texts and
/// fillings as boxes, and a coarse grid that counts the ink under a box in constant time.
///
///     Ink ink = ink_of(drawing, measure);
///     InkGrid grid = grid_of(ink, drawing.extent, 1);
///     if (grid.under(box) == 0) ...             // no ink there
///
/// Not for drawing. Dashes are taken as full lines.
#pragma once

#include <cstdint>
#include <vector>

#include "ink/scene.h"

namespace pouchwright::paper {

/// A straight piece of a line; the ink reaches `half` to either side and beyond the ends.
struct Streak {
  ink::Point from;
  ink::Point to;
  double half = 0;
};

/// The ink of a drawing. `keep_whole` are the boxes of what no join should run through: labels,
/// check squares, notches and folds.
struct Ink {
  std::vector<Streak> streaks;
  std::vector<ink::Box> solids;  ///< fillings, widely
  std::vector<ink::Box> texts;
  std::vector<ink::Box> keep_whole;
  /// What closed cut lines enclose, sliced at the heights of their corners: exact where all edges
  /// lie along the axes.
  std::vector<ink::Box> enclosed;
};

[[nodiscard]] Ink ink_of(const std::vector<ink::Item>& items, const ink::TextMeasure& measure);

[[nodiscard]] ink::Box bounds(const Streak& streak);
/// True where the streak's ink may reach into `box`; never false where it does.
[[nodiscard]] bool touches(const Streak& streak, const ink::Box& box);
/// True where any ink may reach into `box`.
[[nodiscard]] bool touches(const Ink& ink, const ink::Box& box);

/// What text weighs per cell, where a line weighs 1: nobody should write over words.
inline constexpr int kTextWeight = 200;

/// Ink counted in square cells over `area`; what lies outside is left out.
class InkGrid {
 public:
  /// Cells are `finest` mm wide, or wider where that would take more than about 300,000.
  explicit InkGrid(const ink::Box& area, double finest = 0.5);

  void add(const Streak& streak);
  /// A box full of ink.
  void add(const ink::Box& box, int weight = 1);
  /// Ends the adding. Requires: called once, before `under`.
  void settle();

  /// The weight of the cells that `box` touches: 0 means no ink inside, for certain.
  [[nodiscard]] std::int64_t under(const ink::Box& box) const;
  /// The width of a cell, mm.
  [[nodiscard]] double cell() const { return cell_; }

 private:
  [[nodiscard]] std::int32_t& at(int column, int row);
  [[nodiscard]] std::int64_t sum(int column, int row) const;

  ink::Box area_;
  double cell_;
  int columns_;
  int rows_;
  /// First the cells' weights, after `settle` the sums of all above and to the left; one row and
  /// one column more than there are cells, in front.
  std::vector<std::int32_t> cells_;
};

/// All of `ink` on a settled grid over `area`.
[[nodiscard]] InkGrid grid_of(const Ink& ink, const ink::Box& area, double finest);

}  // namespace pouchwright::paper

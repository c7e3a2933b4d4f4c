/// Lengths of cloth filled by columns: side by side across the width, each of one width, filled
/// with rows of like pieces one behind the other (three-stage patterns, after P. C. Gilmore and R. E.
/// Gomory, Operations Research 13, 1965). Wide positions are few, lengths many: what a Table cannot
/// look at.
///
/// Inside `lay` only.
#pragma once

#include <vector>

#include "lay/solve/solvers.h"

namespace pouchwright::lay {

class Columns {
 public:
  /// Requires: positions ascending from 0; shapes with values. The demands are not looked at.
  /// Stops early at the work limit: longer lengths are empty then.
  Columns(std::vector<Whole> across, std::vector<Whole> along, const std::vector<Shape>& shapes,
          Work& work);

  [[nodiscard]] const std::vector<Whole>& along() const { return ys_; }
  /// What the best filling of along()[j] by the whole width is worth.
  [[nodiscard]] Whole value(std::size_t j) const { return most_[j]; }
  /// The filling. Of a kind there may be more than demanded.
  [[nodiscard]] Part part(std::size_t j) const;

 private:
  /// So many of a pose side by side, in a column.
  struct Row {
    int pose = -1;  ///< -1: the next shorter column with waste
    int count = 0;
  };
  [[nodiscard]] std::size_t cell(std::size_t i, std::size_t j) const { return i * ys_.size() + j; }
  bool fill_column(std::size_t i, Work& work);
  /// The most that columns side by side are worth, by width; `last` gets the last column of each.
  [[nodiscard]] std::vector<Whole> beside_at(std::size_t j, std::vector<std::size_t>& last) const;
  [[nodiscard]] Part column(std::size_t i, std::size_t j) const;

  std::vector<Whole> xs_, ys_;
  std::vector<Shape> shapes_;
  std::vector<Pose> poses_;
  std::vector<std::vector<int>> rests_;  ///< by pose: the position behind it, -1 if it is longer
  std::vector<std::vector<std::size_t>> beside_;  ///< by i and u: the position in xs_[i] - xs_[u]
  std::vector<Whole> values_;                     ///< of a column, by cell()
  std::vector<Row> rows_;                         ///< its last row
  std::vector<Whole> most_;                       ///< by j
};

}  // namespace pouchwright::lay

/// The cheapest mix of columns that covers every row's demand: a linear program with few rows, by
/// the revised simplex method, to which columns are added as they are found (P. C. Gilmore and R. E.
/// Gomory, Operations Research 9, 1961).
///
///     Cover cover({demand_a, demand_b});
///     cover.add({{2, 0}, cost}), cover.add({{0, 3}, cost});  // first one a row, covering only it
///     cover.solve(work);                                     // then cover.prices(): what a row costs
///
/// Fixed point rounds, so prices and amounts are near the best and prove nothing: see slices.h.
///
/// Inside `lay` only.
#pragma once

#include <vector>

#include "lay/solve/fixed.h"

namespace pouchwright::lay {

class Cover {
 public:
  struct Column {
    std::vector<Fixed> covers;  ///< one a row, none below 0
    Fixed cost;
  };

  /// Requires: no demand below 0.
  explicit Cover(std::vector<Fixed> demands);

  /// Returns the column's index. Requires: the k-th of the first columns, one a row, covers row k
  /// and no other.
  std::size_t add(Column column);

  /// The best mix of the columns there are, from the last one on. Stops early at the work limit,
  /// with a dearer mix.
  void solve(Work& work);

  /// Of each row, what one more of its demand would cost; none below 0.
  [[nodiscard]] std::vector<Fixed> prices() const;
  /// By column, how much of it is in the mix.
  [[nodiscard]] std::vector<Fixed> amounts() const;
  [[nodiscard]] const Column& column(std::size_t index) const { return columns_[index]; }
  [[nodiscard]] std::size_t size() const { return columns_.size(); }
  [[nodiscard]] Fixed cost() const;

 private:
  static constexpr int kSurplus = -1;  ///< less k: what row k is covered too much

  [[nodiscard]] std::size_t rows() const { return demands_.size(); }
  [[nodiscard]] Fixed& inverse(std::size_t i, std::size_t j) { return inverse_[i * rows() + j]; }
  [[nodiscard]] Fixed inverse(std::size_t i, std::size_t j) const {
    return inverse_[i * rows() + j];
  }
  [[nodiscard]] std::vector<Fixed> raw_prices() const;
  [[nodiscard]] Fixed cost_of(int column) const;
  [[nodiscard]] std::vector<Fixed> times_inverse(int column) const;
  void start();
  bool improve(Work& work);
  void pivot(std::size_t leaving, const std::vector<Fixed>& direction, int entering);
  void invert();

  std::vector<Fixed> demands_;
  std::vector<Column> columns_;
  std::vector<int> basis_;      ///< one a row: a column, or a surplus
  std::vector<Fixed> inverse_;  ///< of the basis' matrix, row by row
  std::vector<Fixed> in_mix_;   ///< amounts of the basis
  int pivots_ = 0;              ///< since the inverse was worked out anew
};

}  // namespace pouchwright::lay

/// The best filling of every rectangle over chosen cut positions at once (P. C. Gilmore and R. E.
/// Gomory's recursion), each kind at most `demand` times.
///
/// With limited demands the table keeps one filling a rectangle, so it is then a good plan and no
/// proof; with `Limits::ignored` and every sum of sides among the positions it is exact, and a
/// bound on what limited demands allow.
///
/// Inside `lay` only.
#pragma once

#include <vector>

#include "lay/solve/solvers.h"

namespace pouchwright::lay {

enum class Limits { kept, ignored };

class Table {
 public:
  /// Requires: positions ascending from 0, at most 65,536; shapes with values. Stops early at the
  /// work limit, then larger rectangles are filled less well.
  Table(std::vector<Whole> across, std::vector<Whole> along, const std::vector<Shape>& shapes,
        Limits limits, Work& work);

  [[nodiscard]] const std::vector<Whole>& across() const { return xs_; }
  [[nodiscard]] const std::vector<Whole>& along() const { return ys_; }
  /// The value of the filling of across()[i] x along()[j].
  [[nodiscard]] Whole value(std::size_t i, std::size_t j) const { return values_[cell(i, j)]; }
  /// How many pieces of every kind it has.
  [[nodiscard]] std::vector<int> counts(std::size_t i, std::size_t j) const;
  [[nodiscard]] Part part(std::size_t i, std::size_t j) const;

 private:
  enum class How : unsigned char { empty, narrower, shorter, piece, along, across };
  struct Cell {
    How how = How::empty;
    int first = 0;               ///< piece: index of the pose; a cut: index of its position
    How first_cut = How::empty;  ///< `how` of the smaller cell that it was taken from, if any
  };
  /// For every position and every first part up to its half: the greatest position in the rest.
  class Rests {
   public:
    explicit Rests(const std::vector<Whole>& positions);
    /// `count(i)` entries, by the first part's index.
    [[nodiscard]] const unsigned short* of(std::size_t i) const { return &rests_[starts_[i]]; }
    [[nodiscard]] std::size_t count(std::size_t i) const { return starts_[i + 1] - starts_[i]; }

   private:
    std::vector<std::size_t> starts_;
    std::vector<unsigned short> rests_;
  };

  [[nodiscard]] std::size_t cell(std::size_t i, std::size_t j) const { return j * xs_.size() + i; }
  void fill(std::size_t i, std::size_t j, Work& work);
  void start(std::size_t i, std::size_t j);
  void set_value(std::size_t i, std::size_t j, Whole value);
  /// `a` and `b` together, no more than the demands.
  void join(std::size_t to, std::size_t a, std::size_t b, How how, std::size_t first);
  [[nodiscard]] Part build(std::size_t i, std::size_t j) const;

  std::vector<Whole> xs_, ys_;
  std::vector<Shape> shapes_;
  std::vector<Pose> poses_;
  Rests rests_across_, rests_along_;
  /// First parts worth trying, of every length (width): those not cut the same way themselves, that
  /// hold more than the next narrower (shorter) one.
  std::vector<std::vector<unsigned short>> columns_, rows_;
  std::vector<Cell> cells_;
  std::vector<Whole> values_;  ///< by cell(), row by row
  std::vector<Whole>
      values_upright_;  ///< the same, column by column: the walks are most of the work
  std::vector<unsigned short> counts_;  ///< per cell and kind
  Limits limits_;
};

}  // namespace pouchwright::lay

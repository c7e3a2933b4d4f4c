/// Every way of joining demanded pieces into rectangles: for each set of pieces the rectangles that
/// hold it by straight cuts, none needlessly wide or long. Answers whether all fits a length,
/// exactly.
///
/// Inside `lay` only.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include "lay/solve/solvers.h"

namespace pouchwright::lay {

class Joined {
 public:
  enum class Outcome { found, none, ended };

  /// Whether the demands are few enough to number every set of pieces.
  [[nodiscard]] static bool possible(const std::vector<Shape>& shapes, std::int64_t most_sets);

  /// Looks for the least length not above `target`. Requires: possible().
  Joined(const RollQuestion& question, Whole target, Work& work);

  [[nodiscard]] Outcome outcome() const { return outcome_; }
  /// found: no plan is shorter.
  [[nodiscard]] Whole length() const { return length_ * step_along_; }
  [[nodiscard]] std::vector<Part> cut_offs() const;

 private:
  struct Corner {
    Whole width = 0, length = 0;
  };
  /// What a corner is made of: two corners of two sets, or a piece (`first_set` -1, `first` its
  /// pose).
  struct Origin {
    int first_set = -1, first = 0;
    int second_set = -1, second = 0;
    bool side_by_side = false;
  };
  struct Set {
    std::uint64_t packed = 0;  ///< the counts, each in its own bits with one to spare
    std::int64_t number = 0;
    Whole area = 0;
    std::vector<Corner> corners;  ///< wider and wider, shorter and shorter
    std::vector<Origin> origins;  ///< one a corner
  };

  bool measure(const RollQuestion& question, Whole target);
  void pack();
  void add_pieces();
  bool join_all(Work& work);
  bool join_with_earlier(int v, Work& work);
  /// Joins the corners of two sets in both ways; how many rectangles were worth keeping.
  std::int64_t join(int u, int v);
  int set_for(std::uint64_t packed, std::int64_t number, Whole area);
  void offer(Set& set, const Corner& corner, const Origin& origin);
  [[nodiscard]] bool worth(const Corner& corner, Whole area) const;
  void finish(Work& work);
  void lay_behind(Work& work);
  [[nodiscard]] Part build(int set, int corner) const;

  // Lengths below are whole numbers of the steps that the pieces' sides have in common.
  std::vector<Shape> shapes_;
  std::vector<Pose> poses_;
  Whole step_across_ = 1, step_along_ = 1;
  Whole whole_width_ = 0;  ///< of the cloth, in nanometres
  Whole width_ = 0, target_ = 0, longest_ = 0;
  Whole may_waste_ = 0;
  /// By how much of the width (length) is taken: what no sum of sides can fill of the rest.
  std::vector<Whole> bare_across_, bare_along_;
  std::vector<std::uint64_t> one_packed_;
  std::vector<std::int64_t> one_number_;
  std::uint64_t all_packed_ = 0, spare_bits_ = 0;
  std::int64_t all_number_ = 0;
  std::vector<Set> sets_;
  std::vector<int> set_of_number_;
  std::vector<int> done_;
  std::vector<std::uint64_t> done_packed_;
  std::vector<Whole> done_waste_;  ///< the least that one of its rectangles wastes
  std::vector<std::pair<Corner, Origin>> made_;
  Outcome outcome_ = Outcome::none;
  Whole length_ = 0;
  std::vector<std::pair<int, int>> chosen_;  ///< set and corner of every cut-off
};

}  // namespace pouchwright::lay

/// Every way of joining demanded pieces into rectangles: for each set of pieces the rectangles that
/// hold it by straight cuts, none needlessly wide or long. Answers whether all fits a length,
/// exactly.
///
/// Inside `lay` only.
#pragma once

#include <cstdint>
#include <optional>
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
  [[nodiscard]] Whole length() const { return length_; }
  [[nodiscard]] std::vector<Part> cut_offs() const;

 private:
  struct Corner {
    Whole width = 0, length = 0;
    int pose = -1;                 ///< of a single piece
    int first_set = 0, first = 0;  ///< else two corners of two sets, joined
    int second_set = 0, second = 0;
    bool side_by_side = false;
  };
  struct Set {
    std::uint64_t packed = 0;  ///< the counts, each in its own bits with one to spare
    std::int64_t number = 0;
    Wide area = 0;
    std::vector<Corner> corners;  ///< wider and wider, shorter and shorter
  };

  /// Sums of sides up to some room, and what they leave of any smaller room for certain.
  class Sums {
   public:
    Sums() = default;
    Sums(const std::vector<Whole>& sides, Whole room);
    /// Requires: `room` a difference of the whole room and sums of sides.
    [[nodiscard]] Whole never_filled(Whole room) const;

   private:
    std::vector<Whole> sums_;  ///< empty: too many to list, so nothing is certain
    std::vector<Whole> bare_;  ///< by room over the step, if that is a short list
    Whole room_ = 0;
    Whole step_ = 1;
  };

  void pack();
  void add_pieces();
  bool join_all(Work& work);
  bool join_with_earlier(int v, Work& work);
  /// Joins the corners of two sets in both ways; how many rectangles were worth keeping.
  std::int64_t join(int u, int v);
  int set_for(std::uint64_t packed, std::int64_t number, Wide area);
  void offer(int to, const Corner& corner);
  [[nodiscard]] bool worth(Whole width, Whole length, Wide area) const;
  void finish(Work& work);
  void lay_behind(Work& work);
  [[nodiscard]] Part build(int set, int corner) const;

  RollQuestion question_;
  Whole target_;
  Whole longest_;
  Wide total_area_ = 0;
  Wide may_waste_ = 0;
  std::vector<Pose> poses_;
  Sums widths_, lengths_;
  std::vector<std::uint64_t> one_packed_;
  std::vector<std::int64_t> one_number_;
  std::uint64_t all_packed_ = 0, spare_bits_ = 0;
  std::int64_t all_number_ = 0;
  std::vector<Set> sets_;
  std::vector<int> set_of_number_;
  std::vector<int> done_;
  std::vector<std::uint64_t> done_packed_;
  Outcome outcome_ = Outcome::none;
  Whole length_ = 0;
  std::vector<std::pair<int, int>> chosen_;  ///< set and corner of every cut-off
};

}  // namespace pouchwright::lay

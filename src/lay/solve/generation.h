/// Lengths worth cutting off, found by column generation: the cheapest mix of the lengths known sets
/// a price on every kind; what is filled best at these prices comes into the mix, until nothing
/// improves it (P. C. Gilmore and R. E. Gomory, Operations Research 11, 1963).
///
/// Inside `lay` only.
#pragma once

#include <functional>
#include <set>
#include <vector>

#include "lay/solve/combined.h"
#include "lay/solve/cover.h"
#include "lay/solve/solvers.h"

namespace pouchwright::lay {

class Generation {
 public:
  /// Requires: each shape has a demand above 0 and fits.
  explicit Generation(const RollQuestion& question);

  /// Looks for lengths until none improves the mix, or so many times.
  void run(int rounds, Work& work);
  /// All lengths that waste little, where pieces are reckoned to take what `shapes` say.
  void collect(const std::vector<Shape>& shapes, Patterns& patterns, Work& work);

  /// What a piece of each kind costs in the mix, as an area of the cloth.
  [[nodiscard]] std::vector<Wide> shares() const;
  /// The lengths that the mix has whole, and what is left to lay.
  struct Begun {
    std::vector<Part> cut_offs;
    std::vector<int> left;
  };
  [[nodiscard]] Begun whole_ones() const;

 private:
  /// Lengths filled at the prices: positions, their worth, and what fills them.
  struct Filled {
    const std::vector<Whole>& along;
    std::function<Whole(std::size_t)> worth;
    std::function<Part(std::size_t)> part;
  };
  using Use = std::function<void(const Filled&)>;
  void fill_at_prices(const Use& use, Work& work);
  int take_best(const Filled& filled);
  bool add(Part part);
  void add_rows_of_one_kind();
  void set_values();

  RollQuestion question_;
  std::vector<int> demands_;
  Cover cover_;
  Whole unit_ = 1;           ///< the length that costs are told in
  Whole longest_ = 1;        ///< of the pieces, each as short as it may lie
  std::vector<Part> parts_;  ///< one a column
  std::set<std::vector<int>> known_;
};

}  // namespace pouchwright::lay

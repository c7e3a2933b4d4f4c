/// Plans put together from lengths that are filled well: sets of them that waste little and leave
/// few pieces, which are then laid exactly.
///
/// Inside `lay` only.
#pragma once

#include <map>
#include <vector>

#include "lay/solve/solvers.h"

namespace pouchwright::lay {

/// Up to so many kinds a whole plan is put together; of more, the emptiest lengths.
inline constexpr std::size_t kFewKinds = 10;

/// A length to cut off and what it holds.
struct Pattern {
  Part part;
  std::vector<int> counts;
  Wide area = 0, waste = 0;
};

/// Of every set of pieces the shortest pattern; only those that waste little.
class Patterns {
 public:
  /// Whether a pattern of these counts is worth making.
  [[nodiscard]] bool wants(const std::vector<int>& counts, Wide area, Wide whole) const;
  void add(Pattern pattern) { by_counts_.insert_or_assign(pattern.counts, std::move(pattern)); }
  /// Those of at least `area`, the fullest first.
  [[nodiscard]] std::vector<Pattern> fullest(Wide area) const;

 private:
  std::map<std::vector<int>, Pattern> by_counts_;
};

/// Lays the pieces of `cut_offs` anew where that is shorter; if there are many, those of the
/// emptiest.
void combine(const RollQuestion& question, const Patterns& patterns, std::vector<Part>& cut_offs,
             Work& work);

}  // namespace pouchwright::lay

/// From the tree of cuts to the orders of cutting and the places of the pieces.
///
/// Inside `lay` only; callers outside use plan() in lay.h.
#pragma once

#include <vector>

#include "lay/lay.h"
#include "lay/solve/part.h"

namespace pouchwright::lay {

/// A stretch of cloth and what is cut from it: cut-offs behind each other from `from` on, or, for a
/// remnant, one part that needs no cutting off.
struct Stretch {
  enum class Source { roll, remnant };
  Source source = Source::roll;
  Whole from = 0;
  Whole width = 0;      ///< of the cloth, laid open
  Whole ply_width = 0;  ///< of the cloth as it lies
  Plies plies;
  std::vector<Part> parts;

  [[nodiscard]] Whole length() const;
};

/// Like patterns next to each other, in order of their first use.
void group_alike(std::vector<Part>& parts);

/// The cuts of one stretch in the order a person makes them: each pattern's lengths are cut off,
/// then divided step by step, everything that lies alike in one step; folds are opened last.
[[nodiscard]] std::vector<Step> steps_of(const Stretch& stretch, int section, int first_cut_off);
[[nodiscard]] std::vector<CutOff> cut_offs_of(const Stretch& stretch, int section,
                                              int first_pattern);

/// Every piece, on the cloth laid open or with its layer. None is marked spare.
[[nodiscard]] std::vector<Placed> pieces_of(const Stretch& stretch);

/// Every waste of the stretch, likewise; of stacked cloth in layer 0.
[[nodiscard]] std::vector<Area> wastes_of(const Stretch& stretch);

}  // namespace pouchwright::lay

/// A bound by slices: wherever the cloth is crossed, the pieces met lie side by side in its width.
/// Any worth given to the kinds then bounds the length: all pieces' worth, by what a slice holds at
/// most of it (the bar relaxation, G. Scheithauer, Introduction to Cutting and Packing Optimization,
/// 2018, from memory). The best worths are the prices of a linear program over slices.
///
/// Holds for cuts of every sort, free ones too.
///
/// Inside `lay` only.
#pragma once

#include "lay/solve/solvers.h"

namespace pouchwright::lay {

struct SlicesBound {
  Whole length = 0;  ///< no plan is shorter
  /// Of each kind, the cloth that a piece takes for certain, as an area: with what lies bare for
  /// certain beside it. The pieces in any rectangle as wide as the cloth take no more than it has.
  std::vector<Wide> shares;
};

/// Proved in whole numbers, whatever the prices were. Requires: each shape of a demand above 0 fits.
/// Stops early at the work limit, with a lesser bound.
[[nodiscard]] SlicesBound slices_bound(const RollQuestion& question, Work& work);

}  // namespace pouchwright::lay

/// The water line: how high a compartment is designed to hold water, and which point ends it.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <vector>

#include "diag/words.h"
#include "pouch/pouch.h"
#include "pouch/run.h"

namespace pouchwright::pouch {

enum class LeakCause {
  lip,          ///< water runs over the lip: nothing leaks below it
  clear_seal,   ///< in the worst case less is left of the seal than the job demands
  end_finish,   ///< needle holes of an end finish
  never_fused,  ///< no film lay on film there when the sides were pressed
};

struct WaterLine {
  Length height;
  LeakCause cause = LeakCause::lip;
  std::string span;        ///< where it leaks first
  Edge end = Edge::start;  ///< end_finish: whose
  Length lip;              ///< the height of the lip
};

/// Follows the compartment's inner film from the lip through every span. Each point is tight where
/// it was fused at both sides to a partner of the same compartment; the water line is the height
/// of the lowest point that is not, 0 at the least and the lip at the most.
[[nodiscard]] WaterLine water_line(const Compartment& compartment, const Sizes& sizes,
                                   const Run& run, Length clear_seal_worst);

/// Each fused part as rectangles of the flat panel at both sides; stretches of one contact that
/// touch are one rectangle. Sorted by y, then x.
[[nodiscard]] std::vector<SealZone> seal_zones(const Sizes& sizes, const Run& run);

}  // namespace pouchwright::pouch

/// The water line: how high a compartment is designed to hold water, and which point ends it.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/message.h"
#include "pouch/fold/run.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {

enum class LeakCause {
  lip,          ///< water runs over the lip: nothing leaks below it
  clear_seal,   ///< in the worst case less is left of the seal than the job demands
  end_finish,   ///< needle holes of an end finish
  attachment,   ///< holes of an attachment in the film
  caught,       ///< an attachment lay between the films when they were pressed
  cloth,        ///< an outer, a lining or bare knit lies between the films
  too_early,    ///< the films came to lie on each other only after the pressing
  bottom_seam,  ///< the seam at the bottom is not fused wide enough
  narrow_seal,  ///< here the seal is narrower than elsewhere: too little is left beside the needle
  never_fused,  ///< no film lies on film there
};

struct WaterLine {
  Length height;
  LeakCause cause = LeakCause::lip;
  SpanId span;             ///< where it leaks first
  Edge end = Edge::start;  ///< end_finish: whose
  SpanId facing;           ///< cloth: the other span
  /// Attachment, caught: its index; too_early: that of the last fold's operation, if any.
  std::optional<std::size_t> by;
  Length lip;  ///< up to where water could stand: the lip, or the line of a roll
};

/// Follows the compartment's inner film from the lip through every span. Each point is tight where
/// it was fused at both sides, with the face that is wet, to a partner of the same compartment. Wet
/// is the film side, or the other face where that has film and holds more. The water line is the
/// height of the lowest point that is not, 0 at the least and the lip at the most. Spans that were
/// turned away after they were fused (a roll) bound the water at the line of the lowest such fold.
/// `index` is the compartment's in the construction.
[[nodiscard]] WaterLine water_line(const Construction& construction, std::size_t index,
                                   const Sizes& sizes, const Run& run, Length tolerances);

/// Each fused part as rectangles of the flat panel at both sides; stretches of one contact that
/// touch are one rectangle. Sorted by y, then x.
[[nodiscard]] std::vector<SealZone> seal_zones(const Sizes& sizes, const Run& run);

/// The height of the water itself where it comes up to `level` above the bottom's seam line: on a
/// bottom seam it stands on the seal.
[[nodiscard]] Length water_height(const Construction& construction, const Sizes& sizes,
                                  Length level);

}  // namespace pouchwright::pouch

/// The iron trial in numbers: which strips of cloth it takes, and how many.
///
///     const TrialStrip strip = trial_strip(words.unit());
///     const int strips = kStripsForTrial;  // of each cloth
///
/// Not for the settings that are tried: see the trial's sheet in `draw`.
#pragma once

#include <array>

#include "base/length.h"

namespace pouchwright::batch {

/// Seconds with the iron held still, tried before anything hotter: common practice, no source.
inline constexpr std::array kTrialSeconds = {8, 12, 15};
/// Pairs pressed at one setting: common practice, no source.
inline constexpr int kPairsAtOnce = 3;
/// Strips that one setting takes of each cloth.
inline constexpr int kStripsAtOnce = 2 * kPairsAtOnce;
/// Strips of each cloth that are planned: for one setting at all its times. Most trials end there.
inline constexpr int kStripsForTrial = kStripsAtOnce * static_cast<int>(kTrialSeconds.size());

/// In lengths that a ruler has in that unit, `fused` of the length: common practice, no source.
struct TrialStrip {
  base::Length width, length, fused;
};
[[nodiscard]] constexpr TrialStrip trial_strip(base::Unit unit) {
  using base::Length;
  if (unit == base::Unit::inch) {
    return {Length::inches(5, 4), Length::inches(13, 4), Length::inches(2)};
  }
  return {Length::whole_mm(30), Length::whole_mm(80), Length::whole_mm(50)};
}

}  // namespace pouchwright::batch

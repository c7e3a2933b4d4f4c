/// What a finished plan's time goes by: the fullest person or place, and where her or its day went.
///
///     const HeldUp held = held_up(line, plan);
///     held.works + held.lays_ready + held.before + held.between + held.breaks + held.after  // plan.finish
///
/// Counted from the plan's tasks alone; not what a day could be at least (bound() in plan.h).
#pragma once

#include <cstddef>

#include "batch/work/plan.h"

namespace pouchwright::batch {

struct HeldUp {
  Station station = Station::hands;  ///< hands: a person
  std::size_t number = 0;            ///< of the place or helper, from 0
  Time works{};                      ///< on bundles
  Time lays_ready{};                 ///< what is done once there, and coming from other work
  Time before{};                     ///< waits until its first bundle comes
  Time between{};                    ///< waits for others
  Time breaks{};                     ///< of all, in that day
  Time after{};                      ///< its last bundle goes on to others
};

/// Of whom or what has the most to do; of equal ones a place, then the first. Requires: `plan` is
/// planned(line).
[[nodiscard]] HeldUp held_up(const Line& line, const Schedule& plan);

/// From that gap on a plan says so.
inline constexpr double kGapToTell = 0.1;

}  // namespace pouchwright::batch

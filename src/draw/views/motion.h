/// What of a moment is on its way or stands open: the part that is turned, the mouth that is worked
/// in.
///
/// Inside `draw/views` only; others use view.h.
#pragma once

#include <optional>

#include "draw/views/pose.h"
#include "pouch/fold/moment.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// How a mouth stands, besides what a moment's operations ask for.
struct MouthLook {
  bool open = false;   ///< the first compartment's mouth stands open
  double content = 0;  ///< and lets in what is so thick, mm
};

/// The stage that an operation leaves; empty where it is skipped.
[[nodiscard]] std::optional<std::size_t> stage_of(const pouch::Pouch& pouch, std::size_t operation);

/// What the moment's last fold turns; empty where it turns nothing.
[[nodiscard]] std::optional<Turning> turning_of(const pouch::Pouch& pouch,
                                                const pouch::FoldMoment& moment);
/// The mouth that the moment's operations work in, as it stands open: empty where they work in
/// none, or where something lies over it.
[[nodiscard]] std::optional<OpenMouth> open_mouth_of(const pouch::Pouch& pouch,
                                                     const pouch::FoldMoment& moment,
                                                     const MouthLook& look);
/// Does nothing lie over the first compartment's mouth?
[[nodiscard]] bool mouth_is_free(const pouch::Pouch& pouch, const pouch::Folded& folded);

}  // namespace pouchwright::draw

/// What can be said of a pouch's sizes before the panel is folded.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include "base/diagnostic.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// Needles against the seal, zones that meet, lip and flap, the cloths' widths, what frays, and
/// whether the liners find room.
void check_sizes(const Request& request, const Sizes& sizes, base::Diagnostics& diagnostics);

}  // namespace pouchwright::pouch

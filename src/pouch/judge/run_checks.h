/// What folding and pressing showed of a pouch: a card that is too short, film that lies bare, a
/// water line below the lip, seams of many layers.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "pouch/fold/run.h"
#include "pouch/judge/water.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// `waters`: by compartment. Requires: `pouch` has its sizes and cards.
void check_run(const Run& run, const std::vector<WaterLine>& waters, const Pouch& pouch,
               base::Diagnostics& diagnostics);

}  // namespace pouchwright::pouch

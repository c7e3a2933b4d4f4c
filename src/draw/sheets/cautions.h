/// The cautions page: hot irons, steam, fumes, blades, soiled textiles, each short, with a sign beside
/// it; the sources of its figures at the end.
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/request.h"

namespace pouchwright::draw {

/// As many pages of `room` as it takes; one on A4 and Letter. Nothing is said of what the job has
/// not.
[[nodiscard]] std::vector<Drawing> cautions(const pouch::Request& request, const Icons& icons,
                                            const base::Voice& words, const TextMeasure& measure,
                                            Point room);

}  // namespace pouchwright::draw

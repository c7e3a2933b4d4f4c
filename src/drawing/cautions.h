/// The cautions page: hot irons, steam, fumes, blades, soiled textiles, each short, with its source
/// where one is known.
#pragma once

#include <vector>

#include "diag/words.h"
#include "drawing/scene.h"

namespace pouchwright::drawing {

/// As many pages of `room` as it takes; one on A4 and Letter.
[[nodiscard]] std::vector<Drawing> cautions(const diag::Words& words, const TextMeasure& measure,
                                            Point room);

}  // namespace pouchwright::drawing

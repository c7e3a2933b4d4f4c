/// The cutting template: each part flat and at full size, with all that is marked on it before it
/// is folded.
///
///     const std::vector<Drawing> all = cutting_templates(pouch, Pattern::whole, words, measure);
///
/// x across from the part's left raw edge (of a half pattern: from its centre line), y along it
/// from its start downwards; the film side is up.
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/canvas.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// Half a pattern is the right half, laid on a fold of the cloth with the centre line.
using pouch::Pattern;

/// A drawing for all that is cut: `template` for the main panel, then further panels and pieces as
/// `template-front-panel`, `template-strap`. Pieces are small: they are always drawn whole.
///
/// Groups: `cut` is the outline, one closed subpath; `fold` one line a fold; `seam` both seam lines
/// and the needle lines of end finishes; `seal` the fused bands, each an outline and a hatch;
/// `notch` two ticks a fold and a mark for each attachment; `grain` centre line and direction
/// arrow; `label` all words and the legend with its samples. Words stand inside the part where there
/// is room, else to its right, and none on one of `joins`. Of a half pattern the cut line is open: its fourth edge, in `fold`,
/// lies on the cloth's fold. An outer that is smaller than its panel is a line in `seam`.
[[nodiscard]] std::vector<Drawing> cutting_templates(const pouch::Pouch& pouch, Pattern pattern,
                                                     const base::Voice& words,
                                                     const TextMeasure& measure,
                                                     const Joins& joins = {});

}  // namespace pouchwright::draw

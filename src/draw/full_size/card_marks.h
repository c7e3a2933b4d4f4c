/// The card that somebody has, with a mark for the opening edge of each size that it serves: to be
/// copied on to it.
///
///     drawings.push_back(card_marks({{1, &small}, {3, &large}}, words, measure));
///
/// For full-scale output. Not for the top bar that it lacks (see top_bar.h).
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/full_size/nested.h"
#include "draw/with_ink.h"
#include "ink/canvas.h"

namespace pouchwright::draw {

/// Canvas: x across from the card's left edge, y down from its upper edge. Groups: `cut` is its
/// outline, `notch` a pair of marks for each height of an opening edge that lies on it, `label` words.
/// Requires: at least one size; all have the card.
[[nodiscard]] Drawing card_marks(const std::vector<NestedSize>& sizes, const base::Voice& words,
                                 const TextMeasure& measure, const Joins& joins = {});

}  // namespace pouchwright::draw

/// The strip of card that is laid over bare film above the opening edge, where somebody has a card of
/// her own that covers the pouch alone.
///
///     std::vector<Drawing> bars = top_bars(pouch, words, measure);
///
/// For full-scale output. Not for the cards that the program draws whole (see cards.h).
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/canvas.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// The bars that somebody's own card lacks, each size once: `top-bar`, `top-bar-2` …; none where no film
/// is bare, or she does without. Millimetres; a bar's upper left corner near the origin.
/// Requires: the job has a card.
[[nodiscard]] std::vector<Drawing> top_bars(const pouch::Pouch& pouch, const base::Voice& words,
                                            const TextMeasure& measure, const Joins& joins);

}  // namespace pouchwright::draw

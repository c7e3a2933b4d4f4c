/// The strip of card that is laid over bare film above the opening edge, where somebody has a card of
/// her own that covers the pouch alone.
///
///     if (has_top_bar(named.card)) drawings.push_back(top_bar(pouch, named, words, measure));
///
/// For full-scale output. Not for the cards that the program draws whole (see cards.h).
#pragma once

#include "base/voice.h"
#include "draw/with_ink.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// Is there film to cover beside this card, which is somebody's own?
[[nodiscard]] bool has_top_bar(const pouch::Card& card);

/// Millimetres; the bar's upper left corner near the origin. Requires: has_top_bar().
[[nodiscard]] Drawing top_bar(const pouch::Pouch& pouch, const pouch::NamedCard& own,
                              const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw

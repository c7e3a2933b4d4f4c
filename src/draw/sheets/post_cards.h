/// A card for each station of the work plan, to lie at the place itself: half a page with the picture
/// of its step, what to do, what good looks like, what goes wrong most often, and its bundles to tick.
///
///     std::vector<Drawing> pages = post_cards(pouch, cards, icons, words, measure, room);
///
/// Not at full size: these pages carry no check square.
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/pouch.h"
#include "tell/post_cards.h"

namespace pouchwright::draw {

/// Two to a page of `room`, a line to cut along between them. A card that is higher than half a page
/// says less of how each thing is done, what it says last first; where it still is, it has a page of
/// its own.
[[nodiscard]] std::vector<Drawing> post_cards(const pouch::Pouch& pouch,
                                              const std::vector<tell::PostCardSaid>& cards,
                                              const Icons& icons, const base::Voice& words,
                                              const TextMeasure& measure, Point room);

}  // namespace pouchwright::draw

/// The slip card and the shield at full size: outlines to trace on to plain thin card, what they
/// are laid on drawn thinly around them, and how to use them without harm.
///
///     std::vector<Drawing> slips = cards(pouch, pouch::NamedCard::Use::slip, words, measure);
///
/// Canvas: x across from the panel's left raw edge, y down from the card's top, so that the mouth
/// is up; the bottom line lies at y = top. Not for the cards' sizes (see pouch/pouch.h).
#pragma once

#include <optional>
#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// Groups: `cut` is the card's outline, one closed subpath; `seam` and `seal` show the folded panel
/// (raw edges, folds above the lip, fused bands); `notch` are the ticks; `label` all words and the
/// "hold here" field, which lies at least pouch::kHandDistance from every fused band. A card that
/// is too small for the field says so and asks for a stick.
///
/// All cards of one use, each outline once, with the compartments or pressings that it is for where
/// the pouch has several: `slip-card`, `slip-card-2` …
[[nodiscard]] std::vector<Drawing> cards(const pouch::Pouch& pouch, pouch::NamedCard::Use use,
                                         const base::Voice& words, const TextMeasure& measure);

/// The largest field within `room`, about the upright line at `centre`, that keeps `distance` from
/// every one of `bands` and is at least `least` wide and high. Fields larger than a hand needs are
/// not sought. Empty where there is none.
[[nodiscard]] std::optional<Box> hold_field(const Box& room, double centre,
                                            const std::vector<Box>& bands, double distance,
                                            Point least);

}  // namespace pouchwright::draw

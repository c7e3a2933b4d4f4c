/// The slip card and the shield at full size: outlines to trace on to plain thin card, what they
/// are laid on drawn thinly around them, and how to use them without harm.
///
///     std::vector<Drawing> slips = cards(pouch, pouch::NamedCard::Use::slip, sole, words, measure);
///
/// Canvas: x across from the panel's left raw edge, y down from the card's top, so that the mouth
/// is up; the bottom line lies at y = top. Not for the cards' sizes (see pouch/pouch.h).
#pragma once

#include <optional>
#include <vector>

#include "base/voice.h"
#include "batch/settings.h"
#include "draw/with_ink.h"
#include "ink/canvas.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// Groups: `cut` is the card's outline, one closed subpath; `seam` and `seal` show the folded panel
/// (raw edges, folds above the lip, fused bands); `notch` are the ticks, and the shield's notches,
/// whose tips meet the lip's corners; `label` all words, and on the shield the iron's sole and the
/// "hold here" field. The field lies at least pouch::kHandDistance from every place that the sole
/// may cover, and not ahead of its point, where steam blows. A shield that has no such place asks
/// for a stick or a weight. A slip card lies inside: nobody holds it.
///
/// All cards of one use, each outline once, with the compartments or pressings that it is for where
/// the pouch has several: `slip-card`, `slip-card-2` … No words lie on one of `joins`.
[[nodiscard]] std::vector<Drawing> cards(const pouch::Pouch& pouch, pouch::NamedCard::Use use,
                                         const batch::IronSole& sole, const base::Voice& words,
                                         const TextMeasure& measure, const Joins& joins = {});

/// Does a card of the pouch say "hold here"?
[[nodiscard]] bool has_place_to_hold(const pouch::Pouch& pouch, const batch::IronSole& sole);

/// What a hand keeps away from, and how far.
struct KeptClear {
  Box box;
  double distance = 0;
};

/// The largest field within `room`, about the upright line at `centre`, that keeps its distance
/// from all of `clear` and is at least `least` wide and high. Fields larger than a hand needs are
/// not sought. Empty where there is none.
[[nodiscard]] std::optional<Box> hold_field(const Box& room, double centre,
                                            const std::vector<KeptClear>& clear, Point least);

}  // namespace pouchwright::draw

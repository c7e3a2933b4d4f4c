/// The two cards that keep the iron to the edges: the slip card inside, the shield on top.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include "pouch/fold/run.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {

///      ___________________    top
///     |      crossbar     |   the panel's width; over the bare film
///     |__             __ _|   the lip: the shoulder to which the front is folded up
///        |           |
///        |   stem    |        the inside width less kSlipCardPlay a side
///        |___________|        the bottom
[[nodiscard]] Card slip_card(const Sizes& sizes, Length lip, const PressMade& press);

/// As the slip card, but the stem fills all between the seal zones, and the arms overlap the lip
/// and stand out beyond the raw edges, by lengths that the job's `units` have. Where the bottom is pressed too, both stems begin above its
/// seal zone.
[[nodiscard]] Card shield(const Sizes& sizes, base::Unit units, Length lip, const PressMade& press);

/// A rectangle that somebody has, from the bottom up, and the bar that covers the film above the lip
/// where any is bare. A card that does not reach the bar leaves a gap below it.
[[nodiscard]] Card own_card(const OwnCard& own, const Sizes& sizes, base::Unit units, Length lip,
                            const PressMade& press);

}  // namespace pouchwright::pouch

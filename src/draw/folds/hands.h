/// Hands in a step's picture: who holds what where while a part is folded over or a card is pushed
/// in or pulled out.
///
/// Inside `draw` only; callers outside use picture.h. Not for where hands must not be (see
/// step_icons.h).
#pragma once

#include <cstddef>

#include "draw/folds/marks.h"
#include "ink/icons.h"

namespace pouchwright::draw {

/// A hand is so large, mm of paper, whatever the picture's size.
inline constexpr double kHandSize = 8;

/// A hand from either side, at a raw edge of what it holds: one turns a part or pulls a card and the
/// other keeps down what stays; a card is laid in by both. They lie on nothing else, on no word, and
/// on no mark that `drawing` has from item `marks` on; a hand that finds no such place is left out.
void draw_hands(Drawing& drawing, std::size_t marks, const FoldViews& views, const Icons& icons,
                const TextMeasure& measure);

}  // namespace pouchwright::draw

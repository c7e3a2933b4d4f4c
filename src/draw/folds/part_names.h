/// Names on what a view shows: the spans, the cards, which side is the film.
///
/// Inside `draw` only; callers outside use picture.h.
#pragma once

#include "base/voice.h"
#include "draw/folds/marks.h"

namespace pouchwright::draw {

/// What a card is, for beside a section, which wide names would push the view aside for; the view
/// and the step say which card it is.
[[nodiscard]] std::string short_card_name(const pouch::Pouch& pouch, std::size_t card,
                                          const base::Voice& words);
/// Where there are several pockets, a slip card with the one that it is for.
[[nodiscard]] std::string card_name(const pouch::Pouch& pouch, std::size_t card,
                                    const base::Voice& words);

/// Each name in the middle of its part, where all of it is seen there and no mark that `drawing`
/// has from item `marks` on stands in its way.
void name_parts(Drawing& drawing, std::size_t marks, const FoldViews& views,
                const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw

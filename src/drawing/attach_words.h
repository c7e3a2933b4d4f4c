/// What is minded where something is fixed: how a strap is made up, what is pierced, which side
/// shows, what catches a loop.
///
///     for (const diag::Message& message : attach_words(pouch, moment, words)) tell(message);
///
/// Inside `drawing` only; callers outside use steps.h.
#pragma once

#include <vector>

#include "diag/words.h"
#include "drawing/fold_moment.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

/// Of all that the moment's operations fix, in the order in which people need it.
[[nodiscard]] std::vector<diag::Message> attach_words(const pouch::Pouch& pouch,
                                                      const FoldMoment& moment,
                                                      const diag::Words& words);

}  // namespace pouchwright::drawing

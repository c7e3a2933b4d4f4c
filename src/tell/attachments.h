/// What is minded where something is fixed: how a strap is made up, what is pierced, which side
/// shows, what catches a loop.
///
///     for (const base::Message& message : attach_words(pouch, moment, words)) tell(message);
#pragma once

#include <vector>

#include "base/voice.h"
#include "pouch/fold/moment.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// Of all that the moment's operations fix, in the order in which people need it.
[[nodiscard]] std::vector<base::Message> attach_words(const pouch::Pouch& pouch,
                                                      const pouch::FoldMoment& moment,
                                                      const base::Voice& words);

}  // namespace pouchwright::tell

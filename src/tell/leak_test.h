/// What the leak test's sheet says of one construction: when a pouch is looked at and tested, and
/// what can still be done for one that leaks. All of it follows from the operations and their
/// order.
///
/// Not for the sheet itself (see draw/sheets/leak_test.h).
#pragma once

#include <vector>

#include "base/message.h"
#include "base/voice.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// Sentences that run on.
using Sentences = std::vector<base::Message>;

/// Looking inside, looking at the seams, testing, and what comes after that.
[[nodiscard]] Sentences leak_order(const pouch::Pouch& pouch, const base::Voice& words);

/// What to do where water comes out, paragraph by paragraph.
[[nodiscard]] std::vector<Sentences> leak_failure(const pouch::Pouch& pouch,
                                                  const base::Voice& words);

}  // namespace pouchwright::tell

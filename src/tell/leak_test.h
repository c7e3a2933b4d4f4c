/// What the leak test's sheet says of one construction: when a pouch is looked at and tested, and
/// what can still be done for one that leaks. All of it follows from the operations and their
/// order.
///
/// Inside `drawing` only; the sheet is leak_sheet.h's.
#pragma once

#include <string>

#include "base/voice.h"
#include "ink/flow.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// Looking inside, looking at the seams, testing, and what comes after that.
[[nodiscard]] std::string leak_order(const pouch::Pouch& pouch, const base::Voice& words);

/// With the heading.
[[nodiscard]] ink::Paragraphs leak_failure(const pouch::Pouch& pouch, const base::Voice& words);

}  // namespace pouchwright::tell

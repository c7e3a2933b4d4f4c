/// What the leak test's sheet says of one construction: when a pouch is looked at and tested, and
/// what can still be done for one that leaks. All of it follows from the operations and their
/// order.
///
/// Inside `drawing` only; the sheet is leak_sheet.h's.
#pragma once

#include <string>

#include "diag/words.h"
#include "drawing/text_page.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

/// Looking inside, looking at the seams, testing, and what comes after that.
[[nodiscard]] std::string leak_order(const pouch::Pouch& pouch, const diag::Words& words);

/// Can the fused bands be pressed again once the pouch is sewn? Not where something was folded
/// after the pressing and then sewn down, as a caught flap: no card goes back in.
[[nodiscard]] bool can_be_pressed_again(const pouch::Pouch& pouch);

/// With the heading.
[[nodiscard]] Paragraphs leak_failure(const pouch::Pouch& pouch, const diag::Words& words);

}  // namespace pouchwright::drawing

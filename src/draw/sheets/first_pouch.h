/// The first pouch that all make together: one page, five faults to look for, each drawn on the pouch
/// as the model has it, and what to do about it.
///
///     std::vector<Drawing> pages = first_pouch_sheet(pouch, words, measure, room);
///
/// Not for the whole test (see leak_test.h). Not at full size.
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

[[nodiscard]] std::vector<Drawing> first_pouch_sheet(const pouch::Pouch& pouch,
                                                     const base::Voice& words,
                                                     const TextMeasure& measure, Point room);

}  // namespace pouchwright::draw

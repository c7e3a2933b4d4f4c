/// A page about a construction: how it is cut and what it comes to, in pictures, and all that its
/// file says, in words.
///
///     std::vector<Drawing> pages = construction_pages(*pouch, {190, 277}, words, measure);
///
/// Not at full size: these pages carry no check square. Not for the steps of one job (steps.h).
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// One page, or more where the construction says more than a page holds; each as wide and high as
/// `room`. The pictures are the cut panel and the finished pouch, each from above and cut through.
[[nodiscard]] std::vector<Drawing> construction_pages(const pouch::Pouch& pouch, Point room,
                                                      const Icons& icons, const base::Voice& words,
                                                      const TextMeasure& measure);

}  // namespace pouchwright::draw

/// Boxes to tick at the leak test: for each pouch that is tested, whether it holds or leaks.
///
///     add_boxes(pages, {"1", "2", "3"}, {heading(which)}, words, measure);
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/flow.h"

namespace pouchwright::draw {

/// Below what is told of them, their heading and a line to sign; `names` stand beside the boxes in
/// order, down the columns. All begin a page where the rest of one is too low for them. Requires:
/// there is a name.
void add_boxes(TextPages& pages, const std::vector<std::string>& names, const Paragraphs& told,
               const base::Voice& words, const TextMeasure& measure);

/// A few lines for what was mended: its number, and what the second test showed; below each other on
/// narrow paper.
void add_boxes_again(TextPages& pages, const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw

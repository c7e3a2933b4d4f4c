/// A construction as a report: all that its file says, and what it comes to with its own sizes.
///
/// Inside `job` only.
#pragma once

#include <vector>

#include "base/voice.h"
#include "ink/icons.h"
#include "ink/scene.h"
#include "job/report/report.h"
#include "pouch/pouch.h"

namespace pouchwright::job {

[[nodiscard]] Cell::Fields construction_fields(const pouch::Pouch& pouch);
/// What it is about, then a block a section; operations are the last.
[[nodiscard]] std::vector<Block> construction_blocks(const pouch::Pouch& pouch);

/// A page, or more where the construction says more than a page holds; each as wide and high as
/// `room`. The pictures are the cut panel and the finished pouch, each from above and cut through.
[[nodiscard]] std::vector<ink::Drawing> construction_pages(const pouch::Pouch& pouch,
                                                           ink::Point room, const ink::Icons& icons,
                                                           const base::Voice& words,
                                                           const ink::TextMeasure& measure);

/// `[{name, meaning, default_mm}]`, without a default where there is none.
[[nodiscard]] Cell::List size_rules(const std::vector<pouch::SizeRule>& rules);

}  // namespace pouchwright::job

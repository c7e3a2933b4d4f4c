/// What a report tells people, as pages to be read: its lines as paragraphs, its tables with boxes
/// to tick off.
///
///     auto drawn = pages(report.blocks, {.name = "supplies", .title = title, .room = room},
///                        words, measure);
///
/// Inside `job` only.
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "ink/flow.h"
#include "job/report/report.h"

namespace pouchwright::job {

struct PageLook {
  std::string name;
  std::string title;  ///< instead of the prose's own heading
  ink::Point room;
  ink::TextPages::Columns columns = ink::TextPages::Columns::one;
  std::vector<ink::Frame> pictures{};  ///< below the first block
};

/// Pages of the room.
[[nodiscard]] std::vector<ink::Drawing> pages(const std::vector<Block>& blocks,
                                              const PageLook& look, const base::Voice& words,
                                              const ink::TextMeasure& measure);

}  // namespace pouchwright::job

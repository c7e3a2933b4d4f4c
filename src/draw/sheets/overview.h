/// The packet's first page: the finished pouch, the day as a list to tick, each line with the page
/// of the packet that tells how, and all sizes in one table.
///
///     Overview made = overview({.pouch = &pouch, .tasks = tasks, ...}, words, measure, room);
///
/// Not at full size.
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/flow.h"
#include "ink/icons.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// One line of the list to tick.
struct OverviewTask {
  std::string words;
  std::string where;  ///< section and page; as wide as it can become, while the page is not known
};

struct OverviewSheet {
  const pouch::Pouch* pouch = nullptr;
  std::string title;  ///< of the job
  int pouches = 1;
  int helpers = 1;
  std::vector<OverviewTask> tasks;
  std::vector<std::string> again{};   ///< titles of what is printed anew for the next day
  const ink::Icons* icons = nullptr;  ///< of how a liner is measured; null: only in words
};

struct Overview {
  std::vector<Drawing> pages;
  std::vector<ink::ItemIndex> where;  ///< by task: where its `where` stands in `pages`
};

/// As many pages of `room` as it takes.
[[nodiscard]] Overview overview(const OverviewSheet& sheet, const base::Voice& words,
                                const TextMeasure& measure, Point room);

}  // namespace pouchwright::draw

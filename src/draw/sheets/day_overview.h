/// The first page of a day's packet: each pouch that is made, with its picture, how many, and where its
/// own pages begin; then what the day goes by.
///
///     auto made = day_overview({.title = day, .makes = makes, .tasks = tasks}, words, measure, room);
///
/// Not for one job: see overview.h. Not at full size.
#pragma once

#include <string>
#include <vector>

#include "draw/sheets/overview.h"

namespace pouchwright::draw {

struct DayMakeToDraw {
  const pouch::Pouch* pouch = nullptr;
  std::string title;
  int pouches = 1;
  std::string as{};   ///< whose template, cards and steps are its as well; empty: its own
  std::string where;  ///< its own pages, as wide as the number can become
};

struct DayOverviewSheet {
  std::string title;
  int helpers = 1;
  std::vector<DayMakeToDraw> makes;
  std::vector<OverviewTask> tasks;
};

struct DayOverview {
  std::vector<Drawing> pages;
  std::vector<ink::ItemIndex> makes;  ///< by make: where its `where` stands
  std::vector<ink::ItemIndex> tasks;  ///< by task: likewise
};

/// As many pages of `room` as it takes.
[[nodiscard]] DayOverview day_overview(const DayOverviewSheet& sheet, const base::Voice& words,
                                       const TextMeasure& measure, Point room);

}  // namespace pouchwright::draw

/// The work plan as a chart: a row for each helper, time to the right, a bar for each stretch of
/// one step, told apart by letters and by a pattern for the station. A long day is broken into
/// bands below each other. Where each has a station, a line a person stands above it, and what is said
/// of the plan below.
///
///     std::vector<Drawing> pages =
///         schedule_charts({&line, &plan, title, summary}, words, measure, room, Breaks::pages);
///
/// Not at full size: these pages carry no check square.
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "batch/work/plan.h"
#include "draw/sheets/cut_plan.h"
#include "draw/with_ink.h"

namespace pouchwright::draw {

/// What one person does for a stretch of the day, to be read from where she sits.
struct PersonLine {
  std::string who, from, to;
  std::string work;
};

struct ScheduleToDraw {
  const batch::Line* line = nullptr;
  const batch::Schedule* plan = nullptr;
  std::string title;
  std::vector<std::string> summary;  ///< paragraphs below the title
  std::vector<std::string> key;      ///< a line for each letter, by step_text()
  std::vector<std::string> marks{};  ///< of a day: by step, whose bundles; before their numbers
  bool makes_up = false;             ///< pieces are made up, which the times leave out
  std::vector<PersonLine> people{};  ///< with posts: in large type, above the chart
};

/// `room` is a page's width and height in mm, each drawing as large; with Breaks::none one drawing
/// as high as it takes. Helpers without work have no row.
[[nodiscard]] std::vector<Drawing> schedule_charts(const ScheduleToDraw& drawn,
                                                   const base::Voice& words,
                                                   const TextMeasure& measure, Point room,
                                                   Breaks breaks);

}  // namespace pouchwright::draw

/// The work plan as a chart: a row for each helper, time to the right, a bar for each stretch of
/// one step, told apart by letters and by a pattern for the station. A long day is broken into
/// bands below each other.
///
///     std::vector<Drawing> pages =
///         schedule_charts({&line, &plan, title, summary}, words, measure, room, Breaks::pages);
///
/// Not at full size: these pages carry no check square.
#pragma once

#include <string>
#include <vector>

#include "batch/schedule.h"
#include "diag/words.h"
#include "drawing/lay_picture.h"
#include "drawing/scene.h"

namespace pouchwright::drawing {

struct ScheduleToDraw {
  const batch::Line* line = nullptr;
  const batch::Schedule* plan = nullptr;
  std::string title;
  std::vector<std::string> summary;  ///< paragraphs below the title
  std::vector<std::string> key;      ///< a line for each step of the line, by step_text()
};

/// `A`, `B`, … `Z`, `AA`, …: what a step is called on the chart.
[[nodiscard]] std::string step_letter(std::size_t step);

/// What a step of the key is called, and where it is done, in words.
struct StepCalled {
  std::string letter, name, station;
};
/// A line of the key: letter, name, station, minutes a pouch.
[[nodiscard]] std::string step_text(const batch::Step& step, const StepCalled& called,
                                    const diag::Words& words);

/// `0:05`, hours and minutes from the beginning, rounded down to the minute.
[[nodiscard]] std::string clock_time(batch::Time time, const diag::Words& words);

/// A stretch of one helper's day on one step without a break: bundles in order, one after another.
struct Stretch {
  batch::Task first;  ///< with its start
  batch::Time end{};
  std::vector<batch::Time> between;  ///< where one bundle ends and the next begins
  std::size_t last_bundle = 0;
};
/// Each helper's stretches in order, by helper.
[[nodiscard]] std::vector<std::vector<Stretch>> stretches(const batch::Schedule& plan);

/// `room` is a page's width and height in mm, each drawing as large; with Breaks::none one drawing
/// as high as it takes. Helpers without work have no row.
[[nodiscard]] std::vector<Drawing> schedule_charts(const ScheduleToDraw& drawn,
                                                   const diag::Words& words,
                                                   const TextMeasure& measure, Point room,
                                                   Breaks breaks);

}  // namespace pouchwright::drawing

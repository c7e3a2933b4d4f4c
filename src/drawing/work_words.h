/// What the steps of a work plan are called: its letters stand for operations of the construction,
/// and for what the work table adds to them (cutting, clipping apart).
///
///     for (const WorkName& one : work_names(line.steps, pouch, words)) print(one.with_steps);
///
/// Not for who does them and when (see schedule_chart.h).
#pragma once

#include <string>
#include <vector>

#include "batch/schedule_work.h"
#include "diag/words.h"
#include "drawing/operation_words.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

struct WorkName {
  std::string name;        ///< `fold the flap over, sew both sides`
  std::string with_steps;  ///< the same, and after each the step of the steps pages that shows it
  std::string steps;       ///< `steps 8-9`; empty where no picture shows it, as for cutting
};

/// One for each of `steps`. A kind of work that only the job's own table knows keeps its name.
[[nodiscard]] std::vector<WorkName> work_names(const std::vector<batch::Step>& steps,
                                               const pouch::Pouch& pouch, const diag::Words& words);

}  // namespace pouchwright::drawing

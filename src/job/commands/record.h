/// What a group wrote down, beside what the job plans.
///
///     const Recorded made = ...;                       // of `record`
///     Report report = record_report(made, words);
///
/// Inside `job` only.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "batch/record/findings.h"
#include "job/run.h"
#include "tell/record.h"

namespace pouchwright::job {

/// What the plan says of an operation.
struct PlannedMinutes {
  std::string kind;    ///< of the work table
  double a_piece = 0;  ///< its share of what a bundle takes on top included
};

struct Recorded {
  batch::Record record;
  batch::RecordFindings found;
  tell::OperationNames names;
  std::vector<std::string> works;  ///< what a row may be about, in the order of the day
  std::map<std::string, PlannedMinutes> planned;  ///< by operation
};

/// The work table that the run's job is planned by, as a text in which kinds of work that were recorded
/// take the minutes they took.
/// Fails: empty after an error where the table's text is written so that it cannot be changed.
[[nodiscard]] std::optional<std::string> recorded_work(Run& run, const Recorded& made);

/// The job's text with the iron's setting that held, and with tolerances that the measured seals
/// show; as it is where the record tells neither.
[[nodiscard]] std::string recorded_job(const Run& run, const Recorded& made);

/// The charts, each with what it says in words.
[[nodiscard]] std::vector<ink::Drawing> record_drawings(const Run& run, const Recorded& made,
                                                        ink::Point room);

}  // namespace pouchwright::job

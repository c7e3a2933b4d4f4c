/// Several jobs made in one day: a file that names them, each read as a job of its own.
///
///     if (input::is_day(run.job_file())) {
///       if (auto day = read_day(run, change)) answer = each_make(run, *day, size);
///     }
///
/// Inside `job` only.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "input/day.h"
#include "job/run.h"

namespace pouchwright::job {

struct DayMake {
  std::string title;   ///< no two alike
  std::string folder;  ///< of its own files, below that of --out; with a slash at its end
  /// An earlier one that is the same pouch, in another print: template, cards and steps are its.
  std::optional<std::size_t> as{};
  std::shared_ptr<Run> run;
};

struct Day {
  input::DayFile file;
  std::string title;
  std::vector<DayMake> makes;  ///< at least one

  [[nodiscard]] std::vector<std::string> titles() const;
  /// By make: the first that is the same pouch.
  [[nodiscard]] std::size_t pouch_of(std::size_t make) const {
    return makes[make].as.value_or(make);
  }
};

/// Reads every job of the day and folds its pouch. `run` speaks in the day's unit afterwards.
/// Fails: empty after errors, all of them in the run's diagnostics: as Run::read_job(); what all jobs
/// of a day share and two of them say otherwise.
[[nodiscard]] std::unique_ptr<Day> read_day(Run& run, const Run::Change& change);

/// The command for each job of the day by itself: `makes`, a report each, and under each title what it
/// says; files in a folder for each.
[[nodiscard]] Answer each_make(Run& run, const Day& day, Answer (*command)(Run&));

}  // namespace pouchwright::job

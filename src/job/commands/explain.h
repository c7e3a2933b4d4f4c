/// Where each value of a job comes from: an option, the job, what it is derived from, the
/// construction, or the program. For `check --explain`.
///
///     add_explained(report, run);
///
/// Inside `job` only. Not for values that changed since an earlier version (see tell/changes.h).
#pragma once

#include "job/report/report.h"
#include "job/run.h"

namespace pouchwright::job {

/// A block of rows, and the field `explained`: `[{value, is, from, line}]`, where `from` is "option", "job",
/// "derived", "construction" or "program" and `line` is null but for the job's.
/// Requires: the run's job was read without an error.
void add_explained(Report& report, const Run& run);

}  // namespace pouchwright::job

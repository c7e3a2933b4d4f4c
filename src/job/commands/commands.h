/// The commands, one file each. Each reads what it needs through the run and answers with a report
/// and files, or with the outcome of a job that is wrong; run_job writes and prints.
///
/// Inside `job` only.
#pragma once

#include "job/day.h"
#include "job/run.h"

namespace pouchwright::job {

// Requires: the run's job was read without an error.
[[nodiscard]] Answer check(Run& run);
[[nodiscard]] Answer size(Run& run);
[[nodiscard]] Answer cutting_template(Run& run);
[[nodiscard]] Answer mask(Run& run);
[[nodiscard]] Answer savings(Run& run);
[[nodiscard]] Answer lay(Run& run);
[[nodiscard]] Answer supplies(Run& run);
[[nodiscard]] Answer schedule(Run& run);
[[nodiscard]] Answer steps(Run& run);
[[nodiscard]] Answer record(Run& run);
[[nodiscard]] Answer packet(Run& run);

// Of all jobs of a day together. Requires: every job was read without an error.
[[nodiscard]] Answer lay_of_day(Run& run, const Day& day);
[[nodiscard]] Answer supplies_of_day(Run& run, const Day& day);
[[nodiscard]] Answer schedule_of_day(Run& run, const Day& day);
[[nodiscard]] Answer packet_of_day(Run& run, const Day& day);
[[nodiscard]] Answer record_of_day(Run& run, const Day& day);

/// Reads the job itself, once for each size.
[[nodiscard]] Answer range(Run& run);

/// The piece of cloth of --remnant. Fails: throws UsageFault.
[[nodiscard]] pouch::CutPanel remnant_of(const Run& run);

// These need no job.
[[nodiscard]] Answer printer_test(Run& run);
[[nodiscard]] Answer quick_lay(Run& run);
[[nodiscard]] Answer list(Run& run);
[[nodiscard]] Answer record_form(Run& run);
[[nodiscard]] Answer new_job(Run& run);
/// What a language says, and what it does not.
[[nodiscard]] Answer words(Run& run);

}  // namespace pouchwright::job

/// The commands, one file each. Each reads what it needs through the run and answers with what to
/// print; run_job dispatches.
///
/// Inside `job` only.
#pragma once

#include "job/run.h"

namespace pouchwright::job {

// Requires: the run's job was read without an error.
[[nodiscard]] Outcome check(Run& run);
[[nodiscard]] Outcome size(Run& run);
[[nodiscard]] Outcome cutting_template(Run& run);
[[nodiscard]] Outcome mask(Run& run);
[[nodiscard]] Outcome savings(Run& run);
[[nodiscard]] Outcome lay(Run& run);
[[nodiscard]] Outcome supplies(Run& run);
[[nodiscard]] Outcome schedule(Run& run);
[[nodiscard]] Outcome steps(Run& run);
[[nodiscard]] Outcome packet(Run& run);

/// Reads the job itself, once for each size.
[[nodiscard]] Outcome range(Run& run);

/// The piece of cloth of --remnant. Fails: throws UsageFault.
[[nodiscard]] pouch::CutPanel remnant_of(const Run& run);

// These need no job.
[[nodiscard]] Outcome printer_test(Run& run);
[[nodiscard]] Outcome quick_lay(Run& run);
[[nodiscard]] Outcome list(Run& run);
[[nodiscard]] Outcome new_job(Run& run);

}  // namespace pouchwright::job

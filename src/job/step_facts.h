/// What sheets say of the day besides the pouch: the iron's setting, the stitches, the test's time.
///
///     draw::StepsLook look{.facts = step_facts(run)};
///
/// Inside `job` only.
#pragma once

#include "job/run.h"
#include "tell/step_facts.h"

namespace pouchwright::job {

/// How long work takes: the job's own table, else the program's.
/// Fails: throws base::Failure where shared/work.toml is at fault.
[[nodiscard]] std::optional<batch::WorkTable> work_table(const Run& run);

/// How long the water of the test stays in, by that table.
[[nodiscard]] double test_minutes(const Run& run);

/// Fails: throws base::Failure where shared/stitches.toml or shared/work.toml is at fault.
[[nodiscard]] tell::StepFacts step_facts(const Run& run);

}  // namespace pouchwright::job

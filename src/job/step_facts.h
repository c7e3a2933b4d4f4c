/// How the job's pouch is sewn, and what sheets say of that, of the iron's setting and the test's time.
///
///     const Sewing sewing = sewing_of(run);
///     draw::StepsLook look{.facts = step_facts(run, sewing)};
///
/// Inside `job` only.
#pragma once

#include <vector>

#include "batch/thread.h"
#include "job/run.h"
#include "tell/step_facts.h"

namespace pouchwright::job {

/// How long work takes: the job's own table, else the program's; its bundle is the job's, if that has
/// one: the one number for cut plan, work plan and leak sheet.
/// Fails: throws base::Failure where shared/work.toml is at fault.
[[nodiscard]] std::optional<batch::WorkTable> work_table(const Run& run);

/// How long the water of the test stays in, by that table.
[[nodiscard]] double test_minutes(const Run& run);

/// The rules with what the job states laid over them, and the seams that follow.
struct Sewing {
  batch::ThreadRules rules;
  std::vector<batch::Seam> seams;
};

/// Fails: throws base::Failure where shared/stitches.toml is at fault.
[[nodiscard]] Sewing sewing_of(const Run& run);

/// Fails: as the two above.
[[nodiscard]] tell::StepFacts step_facts(const Run& run, const Sewing& sewing);

}  // namespace pouchwright::job

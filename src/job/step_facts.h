/// What the sheet of steps says besides the pouch: the iron's setting and the stitches.
///
///     drawing::StepsLook look{.facts = step_facts(run)};
///
/// Inside `job` only.
#pragma once

#include "drawing/step_facts.h"
#include "job/run.h"

namespace pouchwright::job {

/// Fails: throws diag::Failure where shared/stitches.toml is at fault.
[[nodiscard]] drawing::StepFacts step_facts(const Run& run);

}  // namespace pouchwright::job

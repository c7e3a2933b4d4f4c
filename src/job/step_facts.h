/// What the sheet of steps says besides the pouch: the iron's setting and the stitches.
///
///     draw::StepsLook look{.facts = step_facts(run)};
///
/// Inside `job` only.
#pragma once

#include "job/run.h"
#include "tell/step_facts.h"

namespace pouchwright::job {

/// Fails: throws base::Failure where shared/stitches.toml is at fault.
[[nodiscard]] tell::StepFacts step_facts(const Run& run);

}  // namespace pouchwright::job

/// What people's speeds and skills mean for a line as a whole.
///
/// Inside `batch` only; what callers ask stands in plan.h.
#pragma once

#include "batch/work/plan.h"

namespace pouchwright::batch {

/// What only some can do, shared out among them by their speeds: the greatest over the sets of people
/// that some step leaves, over what two of these sets have together, and over all.
/// Requires: people are given.
[[nodiscard]] Bound bound_of_people(const Line& line);

}  // namespace pouchwright::batch

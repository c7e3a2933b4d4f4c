/// What is said to a step of the assembly: what to do, in bold, and what to mind.
///
///     for (const AssemblyStep& step : assembly_steps(pouch)) {
///       add(step_words(pouch, step, facts, words));
///     }
///
/// Inside `drawing` only; callers outside use steps.h.
#pragma once

#include "diag/words.h"
#include "drawing/labels.h"
#include "drawing/step_facts.h"
#include "drawing/step_list.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

[[nodiscard]] Block step_words(const pouch::Pouch& pouch, const AssemblyStep& step,
                               const StepFacts& facts, const diag::Words& words);

}  // namespace pouchwright::drawing

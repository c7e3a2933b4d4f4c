/// What is said to a step of the assembly: what to do, in bold, and what to mind.
///
///     for (const AssemblyStep& step : assembly_steps(pouch)) {
///       add(step_words(pouch, step, facts, words));
///     }
///
/// Inside `drawing` only; callers outside use steps.h.
#pragma once

#include "base/voice.h"
#include "ink/labels.h"
#include "pouch/pouch.h"
#include "tell/step_facts.h"
#include "tell/step_list.h"

namespace pouchwright::tell {

[[nodiscard]] ink::Block step_words(const pouch::Pouch& pouch, const AssemblyStep& step,
                                    const StepFacts& facts, const base::Voice& words);

/// One step in words, for those who have it read to them.
struct StepText {
  std::vector<std::string> operations;  ///< ids of the construction; none: to be marked
  std::string words;                    ///< sentences
};

[[nodiscard]] std::vector<StepText> steps_in_words(const pouch::Pouch& pouch,
                                                   const StepFacts& facts,
                                                   const base::Voice& words);

}  // namespace pouchwright::tell

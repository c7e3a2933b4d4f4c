/// What is said to a step of the assembly: what to do, in bold, and what to mind.
///
///     for (const AssemblyStep& step : assembly_steps(pouch)) {
///       for (const Said& one : step_words(pouch, step, facts, words)) say(one.head, one.sentences);
///     }
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/voice.h"
#include "pouch/pouch.h"
#include "tell/said.h"
#include "tell/step_facts.h"
#include "tell/step_list.h"

namespace pouchwright::tell {

/// `words` are asked what is called how.
[[nodiscard]] std::vector<Said> step_words(const pouch::Pouch& pouch, const AssemblyStep& step,
                                           const StepFacts& facts, const base::Voice& words);

/// One step in words, for those who have it read to them.
struct StepText {
  std::vector<std::size_t> operations;  ///< indices of the construction's; none: to be marked
  std::string words;                    ///< sentences
};

[[nodiscard]] std::vector<StepText> steps_in_words(const pouch::Pouch& pouch,
                                                   const StepFacts& facts,
                                                   const base::Voice& words);

}  // namespace pouchwright::tell

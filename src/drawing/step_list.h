/// A construction's operations as the steps that a person follows: which of them share a step, and
/// what is said to each, in words or in icons.
///
///     for (const AssemblyStep& step : assembly_steps(pouch)) say(step_words(pouch, step, words));
///
/// Inside `drawing` only; callers outside use steps.h.
#pragma once

#include <cstddef>
#include <vector>

#include "diag/words.h"
#include "drawing/fold_picture.h"
#include "drawing/labels.h"
#include "drawing/step_icons.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

/// Thread left between two pieces that are sewn one after the other (common practice, no source).
inline constexpr units::Length kThreadChain = units::Length::whole_mm(25);
/// How long a pouch is to hold water (common practice, no source).
inline constexpr int kTestMinutes = 5;

struct AssemblyStep {
  FoldMoment moment;
};

/// First the panel as it was cut, to be marked, where it is folded at all. Then each operation that
/// takes part in the job; one that turns nothing and only goes on with the one before it (the other
/// end's finish, a look inside once the card is out, the tails of what was sewn) shares its step.
[[nodiscard]] std::vector<AssemblyStep> assembly_steps(const pouch::Pouch& pouch);

/// What to do, in bold, and what to mind.
[[nodiscard]] Block step_words(const pouch::Pouch& pouch, const AssemblyStep& step,
                               const diag::Words& words);

/// An icon, or what must not be, crossed out.
struct StepIcon {
  Icon icon;
  bool never = false;
};
[[nodiscard]] std::vector<StepIcon> step_icons(const pouch::Pouch& pouch, const AssemblyStep& step);

}  // namespace pouchwright::drawing

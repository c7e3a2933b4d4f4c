/// A construction's operations as the steps that a person follows: which of them share a step, and
/// which icons each has.
///
///     for (const AssemblyStep& step : assembly_steps(pouch)) draw(step_icons(pouch, step));
///
/// Inside `drawing` only; callers outside use steps.h. Not for words (see step_words.h).
#pragma once

#include <cstddef>
#include <vector>

#include "drawing/fold_picture.h"
#include "drawing/step_icons.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

/// Thread left between two pieces that are sewn one after the other (common practice, no source).
inline constexpr units::Length kThreadChain = units::Length::whole_mm(25);

struct AssemblyStep {
  FoldMoment moment;
};

/// First the panel as it was cut, to be marked, where it is folded at all. Then each operation that
/// takes part in the job; one that turns nothing and only goes on with the one before it (the other
/// end's finish, a look inside once the card is out, the tails of what was sewn) shares its step.
[[nodiscard]] std::vector<AssemblyStep> assembly_steps(const pouch::Pouch& pouch);

/// How the end is kept from fraying that a finish works on.
[[nodiscard]] const pouch::EndFinish& finish_of(const pouch::Pouch& pouch,
                                                const pouch::Operation& operation);
/// Is the flap caught in this seam? Only where it lies turned down by then.
[[nodiscard]] bool sews_flap(const pouch::Pouch& pouch, const pouch::Operation& seam);

/// An icon, or what must not be, crossed out.
struct StepIcon {
  Icon icon;
  bool never = false;
};
[[nodiscard]] std::vector<StepIcon> step_icons(const pouch::Pouch& pouch, const AssemblyStep& step);

}  // namespace pouchwright::drawing

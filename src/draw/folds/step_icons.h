/// The icons that stand beside a step of the assembly.
#pragma once

#include <vector>

#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/pouch.h"
#include "tell/step_list.h"

namespace pouchwright::draw {

/// An icon, or what must not be, crossed out.
struct StepIcon {
  Icon icon;
  bool never = false;
};

/// The signs of what can hurt in this step, beside its words; most have none.
[[nodiscard]] std::vector<StepIcon> danger_signs(const pouch::Pouch& pouch,
                                                 const tell::AssemblyStep& step);

[[nodiscard]] std::vector<StepIcon> step_icons(const pouch::Pouch& pouch,
                                               const tell::AssemblyStep& step);

}  // namespace pouchwright::draw

/// A construction's operations as the steps that a person follows: which of them share a step, and
/// which icons each has.
///
///     for (const AssemblyStep& step : assembly_steps(pouch)) draw(step_icons(pouch, step));
///
/// Not for words (see steps.h).
#pragma once

#include <cstddef>
#include <map>
#include <vector>

#include "pouch/fold/moment.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

struct AssemblyStep {
  pouch::FoldMoment moment;
};

/// First the panel as it was cut, to be marked, where it is folded at all. Then each operation that
/// takes part in the job; one that turns nothing and only goes on with the one before it (the other
/// end's finish, a look inside once the card is out, the tails of what was sewn) shares its step,
/// and so do the turns of a rolled mouth.
[[nodiscard]] std::vector<AssemblyStep> assembly_steps(const pouch::Pouch& pouch);

/// Which step of the sheet shows an operation, by its index; from 1, as the sheet numbers them.
/// Operations that the job skips have none.
using StepNumbers = std::map<std::size_t, std::size_t>;
[[nodiscard]] StepNumbers step_numbers(const pouch::Pouch& pouch);

}  // namespace pouchwright::tell

/// The packet's page for whoever prints and leads: how to print, what the program warns of, what
/// only the job can change, and by whose figures things are counted. It is not handed out.
///
/// Inside `job` only.
#pragma once

#include <vector>

#include "ink/scene.h"
#include "job/commands/supplies.h"
#include "job/run.h"

namespace pouchwright::job {

/// As pages of `room`. `home_prints`: how many times the page of cards to go home is printed; 0
/// where the packet has none.
[[nodiscard]] std::vector<ink::Drawing> printing_sheets(Run& run, const ShoppingList& shopping,
                                                        int home_prints, ink::Point room);

}  // namespace pouchwright::job

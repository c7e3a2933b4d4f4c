/// Holds a plan to its request without using any of the planner's own code: every piece is inside
/// the cloth, none overlap, each lies as its kind may, straight plans come apart by edge-to-edge
/// cuts, the demand is met, lengths and waste are as reported, and the orders, followed cut by cut,
/// leave the pieces.
#pragma once

#include <string>
#include <vector>

#include "lay/lay.h"

namespace pouchwright::test {

/// What is wrong with the plan, in words; empty if nothing is.
[[nodiscard]] std::vector<std::string> wrong_with(const lay::Request& request,
                                                  const lay::Plan& plan);

}  // namespace pouchwright::test

/// Operations on their way to steps: one by one, each with what it needs.
///
/// Inside `batch` only, for steps.cc and preparations.cc.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "batch/work/steps.h"

namespace pouchwright::batch {

/// One operation with what it needs, before operations are put together into steps.
struct Element {
  StepOperation operation;
  Station station = Station::hands;
  Time waits{};
  bool goes_on = false;
  std::set<std::size_t> needs;  ///< indices of earlier elements
  std::optional<int> firsts;    ///< as of a Step
  bool once = false;            ///< as of a Step
  Time set_up{};                ///< as of a Step
  bool wet = false;             ///< as of a Step
};

/// What goes on in the same hands, at one station, is one step.
[[nodiscard]] std::vector<Step> put_together(const std::vector<Element>& elements);

}  // namespace pouchwright::batch

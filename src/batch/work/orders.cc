#include "batch/work/orders.h"

#include <algorithm>
#include <array>

namespace pouchwright::batch {

std::vector<std::vector<std::int64_t>> step_orders(const Line& line) {
  std::array<Time, kStations.size()> work{};
  for (const Step& step : line.steps) {
    if (step.station == Station::hands) continue;
    const auto kind = static_cast<std::size_t>(step.station);
    work[kind] += work_of(step, line).shared_out(line.stations[kind]);
  }
  const auto longest =
      static_cast<std::size_t>(std::max_element(work.begin() + 1, work.end()) - work.begin());
  const auto steps = static_cast<std::int64_t>(line.steps.size());
  std::vector<std::int64_t> backward(line.steps.size());
  std::vector<std::int64_t> to_longest(line.steps.size());
  std::vector<std::int64_t> forward(line.steps.size());
  std::int64_t distance = 2 * steps;
  for (std::size_t i = line.steps.size(); i-- > 0;) {
    if (static_cast<std::size_t>(line.steps[i].station) == longest) distance = 0;
    backward[i] = kRank * (steps - static_cast<std::int64_t>(i));
    to_longest[i] = kRank * distance;
    forward[i] = kRank * static_cast<std::int64_t>(i);
    if (distance < steps) ++distance;
  }
  return {backward, to_longest, forward};
}

}  // namespace pouchwright::batch

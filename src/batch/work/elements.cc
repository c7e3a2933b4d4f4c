#include "batch/work/elements.h"

#include <algorithm>

namespace pouchwright::batch {
namespace {

/// Is element `i` done in the same hands as the one before it, which `step` ends with?
bool goes_on(const std::vector<Element>& elements, const Step& step, std::size_t i) {
  const Element& element = elements[i];
  return elements[i - 1].goes_on && elements[i - 1].waits == Time() &&
         element.firsts == elements[i - 1].firsts && element.once == elements[i - 1].once &&
         element.needs.contains(i - 1) &&
         (step.station == Station::hands || element.station == Station::hands ||
          step.station == element.station);
}

}  // namespace

std::vector<Step> put_together(const std::vector<Element>& elements) {
  std::vector<Step> made;
  std::vector<std::size_t> step_of;
  for (std::size_t i = 0; i < elements.size(); ++i) {
    const Element& element = elements[i];
    if (i == 0 || !goes_on(elements, made.back(), i)) made.emplace_back();
    Step& step = made.back();
    step.operations.push_back(element.operation);
    if (element.station != Station::hands) step.station = element.station;
    step.waits = element.waits;
    step.firsts = element.firsts;
    step.once = element.once;
    step.set_up = std::max(step.set_up, element.set_up);
    step.wet = step.wet || element.wet;
    step_of.push_back(made.size() - 1);
    std::set<std::size_t> needs(step.needs.begin(), step.needs.end());
    for (const std::size_t need : element.needs) {
      if (step_of[need] + 1 != made.size()) needs.insert(step_of[need]);
    }
    step.needs.assign(needs.begin(), needs.end());
  }
  return made;
}

}  // namespace pouchwright::batch

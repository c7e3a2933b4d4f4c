#include "tell/step_list.h"

#include <algorithm>
#include <string>
#include <utility>

#include "pouch/questions.h"

namespace pouchwright::tell {
namespace {

using pouch::Action;
using pouch::Operation;

/// Does `next` only go on with what `done` began, so that one picture shows both?
bool goes_on(Action done, Action next) {
  switch (next) {
    case Action::finish:
      return done == Action::finish;
    case Action::look_inside:
      return done == Action::take_card;
    case Action::secure_tails:
      return done == Action::sew;
    case Action::attach:
      return done == Action::attach;
    case Action::pair:
    case Action::lay_panel:
    case Action::lay_card:
    case Action::fold:
    case Action::press:
    case Action::take_card:
    case Action::hem:
    case Action::sew:
    case Action::test:
      return false;
  }
  return false;
}

/// One stitch and one panel, since a panel that lies apart has a picture of its own.
bool same_kind(const pouch::Pouch& pouch, const Operation& a, const Operation& b) {
  if (a.action != Action::finish) return true;
  const pouch::Construction& construction = pouch.construction();
  if (panel_of(construction, a) != panel_of(construction, b)) return false;
  return finish_of(pouch.request, a).kind == finish_of(pouch.request, b).kind;
}

}  // namespace

std::vector<AssemblyStep> assembly_steps(const pouch::Pouch& pouch) {
  std::vector<AssemblyStep> steps;
  if (!pouch.sizes.folds.empty()) steps.push_back({cut_panel(pouch)});
  std::size_t first = 0;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    const bool last = i + 1 == pouch.stages.size();
    if (!last) {
      const Operation& done = pouch::operation_at(pouch, i);
      const Operation& next = pouch::operation_at(pouch, i + 1);
      if (goes_on(done.action, next.action) && same_kind(pouch, done, next)) continue;
    }
    steps.push_back({moment(pouch, first, i)});
    first = i + 1;
  }
  return steps;
}

StepNumbers step_numbers(const pouch::Pouch& pouch) {
  StepNumbers numbers;
  std::size_t number = 0;
  for (const AssemblyStep& step : assembly_steps(pouch)) {
    ++number;
    for (const std::size_t index : step.moment.operations) {
      numbers.emplace(pouch.construction().operations[index].id, number);
    }
  }
  return numbers;
}

}  // namespace pouchwright::tell

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

/// Stages that share a step: its first and its last.
struct Stages {
  std::size_t first, last;
};

std::vector<Stages> stages_by_step(const pouch::Pouch& pouch) {
  std::vector<Stages> steps;
  std::size_t first = 0;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    const bool last = i + 1 == pouch.stages.size();
    if (!last) {
      const Operation& done = pouch::operation_at(pouch, i);
      const Operation& next = pouch::operation_at(pouch, i + 1);
      if (goes_on(done.action, next.action) && same_kind(pouch, done, next)) continue;
    }
    steps.push_back({first, i});
    first = i + 1;
  }
  return steps;
}

bool begins_with_marking(const pouch::Pouch& pouch) { return !pouch.sizes.folds.empty(); }

}  // namespace

std::vector<AssemblyStep> assembly_steps(const pouch::Pouch& pouch) {
  std::vector<AssemblyStep> steps;
  if (begins_with_marking(pouch)) steps.push_back({cut_panel(pouch)});
  for (const Stages& stages : stages_by_step(pouch)) {
    steps.push_back({moment(pouch, stages.first, stages.last)});
  }
  return steps;
}

StepNumbers step_numbers(const pouch::Pouch& pouch) {
  StepNumbers numbers;
  std::size_t number = begins_with_marking(pouch) ? 1 : 0;
  for (const Stages& stages : stages_by_step(pouch)) {
    ++number;
    for (std::size_t i = stages.first; i <= stages.last; ++i) {
      numbers.emplace(pouch::operation_at(pouch, i).id, number);
    }
  }
  return numbers;
}

}  // namespace pouchwright::tell

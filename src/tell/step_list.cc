#include "tell/step_list.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "pouch/questions.h"

namespace pouchwright::tell {
namespace {

using pouch::Action;
using pouch::Operation;

/// What only goes on with what was done before it, so that one picture shows both.
struct GoesOn {
  Action next, done;
};
constexpr GoesOn kGoOn[] = {{Action::attach, Action::attach},
                            {Action::finish, Action::finish},
                            {Action::look_inside, Action::take_card},
                            {Action::secure_tails, Action::sew}};

bool goes_on(Action done, Action next) {
  return std::any_of(std::begin(kGoOn), std::end(kGoOn),
                     [&](const GoesOn& one) { return one.next == next && one.done == done; });
}

/// The mouth is rolled in one go.
bool rolls_on(const std::vector<std::size_t>& rolls, std::size_t done, std::size_t next) {
  const auto is_roll = [&](std::size_t one) {
    return std::find(rolls.begin(), rolls.end(), one) != rolls.end();
  };
  return is_roll(done) && is_roll(next);
}

/// One stitch and one panel, since a panel that lies apart has a picture of its own.
bool same_kind(const pouch::Pouch& pouch, const Operation& a, const Operation& b) {
  const auto* one = a.as<pouch::does::Finish>();
  const auto* other = b.as<pouch::does::Finish>();
  if (one == nullptr || other == nullptr) return true;
  return one->panel == other->panel &&
         finish_of(pouch.request, one->end).kind == finish_of(pouch.request, other->end).kind;
}

/// Stages that share a step: its first and its last.
struct Stages {
  std::size_t first, last;
};

std::vector<Stages> stages_by_step(const pouch::Pouch& pouch) {
  std::vector<Stages> steps;
  const std::vector<std::size_t> rolls = rolls_of(pouch);
  std::size_t first = 0;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    const bool last = i + 1 == pouch.stages.size();
    if (!last) {
      const Operation& done = pouch::operation_at(pouch, i);
      const Operation& next = pouch::operation_at(pouch, i + 1);
      if (goes_on(done.action(), next.action()) && same_kind(pouch, done, next)) continue;
      if (rolls_on(rolls, pouch.stages[i].operation, pouch.stages[i + 1].operation)) continue;
    }
    steps.push_back({first, i});
    first = i + 1;
  }
  return steps;
}

bool begins_with_marking(const pouch::Pouch& pouch) {
  return !folds_of(pouch.sizes.main_panel()).empty();
}

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
      numbers.emplace(pouch.stages[i].operation, number);
    }
  }
  return numbers;
}

}  // namespace pouchwright::tell

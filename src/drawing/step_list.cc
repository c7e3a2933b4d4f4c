#include "drawing/step_list.h"

#include <algorithm>
#include <string>
#include <utility>

namespace pouchwright::drawing {
namespace {

using pouch::Action;
using pouch::Operation;

const Operation& operation_at(const pouch::Pouch& pouch, std::size_t stage) {
  return pouch.construction().operations[pouch.stages[stage].operation];
}

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

bool same_kind(const pouch::Pouch& pouch, const Operation& a, const Operation& b) {
  if (a.action != Action::finish) return true;
  return finish_of(pouch, a).kind == finish_of(pouch, b).kind;
}

void add_icons(const pouch::Pouch& pouch, const Operation& operation,
               std::vector<StepIcon>& icons) {
  switch (operation.action) {
    case Action::attach:
    case Action::hem:
      if (icons.empty()) icons.push_back({Icon::needle});
      return;
    case Action::lay_panel:
      icons.push_back({Icon::same_way});
      return;
    case Action::pair:
      icons.insert(icons.end(), {{Icon::film_up}, {Icon::same_way}});
      return;
    case Action::finish:
      if (!icons.empty()) return;
      icons.push_back({Icon::needle});
      // A hem is a straight seam: its machine leaves no chain.
      if (finish_of(pouch, operation).kind == pouch::FinishKind::overedge) {
        icons.push_back({Icon::chain});
      }
      return;
    case Action::lay_card:
      icons.push_back({Icon::card});
      return;
    case Action::fold:
      icons.push_back({Icon::turn});
      return;
    case Action::press:
      icons.insert(icons.end(), {{Icon::scrap_test}, {Icon::steam}, {Icon::hot_film, true}});
      return;
    case Action::take_card:
      icons.push_back({Icon::card});
      return;
    case Action::look_inside:
      icons.push_back({Icon::eye});
      return;
    case Action::sew:
      icons.push_back({Icon::needle});
      if (sews_flap(pouch, operation)) icons.push_back({Icon::flap_down});
      icons.push_back({Icon::chain});
      return;
    case Action::secure_tails:
      icons.push_back({Icon::tail});
      return;
    case Action::test:
      icons.insert(icons.end(), {{Icon::drop}, {Icon::clock}});
      return;
  }
}

}  // namespace

const pouch::EndFinish& finish_of(const pouch::Pouch& pouch, const Operation& operation) {
  return operation.end == pouch::Edge::start ? pouch.request.start_finish
                                             : pouch.request.end_finish;
}

bool sews_flap(const pouch::Pouch& pouch, const Operation& seam) {
  const pouch::Construction& construction = pouch.construction();
  if (construction.flap_law != pouch::FlapLaw::caught) return false;
  for (const Operation& operation : construction.operations) {
    if (operation.id == seam.id) return false;
    if (operation.action == Action::fold && operation.turn == construction.flap_span) return true;
  }
  return false;
}

std::vector<AssemblyStep> assembly_steps(const pouch::Pouch& pouch) {
  std::vector<AssemblyStep> steps;
  if (!pouch.sizes.folds.empty()) steps.push_back({cut_panel(pouch)});
  std::size_t first = 0;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    const bool last = i + 1 == pouch.stages.size();
    if (!last) {
      const Operation& done = operation_at(pouch, i);
      const Operation& next = operation_at(pouch, i + 1);
      if (goes_on(done.action, next.action) && same_kind(pouch, done, next)) continue;
    }
    steps.push_back({moment(pouch, first, i)});
    first = i + 1;
  }
  return steps;
}

std::vector<StepIcon> step_icons(const pouch::Pouch& pouch, const AssemblyStep& step) {
  std::vector<StepIcon> icons;
  if (step.moment.to_be_marked) {
    icons = {{Icon::film_up}, {Icon::same_way}};
  }
  for (const std::size_t index : step.moment.operations) {
    add_icons(pouch, pouch.construction().operations[index], icons);
  }
  if (step.moment.clipped) icons.insert(icons.end(), {{Icon::clip}, {Icon::pin, true}});
  return icons;
}

}  // namespace pouchwright::drawing

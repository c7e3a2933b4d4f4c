#include "draw/folds/step_icons.h"

#include "pouch/questions.h"

namespace pouchwright::draw {
namespace {

using pouch::Action;
using pouch::Operation;

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
      if (finish_of(pouch.request, operation).kind == pouch::FinishKind::overedge) {
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

std::vector<StepIcon> step_icons(const pouch::Pouch& pouch, const tell::AssemblyStep& step) {
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

}  // namespace pouchwright::draw

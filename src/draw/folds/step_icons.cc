#include "draw/folds/step_icons.h"

#include "pouch/questions.h"

namespace pouchwright::draw {
namespace {

using pouch::Action;
using pouch::FinishKind;

/// What an action's steps are marked with.
struct IconsOf {
  Action action;
  std::vector<StepIcon> icons;
};
const std::vector<IconsOf>& icons_of_actions() {
  static const std::vector<IconsOf> kRows = {
      {Action::attach, {{Icon::needle}}},
      {Action::lay_panel, {{Icon::same_way}}},
      {Action::pair, {{Icon::film_up}, {Icon::same_way}}},
      {Action::finish, {{Icon::needle}, {Icon::chain}}},
      {Action::lay_card, {{Icon::card}}},
      {Action::fold, {{Icon::turn}}},
      {Action::press,
       {{Icon::scrap_test}, {Icon::steam}, {Icon::hand_near, true}, {Icon::hot_film, true}}},
      {Action::take_card, {{Icon::card}}},
      {Action::look_inside, {{Icon::eye}}},
      {Action::fill_first, {{Icon::drop}, {Icon::eye}}},
      {Action::hem, {{Icon::needle}}},
      {Action::sew, {{Icon::needle}, {Icon::flap_down}, {Icon::chain}}},
      {Action::secure_tails, {{Icon::tail}}},
      {Action::test, {{Icon::drop}, {Icon::clock}}},
      {Action::tag, {{Icon::tag}, {Icon::clip}}},
      {Action::dry, {{Icon::dryer}, {Icon::clock}}}};
  return kRows;
}

/// Is the icon of an operation's action true of this one?
bool shows(const pouch::Pouch& pouch, std::size_t index, Icon icon) {
  const auto* finish = pouch.operation(index).as<pouch::does::Finish>();
  // A hem is a straight seam: its machine leaves no chain, nor does any that zigzags.
  if (icon == Icon::chain && finish != nullptr) {
    const bool overedged = finish_of(pouch.request, finish->end).kind == FinishKind::overedge;
    return overedged && pouch.request.end_chains;
  }
  if (icon == Icon::chain) return pouch.request.chains;
  return icon != Icon::flap_down || sews_flap(pouch, index);
}

void add_icons(const pouch::Pouch& pouch, std::size_t index, std::vector<StepIcon>& icons) {
  const Action action = pouch.operation(index).action();
  const bool once = action == Action::attach || action == Action::hem || action == Action::finish;
  if (once && !icons.empty()) return;
  for (const IconsOf& row : icons_of_actions()) {
    if (row.action != action) continue;
    for (const StepIcon& one : row.icons) {
      if (shows(pouch, index, one.icon)) icons.push_back(one);
    }
  }
}

}  // namespace

std::vector<StepIcon> danger_signs(const pouch::Pouch& pouch, const tell::AssemblyStep& step) {
  for (const std::size_t index : step.moment.operations) {
    if (pouch.operation(index).action() == Action::press) {
      return {{Icon::hand_near, true}, {Icon::hot_film, true}, {Icon::window}};
    }
  }
  return {};
}

std::vector<StepIcon> step_icons(const pouch::Pouch& pouch, const tell::AssemblyStep& step) {
  std::vector<StepIcon> icons;
  if (step.moment.to_be_marked) {
    icons = {{Icon::film_up}, {Icon::same_way}};
  }
  for (const std::size_t index : step.moment.operations) {
    add_icons(pouch, index, icons);
  }
  if (step.moment.clipped) icons.insert(icons.end(), {{Icon::clip}, {Icon::pin, true}});
  return icons;
}

}  // namespace pouchwright::draw

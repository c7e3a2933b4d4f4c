#include "pouch/questions.h"

#include <algorithm>

namespace pouchwright::pouch {

const Operation& operation_at(const Pouch& pouch, std::size_t stage) {
  return pouch.construction().operations[pouch.stages[stage].operation];
}

std::optional<std::size_t> last_before_test(const Pouch& pouch, Action action) {
  for (std::size_t i = tested_at(pouch) + 1; i-- > 0;) {
    if (operation_at(pouch, i).action == action) return i;
  }
  return std::nullopt;
}

bool is_wall(const Pouch& pouch, std::string_view span) {
  const auto& pockets = pouch.construction().compartments;
  return std::any_of(pockets.begin(), pockets.end(), [&](const auto& pocket) {
    return std::any_of(pocket.film.begin(), pocket.film.end(),
                       [&](const auto& film) { return film.value == span; });
  });
}

std::optional<Closure> closure_of(const Pouch& pouch) {
  using Kind = AttachmentKind;
  const auto found = std::find_if(pouch.fixed.begin(), pouch.fixed.end(), [](const auto& one) {
    return one.kind == Kind::snap || one.kind == Kind::hook_and_loop;
  });
  if (found == pouch.fixed.end()) return std::nullopt;
  return Closure{found->kind, !found->piece.empty()};
}

bool has_needle_line(const EndFinish& finish) {
  return finish.kind != FinishKind::none && finish.needle_reach > Length();
}

base::Length notch_length(base::Length seam_allowance) {
  // Rounded down, unlike every other half: a notch may be shorter, never longer.
  return std::min(Length::nm(seam_allowance.in_nm() / 2), kLongestNotch);
}

bool sews_flap(const Pouch& pouch, const Operation& seam) {
  const Construction& construction = pouch.construction();
  if (construction.flap_law != FlapLaw::caught) return false;
  for (const Operation& operation : construction.operations) {
    if (operation.id == seam.id) return false;
    if (operation.action == Action::fold && operation.turn == construction.flap_span) return true;
  }
  return false;
}

std::size_t tested_at(const Pouch& pouch) {
  const auto& operations = pouch.construction().operations;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (operations[pouch.stages[i].operation].action == Action::test) return i;
  }
  return pouch.stages.size() - 1;
}

bool can_be_pressed_again(const Pouch& pouch) {
  const auto pressed = last_before_test(pouch, Action::press);
  if (!pressed) return false;
  bool folded = false;
  for (std::size_t i = *pressed + 1; i <= tested_at(pouch); ++i) {
    const Action action = operation_at(pouch, i).action;
    folded = folded || action == Action::fold || action == Action::lay_panel;
    if (folded && action == Action::sew) return false;
  }
  return true;
}

}  // namespace pouchwright::pouch

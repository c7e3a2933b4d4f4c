#include "pouch/questions.h"

#include <algorithm>

namespace pouchwright::pouch {

const Operation& operation_at(const Pouch& pouch, std::size_t stage) {
  return pouch.operation(pouch.stages[stage].operation);
}

std::optional<std::size_t> last_before_test(const Pouch& pouch, Action action) {
  for (std::size_t i = tested_at(pouch) + 1; i-- > 0;) {
    if (operation_at(pouch, i).action() == action) return i;
  }
  return std::nullopt;
}

bool is_wall(const Pouch& pouch, SpanId span) {
  const auto ref = span_ref(pouch.sizes.panels, span);
  const auto& pockets = pouch.construction().compartments;
  return ref && std::any_of(pockets.begin(), pockets.end(), [&](const Compartment& pocket) {
           return std::find(pocket.film.begin(), pocket.film.end(), *ref) != pocket.film.end();
         });
}

std::optional<Closure> closure_of(const Pouch& pouch) {
  using Kind = AttachmentKind;
  for (const Fixed& one : pouch.fixed) {
    const Kind kind = pouch.rule(one).kind;
    if (kind == Kind::snap || kind == Kind::hook_and_loop)
      return Closure{kind, one.piece.has_value()};
  }
  return std::nullopt;
}

bool has_needle_line(const EndFinish& finish) {
  return finish.kind != FinishKind::none && finish.needle_reach > Length();
}

base::Length notch_length(base::Length seam_allowance) {
  // Rounded down, unlike every other half: a notch may be shorter, never longer.
  return std::min(Length::nm(seam_allowance.in_nm() / 2), kLongestNotch);
}

std::optional<base::Length> seal_for_many_hands(const Pouch& pouch) {
  const Length missing = kGoodClearSeal.of(pouch.request.units) - pouch.clear_seal_worst;
  if (missing <= Length()) return std::nullopt;
  return pouch.sizes.seal_width + missing;
}

bool sews_flap(const Pouch& pouch, std::size_t seam) {
  const Construction& construction = pouch.construction();
  if (construction.flap_law != FlapLaw::caught) return false;
  const auto begin = construction.operations.begin();
  return std::any_of(begin, begin + static_cast<std::ptrdiff_t>(seam), [&](const Operation& one) {
    const auto* fold = one.as<does::Fold>();
    return fold != nullptr && fold->turn == construction.flap_span;
  });
}

std::size_t tested_at(const Pouch& pouch) {
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (operation_at(pouch, i).action() == Action::test) return i;
  }
  return pouch.stages.size() - 1;
}

bool can_be_pressed_again(const Pouch& pouch) {
  const auto pressed = last_before_test(pouch, Action::press);
  if (!pressed) return false;
  bool folded = false;
  for (std::size_t i = *pressed + 1; i <= tested_at(pouch); ++i) {
    const Action action = operation_at(pouch, i).action();
    folded = folded || action == Action::fold || action == Action::lay_panel;
    if (folded && action == Action::sew) return false;
  }
  return true;
}

}  // namespace pouchwright::pouch

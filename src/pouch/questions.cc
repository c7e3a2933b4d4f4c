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

namespace {

/// Folds of a panel between two walls of a pocket that lie at the bottom while the pouch is pressed.
std::size_t folds_at_bottom(const Pouch& pouch, std::size_t panel, const Folded& pressed) {
  const std::vector<FoldLine> folds = folds_of(pouch.sizes.panels[panel]);
  return static_cast<std::size_t>(
      std::count_if(folds.begin(), folds.end(), [&](const FoldLine& fold) {
        return is_wall(pouch, {panel, fold.before}) && is_wall(pouch, {panel, fold.before + 1}) &&
               pressed.height_of({panel, fold.before}, fold.at) == Length();
      }));
}

}  // namespace

FoldRole role_of(const Pouch& pouch, std::size_t panel, const FoldLine& fold) {
  const auto flap = pouch.construction().flap_span;
  const auto ref = [&](std::size_t span) { return span_ref(pouch.sizes.panels, {panel, span}); };
  if (flap && (ref(fold.before) == flap || ref(fold.before + 1) == flap)) {
    const FlatPanel& flat = pouch.sizes.panels[panel];
    const bool is_hem = flat.is_hem(fold.before) || flat.is_hem(fold.before + 1);
    return is_hem ? FoldRole::other : FoldRole::flap;
  }
  const auto pressed = last_before_test(pouch, Action::press);
  if (!pressed) return FoldRole::other;
  const Folded& folded = pouch.stages[*pressed].folded;
  const bool is_wall_fold =
      is_wall(pouch, {panel, fold.before}) && is_wall(pouch, {panel, fold.before + 1});
  if (!is_wall_fold || !folded.lies(panel)) return FoldRole::other;
  if (folded.height_of({panel, fold.before}, fold.at) != Length()) return FoldRole::other;
  return folds_at_bottom(pouch, panel, folded) == 1 ? FoldRole::bottom : FoldRole::other;
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

std::vector<std::size_t> rolls_of(const Pouch& pouch) {
  std::vector<std::size_t> rolls;
  if (pouch.construction().flap_law != FlapLaw::rolled) return rolls;
  for (const Stage& stage : pouch.stages) {
    const Action action = pouch.operation(stage.operation).action();
    if (action == Action::sew) rolls.clear();
    if (action == Action::fold) rolls.push_back(stage.operation);
  }
  return rolls;
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

Mending mending_of(const Pouch& pouch) {
  const auto pressed = last_before_test(pouch, Action::press);
  if (!pressed) return Mending::never;
  bool folded = false;
  for (std::size_t i = *pressed + 1; i <= tested_at(pouch); ++i) {
    const Action action = operation_at(pouch, i).action();
    folded = folded || action == Action::fold || action == Action::lay_panel;
    if (!folded || action != Action::sew) continue;
    return pouch.request.cards == CardUse::inside ? Mending::never : Mending::under_shield;
  }
  return Mending::with_its_cards;
}

}  // namespace pouchwright::pouch

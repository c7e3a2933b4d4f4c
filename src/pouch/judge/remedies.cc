#include "pouch/judge/remedies.h"

#include <utility>

#include "pouch/pouch.h"

namespace pouchwright::pouch {

namespace {

constexpr base::PerUnit kHandStep{Length::whole_mm(1), Length::inches(1, 16)};

}  // namespace

base::Remedy not_below(std::string path, Length least, base::Unit unit) {
  return {std::move(path), base::exact(base::rounded_up(least, kHandStep.of(unit)))};
}

std::optional<base::Remedy> not_above(std::string path, Length most, base::Unit unit) {
  const Length set = base::rounded_down(most, kHandStep.of(unit));
  if (set <= Length()) return std::nullopt;
  return base::Remedy{std::move(path), base::exact(set)};
}

std::optional<base::Remedy> seal_remedy(const Request& request, Length reach, Length cut_width,
                                        Length clear) {
  const Length least = reach + request.tolerance.sum() + clear;
  if (request.card) {
    // Both seals are what the card leaves of a panel that does not follow it.
    const auto width = request.sizes.find(size::kWidth);
    const bool is_stated = width != request.sizes.end() && width->second.stated;
    if (!request.panel && !is_stated) return std::nullopt;
    const bool is_slip = request.card->kind == CardKind::slip;
    const Length play = is_slip ? 2 * kSlipCardPlay : Length();
    return not_above("card.width", cut_width - 2 * least - play, request.units);
  }
  const Length seal = base::rounded_up(least, kHandStep.of(request.units));
  if (cut_width - 2 * seal <= 2 * kSlipCardPlay) return std::nullopt;
  return base::Remedy{size_path(size::kSealWidth), base::exact(seal)};
}

base::Remedy width_between_seals(const Request& request, Length seal) {
  const Length step = kHandStep.of(request.units);
  const Length cut = 2 * seal + 2 * kSlipCardPlay + step;
  if (request.panel) return not_below("panel.width", cut, request.units);
  const auto allowance = request.sizes.find(size::kSeamAllowance);
  const Length seams = allowance == request.sizes.end() ? Length() : 2 * allowance->second.value;
  return not_below(size_path(size::kWidth), cut - seams, request.units);
}

}  // namespace pouchwright::pouch

#include "pouch/judge/own_card.h"

#include <algorithm>

#include "base/length.h"
#include "pouch/judge/remedies.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {
namespace {

using base::exact;

Length known(const Request& request, std::string_view name) {
  const auto found = request.sizes.find(name);
  return found == request.sizes.end() ? Length() : found->second.value;
}

/// A slip card leaves its play at both sides, a shield lies between the seals.
Length with_play(const OwnCard& card) {
  return card.width.value + (card.kind == CardKind::slip ? 2 * kSlipCardPlay : Length());
}

Length reach_of(const Request& request) {
  Length reach = std::max(known(request, size::kNeedleReach), known(request, size::kSeamAllowance));
  for (const SewingPass& pass : request.passes) reach = std::max(reach, pass.reach());
  return reach;
}

bool has_stated(const Request& request, std::string_view name) {
  const auto found = request.sizes.find(name);
  return found != request.sizes.end() && found->second.stated;
}

/// Of the panel that is there, of the width that is stated, or of the card and two usual seals.
Length cut_width_of(const Request& request) {
  if (request.panel) return request.panel->width.value;
  const Length width = has_stated(request, size::kWidth)
                           ? known(request, size::kWidth) + 2 * known(request, size::kSeamAllowance)
                           : with_play(*request.card) + 2 * known(request, size::kSealWidth);
  return base::rounded_up(width, request.cut_step);
}

/// Of the card, with which a panel so wide has a seal that holds.
Length widest(const Request& request, Length cut_width) {
  const Length seal =
      reach_of(request) + request.tolerance.sum() + known(request, size::kMinClearSeal);
  const Length play = with_play(*request.card) - request.card->width.value;
  return std::max(Length(), cut_width - 2 * seal - play);
}

}  // namespace

void fit_to_card(Request& request, base::Diagnostics& diagnostics) {
  if (!request.card) return;
  const OwnCard& card = *request.card;
  if (has_stated(request, size::kSealWidth)) {
    diagnostics.add({.place = *request.sizes.at(size::kSealWidth).stated,
                     .message = {"card-and-seal"},
                     .hints = {{"card-and-seal-hint"}},
                     .remedy = base::Remedy{size_path(size::kSealWidth)}});
    return;
  }
  const Length cut = cut_width_of(request);
  const Length seal = base::half(cut - with_play(card));
  const base::Message hint{"card-widest-hint", {{"widest", exact(widest(request, cut))}}};
  const auto narrower = not_above("card.width", widest(request, cut), request.units);
  if (card.width.value >= cut) {
    diagnostics.add(
        {.place = card.width.place,
         .message = {"card-over-panel", {{"card", exact(card.width.value)}, {"cut", exact(cut)}}},
         .hints = {hint},
         .remedy = narrower});
    return;
  }
  const Length reach = reach_of(request);
  if (seal <= reach) {
    diagnostics.add({.place = card.width.place,
                     .message = {"card-leaves-no-seal",
                                 {{"card", exact(card.width.value)},
                                  {"cut", exact(cut)},
                                  {"seal", exact(std::max(Length(), seal))},
                                  {"reach", exact(reach)}}},
                     .hints = {hint},
                     .leaks = true,
                     .remedy = narrower});
    return;
  }
  request.sizes[size::kSealWidth] = {seal, {}};
  if (request.panel || has_stated(request, size::kWidth)) return;
  request.sizes[size::kWidth] = {cut - 2 * known(request, size::kSeamAllowance), {}};
}

}  // namespace pouchwright::pouch

#include "pouch/judge/remnant.h"

#include <utility>

#include "pouch/judge/own_card.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {
namespace {

/// With the seal that a card of her own leaves on this piece.
std::optional<Pouch> made_of(Request request) {
  base::Diagnostics ignored;
  fit_to_card(request, ignored);
  return ignored.has_errors() ? std::nullopt : derive(request, ignored);
}

}  // namespace

Request from_remnant(const Request& request, const CutPanel& remnant) {
  Request lying = request;
  lying.panel = remnant;
  lying.sizes.erase(size::kWidth);
  lying.sizes.erase(size::kDepth);
  const auto flap = lying.sizes.find(size::kFlap);
  const bool flap_is_stated = flap != lying.sizes.end() && flap->second.stated;
  if (flap != lying.sizes.end() && !flap_is_stated) lying.sizes.erase(flap);
  for (const SizeRule& rule : request.construction.sizes) {
    const bool follows = rule.name == size::kWidth || rule.name == size::kDepth ||
                         (rule.name == size::kFlap && !flap_is_stated);
    const std::optional<Length> usual = rule.usual(request.units);
    if (follows || lying.sizes.contains(rule.name) || !usual) continue;
    lying.sizes[rule.name] = {*usual, {}};  // a floor size that liners were to decide
  }
  Request turned = lying;
  std::swap(turned.panel->width, turned.panel->length);
  if (request.laminate.turn == Turn::along) return lying;
  if (request.laminate.turn == Turn::across) return turned;
  const auto a = made_of(lying);
  const auto b = made_of(turned);
  if (!a || !b) return a ? lying : b ? turned : lying;
  const auto worth = [](const Pouch& pouch) {
    return std::pair(pouch.capacity ? pouch.capacity->liners : 0,
                     open_bag_ml(pouch.sizes.inside_width, pouch.lip_height));
  };
  return worth(*b) > worth(*a) ? turned : lying;
}

}  // namespace pouchwright::pouch

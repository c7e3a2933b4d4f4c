#include "pouch/judge/remnant.h"

#include <utility>

#include "base/length.h"
#include "pouch/judge/own_card.h"
#include "pouch/judge/sizes.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {
namespace {

/// With the seal that a card of her own leaves on this piece.
std::optional<Pouch> made_of(Request request) {
  base::Diagnostics ignored;
  fit_to_card(request, ignored);
  return ignored.has_errors() ? std::nullopt : derive(request, ignored);
}

/// The panel cut so much shorter that the pouch is at most twice as deep as wide.
void shorten(Request& request) {
  const Length mark = kMark.of(request.units);
  const Length whole = request.panel->length.value;
  const auto is_short = [&](std::int64_t marks) {
    request.panel->length.value = whole - marks * mark;
    base::Diagnostics ignored;
    const auto sizes = unfolded_sizes(request, ignored);
    return !sizes || sizes->depth <= 2 * sizes->finished_width;
  };
  std::int64_t too_long = -1;
  std::int64_t short_enough = whole.in_nm() / mark.in_nm();
  while (short_enough - too_long > 1) {
    const std::int64_t between = too_long + (short_enough - too_long) / 2;
    (is_short(between) ? short_enough : too_long) = between;
  }
  (void)is_short(short_enough);
}

/// A pouch that hands find handy: no more than twice as deep as wide, nor as wide as deep (common
/// practice, no source). What that leaves of the remnant is cut off.
Request in_proportion(Request request) {
  base::Diagnostics ignored;
  fit_to_card(request, ignored);
  const auto sizes = unfolded_sizes(request, ignored);
  if (!sizes) return request;
  if (sizes->finished_width > 2 * sizes->depth) {
    const Length allowances = sizes->cut_width - sizes->finished_width;
    request.panel->width.value =
        base::rounded_down(2 * sizes->depth + allowances, kMark.of(request.units));
  } else if (sizes->depth > 2 * sizes->finished_width) {
    shorten(request);
  }
  return request;
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
  lying = in_proportion(std::move(lying));
  turned = in_proportion(std::move(turned));
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

#include "pouch/fold/moment.h"

#include <algorithm>
#include <utility>

#include "pouch/questions.h"

namespace pouchwright::pouch {
namespace {

using base::Length;
using pouch::Action;
using pouch::Folded;
using pouch::Interval;
using pouch::Layer;

/// Does the compartment's film look down where the card is laid in? Then the card lies under all.
bool laid_from_below(const pouch::Compartment& compartment, const Folded& laid,
                     const Interval& card) {
  bool any = false;
  for (const pouch::SpanRef wall : compartment.film) {
    const auto layer = lying(laid, laid.id(wall));
    if (!layer || !shared(layer->heights, card)) continue;
    if (layer->film_up) return false;
    any = true;
  }
  return any;
}

/// How many layers lie under a slip card: it was laid on, or under, what lay there at `laid`, and
/// goes with the outermost of that which was not turned since.
std::size_t below_card(const Interval& card, bool from_below, const Folded& laid,
                       const Folded& now) {
  std::optional<std::size_t> on_them;
  std::optional<std::size_t> under_turned;
  std::optional<std::size_t> under_them;
  std::optional<std::size_t> on_turned;
  for (std::size_t i = 0; i < now.layers().size(); ++i) {
    const auto then = lying(laid, now.layers()[i].id);
    if (!then || !shared(then->heights, card)) continue;
    if (then->film_up == now.layers()[i].film_up) {
      on_them = i + 1;
      if (!under_them) under_them = i;
    } else {
      on_turned = i + 1;
      if (!under_turned) under_turned = i;
    }
  }
  return (from_below ? under_them.value_or(on_turned.value_or(0))
                     : on_them.value_or(under_turned.value_or(0)));
}

bool holds_card(const pouch::Stage& stage, std::size_t compartment) {
  const auto& all = stage.cards_inside;
  return std::find(all.begin(), all.end(), compartment) != all.end();
}

std::vector<LyingCard> cards_at(const pouch::Pouch& pouch, std::size_t stage) {
  std::vector<LyingCard> cards;
  for (const std::size_t compartment : pouch.stages[stage].cards_inside) {
    const auto card = slip_card_of(pouch, pouch.stages[stage].operation, compartment);
    if (!card) continue;
    std::size_t first = stage;
    while (first > 0 && holds_card(pouch.stages[first - 1], compartment)) --first;
    const Folded& laid = pouch.stages[first].folded;
    const Interval heights{Length(), pouch.cards[*card].card.top};
    const bool from_below =
        laid_from_below(pouch.construction().compartments[compartment], laid, heights);
    cards.push_back({*card, below_card(heights, from_below, laid, pouch.stages[stage].folded)});
  }
  std::stable_sort(cards.begin(), cards.end(), [](const LyingCard& a, const LyingCard& b) {
    return a.layers_below < b.layers_below;
  });
  if (pouch.request.cards == pouch::CardUse::inside) return cards;
  for (std::size_t i = 0; i < pouch.cards.size(); ++i) {
    const pouch::NamedCard& card = pouch.cards[i];
    if (card.use != pouch::NamedCard::Use::shield) continue;
    if (card.operation != pouch.stages[stage].operation) continue;
    cards.push_back({i, pouch.stages[stage].folded.layers().size()});
  }
  return cards;
}

bool outer_lies(const pouch::Pouch& pouch, std::size_t stage) {
  if (!pouch.request.outer) return false;
  bool paired_at_all = false;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (operation_at(pouch, i).action() != Action::pair) continue;
    if (i <= stage) return true;
    paired_at_all = true;
  }
  return !paired_at_all;
}

/// Something is fixed to the outer before there is anything to pair it with.
bool is_outer_alone(const pouch::Pouch& pouch, std::size_t stage) {
  if (!pouch.request.outer) return false;
  return std::any_of(pouch.fixed.begin(), pouch.fixed.end(), [&](const pouch::Fixed& one) {
    return one.operation == pouch.stages[stage].operation && one.through == pouch::Through::outer &&
           !one.piece && one.caught.empty();
  });
}

/// What is clipped now is sewn or finished next.
bool is_clipped(const pouch::Pouch& pouch, std::size_t stage) {
  const auto action = [&](std::size_t i) { return operation_at(pouch, i).action(); };
  if (action(stage) != Action::pair && action(stage) != Action::fold) return false;
  std::size_t next = stage + 1;
  // A tag is clipped with what it lies on.
  while (next < pouch.stages.size() && action(next) == Action::tag) ++next;
  if (next >= pouch.stages.size()) return false;
  return action(next) == Action::sew || action(next) == Action::finish;
}

/// The panel that the stages finish while it lies apart from the others.
std::optional<std::size_t> panel_apart(const pouch::Pouch& pouch, std::size_t first,
                                       std::size_t last) {
  for (std::size_t i = first; i <= last; ++i) {
    if (operation_at(pouch, i).action() != Action::finish) return std::nullopt;
  }
  const std::size_t panel = operation_at(pouch, last).as<pouch::does::Finish>()->panel;
  if (pouch.stages[last].folded.lies(panel)) return std::nullopt;
  return panel;
}

/// As it comes to lie later, but film side up.
Folded lying_apart(const pouch::Pouch& pouch, std::size_t panel) {
  const auto laid = std::find_if(pouch.stages.begin(), pouch.stages.end(),
                                 [&](const auto& stage) { return stage.folded.lies(panel); });
  const bool rising = laid == pouch.stages.end() || laid->folded.layer({panel, 0}).rising;
  return Folded::apart(pouch.stages.front().folded.panels(), pouch.request.laminate.film, panel,
                       rising);
}

}  // namespace

std::optional<std::size_t> slip_card_of(const pouch::Pouch& pouch, std::size_t operation,
                                        std::size_t compartment) {
  const auto& operations = pouch.construction().operations;
  const auto lays_it = [&](const pouch::Operation& one) {
    const auto* lays = one.as<pouch::does::LayCard>();
    return lays != nullptr && lays->compartment == compartment;
  };
  std::size_t at = operation;
  while (at > 0 && !lays_it(operations[at])) --at;
  while (at < operations.size() && operations[at].action() != Action::press) ++at;
  for (std::size_t i = 0; i < pouch.cards.size(); ++i) {
    const pouch::NamedCard& card = pouch.cards[i];
    if (card.use != pouch::NamedCard::Use::slip || card.operation != at) continue;
    if (card.compartment == compartment) return i;
  }
  return std::nullopt;
}

std::optional<Layer> lying(const Folded& folded, pouch::SpanId id) {
  for (const Layer& layer : folded.layers()) {
    if (layer.id == id) return layer;
  }
  return std::nullopt;
}

std::vector<Turned> turned(const Folded& before, const Folded& after) {
  std::vector<Layer> all;
  for (const Layer& layer : before.layers()) {
    const auto now = lying(after, layer.id);
    if (now && now->film_up != layer.film_up) all.push_back(layer);
  }
  std::sort(all.begin(), all.end(), [](const Layer& a, const Layer& b) { return a.id < b.id; });
  std::vector<Turned> result;
  for (const Layer& layer : all) {
    const bool goes_on = !result.empty() && result.back().back().id.panel == layer.id.panel &&
                         result.back().back().id.span + 1 == layer.id.span;
    if (!goes_on) result.emplace_back();
    result.back().push_back(layer);
  }
  return result;
}

Interval extent_of(const std::vector<Layer>& layers) {
  Interval all = layers.front().heights;
  for (const Layer& layer : layers) {
    all = {std::min(all.from, layer.heights.from), std::max(all.to, layer.heights.to)};
  }
  return all;
}

Length middle(const Interval& heights) { return heights.from + base::half(heights.size()); }

std::vector<LyingStrap> straps_at_sides(const pouch::Pouch& pouch, const Folded& folded,
                                        StrapLies free_ends) {
  std::vector<LyingStrap> straps;
  for (const pouch::Fixed& fixed : pouch.fixed) {
    const pouch::Attachment& rule = pouch.rule(fixed);
    if (rule.kind != pouch::AttachmentKind::strap) continue;
    if (rule.across == pouch::Across::middle) continue;
    if (!fixed.span || !folded.lies(fixed.span->panel)) continue;
    const Length a = folded.height_of(*fixed.span, fixed.y.from);
    const Length b = folded.height_of(*fixed.span, fixed.y.to);
    Length length = fixed.width;
    for (const pouch::CutPart& part : pouch.sizes.parts) {
      if (part.piece && part.piece == rule.made_of) length = part.length;
    }
    for (const Length x : fixed.x) {
      const Interval sewn{x - base::half(fixed.width), x + base::half(fixed.width)};
      const bool left = 2 * x < pouch.sizes.cut_width;
      const bool to_the_left = left == (free_ends == StrapLies::outwards);
      const Interval lies = to_the_left ? Interval{sewn.to - length, sewn.to}
                                        : Interval{sewn.from, sewn.from + length};
      straps.push_back({fixed.attachment, lies, {std::min(a, b), std::max(a, b)}});
    }
  }
  return straps;
}

FoldMoment cut_panel(const pouch::Pouch& pouch) {
  const Folded& first = pouch.stages.front().folded;
  Length bottom;
  for (const Layer& layer : first.layers()) {
    if (layer.id.panel != 0 || !layer.rising) continue;
    bottom = first.panels()[0].spans[layer.id.span].from - layer.heights.from;
  }
  FoldMoment result{.folded = Folded(first.panels(), pouch.request.laminate.film, bottom),
                    .to_be_marked = true};
  return result;
}

FoldMoment moment(const pouch::Pouch& pouch, std::size_t first, std::size_t last) {
  FoldMoment result{.folded = pouch.stages[last].folded,
                    .outer = outer_lies(pouch, last),
                    .outer_alone = is_outer_alone(pouch, last),
                    .cards = cards_at(pouch, last),
                    .clipped = is_clipped(pouch, last)};
  result.before = first > 0 ? pouch.stages[first - 1].folded : cut_panel(pouch).folded;
  for (std::size_t i = first; i <= last; ++i)
    result.operations.push_back(pouch.stages[i].operation);
  result.straps_out = last + 1 == pouch.stages.size();
  if (const auto panel = panel_apart(pouch, first, last)) {
    result.folded = lying_apart(pouch, *panel);
    result.cards.clear();
  }
  return result;
}

}  // namespace pouchwright::pouch

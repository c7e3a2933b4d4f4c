#include "pouch/fold/moment.h"

#include <algorithm>
#include <utility>

namespace pouchwright::pouch {
namespace {

using base::Length;
using pouch::Action;
using pouch::Folded;
using pouch::Interval;
using pouch::Layer;

/// How many layers lie under the slip card at `stage`: it was laid on what lay there at `laid`.
std::size_t below_card(const pouch::Pouch& pouch, const Folded& laid, const Folded& now) {
  const Interval card{Length(), pouch.slip_card.top};
  std::size_t on_them = 0;
  std::optional<std::size_t> under_turned;
  for (std::size_t i = 0; i < now.layers().size(); ++i) {
    const auto then = lying(laid, now.layers()[i].id);
    if (!then || !shared(then->heights, card)) continue;
    if (then->film_up == now.layers()[i].film_up) on_them = i + 1;
    if (then->film_up != now.layers()[i].film_up && !under_turned) under_turned = i;
  }
  return on_them > 0 ? on_them : under_turned.value_or(0);
}

std::vector<LyingCard> cards_at(const pouch::Pouch& pouch, std::size_t stage) {
  const auto& operations = pouch.construction().operations;
  std::vector<LyingCard> cards;
  if (pouch.stages[stage].card_inside) {
    std::size_t laid = stage;
    while (laid > 0 && pouch.stages[laid - 1].card_inside) --laid;
    cards.push_back({&pouch.slip_card,
                     below_card(pouch, pouch.stages[laid].folded, pouch.stages[stage].folded)});
  }
  if (operations[pouch.stages[stage].operation].action == Action::press &&
      pouch.request.cards != pouch::CardUse::inside) {
    cards.push_back({&pouch.shield, pouch.stages[stage].folded.layers().size()});
  }
  return cards;
}

bool outer_lies(const pouch::Pouch& pouch, std::size_t stage) {
  if (!pouch.request.outer) return false;
  const auto& operations = pouch.construction().operations;
  bool paired_at_all = false;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (operations[pouch.stages[i].operation].action != Action::pair) continue;
    if (i <= stage) return true;
    paired_at_all = true;
  }
  return !paired_at_all;
}

/// Something is fixed to the outer before there is anything to pair it with.
bool is_outer_alone(const pouch::Pouch& pouch, std::size_t stage) {
  const auto& operations = pouch.construction().operations;
  const pouch::Operation& done = operations[pouch.stages[stage].operation];
  if (done.action != Action::attach || !pouch.request.outer) return false;
  return std::any_of(pouch.fixed.begin(), pouch.fixed.end(), [&](const pouch::Fixed& one) {
    return one.operation == done.id && one.through == pouch::Through::outer && one.piece.empty() &&
           one.caught.empty();
  });
}

/// What is clipped now is sewn or finished next.
bool is_clipped(const pouch::Pouch& pouch, std::size_t stage) {
  const auto& operations = pouch.construction().operations;
  const auto action = [&](std::size_t i) { return operations[pouch.stages[i].operation].action; };
  if (action(stage) != Action::pair && action(stage) != Action::fold) return false;
  if (stage + 1 >= pouch.stages.size()) return false;
  return action(stage + 1) == Action::sew || action(stage + 1) == Action::finish;
}

}  // namespace

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
    const pouch::Attachment* rule = pouch.construction().attachment(fixed.name);
    if (fixed.kind != pouch::AttachmentKind::strap || rule == nullptr) continue;
    if (rule->across == pouch::Across::middle) continue;
    const auto id = folded.find(fixed.span);
    if (!id || !folded.lies(id->panel)) continue;
    const Length a = folded.height_of(*id, fixed.y.from);
    const Length b = folded.height_of(*id, fixed.y.to);
    Length length = fixed.width;
    for (const pouch::CutPart& part : pouch.sizes.parts) {
      if (!part.panel && part.name == rule->piece) length = part.length;
    }
    for (const Length x : fixed.x) {
      const Interval sewn{x - base::half(fixed.width), x + base::half(fixed.width)};
      const bool left = 2 * x < pouch.sizes.cut_width;
      const bool to_the_left = left == (free_ends == StrapLies::outwards);
      const Interval lies = to_the_left ? Interval{sewn.to - length, sewn.to}
                                        : Interval{sewn.from, sewn.from + length};
      straps.push_back({fixed.name, lies, {std::min(a, b), std::max(a, b)}});
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
  return result;
}

}  // namespace pouchwright::pouch

#include "draw/folds/from_above.h"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include "draw/folds/cut_through.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Face;
using pouch::Folded;
using pouch::Interval;
using pouch::Layer;
using pouch::SpanId;

/// Film is shown by rows of dots, so far apart on paper.
constexpr double kDotRows = 1.5;
constexpr Stroke kDotStroke{LinePattern::dotted, 0.25};

/// All that the functions below draw from.
struct Plan {
  const Folded& folded;
  const std::vector<PlanCard>& cards;
  const PlanLook& look;

  [[nodiscard]] const Layer& layer(std::size_t index) const { return folded.layers()[index]; }
  /// A layer's raw edges, from the widest panel's left one.
  [[nodiscard]] Interval sides(std::size_t index) const {
    const Length inset = folded.panels()[layer(index).id.panel].inset;
    return {inset, look.width - inset};
  }
  [[nodiscard]] bool is_shaped(std::size_t index) const {
    return look.shaped && layer(index).id == look.shaped->span;
  }
};

// ---- What is seen ------------------------------------------------------------------------------

/// The parts of the cards that lie on more than `below` layers.
std::vector<CardPart> cards_above(const Plan& plan, std::size_t below) {
  std::vector<CardPart> parts;
  for (const PlanCard& card : plan.cards) {
    if (card.layers_below <= below) continue;
    for (const CardPart& part : parts_of(*card.card)) parts.push_back(part);
  }
  return parts;
}

/// Where cards on a layer, or on one above it, hide it at `height`.
std::vector<Interval> hidden_by_cards(const Plan& plan, std::size_t index, Length height) {
  std::vector<Interval> hidden;
  for (const CardPart& part : cards_above(plan, index)) {
    if (part.heights.from <= height && height < part.heights.to) hidden.push_back(part.x);
  }
  return hidden;
}

/// Does a layer above `index` lie over this height, more than with its end?
bool is_covered(const Plan& plan, std::size_t index, Length height) {
  const auto& layers = plan.folded.layers();
  return std::any_of(
      layers.begin() + static_cast<std::ptrdiff_t>(index) + 1, layers.end(),
      [&](const Layer& layer) { return layer.heights.from < height && height < layer.heights.to; });
}

/// A layer's heights without its shaped corners.
Interval straight_part(const Plan& plan, std::size_t index) {
  Interval heights = plan.layer(index).heights;
  if (!plan.is_shaped(index)) return heights;
  const Length size = Length::mm(plan.look.shaped->corners.size);
  if (plan.look.corners(plan.layer(index)).at_start) {
    heights.to -= size;
  } else {
    heights.from += size;
  }
  return heights;
}

/// How wide a layer is at a height: less between its shaped corners.
Interval sides_at(const Plan& plan, std::size_t index, Length height) {
  const Interval sides = plan.sides(index);
  if (!plan.is_shaped(index)) return sides;
  const Layer& layer = plan.layer(index);
  const bool upper = plan.look.corners(layer).at_start;
  const Length from_end = upper ? layer.heights.to - height : height - layer.heights.from;
  const Length off = Length::mm(cut_off(plan.look.shaped->corners, from_end.in_mm()));
  return {sides.from + off, sides.to - off};
}

/// The line across a layer at `height`, with gaps where cards hide the layer at `probe`.
Path across(const Plan& plan, std::size_t index, Length height, Length probe,
            const Interval& sides) {
  const PlanLook& look = plan.look;
  Path path;
  for (const Interval& x : without(sides, hidden_by_cards(plan, index, probe))) {
    append(path, line({look.x(x.from), look.y(height)}, {look.x(x.to), look.y(height)}));
  }
  return path;
}

// ---- Film --------------------------------------------------------------------------------------

void film_rows(Drawing& drawing, const Plan& plan, std::size_t index, const Interval& stretch,
               const Interval& seen) {
  const Length step = Length::mm(kDotRows / plan.look.scale);
  Path path;
  for (Length at = stretch.from + base::half(step); at < stretch.to; at += step) {
    const auto wide = shared(seen, sides_at(plan, index, at));
    if (wide) append(path, across(plan, index, at, at, *wide));
  }
  drawing.add_line(Group::label, "film up: " + plan.folded.name(plan.layer(index).id),
                   std::move(path), kDotStroke);
}

void draw_film(Drawing& drawing, const Plan& plan) {
  const std::vector<Length> breaks = plan.folded.breaks();
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    const Interval stretch{breaks[i], breaks[i + 1]};
    std::vector<Interval> hidden;
    for (std::size_t k = plan.folded.layers().size(); k-- > 0;) {
      if (!shared(plan.layer(k).heights, stretch)) continue;
      for (const Interval& seen : without(plan.sides(k), hidden)) {
        if (plan.folded.face_up(plan.layer(k)) != Face::film) continue;
        film_rows(drawing, plan, k, stretch, seen);
      }
      hidden.push_back(plan.sides(k));
    }
  }
}

// ---- Ends and folds ----------------------------------------------------------------------------

/// The shaped end with its corners; where a card hides it, what is seen of its straight part.
Path shaped(const Plan& plan, std::size_t index, Length height) {
  const Interval& heights = plan.layer(index).heights;
  const Length just_inside = height == heights.to ? height - Length::mm(0.001) : height;
  if (hidden_by_cards(plan, index, just_inside).empty()) {
    return end_with(plan.look.corners(plan.layer(index)),
                    plan.look.box(plan.sides(index), heights));
  }
  return across(plan, index, height, just_inside, sides_at(plan, index, height));
}

bool is_at_shaped_end(const Plan& plan, std::size_t index, Length height) {
  if (!plan.is_shaped(index)) return false;
  const Layer& layer = plan.layer(index);
  return height == (plan.look.corners(layer).at_start ? layer.heights.to : layer.heights.from);
}

void draw_raw_end(Drawing& drawing, const Plan& plan, std::size_t index, Length height) {
  const std::string& name = plan.folded.name(plan.layer(index).id);
  Path path = is_at_shaped_end(plan, index, height)
                  ? shaped(plan, index, height)
                  : across(plan, index, height, height, plan.sides(index));
  if (is_covered(plan, index, height)) {
    drawing.add_line(Group::label, "hidden end: " + name, std::move(path), kPlanHiddenStroke);
  } else {
    drawing.add_line(Group::cut, "end: " + name, std::move(path), kPlanStroke);
  }
}

/// The two lines across at a layer's ends. A fold's line is drawn with the span before it.
void draw_ends(Drawing& drawing, const Plan& plan, std::size_t index) {
  const Layer& layer = plan.layer(index);
  const Length low = layer.rising ? layer.heights.from : layer.heights.to;
  const Length high = layer.rising ? layer.heights.to : layer.heights.from;
  if (layer.id.span == 0) draw_raw_end(drawing, plan, index, low);
  if (layer.id.span + 1 == plan.folded.panels()[layer.id.panel].spans.size()) {
    draw_raw_end(drawing, plan, index, high);
    return;
  }
  const SpanId next{layer.id.panel, layer.id.span + 1};
  const auto& layers = plan.folded.layers();
  const auto found =
      std::find_if(layers.begin(), layers.end(), [&](const Layer& one) { return one.id == next; });
  const std::size_t top = std::max(index, static_cast<std::size_t>(found - layers.begin()));
  if (is_covered(plan, top, high)) return;
  const bool folded = is_folded(plan.folded, layer.id);
  // A card that ends at the line does not hide it.
  drawing.add_line(folded ? Group::cut : Group::fold,
                   "fold: " + plan.folded.name(layer.id) + " / " + plan.folded.name(next),
                   across(plan, top, high, high, plan.sides(top)),
                   folded ? kPlanStroke : kPlanFoldStroke);
}

// ---- Raw edges ---------------------------------------------------------------------------------

/// What of an edge no card hides that lies on top of all and reaches beyond it.
std::vector<Interval> seen_beside_cards(const Plan& plan, const Interval& stretch, Length x) {
  std::vector<Interval> hidden;
  for (const CardPart& part : cards_above(plan, plan.folded.layers().size() - 1)) {
    if (part.x.from < x && x < part.x.to) hidden.push_back(part.heights);
  }
  return without(stretch, std::move(hidden));
}

void draw_raw_edges(Drawing& drawing, const Plan& plan) {
  const PlanLook& look = plan.look;
  std::map<Length, std::vector<Interval>> by_inset;
  const std::size_t count = plan.folded.layers().size();
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<Interval> above;
    for (std::size_t k = i + 1; k < count; ++k) {
      if (plan.sides(k).from < plan.sides(i).from) above.push_back(plan.layer(k).heights);
    }
    for (const Interval& seen : without(straight_part(plan, i), std::move(above))) {
      by_inset[plan.sides(i).from].push_back(seen);
    }
  }
  for (auto& [inset, stretches] : by_inset) {
    for (const Interval& stretch : joined(std::move(stretches))) {
      for (const Length x : {inset, look.width - inset}) {
        for (const Interval& seen : seen_beside_cards(plan, stretch, x)) {
          drawing.add_line(Group::cut, "raw edge",
                           line({look.x(x), look.y(seen.from)}, {look.x(x), look.y(seen.to)}),
                           kPlanStroke);
        }
      }
    }
  }
}

// ---- Cards -------------------------------------------------------------------------------------

/// What other cards and the layers above leave to be seen of a card.
std::vector<CardPart> seen_of(const Plan& plan, const PlanCard& card) {
  std::vector<CardPart> seen;
  for (const CardPart& part : parts_of(*card.card)) {
    std::vector<Interval> hidden;
    for (const CardPart& other : cards_above(plan, card.layers_below)) {
      if (other.x.from <= part.x.from && part.x.to <= other.x.to) hidden.push_back(other.heights);
    }
    for (std::size_t i = card.layers_below; i < plan.folded.layers().size(); ++i) {
      hidden.push_back(plan.layer(i).heights);
    }
    for (const Interval& heights : without(part.heights, std::move(hidden))) {
      seen.push_back({part.x, heights});
    }
  }
  return seen;
}

/// The sides of a part, and what of its lower and upper edge is no inner line of the card.
Path outline_of(const PlanLook& look, const CardPart& part, const std::vector<CardPart>& parts) {
  const Box box = look.box(part.x, part.heights);
  Path path = line({box.x0, box.y0}, {box.x0, box.y1});
  append(path, line({box.x1, box.y0}, {box.x1, box.y1}));
  for (const bool upper : {false, true}) {
    const Length at = upper ? part.heights.to : part.heights.from;
    std::vector<Interval> inner;
    for (const CardPart& other : parts) {
      if ((upper ? other.heights.from : other.heights.to) == at) inner.push_back(other.x);
    }
    for (const Interval& x : without(part.x, inner)) {
      append(path, line({look.x(x.from), look.y(at)}, {look.x(x.to), look.y(at)}));
    }
  }
  return path;
}

/// Where the outline's upright edges cross a height, between two of its corners' heights.
Interval across_at(const pouch::Card& card, const Interval& heights) {
  std::vector<Length> x;
  for (std::size_t i = 0; i < card.outline.size(); ++i) {
    const pouch::Corner& a = card.outline[i];
    const pouch::Corner& b = card.outline[(i + 1) % card.outline.size()];
    if (a.x == b.x && std::min(a.y, b.y) <= heights.from && std::max(a.y, b.y) >= heights.to) {
      x.push_back(a.x);
    }
  }
  if (x.empty()) return {};
  return {*std::min_element(x.begin(), x.end()), *std::max_element(x.begin(), x.end())};
}

}  // namespace

std::vector<CardPart> parts_of(const pouch::Card& card) {
  std::vector<Length> heights;
  for (const pouch::Corner& corner : card.outline) heights.push_back(corner.y);
  std::sort(heights.begin(), heights.end());
  heights.erase(std::unique(heights.begin(), heights.end()), heights.end());
  std::vector<CardPart> parts;
  for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
    const Interval stretch{heights[i], heights[i + 1]};
    const Interval x = across_at(card, stretch);
    if (x.from < x.to) parts.push_back({x, stretch});
  }
  return parts;
}

double PlanLook::x(Length from_left) const { return origin.x + from_left.in_mm() * scale; }
double PlanLook::y(Length height) const { return origin.y - height.in_mm() * scale; }
Box PlanLook::box(const Interval& across, const Interval& heights) const {
  return {x(across.from), y(heights.to), x(across.to), y(heights.from)};
}

EndCorners PlanLook::corners(const Layer& layer) const {
  EndCorners result = shaped->corners;
  result.size *= scale;
  result.at_start = shaped->corners.at_start != layer.rising;
  return result;
}

std::optional<ShapedEnd> shaped_end(const pouch::Pouch& pouch) {
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    const EndCorners corners = corners_of(pouch, part);
    if (corners.size <= 0) continue;
    const std::size_t last = pouch.sizes.panels[*part.panel].spans.size() - 1;
    return ShapedEnd{{*part.panel, corners.at_start ? 0 : last}, corners};
  }
  return std::nullopt;
}

void draw_plan(Drawing& drawing, const Folded& folded, const std::vector<PlanCard>& cards,
               const PlanLook& look) {
  const Plan plan{folded, cards, look};
  if (look.film) draw_film(drawing, plan);
  for (std::size_t i = 0; i < folded.layers().size(); ++i) draw_ends(drawing, plan, i);
  draw_raw_edges(drawing, plan);
  for (const PlanCard& card : cards) {
    const std::vector<CardPart> seen = seen_of(plan, card);
    for (const CardPart& part : seen) {
      drawing.add_line(Group::label, "card", outline_of(look, part, seen), kPlanCardStroke);
    }
  }
}

}  // namespace pouchwright::draw

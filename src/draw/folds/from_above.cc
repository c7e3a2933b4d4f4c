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

class PlanDrawer {
 public:
  PlanDrawer(Drawing& drawing, const Folded& folded, const std::vector<PlanCard>& cards,
             const PlanLook& look)
      : drawing_(drawing), folded_(folded), cards_(cards), look_(look) {}

  void draw() {
    if (look_.film) film();
    for (std::size_t i = 0; i < folded_.layers().size(); ++i) ends_of(i);
    raw_edges();
    for (const PlanCard& card : cards_) draw_card(card);
  }

 private:
  void add(Group group, std::string name, Path path, Stroke stroke) {
    drawing_.add_line(group, std::move(name), std::move(path), stroke);
  }

  /// Does a layer above `index` lie over this height, more than with its end?
  [[nodiscard]] bool covered(std::size_t index, Length height) const {
    const auto& layers = folded_.layers();
    return std::any_of(layers.begin() + static_cast<std::ptrdiff_t>(index) + 1, layers.end(),
                       [&](const Layer& layer) {
                         return layer.heights.from < height && height < layer.heights.to;
                       });
  }

  /// Where the cards on `index`, or on a layer above it, hide that layer at `height`.
  [[nodiscard]] std::vector<Interval> hidden_by_cards(std::size_t index, Length height) const {
    std::vector<Interval> holes;
    for (const PlanCard& card : cards_) {
      if (card.layers_below <= index) continue;
      for (const CardPart& part : parts_of(*card.card)) {
        if (part.heights.from <= height && height < part.heights.to) holes.push_back(part.x);
      }
    }
    return holes;
  }

  [[nodiscard]] bool is_shaped(std::size_t index) const {
    return look_.shaped && folded_.layers()[index].id == look_.shaped->span;
  }

  /// A layer's heights without its shaped corners.
  [[nodiscard]] Interval straight_part(std::size_t index) const {
    Interval heights = folded_.layers()[index].heights;
    if (!is_shaped(index)) return heights;
    const Length size = Length::mm(look_.shaped->corners.size);
    if (look_.corners(folded_.layers()[index]).at_start) {
      heights.to -= size;
    } else {
      heights.from += size;
    }
    return heights;
  }

  /// How wide a layer is at a height: less between its shaped corners.
  [[nodiscard]] Interval sides_at(std::size_t index, Length height) const {
    Interval sides = sides_of(index);
    if (!is_shaped(index)) return sides;
    const Layer& layer = folded_.layers()[index];
    const bool upper = look_.corners(layer).at_start;
    const Length from_end = upper ? layer.heights.to - height : height - layer.heights.from;
    const Length off = Length::mm(cut_off(look_.shaped->corners, from_end.in_mm()));
    return {sides.from + off, sides.to - off};
  }

  /// A layer's raw edges, from the widest panel's left one.
  [[nodiscard]] Interval sides_of(std::size_t index) const {
    const Length inset = folded_.panels()[folded_.layers()[index].id.panel].inset;
    return {inset, look_.width - inset};
  }

  [[nodiscard]] Path across(std::size_t index, Length height, Length probe) const {
    return across(index, height, probe, sides_of(index));
  }
  [[nodiscard]] Path across(std::size_t index, Length height, Length probe,
                            const Interval& sides) const {
    Path path;
    for (const Interval& x : without(sides, hidden_by_cards(index, probe))) {
      for (const Step& step :
           line({look_.x(x.from), look_.y(height)}, {look_.x(x.to), look_.y(height)})) {
        path.push_back(step);
      }
    }
    return path;
  }

  void film() {
    const std::vector<Length> breaks = folded_.breaks();
    for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
      const Interval stretch{breaks[i], breaks[i + 1]};
      const auto& layers = folded_.layers();
      std::vector<Interval> hidden;
      for (std::size_t k = layers.size(); k-- > 0;) {
        if (!shared(layers[k].heights, stretch)) continue;
        for (const Interval& seen : without(sides_of(k), hidden)) {
          if (folded_.face_up(layers[k]) == Face::film) film_rows(k, stretch, seen);
        }
        hidden.push_back(sides_of(k));
      }
    }
  }

  void film_rows(std::size_t index, const Interval& stretch, const Interval& seen) {
    const Length step = Length::mm(kDotRows / look_.scale);
    Path path;
    for (Length at = stretch.from + base::half(step); at < stretch.to; at += step) {
      const auto wide = shared(seen, sides_at(index, at));
      if (!wide) continue;
      for (const Step& part : across(index, at, at, *wide)) path.push_back(part);
    }
    add(Group::label, "film up: " + folded_.name(folded_.layers()[index].id), std::move(path),
        kDotStroke);
  }

  /// The two lines across at a layer's ends. A fold's line is drawn with the span before it.
  void ends_of(std::size_t index) {
    const Layer& layer = folded_.layers()[index];
    const auto& spans = folded_.panels()[layer.id.panel].spans;
    const Length low = layer.rising ? layer.heights.from : layer.heights.to;
    const Length high = layer.rising ? layer.heights.to : layer.heights.from;
    const std::string& name = folded_.name(layer.id);
    if (layer.id.span == 0) raw_end(index, low, name);
    if (layer.id.span + 1 == spans.size()) {
      raw_end(index, high, name);
      return;
    }
    const SpanId next{layer.id.panel, layer.id.span + 1};
    const bool folded = is_folded(folded_, layer.id);
    const std::size_t top = std::max(index, index_of(next));
    if (covered(top, high)) return;
    // A card that ends at the line does not hide it.
    const std::string fold = "fold: " + name + " / " + folded_.name(next);
    add(folded ? Group::cut : Group::fold, fold, across(top, high, high),
        folded ? kPlanStroke : kPlanFoldStroke);
  }

  void raw_end(std::size_t index, Length height, const std::string& name) {
    Path path = is_shaped(index) && is_at_shaped_end(index, height) ? shaped(index, height)
                                                                    : across(index, height, height);
    if (covered(index, height)) {
      add(Group::label, "hidden end: " + name, std::move(path), kPlanHiddenStroke);
    } else {
      add(Group::cut, "end: " + name, std::move(path), kPlanStroke);
    }
  }

  [[nodiscard]] bool is_at_shaped_end(std::size_t index, Length height) const {
    const Layer& layer = folded_.layers()[index];
    return height == (look_.corners(layer).at_start ? layer.heights.to : layer.heights.from);
  }

  /// The shaped end with its corners; where a card hides it, what is seen of its straight part.
  [[nodiscard]] Path shaped(std::size_t index, Length height) const {
    const Layer& layer = folded_.layers()[index];
    const Interval heights = layer.heights;
    const bool upper = height == heights.to;
    const Length just_inside = upper ? height - Length::mm(0.001) : height;
    if (hidden_by_cards(index, just_inside).empty()) {
      return end_with(look_.corners(layer), look_.box(sides_of(index), heights));
    }
    return across(index, height, just_inside, sides_at(index, height));
  }

  [[nodiscard]] std::size_t index_of(SpanId id) const {
    const auto& layers = folded_.layers();
    const auto found = std::find_if(layers.begin(), layers.end(),
                                    [&](const Layer& layer) { return layer.id == id; });
    return static_cast<std::size_t>(found - layers.begin());
  }

  void raw_edges() {
    std::map<Length, std::vector<Interval>> heights;
    const auto& layers = folded_.layers();
    for (std::size_t i = 0; i < layers.size(); ++i) {
      std::vector<Interval> above;
      for (std::size_t k = i + 1; k < layers.size(); ++k) {
        if (sides_of(k).from < sides_of(i).from) above.push_back(layers[k].heights);
      }
      for (const Interval& seen : without(straight_part(i), std::move(above))) {
        heights[sides_of(i).from].push_back(seen);
      }
    }
    for (auto& [inset, stretches] : heights) raw_edges_at(inset, joined(std::move(stretches)));
  }

  void raw_edges_at(Length inset, const std::vector<Interval>& stretches) {
    for (const Interval& part : stretches) {
      for (const Length x : {inset, look_.width - inset}) {
        for (const Interval& seen : without(part, under_cards(x))) {
          add(Group::cut, "raw edge",
              line({look_.x(x), look_.y(seen.from)}, {look_.x(x), look_.y(seen.to)}), kPlanStroke);
        }
      }
    }
  }

  /// Heights at which a card on top of all reaches beyond an edge.
  [[nodiscard]] std::vector<Interval> under_cards(Length x) const {
    std::vector<Interval> hidden;
    for (const PlanCard& card : cards_) {
      if (card.layers_below < folded_.layers().size()) continue;
      for (const CardPart& part : parts_of(*card.card)) {
        if (part.x.from < x && x < part.x.to) hidden.push_back(part.heights);
      }
    }
    return hidden;
  }

  /// Heights at which a card that lies on `card` covers that stretch of it.
  [[nodiscard]] std::vector<Interval> under_other_cards(const PlanCard& card,
                                                        const Interval& x) const {
    std::vector<Interval> hidden;
    for (const PlanCard& other : cards_) {
      if (other.layers_below <= card.layers_below) continue;
      for (const CardPart& part : parts_of(*other.card)) {
        if (part.x.from <= x.from && x.to <= part.x.to) hidden.push_back(part.heights);
      }
    }
    return hidden;
  }

  /// What layers above leave to be seen of a card.
  void draw_card(const PlanCard& card) {
    std::vector<Interval> covers;
    for (std::size_t i = card.layers_below; i < folded_.layers().size(); ++i) {
      covers.push_back(folded_.layers()[i].heights);
    }
    std::vector<CardPart> seen;
    for (const CardPart& part : parts_of(*card.card)) {
      std::vector<Interval> hidden = under_other_cards(card, part.x);
      hidden.insert(hidden.end(), covers.begin(), covers.end());
      for (const Interval& heights : without(part.heights, std::move(hidden))) {
        seen.push_back({part.x, heights});
      }
    }
    for (std::size_t i = 0; i < seen.size(); ++i) card_part(seen, i);
  }

  /// The sides of a part, and what of its lower and upper edge is no inner line of the card.
  void card_part(const std::vector<CardPart>& parts, std::size_t index) {
    const CardPart& part = parts[index];
    const Box box = look_.box(part.x, part.heights);
    Path path = line({box.x0, box.y0}, {box.x0, box.y1});
    const auto append = [&path](const Path& more) {
      path.insert(path.end(), more.begin(), more.end());
    };
    append(line({box.x1, box.y0}, {box.x1, box.y1}));
    for (const bool upper : {false, true}) {
      const Length at = upper ? part.heights.to : part.heights.from;
      std::vector<Interval> inner;
      for (const CardPart& other : parts) {
        if ((upper ? other.heights.from : other.heights.to) == at) inner.push_back(other.x);
      }
      for (const Interval& x : without(part.x, inner)) {
        append(line({look_.x(x.from), look_.y(at)}, {look_.x(x.to), look_.y(at)}));
      }
    }
    add(Group::label, "card", std::move(path), kPlanCardStroke);
  }

  Drawing& drawing_;
  const Folded& folded_;
  const std::vector<PlanCard>& cards_;
  const PlanLook& look_;
};

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
  PlanDrawer(drawing, folded, cards, look).draw();
}

}  // namespace pouchwright::draw

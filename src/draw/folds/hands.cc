#include "draw/folds/hands.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "draw/folds/from_above.h"
#include "draw/views/on_view.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using ink::Facing;
using pouch::Layer;

/// So much of a hand lies on what it holds.
constexpr double kOver = 3;
/// A pouch that is drawn narrower than this would be all hands.
constexpr double kNarrowestView = 16;
/// Where along a part it is held: near its free end if that can be.
constexpr std::array kShares = {0.85, 0.7, 1.0, 0.55, 0.4};
/// The icon's corners are white.
constexpr double kWhiteCorner = 0.6;

/// Where a part may be held: the face that must be seen there, and points of both its side edges.
struct Grip {
  std::string face;
  Point left, right;
};
using Grips = std::vector<Grip>;

Length share_of(const pouch::Interval& heights, double share) {
  return heights.from + Length::mm(share * heights.size().in_mm());
}

Grip grip_on(const FoldViews& views, const Layer& layer, Length height) {
  const pouch::Folded& folded = views.view->pose.folded();
  const Length inset = folded.panels()[layer.id.panel].inset;
  return {folded.name(layer.id), views.view->on_paper(layer.id, inset, height),
          views.view->on_paper(layer.id, views.right() - inset, height)};
}

/// By its free end, then further in.
Grips grips_of_turned(const FoldViews& views) {
  const Turning& turning = *views.view->pose.look().turning;
  const pouch::Folded& folded = views.view->pose.folded();
  std::vector<Layer> parts;
  for (const pouch::SpanId id : turning.spans) parts.push_back(folded.layer(id));
  const pouch::Interval all = extent_of(parts);
  const bool is_above = all.from >= turning.line;
  Grips grips;
  for (const double share : kShares) {
    const Length height = share_of(all, is_above ? share : 1 - share);
    for (const Layer& part : parts) {
      const bool there = part.heights.from <= height && height <= part.heights.to;
      if (there) grips.push_back(grip_on(views, part, height));
    }
  }
  return grips;
}

/// What lies still, from the top layer down.
Grips grips_of_lying(const FoldViews& views) {
  Grips grips;
  const pouch::Folded& folded = views.view->pose.folded();
  for (auto layer = folded.layers().rbegin(); layer != folded.layers().rend(); ++layer) {
    if (views.view->pose.turns(layer->id)) continue;
    for (const double share : {0.5, 0.3, 0.7, 0.15, 0.85}) {
      grips.push_back(grip_on(views, *layer, share_of(layer->heights, share)));
    }
  }
  return grips;
}

/// The top bar of a card.
Grips grips_of_card(const FoldViews& views, std::size_t card) {
  Grips grips;
  for (const PlacedCard& placed : views.view->cards) {
    if (placed.card != card) continue;
    const CardPart bar = parts_of(views.pouch->cards[card].card).back();
    for (const double share : {0.5, 0.7, 0.85}) {
      const double y = share_of(bar.heights, share).in_mm() + placed.out;
      const auto at = [&](Length x) {
        return views.view->projection.on_paper({x.in_mm(), y, placed.z});
      };
      grips.push_back({face_of_card(*views.pouch, card), at(bar.x.from), at(bar.x.to)});
    }
  }
  return grips;
}

/// What both hands do.
struct Work {
  Grips moved;
  Grips still;
};

std::optional<Work> work_of(const FoldViews& views) {
  for (const std::size_t index : views.moment->operations) {
    const pouch::Operation& done = views.pouch->operation(index);
    if (done.as<pouch::does::Fold>() && views.view->pose.look().turning) {
      return Work{grips_of_turned(views), grips_of_lying(views)};
    }
    if (const auto* lays = done.as<pouch::does::LayCard>()) {
      const auto card = slip_card_of(*views.pouch, index, lays->compartment);
      if (!card) continue;
      return Work{grips_of_card(views, *card), grips_of_card(views, *card)};
    }
    if (const auto* takes = done.as<pouch::does::TakeCard>()) {
      const auto card = slip_card_of(*views.pouch, index, takes->compartment);
      if (!card) continue;
      return Work{grips_of_card(views, *card), grips_of_lying(views)};
    }
  }
  return std::nullopt;
}

/// Finds places that no word and no mark takes.
class Hands {
 public:
  Hands(const Drawing& drawing, std::size_t marks, const View& view, const TextMeasure& measure)
      : view_(view), placer_(measure) {
    for (std::size_t i = marks; i < drawing.items.size(); ++i) {
      const auto* shape = std::get_if<Shape>(&drawing.items[i]);
      if (shape != nullptr && shape->fill == Fill::none) {
        placer_.take(shape->path, shape->stroke ? shape->stroke->width : 0);
      } else {
        placer_.take(bounds(drawing.items[i], measure));
      }
    }
  }

  /// The first place where a hand that comes from one side can hold.
  [[nodiscard]] std::optional<Box> place(const Grips& grips, Facing facing) const {
    for (const Grip& grip : grips) {
      const bool from_left = facing == Facing::right;
      const Point edge = from_left ? grip.left : grip.right;
      const double x0 = from_left ? edge.x + kOver - kHandSize : edge.x - kOver;
      const Box box{x0, edge.y - kHandSize / 2, x0 + kHandSize, edge.y + kHandSize / 2};
      const double inside = from_left ? kOver * 0.7 : -kOver * 0.7;
      const ViewFace* held = seen_at(view_, {edge.x + inside, edge.y});
      if (held == nullptr || held->name != grip.face) continue;
      if (placer_.is_free(grown(box, -kWhiteCorner)) && lies_on(box, grip.face)) return box;
    }
    return std::nullopt;
  }

  void take(const Box& box) { placer_.take(box); }

 private:
  /// Beside what it holds there is little but the table.
  [[nodiscard]] bool lies_on(const Box& box, const std::string& face) const {
    constexpr int kSteps = 4;
    constexpr int kMostOthers = 6;  // of 25 points
    int others = 0;
    const Box own = grown(box, -kWhiteCorner);
    for (int i = 0; i <= kSteps; ++i) {
      for (int k = 0; k <= kSteps; ++k) {
        const ViewFace* here =
            seen_at(view_, {own.x0 + own.width() * i / kSteps, own.y0 + own.height() * k / kSteps});
        if (here != nullptr && here->name != face) ++others;
      }
    }
    return others <= kMostOthers;
  }

  const View& view_;
  LabelPlacer placer_;
};

struct PlacedHand {
  Box box;
  Facing facing;
};

/// Of the two ways to share the work between the hands the one in which more of them find room; one
/// hand alone is the one that moves something.
std::vector<PlacedHand> placed_hands(const Work& work, const Hands& free) {
  std::vector<PlacedHand> best;
  for (const Facing mover : {Facing::right, Facing::left}) {
    const Facing keeper = mover == Facing::right ? Facing::left : Facing::right;
    const auto moves = free.place(work.moved, mover);
    if (!moves) continue;
    std::vector<PlacedHand> made{{*moves, mover}};
    Hands rest = free;
    rest.take(*moves);
    if (const auto keeps = rest.place(work.still, keeper)) made.push_back({*keeps, keeper});
    if (made.size() > best.size()) best = std::move(made);
  }
  return best;
}

}  // namespace

void draw_hands(Drawing& drawing, std::size_t marks, const FoldViews& views, const Icons& icons,
                const TextMeasure& measure) {
  if (views.right().in_mm() * views.view->projection.scale() < kNarrowestView) return;
  const auto work = work_of(views);
  if (!work) return;
  const Hands free(drawing, marks, *views.view, measure);
  for (const PlacedHand& one : placed_hands(*work, free)) {
    std::vector<Shape> hand = icon(icons, ink::Icon::hand, one.box, one.facing);
    for (Shape& shape : hand) shape.name = "hand";
    drawing.add(std::move(hand));
  }
}

}  // namespace pouchwright::draw

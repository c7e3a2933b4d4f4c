#include "draw/folds/part_names.h"

#include <algorithm>
#include <array>
#include <string>
#include <utility>
#include <vector>

#include "draw/folds/from_above.h"
#include "draw/views/on_view.h"
#include "ink/canvas.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;

/// A name stands in the middle of its part, else a little to one side of it.
constexpr std::array kShares = {0.5, 0.35, 0.65, 0.22};

/// A part that could be named, by the face that must be seen there.
struct PartName {
  std::string face;
  std::string words;
  std::vector<Point> places;  ///< its middle, and where else it may stand
  double size = 0;            ///< how much of it there is: its height on the panel, mm
};

std::vector<PartName> parts_to_name(const FoldViews& views, const base::Voice& words) {
  std::vector<PartName> parts;
  const View& view = *views.view;
  for (const PlacedCard& placed : view.cards) {
    const CardPart bar = parts_of(views.pouch->cards[placed.card].card).back();
    std::vector<Point> places;
    for (const double share : kShares) {
      const double x = bar.x.from.in_mm() + share * bar.x.size().in_mm();
      const double y = middle(bar.heights).in_mm() + placed.out;
      places.push_back(view.projection.on_paper({x, y, placed.z}));
    }
    parts.push_back({face_of_card(*views.pouch, placed.card),
                     card_name(*views.pouch, placed.card, words), std::move(places)});
  }
  const pouch::Folded& folded = view.pose.folded();
  for (const pouch::Layer& layer : folded.layers()) {
    std::vector<Point> places;
    for (const double share : kShares) {
      const Length height = layer.heights.from + Length::mm(share * layer.heights.size().in_mm());
      places.push_back(view.on_paper(layer.id, views.centre(), height));
    }
    parts.push_back({folded.name(layer.id), tell::span_name(folded.name(layer.id), words),
                     std::move(places), layer.heights.size().in_mm()});
  }
  return parts;
}

/// Lines of words about a point, with their ground.
struct Placed {
  std::vector<Text> lines;
  Box box;
};
Placed placed(const std::vector<std::string>& words, Point at, const TextMeasure& measure) {
  Placed made;
  const TextSize size = measure.measure("x", kSmallestSize, Weight::regular);
  const double step = size.ascent + size.descent;
  double y = at.y - step * (static_cast<double>(words.size()) - 1) / 2;
  for (const std::string& one : words) {
    made.lines.push_back(centred_on(label(one, kSmallestSize), {at.x, y}, measure));
    const Box ink = grown(bounds(made.lines.back(), measure), kClearance);
    made.box = made.lines.size() == 1 ? ink : united(made.box, ink);
    y += step;
  }
  return made;
}

/// The lines and words from an item on, to keep names off them.
LabelPlacer taken_from(const Drawing& drawing, std::size_t first, const TextMeasure& measure) {
  LabelPlacer placer(measure);
  for (std::size_t i = first; i < drawing.items.size(); ++i) {
    const auto* shape = std::get_if<Shape>(&drawing.items[i]);
    if (shape != nullptr && shape->fill == Fill::none) {
      placer.take(shape->path, shape->stroke ? shape->stroke->width : 0);
    } else {
      placer.take(bounds(drawing.items[i], measure));
    }
  }
  return placer;
}

/// The face that is seen all over the box, if it is one and called so.
const ViewFace* ground_of(const View& view, const std::string& face, const Box& box) {
  const ViewFace* ground = seen_at(view, middle(box));
  if (ground == nullptr || ground->name != face) return nullptr;
  for (const Point at : {Point{box.x0, box.y0}, Point{box.x1, box.y0}, Point{box.x1, box.y1},
                         Point{box.x0, box.y1}}) {
    const ViewFace* here = seen_at(view, at);
    if (here == nullptr || here->name != face) return nullptr;
  }
  return ground;
}

void add_words(Drawing& drawing, const Placed& words, Skin skin) {
  drawing.add(Shape{.group = Group::label,
                    .path = rectangle(words.box),
                    .stroke = std::nullopt,
                    .fill = fill_of(skin),
                    .name = "ground"});
  for (const Text& line : words.lines) drawing.add(line);
}

/// Which of the parts shows the most film in its middle.
const PartName* film_part(const View& view, const std::vector<PartName>& parts) {
  const PartName* most = nullptr;
  for (const PartName& part : parts) {
    const ViewFace* face = seen_at(view, part.places.front());
    if (face == nullptr || face->name != part.face) continue;
    if (seen(*face, view.projection) != Skin::film) continue;
    if (most == nullptr || part.size > most->size) most = &part;
  }
  return most;
}

}  // namespace

std::string short_card_name(const pouch::Pouch& pouch, std::size_t card, const base::Voice& words) {
  const pouch::NamedCard& named = pouch.cards[card];
  if (named.card.is_own) return words.say("drawing-own-card");
  return words.say(named.use == pouch::NamedCard::Use::shield ? "drawing-shield"
                                                              : "drawing-slip-card");
}

std::string card_name(const pouch::Pouch& pouch, std::size_t card, const base::Voice& words) {
  const pouch::NamedCard& named = pouch.cards[card];
  const auto& compartments = pouch.construction().compartments;
  const bool is_shield = named.use == pouch::NamedCard::Use::shield;
  if (named.card.is_own || is_shield || compartments.size() < 2) {
    return short_card_name(pouch, card, words);
  }
  return words.say({"drawing-slip-card-of",
                    {{"compartment", tell::pocket_name(pouch, named.compartment, words)}}});
}

void name_parts(Drawing& drawing, std::size_t marks, const FoldViews& views,
                const base::Voice& words, const TextMeasure& measure) {
  const View& view = *views.view;
  const std::vector<PartName> parts = parts_to_name(views, words);
  const PartName* film = film_part(view, parts);
  LabelPlacer placer = taken_from(drawing, marks, measure);
  for (const PartName& part : parts) {
    std::vector<std::vector<std::string>> ways{{part.words}};
    if (&part == film) ways.insert(ways.begin(), {part.words, words.say("view-film-side")});
    const auto words_placed = [&] {
      for (const std::vector<std::string>& way : ways) {
        for (const Point at : part.places) {
          const Placed made = placed(way, at, measure);
          const ViewFace* ground = ground_of(view, part.face, made.box);
          if (ground == nullptr || !placer.is_free(made.box)) continue;
          add_words(drawing, made, seen(*ground, view.projection));
          placer.take(made.box);
          return;
        }
      }
    };
    words_placed();
  }
}

}  // namespace pouchwright::draw

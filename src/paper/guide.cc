#include "paper/guide.h"

#include <algorithm>
#include <cmath>

#include "base/length.h"

namespace pouchwright::paper {
namespace {

using ink::Box;
using ink::Frame;
using ink::Group;
using ink::Item;
using ink::Path;
using ink::Point;
using ink::Shape;
using ink::Stroke;
using ink::Text;
using ink::Weight;

constexpr double kSize = ink::kSmallestSize;
constexpr double kLine = 1.3 * kSize;  ///< from baseline to baseline
constexpr double kPadding = 1;         ///< mm inside a block's edge
constexpr double kParagraph = 0.8;     ///< mm between paragraphs
constexpr double kMapHeight = 38;      ///< mm at most, where the names of the cells allow it
constexpr double kMapApart = 4;        ///< mm between the drawings of a map
constexpr Stroke kCellStroke{ink::LinePattern::continuous, 0.25};
constexpr Stroke kDroppedStroke{ink::LinePattern::dotted, 0.25};
constexpr Stroke kPictureStroke{ink::LinePattern::continuous, 0.13};

Text text(std::string words, Point at, Weight weight = Weight::regular) {
  return {.group = Group::label,
          .words = std::move(words),
          .at = at,
          .size = kSize,
          .anchor = ink::Anchor::start,
          .weight = weight};
}

/// A drawing's place on the map.
class Picture {
 public:
  Picture(const ink::Drawing& drawing, int turn_deg, double scale, Point at)
      : as_window_{0, drawing.extent, turn_deg, at, {}, 0, 0}, scale_(scale) {}

  [[nodiscard]] Point on_map(Point canvas) const {
    return on_paper(as_window_, {scale_, scale_}, canvas);
  }

  [[nodiscard]] Box on_map(const Box& box) const {
    const Point a = on_map(Point{box.x0, box.y0});
    const Point b = on_map(Point{box.x1, box.y1});
    return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
  }

  [[nodiscard]] Path on_map(Path path) const {
    for (ink::Step& step : path) {
      step.to = on_map(step.to);
      step.c1 = on_map(step.c1);
      step.c2 = on_map(step.c2);
    }
    return path;
  }

 private:
  Placement as_window_;  ///< the drawing as a whole, laid on the map as a window on a page
  double scale_;
};

int turn_of(const Plan& plan, std::size_t drawing) {
  for (const Window& window : plan.windows) {
    if (window.placement.drawing == drawing) return window.placement.turn_deg;
  }
  return 0;
}

Point size_of(const ink::Drawing& drawing, int turn_deg) {
  const Point size{drawing.extent.width(), drawing.extent.height()};
  return turn_deg == 0 ? size : Point{size.y, size.x};
}

/// The drawings' sizes side by side, at full scale and without the gaps between them.
Point size_of_all(const Pages& pages, const Plan& plan) {
  Point all;
  for (std::size_t k = 0; k < pages.drawings.size(); ++k) {
    const Point size = size_of(pages.drawings[k], turn_of(plan, k));
    all = {all.x + size.x, std::max(all.y, size.y)};
  }
  return all;
}

/// A window's own part of the canvas, up to the middle of what it shares with its neighbours. On
/// the map cells lie side by side.
Box own_part(const Placement& cell, const ink::Drawing& drawing, double overlap) {
  const Box& window = cell.window;
  const Box& extent = drawing.extent;
  const double half = overlap / 2;
  return {window.x0 > extent.x0 ? window.x0 + half : window.x0,
          window.y0 > extent.y0 ? window.y0 + half : window.y0,
          window.x1 < extent.x1 ? window.x1 - half : window.x1,
          window.y1 < extent.y1 ? window.y1 - half : window.y1};
}

/// Everything on a map at one scale.
class MapMaker {
 public:
  MapMaker(const Pages& pages, const Plan& plan, double scale, const ink::TextMeasure& measure)
      : pages_(pages), plan_(plan), measure_(measure) {
    Point at{kPadding, kPadding};
    for (std::size_t k = 0; k < pages.drawings.size(); ++k) {
      const int turn_deg = turn_of(plan, k);
      const Point size = size_of(pages.drawings[k], turn_deg);
      pictures_.emplace_back(pages.drawings[k], turn_deg, scale, at);
      at.x += scale * size.x + kMapApart;
      size_ = {at.x - kMapApart + kPadding, std::max(size_.y, scale * size.y + 2 * kPadding)};
    }
  }

  [[nodiscard]] Frame map() && {
    for (std::size_t k = 0; k < pictures_.size(); ++k) add_outlines(k);
    for (const Window& window : plan_.windows) add_cell(window.placement, kCellStroke);
    for (const Placement& dropped : plan_.dropped) {
      add_cell(dropped, kDroppedStroke);
      add_cross(dropped);
    }
    return {std::move(items_), {0, 0, size_.x, size_.y}};
  }

 private:
  void add(Path path, const Stroke& stroke) {
    items_.emplace_back(Shape{.group = Group::label, .path = std::move(path), .stroke = stroke});
  }

  void add_outlines(std::size_t k) {
    for (const Item& item : pages_.drawings[k].items) {
      const auto* shape = std::get_if<Shape>(&item);
      if (shape == nullptr || shape->group != Group::cut) continue;
      add(pictures_[k].on_map(shape->path), kPictureStroke);
    }
  }

  [[nodiscard]] Box cell_box(const Placement& cell) const {
    return pictures_[cell.drawing].on_map(
        own_part(cell, pages_.drawings[cell.drawing], plan_.sheet.overlap));
  }

  void add_cell(const Placement& cell, const Stroke& stroke) {
    const Box box = cell_box(cell);
    add(ink::rectangle(box), stroke);
    const auto size = measure_.measure(cell.cell, kSize, Weight::regular);
    // Where even the widest map is too small for names, row and column are counted on it.
    if (size.width > box.width() || size.ascent + size.descent > box.height()) return;
    items_.emplace_back(text(cell.cell, {(box.x0 + box.x1 - size.width) / 2,
                                         (box.y0 + box.y1 + size.ascent - size.descent) / 2}));
  }

  void add_cross(const Placement& cell) {
    const Box box = cell_box(cell);
    add(ink::line({box.x0, box.y0}, {box.x1, box.y1}), kDroppedStroke);
    add(ink::line({box.x0, box.y1}, {box.x1, box.y0}), kDroppedStroke);
  }

  const Pages& pages_;
  const Plan& plan_;
  const ink::TextMeasure& measure_;
  std::vector<Picture> pictures_;
  std::vector<Item> items_;
  Point size_;
};

/// The scale at which each cell has room for its name.
double scale_for_names(const Pages& pages, const Plan& plan, const ink::TextMeasure& measure) {
  double scale = 0;
  const auto include = [&](const Placement& cell) {
    const auto name = measure.measure(cell.cell, kSize, Weight::regular);
    const Box part = own_part(cell, pages.drawings[cell.drawing], plan.sheet.overlap);
    const bool turned = cell.turn_deg != 0;
    const double across = turned ? part.height() : part.width();
    const double down = turned ? part.width() : part.height();
    scale = std::max({scale, (name.width + 1) / across, (name.ascent + name.descent + 1) / down});
  };
  for (const Window& window : plan.windows) include(window.placement);
  for (const Placement& dropped : plan.dropped) include(dropped);
  return scale;
}

}  // namespace

JoinEdges edges_to_join(const Plan& plan) {
  JoinEdges edges;
  for (const Join& join : plan.joins) {
    (join.across == Across::page ? edges.right : edges.below) = true;
  }
  return edges;
}

std::vector<Note> notes_of(const PageSetup& setup, JoinEdges edges, const base::Voice& words) {
  const base::Message::Values square = {{"across", base::exact(setup.printed_across)},
                                        {"down", base::exact(setup.printed_down)}};
  Note print{words.say("guide-print"), {words.say("guide-full-size"), words.say("guide-measure")}};
  print.paragraphs.push_back(is_corrected(setup) ? words.say({"guide-corrected", square})
                                                 : words.say("guide-correct"));
  std::vector<Note> notes = {std::move(print)};
  if (edges.right || edges.below) {
    const char* where = !edges.right  ? "guide-edge-below"
                        : edges.below ? "guide-edges-both"
                                      : "guide-edge-right";
    const char* how = setup.overlap > base::Length{} ? "guide-trim-overlap" : "guide-trim-butt";
    Note join{words.say("guide-join"), {words.say({how, {{"edges", base::Message(where)}}})}};
    if (edges.right && edges.below) join.paragraphs.push_back(words.say("guide-order"));
    notes.push_back(std::move(join));
  }
  return notes;
}

Frame block_of(const Note& note, double width, const ink::TextMeasure& measure) {
  const double room = width - 2 * kPadding;
  Frame block;
  double y = 0;
  const auto add = [&](const std::string& words, Weight weight) {
    if (words.empty()) return;
    const auto size = measure.measure(words, kSize, weight);
    if (block.items.empty()) y = kPadding + size.ascent;
    y = block.write_lines(words, {kPadding, y}, room, {.step = kLine, .weight = weight}, measure);
    block.box.y1 = y - kLine + size.descent + kPadding;
  };
  add(note.heading, Weight::bold);
  for (const std::string& paragraph : note.paragraphs) {
    if (!block.items.empty()) y += kParagraph;
    add(paragraph, Weight::regular);
  }
  for (const Item& item : block.items) {
    block.box.x1 = std::max(block.box.x1, bounds(item, measure).x1 + kPadding);
  }
  return block;
}

Frame map_of(const Pages& pages, const Plan& plan, double width, const base::Voice& words,
             const ink::TextMeasure& measure) {
  Note caption{words.say("map-title"), {}};
  if (!plan.dropped.empty()) caption.paragraphs.push_back(words.say("map-dropped"));
  Frame block = block_of(caption, width, measure);

  const Point all = size_of_all(pages, plan);
  const double gaps = kMapApart * static_cast<double>(pages.drawings.size() - 1) + 2 * kPadding;
  const double wanted = std::min((width - gaps) / all.x, kMapHeight / all.y);
  const double scale = std::max(wanted, scale_for_names(pages, plan, measure));
  // A map wider than any page would be no map: then names are left out instead.
  const double widest = plan.sheet.printable.width() - gaps;
  const double highest = plan.sheet.printable.height() - 2 * kPadding - block.box.y1;
  const double possible = std::min({scale, widest / all.x, highest / all.y});
  Frame map = MapMaker(pages, plan, possible, measure).map();
  block.place(map, {0, block.box.y1});
  block.box = {0, 0, std::max(block.box.x1, map.box.x1), block.box.y1 + map.box.y1};
  return block;
}

}  // namespace pouchwright::paper

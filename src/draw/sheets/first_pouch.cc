#include "draw/sheets/first_pouch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <string>
#include <utility>

#include "draw/views/finished.h"
#include "draw/views/on_view.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "ink/labels.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Pouch;

constexpr Stroke kFault{LinePattern::continuous, 0.7};
constexpr Stroke kRight{LinePattern::dashed, 0.35};
constexpr Stroke kRing{LinePattern::continuous, 0.35};
/// Of a row: its picture's width, as part of the page's, and the white to its words.
constexpr double kPicturePart = 0.42;
constexpr double kGap = 6;
constexpr double kRingRadius = 6;
constexpr double kHighest = 46;
constexpr double kLowest = 24;

void ring(Drawing& drawing, Point at) {
  drawing.add_line(Group::label, "ring", circle(at, kRingRadius), kRing);
}

Length part_of(Length whole, double part) { return Length::mm(part * whole.in_mm()); }

/// A white wedge at the corner, where the band has not closed.
void gap_at_corner(Drawing& drawing, const View& view, const Pouch& pouch) {
  const Length in = part_of(pouch.sizes.seal_width, 1.2);
  const Point corner = view.on_top(Length(), Length());
  Path wedge = polyline(
      {corner, view.on_top(in, part_of(in, 0.45)), view.on_top(in, part_of(in, 1))}, Ends::closed);
  drawing.add(Shape{.group = Group::label,
                    .path = std::move(wedge),
                    .stroke = kFault,
                    .fill = Fill::paper,
                    .name = "gap"});
  ring(drawing, view.on_top(part_of(in, 0.5), part_of(in, 0.4)));
}

/// A notch from the raw edge into the fused band.
void knife_in_band(Drawing& drawing, const View& view, const Pouch& pouch) {
  const Length height = part_of(pouch.sizes.depth, 0.45);
  const Length half = part_of(pouch.sizes.depth, 0.05);
  const Length in = part_of(pouch.sizes.seal_width, 0.8);
  Path notch = polyline({view.on_top(Length(), height + half), view.on_top(in, height),
                         view.on_top(Length(), height - half)},
                        Ends::closed);
  drawing.add(Shape{.group = Group::label,
                    .path = std::move(notch),
                    .stroke = kFault,
                    .fill = Fill::paper,
                    .name = "cut"});
  ring(drawing, view.on_top(part_of(in, 0.5), height));
}

/// A small hole beside the band, as a pin or a hard clip leaves it.
void clip_hole(Drawing& drawing, const View& view, const Pouch& pouch) {
  constexpr double kHole = 0.9;
  const Point at = view.on_top(pouch.sizes.cut_width - part_of(pouch.sizes.seal_width, 1.7),
                               part_of(pouch.sizes.depth, 0.3));
  drawing.add(Shape{.group = Group::label,
                    .path = circle(at, kHole),
                    .stroke = kRing,
                    .fill = Fill::solid,
                    .name = "hole"});
  ring(drawing, at);
}

/// How far up the uppermost edge lies that runs across: the flap's end, else the opening edge.
Length edge_across(const Pouch& pouch) {
  if (!pouch.construction().flap_span) return pouch.lip_height;
  return std::max(part_of(pouch.sizes.depth, 0.1), pouch.sizes.depth - pouch.sizes.flap);
}

/// Where the edge should lie, dashed, and where it was caught.
void crooked_edge(Drawing& drawing, const View& view, const Pouch& pouch) {
  const Length at = edge_across(pouch);
  const Length off = part_of(pouch.sizes.depth, 0.11);
  const Length width = pouch.sizes.cut_width;
  drawing.add_line(Group::label, "right", line(view.on_top(Length(), at), view.on_top(width, at)),
                   kRight);
  drawing.add_line(Group::label, "crooked",
                   line(view.on_top(Length(), at), view.on_top(width, at + off)), kFault);
  ring(drawing, view.on_top(width, at + part_of(off, 0.5)));
}

/// A thread that hangs from the seam's end.
void loose_tail(Drawing& drawing, const View& view, const Pouch& pouch) {
  const Point from = view.on_top(part_of(pouch.sizes.seal_width, 0.4), Length());
  constexpr int kPoints = 24;
  constexpr double kLong = 13;
  constexpr double kSwing = 1.6;
  std::vector<Point> thread;
  for (int i = 0; i <= kPoints; ++i) {
    const double along = static_cast<double>(i) / kPoints;
    thread.push_back({from.x - along * kLong, from.y + along * 2 + kSwing * std::sin(along * 9)});
  }
  drawing.add_line(Group::label, "tail", polyline(thread, Ends::open), kFault);
  ring(drawing, from);
}

struct FaultShown {
  const char* name;
  void (*mark)(Drawing&, const View&, const Pouch&);
};
constexpr std::array kFaults = {FaultShown{"gap", gap_at_corner},
                                FaultShown{"knife", knife_in_band}, FaultShown{"hole", clip_hole},
                                FaultShown{"crooked", crooked_edge},
                                FaultShown{"tail", loose_tail}};

class Sheet {
 public:
  Sheet(const Pouch& pouch, const base::Voice& words, const TextMeasure& measure, Point room)
      : pouch_(pouch), words_(words), measure_(measure), room_(room) {}

  std::vector<Drawing> drawn() const {
    TextPages pages("first-pouch", words_.say("first-pouch-title"), room_, TextPages::Columns::one,
                    measure_);
    pages.add({text_paragraph(words_.say("first-pouch-how"))});
    // Five of a height that leaves room for them all, on small paper as high as is legible.
    const double each = pages.height_left() / static_cast<double>(kFaults.size()) - kPictureGap;
    const double height = std::clamp(each, kLowest, kHighest);
    int number = 0;
    for (const FaultShown& fault : kFaults) pages.add(row(fault, ++number, height));
    return pages.finished();
  }

 private:
  [[nodiscard]] std::string key_of(const FaultShown& fault) const {
    const bool has_flap = pouch_.construction().flap_span.has_value();
    const std::string key = std::string("first-fault-") + fault.name;
    const std::string other = key + "-edge";
    return !has_flap && words_.has(other) ? other : key;
  }

  /// What is done about it; of one card where there is one.
  [[nodiscard]] std::string remedy(const std::string& key) const {
    const std::string one_card = key + "-do-one";
    return words_.say(pouch_.cards.size() == 1 && words_.has(one_card) ? one_card : key + "-do");
  }

  [[nodiscard]] Frame row(const FaultShown& fault, int number, double height) const {
    const double across = kPicturePart * room_.x;
    const auto mark = [&](Drawing& drawing, const View& view) {
      fault.mark(drawing, view, pouch_);
    };
    const Drawing picture =
        closed_view(pouch_, {.room = {across, height}, .marks = mark}, words_, measure_);
    const std::string key = key_of(fault);
    const std::string name = words_.say(key);
    Frame shown{.items = picture.items, .box = picture.extent};
    Frame made;
    made.place(as_figure(std::move(shown), name), {(across - picture.extent.x1) / 2, 0});
    const double left = across + kGap;
    const double width = room_.x - left;
    double y =
        made.write_lines(std::to_string(number) + "  " + name, {left, ink::kHeadingSize}, width,
                         {.step = line_distance(ink::kHeadingSize),
                          .weight = Weight::bold,
                          .size = ink::kHeadingSize},
                         measure_);
    y = made.write_lines(remedy(key), {left, y}, width,
                         {.step = line_distance(kTextSize), .size = kTextSize}, measure_);
    made.box = {0, 0, room_.x, std::max(picture.extent.y1, y - kTextSize)};
    return made;
  }

  const Pouch& pouch_;
  const base::Voice& words_;
  const TextMeasure& measure_;
  Point room_;
};

}  // namespace

std::vector<Drawing> first_pouch_sheet(const pouch::Pouch& pouch, const base::Voice& words,
                                       const TextMeasure& measure, Point room) {
  return Sheet(pouch, words, measure, room).drawn();
}

}  // namespace pouchwright::draw

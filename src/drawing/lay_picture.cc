#include "drawing/lay_picture.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace pouchwright::drawing {
namespace {

using units::Length;

constexpr Stroke kClothStroke{LinePattern::continuous, 0.5};
constexpr Stroke kPieceStroke{LinePattern::continuous, 0.35};
constexpr Stroke kWasteStroke{LinePattern::continuous, 0.13};
constexpr Stroke kCutAcrossStroke{LinePattern::dashed, 0.35};
constexpr Stroke kArrowStroke{LinePattern::continuous, 0.18};
constexpr double kWasteSpacing = 2;
/// The widest cloth is drawn this high.
constexpr double kRowHeight = 62;
/// Left of a row, for the cloth's width.
constexpr double kLeft = 10;
constexpr double kLine = 4.2;
constexpr double kGap = 5;
/// The small pictures of cuts.
constexpr double kSmallWidth = 42;
constexpr double kSmallHeight = 24;

/// Items with their own origin, and how much height they take.
struct Strip {
  std::vector<Item> items;
  double height = 0;
};

void move_down(Item& item, double by) {
  if (auto* text = std::get_if<Text>(&item)) {
    text->at.y += by;
    return;
  }
  for (Step& step : std::get<Shape>(item).path) {
    step.to.y += by;
    step.c1.y += by;
    step.c2.y += by;
  }
}

/// A stretch of the cloth that is drawn as one row: whole lengths cut off.
struct Row {
  Length from, to;
};

class Picture {
 public:
  Picture(const LayToDraw& drawn, units::LengthStyle style, const diag::Words& words,
          const TextMeasure& measure, double width)
      : drawn_(drawn),
        lay_(*drawn.lay),
        style_(style),
        words_(words),
        measure_(measure),
        width_(width) {
    double longest = 1;
    for (const auto& [from, to] : lengths()) longest = std::max(longest, (to - from).in_mm());
    scale_ = std::min(kRowHeight / std::max(1.0, lay_.width.in_mm()), (width_ - kLeft) / longest);
  }

  std::vector<Strip> strips() {
    std::vector<Strip> result;
    result.push_back(heading());
    if (lay_.length == Length()) return result;
    for (const Row& row : rows()) result.push_back(row_strip(row));
    for (Strip& strip : small_pictures()) result.push_back(std::move(strip));
    return result;
  }

 private:
  [[nodiscard]] std::string shown(Length length) const { return text(length, style_); }

  /// The lengths cut off, or the whole of a remnant.
  [[nodiscard]] std::vector<std::pair<Length, Length>> lengths() const {
    std::vector<std::pair<Length, Length>> all;
    for (const lay::CutOff& off : lay_.cut_offs) all.emplace_back(off.from, off.from + off.length);
    if (all.empty()) all.emplace_back(Length(), lay_.length);
    return all;
  }

  [[nodiscard]] std::vector<Row> rows() const {
    std::vector<Row> result;
    const double room = (width_ - kLeft) / scale_;
    for (const auto& [from, to] : lengths()) {
      const bool fits = !result.empty() && (to - result.back().from).in_mm() <= room + 1e-9;
      if (fits && result.back().to == from) {
        result.back().to = to;
      } else {
        result.push_back({from, to});
      }
    }
    return result;
  }

  void draw(Strip& strip, Group group, Path path, Stroke stroke, const char* name) const {
    strip.items.emplace_back(Shape{.group = group,
                                   .path = std::move(path),
                                   .stroke = stroke,
                                   .fill = Fill::none,
                                   .name = name});
  }

  void write(Strip& strip, std::string words, Point at, Anchor anchor,
             Weight weight = Weight::regular, double size = kSmallestSize, int turn = 0) const {
    strip.items.emplace_back(Text{.group = Group::label,
                                  .words = std::move(words),
                                  .at = at,
                                  .size = size,
                                  .anchor = anchor,
                                  .weight = weight,
                                  .turn_deg = turn});
  }

  Strip heading() const {
    Strip strip;
    double y = 6;
    for (const std::string& one :
         broken_into_lines(drawn_.title, width_, kTitleSize, Weight::bold, measure_)) {
      write(strip, one, {0, y}, Anchor::start, Weight::bold, kTitleSize);
      y += 7;
    }
    strip.height = y + 1;
    return strip;
  }

  /// The cloth unrolled to the right: y along the cloth runs right, x across it down.
  [[nodiscard]] Box box_of(const lay::Area& area, const Row& row) const {
    const double left = kLeft + (area.y - row.from).in_mm() * scale_;
    const double top = area.x.in_mm() * scale_;
    return {left, top, left + area.length.in_mm() * scale_, top + area.width.in_mm() * scale_};
  }

  Strip row_strip(const Row& row) const {
    Strip strip;
    const lay::Area whole{Length(), row.from, lay_.width, row.to - row.from};
    const Box cloth = box_of(whole, row);  // its numbers stand above it: see the gap of heading()
    waste(strip, row);
    pieces(strip, row);
    draw(strip, Group::cut, rectangle(cloth), kClothStroke, "cloth");
    write(strip, shown(lay_.width), {kLeft - 3, (cloth.y0 + cloth.y1) / 2}, Anchor::middle,
          Weight::regular, kSmallestSize, 270);
    dimensions(strip, row, cloth);
    cut_numbers(strip, row);
    strip.height = cloth.y1 + 2 * kLine + kGap;
    return strip;
  }

  [[nodiscard]] static bool lies_in(const lay::Placed& piece, const Row& row) {
    return piece.area.y >= row.from && piece.area.y < row.to && piece.layer == 0;
  }

  void pieces(Strip& strip, const Row& row) const {
    for (const lay::Placed& piece : lay_.pieces) {
      if (!lies_in(piece, row)) continue;
      const Box box = box_of(piece.area, row);
      draw(strip, Group::cut, rectangle(box), kPieceStroke, "piece");
      arrow(strip, box, piece.turned);
      const auto& names = piece.by_product ? drawn_.by_products : drawn_.kinds;
      const std::string& name = names[static_cast<std::size_t>(piece.kind)];
      const TextSize size = measure_.measure(name, kSmallestSize, Weight::regular);
      const double middle_x = (box.x0 + box.x1) / 2;
      const double middle_y = (box.y0 + box.y1) / 2;
      if (size.width + 1 < box.width() && box.height() > 2 * kLine) {
        // Above the arrow, whichever way it points.
        const double y = piece.turned ? std::min(middle_y - 1, box.y0 + kLine) : middle_y - 1;
        write(strip, name, {middle_x, y}, Anchor::middle);
      } else if (size.width + 1 < box.height() && box.width() > 2 * kLine) {
        write(strip, name, {middle_x - 1, middle_y}, Anchor::middle, Weight::regular, kSmallestSize,
              270);
      }
    }
  }

  /// A double-headed line along the piece's own length.
  void arrow(Strip& strip, const Box& box, bool turned) const {
    const double head = 1.2;
    const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    const double reach = std::min(8.0, (turned ? box.height() : box.width()) * 0.3);
    if (reach < 2 * head) return;
    Path path;
    const auto add = [&](Point from, Point to) {
      const Path piece = line(from, to);
      path.insert(path.end(), piece.begin(), piece.end());
    };
    const auto at = [&](double along, double off) {
      return turned ? Point{middle.x + 1.5 + off, middle.y + along}
                    : Point{middle.x + along, middle.y + 1.5 + off};
    };
    add(at(-reach, 0), at(reach, 0));
    for (const double end : {-reach, reach}) {
      const double back = end > 0 ? end - head : end + head;
      add(at(end, 0), at(back, -head / 2));
      add(at(end, 0), at(back, head / 2));
    }
    draw(strip, Group::grain, std::move(path), kArrowStroke, "direction");
  }

  /// What no piece covers, in rectangles between the pieces' edges.
  void waste(Strip& strip, const Row& row) const {
    std::vector<const lay::Placed*> inside;
    std::set<Length> along = {row.from, row.to};
    for (const lay::Placed& piece : lay_.pieces) {
      if (!lies_in(piece, row)) continue;
      inside.push_back(&piece);
      along.insert(piece.area.y);
      along.insert(piece.area.y + piece.area.length);
    }
    for (auto from = along.begin(); std::next(from) != along.end(); ++from) {
      const Length to = *std::next(from);
      std::vector<std::pair<Length, Length>> taken;
      for (const lay::Placed* piece : inside) {
        const lay::Area& area = piece->area;
        if (area.y < to && area.y + area.length > *from) {
          taken.emplace_back(area.x, area.x + area.width);
        }
      }
      std::sort(taken.begin(), taken.end());
      Length reached;
      taken.emplace_back(lay_.width, lay_.width);
      for (const auto& [start, end] : taken) {
        if (start > reached) {
          const lay::Area free{reached, *from, start - reached, to - *from};
          Path lines = hatch(box_of(free, row), kWasteSpacing);
          if (!lines.empty()) draw(strip, Group::seam, std::move(lines), kWasteStroke, "waste");
        }
        reached = std::max(reached, end);
      }
    }
  }

  /// Below the row: every length cut off, with the number of its cut.
  void dimensions(Strip& strip, const Row& row, const Box& cloth) const {
    for (const auto& [from, to] : lengths()) {
      if (from < row.from || to > row.to) continue;
      const Box off = box_of({Length(), from, lay_.width, to - from}, row);
      draw(strip, Group::fold, line({off.x1, cloth.y0}, {off.x1, cloth.y1 + 2}), kCutAcrossStroke,
           "cut off");
      const std::string length = shown(to - from);
      const TextSize size = measure_.measure(length, kSmallestSize, Weight::regular);
      if (size.width < off.width()) {
        write(strip, length, {(off.x0 + off.x1) / 2, cloth.y1 + kLine}, Anchor::middle);
      }
    }
    write(strip,
          words_.say({"lay-picture-from-to", {{"from", shown(row.from)}, {"to", shown(row.to)}}}),
          {kLeft, cloth.y1 + 2 * kLine}, Anchor::start);
  }

  /// The number of each cut where its first line begins.
  void cut_numbers(Strip& strip, const Row& row) const {
    int number = 0;
    for (const lay::Step& step : lay_.steps) {
      ++number;
      if (step.lines.empty()) continue;
      const lay::Line& first = step.lines.front();
      const Length at = std::min(first.y0, first.y1);
      if (at < row.from || at > row.to || (at == row.to && row.to != lay_.length)) continue;
      const bool is_off = step.cut == lay::Cut::off;
      const double x = kLeft + (at - row.from).in_mm() * scale_;
      const double y = std::min(first.x0, first.x1).in_mm() * scale_;
      write(strip, std::to_string(number), {is_off ? x : x + 0.8, is_off ? -0.8 : y - 0.7},
            is_off ? Anchor::middle : Anchor::start, Weight::bold);
    }
  }

  /// One small picture a cut: what it divides, and where.
  std::vector<Strip> small_pictures() const {
    std::vector<Strip> result;
    const int per_line = std::max(1, static_cast<int>(width_ / (kSmallWidth + 4)));
    int number = 0;
    for (const lay::Step& step : lay_.steps) {
      if (number % per_line == 0) {
        result.emplace_back();
        result.back().height = kSmallHeight + 2 * kLine + kGap;
      }
      const double left = (number % per_line) * (kSmallWidth + 4);
      small_picture(result.back(), step, ++number, left);
    }
    return result;
  }

  void small_picture(Strip& strip, const lay::Step& step, int number, double left) const {
    const double top = 2 * kLine + 1;
    const std::string key = "lay-picture-" + std::string(lay::name_of(step.cut));
    write(strip, std::to_string(number), {left, kLine}, Anchor::start, Weight::bold);
    write(strip, words_.say({key, {{"at", shown(step.at)}}}), {left + 7, kLine}, Anchor::start);
    if (step.lines.size() > 1) {
      write(strip,
            words_.say({"lay-picture-times", {{"times", std::to_string(step.lines.size())}}}),
            {left + 7, 2 * kLine}, Anchor::start);
    }
    const lay::Area& from = step.from;
    const double scale = std::min(kSmallWidth / std::max(1.0, from.length.in_mm()),
                                  (kSmallHeight - 2) / std::max(1.0, from.width.in_mm()));
    const auto at = [&](Length x, Length y) {
      return Point{left + (y - from.y).in_mm() * scale, top + (x - from.x).in_mm() * scale};
    };
    const Point corner = at(from.x, from.y);
    const Point far = at(from.x + from.width, from.y + from.length);
    draw(strip, Group::cut, rectangle({corner.x, corner.y, far.x, far.y}), kPieceStroke, "part");
    const lay::Area& off = step.off;
    if (off.width > Length() && off.length > Length()) {
      const Point a = at(off.x, off.y);
      const Point b = at(off.x + off.width, off.y + off.length);
      const Box box{std::max(a.x, corner.x), std::max(a.y, corner.y), std::min(b.x, far.x),
                    std::min(b.y, far.y)};
      if (box.x0 < box.x1 && box.y0 < box.y1) {
        draw(strip, Group::seal, hatch(box, kWasteSpacing), kWasteStroke, "comes off");
      }
    }
    for (const lay::Line& one : step.lines) {
      const Point a = at(one.x0, one.y0);
      const Point b = at(one.x1, one.y1);
      const bool inside = a.x >= corner.x - 0.01 && b.x <= far.x + 0.01 && a.y >= corner.y - 0.01 &&
                          b.y <= far.y + 0.01;
      if (inside) draw(strip, Group::fold, line(a, b), kCutAcrossStroke, "cut line");
    }
  }

  const LayToDraw& drawn_;
  const lay::Lay& lay_;
  units::LengthStyle style_;
  const diag::Words& words_;
  const TextMeasure& measure_;
  double width_;
  double scale_ = 1;
};

}  // namespace

std::vector<Drawing> lay_pictures(const std::vector<LayToDraw>& lays, units::LengthStyle style,
                                  const diag::Words& words, const TextMeasure& measure, Point room,
                                  Breaks breaks) {
  std::vector<Drawing> drawings;
  double y = 0;
  const auto begin_drawing = [&] {
    Drawing drawing{.name = "lay", .title = words.say({"lay-picture-title"})};
    drawing.extent = {0, 0, room.x, breaks == Breaks::pages ? room.y : 0};
    drawings.push_back(std::move(drawing));
    y = 0;
  };
  begin_drawing();
  for (const LayToDraw& one : lays) {
    for (Strip& strip : Picture(one, style, words, measure, room.x).strips()) {
      if (breaks == Breaks::pages && y > 0 && y + strip.height > room.y) begin_drawing();
      for (Item& item : strip.items) {
        move_down(item, y);
        drawings.back().add(std::move(item));
      }
      y += strip.height;
      drawings.back().extent.y1 = std::max(drawings.back().extent.y1, y);
    }
  }
  return drawings;
}

}  // namespace pouchwright::drawing

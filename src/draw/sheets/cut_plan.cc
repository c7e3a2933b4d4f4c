#include "draw/sheets/cut_plan.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "ink/arrows.h"
#include "ink/labels.h"

namespace pouchwright::draw {
namespace {

using base::Length;

constexpr Stroke kClothStroke{LinePattern::continuous, 0.5};
constexpr Stroke kPieceStroke{LinePattern::continuous, 0.35};
constexpr Stroke kWasteStroke{LinePattern::continuous, 0.13};
constexpr Stroke kCutAcrossStroke{LinePattern::dashed, 0.35};
constexpr Stroke kArrowStroke{LinePattern::continuous, 0.18};
constexpr double kWasteSpacing = 2;
/// A row is drawn at least this high, and higher where all rows together stay within the other.
constexpr double kRowHeight = 62;
constexpr double kRowsHeight = 140;
/// Left of a row, for the cloth's width.
constexpr double kLeft = 10;
constexpr double kLine = 4.2;
constexpr double kGap = 5;
/// Between the places that are tried for a number along its cut.
constexpr double kTry = 4;
/// The small pictures of cuts.
constexpr double kSmallWidth = 42;
constexpr double kSmallHeight = 24;

/// A stretch of the cloth that is drawn as one row: whole lengths cut off.
struct Row {
  Length from, to;
};

class Picture {
 public:
  Picture(const LayToDraw& drawn, const base::Voice& words, const TextMeasure& measure, Point room)
      : drawn_(drawn), lay_(*drawn.lay), words_(words), measure_(measure), width_(room.x) {
    choose_scale(std::min(kRowsHeight, room.y - 2 * kTitleSize - kGap));
  }

  std::vector<Frame> strips() {
    std::vector<Frame> result;
    result.push_back(heading());
    if (lay_.length == Length()) return result;
    for (const Row& row : rows()) result.push_back(row_strip(row));
    for (Frame& strip : small_pictures()) result.push_back(std::move(strip));
    return result;
  }

 private:
  /// As large as the rows allow.
  void choose_scale(double height) {
    double longest = 1;
    for (const auto& [from, to] : lengths()) longest = std::max(longest, (to - from).in_mm());
    const double cloth = std::max(1.0, lay_.width.in_mm());
    for (double row = height; row >= kRowHeight; row -= 2) {
      scale_ = std::min(row / cloth, (width_ - kLeft) / longest);
      const auto count = static_cast<double>(rows().size());
      if (count * (cloth * scale_ + 2 * kLine + kGap) <= height) return;
    }
    scale_ = std::min({kRowHeight, height}) / cloth;
    scale_ = std::min(scale_, (width_ - kLeft) / longest);
  }

  [[nodiscard]] std::string shown(Length length) const { return words_.text(length); }

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

  Frame heading() const {
    Frame strip;
    strip.box.y1 = 1 + strip.write_lines(drawn_.title, {0, 6}, width_, kTitleLines, measure_);
    strip.is_heading = true;
    return strip;
  }

  /// The cloth unrolled to the right: y along the cloth runs right, x across it down.
  [[nodiscard]] Box box_of(const lay::Area& area, const Row& row) const {
    const double left = kLeft + (area.y - row.from).in_mm() * scale_;
    const double top = area.x.in_mm() * scale_;
    return {left, top, left + area.length.in_mm() * scale_, top + area.width.in_mm() * scale_};
  }

  /// What stands on a row: outlines may be written over where there is no other place, words and
  /// arrows never.
  struct Marks {
    LabelPlacer words, outlines;
  };

  Frame row_strip(const Row& row) const {
    Frame strip;
    Marks marks{LabelPlacer(measure_), LabelPlacer(measure_)};
    const lay::Area whole{Length(), row.from, lay_.width, row.to - row.from};
    const Box cloth = box_of(whole, row);  // its numbers stand above it: see the gap of heading()
    waste(strip, row);
    pieces(strip, row, marks);
    strip.draw(Group::cut, rectangle(cloth), kClothStroke, "cloth");
    strip.write(shown(lay_.width), {kLeft - 3, (cloth.y0 + cloth.y1) / 2}, Anchor::middle,
                Weight::regular, kSmallestSize, 270);
    cut_numbers(strip, row, cloth, marks);
    names(strip, row, marks);
    strip.box.y1 = dimensions(strip, row, cloth, marks.words) + kGap;
    return strip;
  }

  [[nodiscard]] static bool lies_in(const lay::Placed& piece, const Row& row) {
    return piece.area.y >= row.from && piece.area.y < row.to && piece.layer == 0;
  }

  void pieces(Frame& strip, const Row& row, Marks& marks) const {
    for (const lay::Placed& piece : lay_.pieces) {
      if (!lies_in(piece, row)) continue;
      const Box box = box_of(piece.area, row);
      strip.draw(Group::cut, rectangle(box), kPieceStroke, "piece");
      marks.outlines.take(rectangle(box), 0);
      arrow(strip, box, piece.turned, marks);
    }
  }

  /// The piece's name beside its arrow, along or across it; left out where there is no room.
  void names(Frame& strip, const Row& row, Marks& marks) const {
    for (const lay::Placed& piece : lay_.pieces) {
      if (!lies_in(piece, row)) continue;
      const auto& names = piece.by_product ? drawn_.by_products : drawn_.kinds;
      Text name{.group = Group::label,
                .words = names[static_cast<std::size_t>(piece.kind)],
                .at = {},
                .size = kSmallestSize};
      const auto placed = name_in(grown(box_of(piece.area, row), -0.4), name, marks);
      if (placed) strip.items.emplace_back(*placed);
    }
  }

  [[nodiscard]] std::optional<Text> name_in(const Box& inside, Text name, Marks& marks) const {
    struct Try {
      int turn;
      std::vector<double> across, down;
    };
    static const std::vector<Try> kTries = {
        {0, {0.5}, {0.3, 0.1, 0.7, 0.9}},
        {270, {0.2, 0.8, 0.1, 0.9}, {0.5}},
        {0, {0.5, 0.2, 0.8, 0.0, 1.0}, {0.5, 0.2, 0.8, 0.0, 1.0}},
        {270, {0.5, 0.0, 1.0}, {0.5, 0.2, 0.8, 0.0, 1.0}}};
    for (const Try& one : kTries) {
      name.turn_deg = one.turn;
      auto placed = marks.words.put(name, corners_inside(inside, name, one.across, one.down));
      if (placed) return placed;
    }
    return std::nullopt;
  }

  /// Where the top left corner of `text` may stand in `box`, by shares of the room there is.
  [[nodiscard]] std::vector<Point> corners_inside(const Box& box, const Text& text,
                                                  const std::vector<double>& across,
                                                  const std::vector<double>& down) const {
    const Box own = bounds(text, measure_);
    const double room_x = box.width() - own.width();
    const double room_y = box.height() - own.height();
    std::vector<Point> corners;
    if (room_x < 0 || room_y < 0) return corners;
    for (const double x : across) {
      for (const double y : down) corners.push_back({box.x0 + x * room_x, box.y0 + y * room_y});
    }
    return corners;
  }

  /// A double-headed line along the piece's own length.
  void arrow(Frame& strip, const Box& box, bool turned, Marks& marks) const {
    const double head = 1.2;
    const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    const double reach = std::min(6.0, (turned ? box.height() : box.width()) * 0.3);
    // Off the middle where a name may stand beside it.
    const double aside = (turned ? box.width() : box.height()) > 2 * kLine ? 1.5 : 0;
    if (reach < 2 * head) return;
    const auto at = [&](double along) {
      return turned ? Point{middle.x + aside, middle.y + along}
                    : Point{middle.x + along, middle.y + aside};
    };
    Path path = line(at(-reach), at(reach));
    for (const double end : {-reach, reach}) {
      const Path barbs = arrow_head(at(end), at(0), {head, head}, Ends::open);
      path.insert(path.end(), barbs.begin(), barbs.end());
    }
    marks.words.take(grown(bounds(path), 0.3));
    strip.draw(Group::grain, std::move(path), kArrowStroke, "direction");
  }

  /// What no piece covers, in rectangles between the pieces' edges.
  void waste(Frame& strip, const Row& row) const {
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
          if (!lines.empty()) strip.draw(Group::seam, std::move(lines), kWasteStroke, "waste");
        }
        reached = std::max(reached, end);
      }
    }
  }

  /// A length cut off, or several like it in a row, too narrow for a figure each.
  struct Run {
    Length from, each;
    int times = 0;
  };

  [[nodiscard]] std::vector<Run> runs_of(const Row& row) const {
    std::vector<Run> runs;
    for (const auto& [from, to] : lengths()) {
      if (from < row.from || to > row.to) continue;
      const Length each = to - from;
      const double width = measure_.measure(shown(each), kSmallestSize, Weight::regular).width;
      const bool narrow = width + kClearance > each.in_mm() * scale_;
      if (narrow && !runs.empty() && runs.back().each == each) {
        ++runs.back().times;
      } else {
        runs.push_back({from, each, 1});
      }
    }
    return runs;
  }

  /// Below the row: every length cut off, in lines below each other where they are crowded, and
  /// what part of the cloth this is. Returns how far down that goes.
  double dimensions(Frame& strip, const Row& row, const Box& cloth, LabelPlacer& placer) const {
    for (const auto& [from, to] : lengths()) {
      if (from < row.from || to > row.to) continue;
      const double x = box_of({Length(), from, lay_.width, to - from}, row).x1;
      strip.draw(Group::fold, line({x, cloth.y0}, {x, cloth.y1 + 2}), kCutAcrossStroke, "cut off");
    }
    double deepest = cloth.y1 + kLine;
    for (const Run& run : runs_of(row)) {
      Text figure = run_figure(run);
      const Box off = box_of({Length(), run.from, lay_.width, run.times * run.each}, row);
      const double width = bounds(figure, measure_).width();
      const double x = std::clamp((off.x0 + off.x1 - width) / 2, 0.0, width_ - width);
      constexpr int kLevels = 8;
      std::vector<Point> corners;
      corners.reserve(kLevels);
      for (int level = 0; level < kLevels; ++level)
        corners.push_back({x, cloth.y1 + 1 + level * kLine});
      const auto placed = placer.put(figure, corners);
      if (!placed) continue;
      deepest = std::max(deepest, placed->at.y);
      placer.take(grown(bounds(*placed, measure_), 0.5));
      strip.items.emplace_back(*placed);
    }
    strip.write(
        words_.say({"lay-picture-from-to", {{"from", shown(row.from)}, {"to", shown(row.to)}}}),
        {kLeft, deepest + kLine}, Anchor::start);
    return deepest + kLine;
  }

  [[nodiscard]] Text run_figure(const Run& run) const {
    Text figure{.group = Group::label, .words = shown(run.each), .at = {}, .size = kSmallestSize};
    if (run.times == 1) return figure;
    figure.words = words_.say({"lay-picture-run", {{"times", run.times}, {"each", figure.words}}});
    return figure;
  }

  /// Whether the cut is made in this row: a length is cut off at its row's end.
  [[nodiscard]] static bool made_in(const lay::Line& line, lay::Cut cut, const Row& row) {
    const Length from = std::min(line.y0, line.y1);
    const Length to = std::max(line.y0, line.y1);
    if (cut == lay::Cut::off) return from > row.from && to <= row.to;
    return from >= row.from && to <= row.to && from < row.to;
  }

  /// The number of each cut, once, beside one of its lines, where it covers no other word and, if
  /// possible, no outline.
  void cut_numbers(Frame& strip, const Row& row, const Box& cloth, Marks& marks) const {
    int number = 0;
    for (const lay::Step& step : lay_.steps) {
      ++number;
      if (step.lines.empty() || !made_in(step.lines.front(), step.cut, row)) continue;
      Text text{.group = Group::label,
                .words = std::to_string(number),
                .at = {},
                .size = kSmallestSize,
                .weight = Weight::bold};
      const auto corners = beside_lines(step, row, text);
      const auto placed = number_at(text, corners, marks);
      if (placed) {
        strip.items.emplace_back(*placed);
      } else {
        number_aside(strip, text, corners.front(), cloth, marks);
      }
    }
  }

  [[nodiscard]] std::optional<Text> number_at(const Text& text, const std::vector<Point>& corners,
                                              Marks& marks) const {
    std::vector<Point> clear;
    for (const Point& corner : corners) {
      const Box box = bounds(with_top_left(text, corner, measure_), measure_);
      if (marks.outlines.is_free(grown(box, -kClearance))) clear.push_back(corner);
    }
    const auto placed = marks.words.put(text, clear);
    return placed ? placed : marks.words.put(text, corners);
  }

  /// Corners for a step's number: above the cloth where a length is cut off, else beside its lines.
  [[nodiscard]] std::vector<Point> beside_lines(const lay::Step& step, const Row& row,
                                                const Text& text) const {
    const Box own = bounds(text, measure_);
    std::vector<Point> corners;
    for (const lay::Line& one : step.lines) {
      if (!made_in(one, step.cut, row)) continue;
      const Box at = line_box(one, row);
      if (step.cut == lay::Cut::off) {
        const double x = std::min(at.x0 - own.width() / 2, width_ - own.width());
        corners.push_back({x, -own.height() - 0.2});
      } else if (at.height() < at.width()) {
        for (double x = at.x0 + 0.8; x + own.width() < at.x1; x += kTry) {
          corners.push_back({x, at.y0 - own.height() - 0.1});
          corners.push_back({x, at.y0 + 0.3});
        }
      } else {
        for (double y = at.y0 + 0.5; y + own.height() < at.y1; y += kTry) {
          corners.push_back({at.x0 + 0.6, y});
          corners.push_back({at.x0 - own.width() - 0.6, y});
        }
      }
      if (corners.empty()) corners.push_back({at.x0 + 0.6, at.y0 + 0.3});
    }
    return corners;
  }

  [[nodiscard]] Box line_box(const lay::Line& one, const Row& row) const {
    const Length x = std::min(one.x0, one.x1);
    const Length y = std::min(one.y0, one.y1);
    return box_of({x, y, std::max(one.x0, one.x1) - x, std::max(one.y0, one.y1) - y}, row);
  }

  /// Where a cut's surroundings are full: the nearest free place, with a line to the cut.
  void number_aside(Frame& strip, const Text& text, Point cut, const Box& cloth,
                    Marks& marks) const {
    std::vector<Point> around;
    for (int x = -15; x <= 15; ++x) {
      for (int y = -15; y <= 15; ++y) {
        const Point at{cut.x + 1.5 * x, cut.y + 1.5 * y};
        const Box box = bounds(with_top_left(text, at, measure_), measure_);
        if (box.x0 > cloth.x0 && box.x1 < cloth.x1 && box.y0 > cloth.y0 && box.y1 < cloth.y1) {
          around.push_back(at);
        }
      }
    }
    const auto far = [&](Point a) { return std::hypot(a.x - cut.x, a.y - cut.y); };
    std::stable_sort(around.begin(), around.end(),
                     [&](Point a, Point b) { return far(a) < far(b); });
    const auto placed = marks.words.put(text, around);
    if (!placed) return;
    const Box box = bounds(*placed, measure_);
    const Point near{std::clamp(cut.x, box.x0, box.x1), std::clamp(cut.y, box.y0, box.y1)};
    strip.draw(Group::label, line(near, cut), kArrowStroke, "leader");
    strip.items.emplace_back(*placed);
  }

  /// One small picture a cut: what it divides, and where.
  std::vector<Frame> small_pictures() const {
    std::vector<Frame> result;
    const int per_line = std::max(1, static_cast<int>(width_ / (kSmallWidth + 4)));
    int number = 0;
    for (const lay::Step& step : lay_.steps) {
      if (number % per_line == 0) {
        result.emplace_back();
        result.back().box.y1 = kSmallHeight + 2 * kLine + kGap;
      }
      const double left = (number % per_line) * (kSmallWidth + 4);
      small_picture(result.back(), step, ++number, left);
    }
    return result;
  }

  void small_picture(Frame& strip, const lay::Step& step, int number, double left) const {
    const double top = 2 * kLine + 1;
    const std::string key = key_of("lay-picture-", lay::kCutWords, step.cut);
    strip.write(std::to_string(number), {left, kLine}, Anchor::start, Weight::bold);
    strip.write(words_.say({key, {{"at", shown(step.at)}}}), {left + 7, kLine}, Anchor::start);
    if (step.lines.size() > 1) {
      strip.write(words_.say({"lay-picture-times", {{"times", step.lines.size()}}}),
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
    strip.draw(Group::cut, rectangle({corner.x, corner.y, far.x, far.y}), kPieceStroke, "part");
    const lay::Area& off = step.off;
    if (off.width > Length() && off.length > Length()) {
      const Point a = at(off.x, off.y);
      const Point b = at(off.x + off.width, off.y + off.length);
      const Box box{std::max(a.x, corner.x), std::max(a.y, corner.y), std::min(b.x, far.x),
                    std::min(b.y, far.y)};
      if (box.x0 < box.x1 && box.y0 < box.y1) {
        strip.draw(Group::seal, hatch(box, kWasteSpacing), kWasteStroke, "comes off");
      }
    }
    for (const lay::Line& one : step.lines) {
      const Point a = at(one.x0, one.y0);
      const Point b = at(one.x1, one.y1);
      const bool inside = a.x >= corner.x - 0.01 && b.x <= far.x + 0.01 && a.y >= corner.y - 0.01 &&
                          b.y <= far.y + 0.01;
      if (inside) strip.draw(Group::fold, line(a, b), kCutAcrossStroke, "cut line");
    }
  }

  const LayToDraw& drawn_;
  const lay::Lay& lay_;
  base::Voice words_;
  const TextMeasure& measure_;
  double width_;
  double scale_ = 1;
};

}  // namespace

std::vector<Drawing> lay_pictures(const std::vector<LayToDraw>& lays, const base::Voice& words,
                                  const TextMeasure& measure, Point room, Breaks breaks) {
  ink::Flow flow({"lay", words.say({"lay-picture-title"}), room}, {.breaks = breaks});
  for (const LayToDraw& one : lays) flow.add(Picture(one, words, measure, room).strips());
  return flow.pages();
}

std::vector<Drawing> lay_pages(const std::vector<LayToDraw>& lays, const base::Voice& words,
                               const TextMeasure& measure, Point room) {
  const ink::SheetRoom sheet{"lay", words.say({"lay-picture-title"}), room};
  ink::Flow joined(sheet);
  std::vector<Drawing> apart;
  for (const LayToDraw& one : lays) {
    const std::vector<Frame> strips = Picture(one, words, measure, room).strips();
    ink::Flow own(sheet);
    own.add(strips);
    apart.insert(apart.end(), own.pages().begin(), own.pages().end());
    joined.add(strips);
  }
  return apart.size() <= joined.pages().size() ? apart : joined.pages();
}

}  // namespace pouchwright::draw

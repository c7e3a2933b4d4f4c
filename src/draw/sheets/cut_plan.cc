#include "draw/sheets/cut_plan.h"

#include <algorithm>
#include <cmath>
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

/// The lengths cut off, or the whole of a remnant.
std::vector<Row> lengths_of(const lay::Lay& lay) {
  std::vector<Row> all;
  for (const lay::CutOff& off : lay.cut_offs) all.push_back({off.from, off.from + off.length});
  if (all.empty()) all.push_back({Length(), lay.length});
  return all;
}

/// As many lengths in a row as it has room for; `room` is mm of cloth.
std::vector<Row> rows_of(const lay::Lay& lay, double room) {
  std::vector<Row> rows;
  for (const Row& length : lengths_of(lay)) {
    const bool fits = !rows.empty() && (length.to - rows.back().from).in_mm() <= room + 1e-9;
    if (fits && rows.back().to == length.from) {
      rows.back().to = length.to;
    } else {
      rows.push_back(length);
    }
  }
  return rows;
}

/// Paper mm for a mm of cloth, as large as the rows allow on paper `width` wide.
double scale_for(const lay::Lay& lay, double width, double height) {
  double longest = 1;
  for (const Row& length : lengths_of(lay)) {
    longest = std::max(longest, (length.to - length.from).in_mm());
  }
  const double cloth = std::max(1.0, lay.width.in_mm());
  for (double row = height; row >= kRowHeight; row -= 2) {
    const double scale = std::min(row / cloth, (width - kLeft) / longest);
    const auto count = static_cast<double>(rows_of(lay, (width - kLeft) / scale).size());
    if (count * (cloth * scale + 2 * kLine + kGap) <= height) return scale;
  }
  return std::min(std::min(kRowHeight, height) / cloth, (width - kLeft) / longest);
}

Frame heading_of(const LayToDraw& drawn, double width, const TextMeasure& measure) {
  Frame strip;
  strip.box.y1 = 1 + strip.write_lines(drawn.title, {0, 6}, width, kTitleLines, measure);
  strip.is_heading = true;
  return strip;
}

/// What no piece covers, in rectangles between the pieces' edges.
std::vector<lay::Area> waste_of(const lay::Lay& lay, const Row& row,
                                const std::vector<const lay::Placed*>& inside) {
  std::vector<lay::Area> waste;
  std::set<Length> along = {row.from, row.to};
  for (const lay::Placed* piece : inside) {
    along.insert(piece->area.y);
    along.insert(piece->area.y + piece->area.length);
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
    taken.emplace_back(lay.width, lay.width);
    Length reached;
    for (const auto& [start, end] : taken) {
      if (start > reached) waste.push_back({reached, *from, start - reached, to - *from});
      reached = std::max(reached, end);
    }
  }
  return waste;
}

/// Whether the cut is made in this row: a length is cut off at its row's end.
bool made_in(const lay::Line& line, lay::Cut cut, const Row& row) {
  const Length from = std::min(line.y0, line.y1);
  const Length to = std::max(line.y0, line.y1);
  if (cut == lay::Cut::off) return from > row.from && to <= row.to;
  return from >= row.from && to <= row.to && from < row.to;
}

/// A row unrolled to the right: y along the cloth runs right, x across it down.
struct RowView {
  Row row;
  double scale = 1;  ///< paper mm for a mm of cloth
  double width = 0;  ///< of the paper

  [[nodiscard]] Box box_of(const lay::Area& area) const {
    const double left = kLeft + (area.y - row.from).in_mm() * scale;
    const double top = area.x.in_mm() * scale;
    return {left, top, left + area.length.in_mm() * scale, top + area.width.in_mm() * scale};
  }

  [[nodiscard]] Box line_box(const lay::Line& one) const {
    const Length x = std::min(one.x0, one.x1);
    const Length y = std::min(one.y0, one.y1);
    return box_of({x, y, std::max(one.x0, one.x1) - x, std::max(one.y0, one.y1) - y});
  }
};

/// Corners for a step's number: above the cloth where a length is cut off, else beside its lines.
std::vector<Point> beside_lines(const lay::Step& step, const Text& text, const RowView& view,
                                const TextMeasure& measure) {
  const Box own = bounds(text, measure);
  std::vector<Point> corners;
  for (const lay::Line& one : step.lines) {
    if (!made_in(one, step.cut, view.row)) continue;
    const Box at = view.line_box(one);
    if (step.cut == lay::Cut::off) {
      const double x = std::min(at.x0 - own.width() / 2, view.width - own.width());
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

/// Where the top left corner of words as large as `own` may stand in `box`, by shares of the room there is.
std::vector<Point> corners_inside(const Box& box, const Box& own, const std::vector<double>& across,
                                  const std::vector<double>& down) {
  const double room_x = box.width() - own.width();
  const double room_y = box.height() - own.height();
  std::vector<Point> corners;
  if (room_x < 0 || room_y < 0) return corners;
  for (const double x : across) {
    for (const double y : down) corners.push_back({box.x0 + x * room_x, box.y0 + y * room_y});
  }
  return corners;
}

class RowPicture {
 public:
  RowPicture(const LayToDraw& drawn, const RowView& view, const base::Voice& words,
             const TextMeasure& measure)
      : drawn_(drawn),
        lay_(*drawn.lay),
        view_(view),
        words_(words),
        measure_(measure),
        marks_{LabelPlacer(measure), LabelPlacer(measure)} {
    for (const lay::Placed& piece : lay_.pieces) {
      const bool lies_in =
          piece.area.y >= view.row.from && piece.area.y < view.row.to && piece.layer == 0;
      if (lies_in) inside_.push_back(&piece);
    }
  }

  Frame drawn() {
    // Its numbers stand above it: see the gap of the heading.
    const Box cloth =
        view_.box_of({Length(), view_.row.from, lay_.width, view_.row.to - view_.row.from});
    for (const lay::Area& free : waste_of(lay_, view_.row, inside_)) {
      Path lines = hatch(view_.box_of(free), kWasteSpacing);
      if (!lines.empty()) strip_.draw(Group::seam, std::move(lines), kWasteStroke, "waste");
    }
    pieces();
    strip_.draw(Group::cut, rectangle(cloth), kClothStroke, "cloth");
    strip_.write(shown(lay_.width), {kLeft - 3, (cloth.y0 + cloth.y1) / 2}, Anchor::middle,
                 Weight::regular, kSmallestSize, 270);
    cut_numbers(cloth);
    names();
    strip_.box.y1 = dimensions(cloth) + kGap;
    return std::move(strip_);
  }

 private:
  [[nodiscard]] std::string shown(Length length) const { return words_.text(length); }

  void pieces() {
    for (const lay::Placed* placed : inside_) {
      const lay::Placed& piece = *placed;
      const Box box = view_.box_of(piece.area);
      strip_.draw(Group::cut, rectangle(box), kPieceStroke, "piece");
      marks_.outlines.take(rectangle(box), 0);
      arrow(box, piece.turned);
    }
  }

  /// The piece's name beside its arrow, along or across it; left out where there is no room.
  void names() {
    for (const lay::Placed* placed : inside_) {
      const lay::Placed& piece = *placed;
      const auto& names = piece.by_product ? drawn_.by_products : drawn_.kinds;
      Text name{.group = Group::label,
                .words = names[static_cast<std::size_t>(piece.kind)],
                .at = {},
                .size = kSmallestSize};
      const auto written = name_in(grown(view_.box_of(piece.area), -0.4), name);
      if (written) strip_.items.emplace_back(*written);
    }
  }

  [[nodiscard]] std::optional<Text> name_in(const Box& inside, Text name) {
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
      auto placed = marks_.words.put(
          name, corners_inside(inside, bounds(name, measure_), one.across, one.down));
      if (placed) return placed;
    }
    return std::nullopt;
  }

  /// A double-headed line along the piece's own length.
  void arrow(const Box& box, bool turned) {
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
    marks_.words.take(grown(bounds(path), 0.3));
    strip_.draw(Group::grain, std::move(path), kArrowStroke, "direction");
  }

  /// A length cut off, or several like it in a row, too narrow for a figure each.
  struct Run {
    Length from, each;
    int times = 0;
  };

  [[nodiscard]] std::vector<Run> runs() const {
    std::vector<Run> runs;
    for (const auto& [from, to] : lengths_of(lay_)) {
      if (from < view_.row.from || to > view_.row.to) continue;
      const Length each = to - from;
      const double width = measure_.measure(shown(each), kSmallestSize, Weight::regular).width;
      const bool narrow = width + kClearance > each.in_mm() * view_.scale;
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
  double dimensions(const Box& cloth) {
    for (const auto& [from, to] : lengths_of(lay_)) {
      if (from < view_.row.from || to > view_.row.to) continue;
      const double x = view_.box_of({Length(), from, lay_.width, to - from}).x1;
      strip_.draw(Group::fold, line({x, cloth.y0}, {x, cloth.y1 + 2}), kCutAcrossStroke, "cut off");
    }
    double deepest = cloth.y1 + kLine;
    for (const Run& run : runs()) {
      Text figure = run_figure(run);
      const Box off = view_.box_of({Length(), run.from, lay_.width, run.times * run.each});
      const double width = bounds(figure, measure_).width();
      const double x = std::clamp((off.x0 + off.x1 - width) / 2, 0.0, view_.width - width);
      constexpr int kLevels = 8;
      std::vector<Point> corners;
      corners.reserve(kLevels);
      for (int level = 0; level < kLevels; ++level)
        corners.push_back({x, cloth.y1 + 1 + level * kLine});
      const auto placed = marks_.words.put(figure, corners);
      if (!placed) continue;
      deepest = std::max(deepest, placed->at.y);
      marks_.words.take(grown(bounds(*placed, measure_), 0.5));
      strip_.items.emplace_back(*placed);
    }
    strip_.write(words_.say({"lay-picture-from-to",
                             {{"from", shown(view_.row.from)}, {"to", shown(view_.row.to)}}}),
                 {kLeft, deepest + kLine}, Anchor::start);
    return deepest + kLine;
  }

  [[nodiscard]] Text run_figure(const Run& run) const {
    Text figure{.group = Group::label, .words = shown(run.each), .at = {}, .size = kSmallestSize};
    if (run.times == 1) return figure;
    figure.words = words_.say({"lay-picture-run", {{"times", run.times}, {"each", figure.words}}});
    return figure;
  }

  /// The number of each cut, once, beside one of its lines, where it covers no other word and, if
  /// possible, no outline.
  void cut_numbers(const Box& cloth) {
    int number = 0;
    for (const lay::Step& step : lay_.steps) {
      ++number;
      if (step.lines.empty() || !made_in(step.lines.front(), step.cut, view_.row)) continue;
      Text text{.group = Group::label,
                .words = std::to_string(number),
                .at = {},
                .size = kSmallestSize,
                .weight = Weight::bold};
      const auto corners = beside_lines(step, text, view_, measure_);
      const auto placed = number_at(text, corners);
      if (placed) {
        strip_.items.emplace_back(*placed);
      } else {
        number_aside(text, corners.front(), cloth);
      }
    }
  }

  [[nodiscard]] std::optional<Text> number_at(const Text& text, const std::vector<Point>& corners) {
    std::vector<Point> clear;
    for (const Point& corner : corners) {
      const Box box = bounds(with_top_left(text, corner, measure_), measure_);
      if (marks_.outlines.is_free(grown(box, -kClearance))) clear.push_back(corner);
    }
    const auto placed = marks_.words.put(text, clear);
    return placed ? placed : marks_.words.put(text, corners);
  }

  /// Where a cut's surroundings are full: the nearest free place, with a line to the cut.
  void number_aside(const Text& text, Point cut, const Box& cloth) {
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
    const auto placed = marks_.words.put(text, around);
    if (!placed) return;
    const Box box = bounds(*placed, measure_);
    const Point near{std::clamp(cut.x, box.x0, box.x1), std::clamp(cut.y, box.y0, box.y1)};
    strip_.draw(Group::label, line(near, cut), kArrowStroke, "leader");
    strip_.items.emplace_back(*placed);
  }

  /// What stands on a row: outlines may be written over where there is no other place, words and
  /// arrows never.
  struct Marks {
    LabelPlacer words, outlines;
  };

  const LayToDraw& drawn_;
  const lay::Lay& lay_;
  RowView view_;
  base::Voice words_;
  const TextMeasure& measure_;
  std::vector<const lay::Placed*> inside_;
  Marks marks_;
  Frame strip_;
};

/// What a cut divides, and where.
void add_cut(Frame& strip, const lay::Step& step, int number, double left,
             const base::Voice& words) {
  const double top = 2 * kLine + 1;
  const std::string key = key_of("lay-picture-", lay::kCutWords, step.cut);
  strip.write(std::to_string(number), {left, kLine}, Anchor::start, Weight::bold);
  strip.write(words.say({key, {{"at", words.text(step.at)}}}), {left + 7, kLine}, Anchor::start);
  if (step.lines.size() > 1) {
    strip.write(words.say({"lay-picture-times", {{"times", step.lines.size()}}}),
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

/// A small picture of each cut, side by side.
std::vector<Frame> cuts_of(const lay::Lay& lay, double width, const base::Voice& words) {
  std::vector<Frame> result;
  const int per_line = std::max(1, static_cast<int>(width / (kSmallWidth + 4)));
  int number = 0;
  for (const lay::Step& step : lay.steps) {
    if (number % per_line == 0) {
      result.emplace_back();
      result.back().box.y1 = kSmallHeight + 2 * kLine + kGap;
    }
    const double left = (number % per_line) * (kSmallWidth + 4);
    add_cut(result.back(), step, ++number, left, words);
  }
  return result;
}

std::vector<Frame> strips_of(const LayToDraw& drawn, const base::Voice& words,
                             const TextMeasure& measure, Point room) {
  const lay::Lay& lay = *drawn.lay;
  std::vector<Frame> strips{heading_of(drawn, room.x, measure)};
  if (lay.length == Length()) return strips;
  const double scale =
      scale_for(lay, room.x, std::min(kRowsHeight, room.y - 2 * kTitleSize - kGap));
  for (const Row& row : rows_of(lay, (room.x - kLeft) / scale)) {
    strips.push_back(RowPicture(drawn, {row, scale, room.x}, words, measure).drawn());
  }
  for (Frame& cuts : cuts_of(lay, room.x, words)) strips.push_back(std::move(cuts));
  return strips;
}

}  // namespace

std::vector<Drawing> lay_pictures(const std::vector<LayToDraw>& lays, const base::Voice& words,
                                  const TextMeasure& measure, Point room, Breaks breaks) {
  ink::Flow flow({"lay", words.say({"lay-picture-title"}), room}, {.breaks = breaks});
  for (const LayToDraw& one : lays) flow.add(strips_of(one, words, measure, room));
  return flow.pages();
}

std::vector<Drawing> lay_pages(const std::vector<LayToDraw>& lays, const base::Voice& words,
                               const TextMeasure& measure, Point room) {
  const ink::SheetRoom sheet{"lay", words.say({"lay-picture-title"}), room};
  ink::Flow joined(sheet);
  std::vector<Drawing> apart;
  for (const LayToDraw& one : lays) {
    const std::vector<Frame> strips = strips_of(one, words, measure, room);
    ink::Flow own(sheet);
    own.add(strips);
    apart.insert(apart.end(), own.pages().begin(), own.pages().end());
    joined.add(strips);
  }
  return apart.size() <= joined.pages().size() ? apart : joined.pages();
}

}  // namespace pouchwright::draw

#include "draw/sheets/cut_plan_rows.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "ink/arrows.h"
#include "ink/labels.h"

namespace pouchwright::draw::cut_plan {
namespace {

using base::Length;

constexpr Stroke kClothStroke{LinePattern::continuous, 0.5};
constexpr Stroke kSelvedgeStroke{LinePattern::continuous, 0.25};
constexpr Stroke kFoldStroke{LinePattern::long_dash_dot, 0.25};
constexpr Stroke kTrialStroke{LinePattern::continuous, 0.18};
constexpr Stroke kArrowStroke{LinePattern::continuous, 0.18};
/// A row is drawn at least this high, and higher where all rows together stay within the other.
constexpr double kRowHeight = 62;
constexpr double kLeastSelvedge = 1.2;
/// How far the shop's cut stands out at the end that is squared.
constexpr double kCrooked = 3;
/// In the middle of a trial strip.
constexpr double kDot = 0.8;
/// Between the places that are tried for a number along its cut.
constexpr double kTry = 4;

/// The lengths cut off, or the whole of a remnant.
std::vector<Row> lengths_of(const lay::Lay& lay) {
  std::vector<Row> all;
  for (const lay::CutOff& off : lay.cut_offs) all.push_back({off.from, off.from + off.length});
  if (all.empty()) all.push_back({Length(), lay.length});
  return all;
}

/// A selvedge is drawn to scale, and wide enough to be seen.
double selvedge_height(const LayToDraw& drawn, double scale) {
  return drawn.selvedge > Length() ? std::max(kLeastSelvedge, drawn.selvedge.in_mm() * scale) : 0;
}

double row_height(const LayToDraw& drawn, double scale) {
  return drawn.lay->width.in_mm() * scale + 2 * selvedge_height(drawn, scale) + 3 * kLine + kGap;
}

}  // namespace

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

double scale_for(const LayToDraw& drawn, double width, double height) {
  const lay::Lay& lay = *drawn.lay;
  double longest = 1;
  for (const Row& length : lengths_of(lay)) {
    longest = std::max(longest, (length.to - length.from).in_mm());
  }
  const double cloth = std::max(1.0, lay.width.in_mm());
  for (double row = height; row >= kRowHeight; row -= 2) {
    const double scale = std::min(row / cloth, (width - kLeft) / longest);
    const auto count = static_cast<double>(rows_of(lay, (width - kLeft) / scale).size());
    if (count * row_height(drawn, scale) <= height) return scale;
  }
  return std::min(std::min(kRowHeight, height) / cloth, (width - kLeft) / longest);
}

std::vector<lay::Area> waste_of(const lay::Area& part, const std::vector<lay::Area>& pieces) {
  std::vector<lay::Area> waste;
  std::set<Length> along = {part.y, part.y + part.length};
  for (const lay::Area& piece : pieces) {
    along.insert(std::clamp(piece.y, part.y, part.y + part.length));
    along.insert(std::clamp(piece.y + piece.length, part.y, part.y + part.length));
  }
  for (auto from = along.begin(); std::next(from) != along.end(); ++from) {
    const Length to = *std::next(from);
    std::vector<std::pair<Length, Length>> taken;
    for (const lay::Area& piece : pieces) {
      if (piece.y < to && piece.y + piece.length > *from) {
        taken.emplace_back(piece.x, piece.x + piece.width);
      }
    }
    std::sort(taken.begin(), taken.end());
    taken.emplace_back(part.x + part.width, part.x + part.width);
    Length reached = part.x;
    for (const auto& [start, end] : taken) {
      if (start > reached) waste.push_back({reached, *from, start - reached, to - *from});
      reached = std::max(reached, end);
    }
  }
  return waste;
}

namespace {

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
  double top = 0;    ///< of the usable cloth: below a selvedge

  [[nodiscard]] Box box_of(const lay::Area& area) const {
    const double left = kLeft + (area.y - row.from).in_mm() * scale;
    const double above = top + area.x.in_mm() * scale;
    return {left, above, left + area.length.in_mm() * scale, above + area.width.in_mm() * scale};
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
      corners.push_back({std::max(x, kLeft - own.width() / 2), -own.height() - 0.2});
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
    for (const lay::Area& strip : drawn.trial) {
      if (strip.y >= view.row.from && strip.y < view.row.to) trial_.push_back(strip);
    }
  }

  Frame drawn() {
    // Its numbers stand above it: see the gap of the heading.
    const Box cloth =
        view_.box_of({Length(), view_.row.from, lay_.width, view_.row.to - view_.row.from});
    draw_waste(cloth);
    pieces();
    strip_.draw(Group::cut, rectangle(cloth), kClothStroke, "cloth");
    selvedges(cloth);
    folds(cloth);
    trial_strips();
    measures_across(cloth);
    strip_.write(shown(lay_.width), {kLine - 1, (cloth.y0 + cloth.y1) / 2}, Anchor::middle,
                 Weight::regular, kSmallestSize, 270);
    cut_numbers(cloth);
    names();
    strip_.box.y1 = measures_along(cloth) + kGap;
    return std::move(strip_);
  }

 private:
  [[nodiscard]] std::string shown(Length length) const { return words_.text(length); }

  void hatch_waste(const Box& box) {
    Path lines = hatch(box, kWasteSpacing);
    if (!lines.empty()) strip_.draw(Group::seam, std::move(lines), kWasteStroke, "waste");
  }

  /// Where no piece lies; and at the cut end, what squaring takes off it.
  void draw_waste(const Box& cloth) {
    std::vector<lay::Area> taken;
    for (const lay::Placed* piece : inside_) taken.push_back(piece->area);
    taken.insert(taken.end(), trial_.begin(), trial_.end());
    const lay::Area row{Length(), view_.row.from, lay_.width, view_.row.to - view_.row.from};
    for (const lay::Area& free : waste_of(row, taken)) hatch_waste(view_.box_of(free));
    if (drawn_.end == LayToDraw::End::square || view_.row.from > Length()) return;
    const double slant = kCrooked * 0.6;
    Path edge = {{Verb::move, {cloth.x0, cloth.y0}, {}, {}},
                 {Verb::line, {cloth.x0 - kCrooked, cloth.y0}, {}, {}},
                 {Verb::line, {cloth.x0 - kCrooked + slant, cloth.y1}, {}, {}},
                 {Verb::line, {cloth.x0, cloth.y1}, {}, {}}};
    strip_.draw(Group::cut, std::move(edge), kPieceStroke, "crooked end");
    Path lines = hatch({cloth.x0 - kCrooked + slant, cloth.y0, cloth.x0, cloth.y1}, kWasteSpacing);
    if (!lines.empty()) strip_.draw(Group::seam, std::move(lines), kWasteStroke, "to square");
  }

  void pieces() {
    for (const lay::Placed* placed : inside_) {
      const lay::Placed& piece = *placed;
      const Box box = view_.box_of(piece.area);
      strip_.draw(Group::cut, rectangle(box), kPieceStroke, "piece");
      marks_.outlines.take(rectangle(box), 0);
      arrow(box, piece.turned);
    }
  }

  /// Bands beside the cloth that can be used, the upper one named.
  void selvedges(const Box& cloth) {
    const double high = selvedge_height(drawn_, view_.scale);
    if (high <= 0) return;
    strip_.draw(Group::cut, rectangle({cloth.x0, cloth.y0 - high, cloth.x1, cloth.y0}),
                kSelvedgeStroke, "selvedge");
    strip_.draw(Group::cut, rectangle({cloth.x0, cloth.y1, cloth.x1, cloth.y1 + high}),
                kSelvedgeStroke, "selvedge");
  }

  /// Where the cloth is folded while it is cut.
  void folds(const Box& cloth) {
    for (const lay::Section& section : lay_.sections) {
      if (section.plies.way != lay::Plies::Way::folded) continue;
      const Length from = std::max(section.from, view_.row.from);
      const Length to = std::min(section.from + section.length, view_.row.to);
      if (from >= to) continue;
      for (int fold = 1; fold < section.plies.count; ++fold) {
        const Box at = view_.box_of({fold * section.ply_width, from, Length(), to - from});
        strip_.draw(Group::fold, line({at.x0, at.y0}, {at.x1, at.y0}), kFoldStroke, "fold");
      }
    }
    marks_.words.take({0, cloth.y0, kLine, cloth.y1});
  }

  void trial_strips() {
    for (const lay::Area& strip : trial_) {
      const Box box = view_.box_of(strip);
      strip_.draw(Group::cut, rectangle(box), kTrialStroke, "trial strip");
      marks_.outlines.take(rectangle(box), 0);
      // Small pieces of the pouch have none.
      const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
      strip_.items.emplace_back(
          Shape{.group = Group::label,
                .path = rectangle(grown({middle.x, middle.y, middle.x, middle.y}, kDot / 2)),
                .stroke = std::nullopt,
                .fill = Fill::solid,
                .name = "trial dot"});
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

  /// From the left edge, where the first length of the row is divided along the cloth: folded
  /// cloth, from its fold.
  void measures_across(const Box& cloth) {
    const Row first = lengths_in_row().front();
    std::set<Length> edges;
    for (const lay::Placed* piece : inside_) {
      const lay::Area& area = piece->area;
      const bool lies_first = area.y >= first.from && area.y < first.to;
      if (lies_first && area.x + area.width <= ply_width(first)) edges.insert(area.x + area.width);
    }
    for (const Length edge : edges) {
      const double y = view_.box_of({edge, first.from, Length(), Length()}).y0;
      Text figure{.group = Group::label, .words = shown(edge), .at = {}, .size = kSmallestSize};
      const Box own = bounds(figure, measure_);
      const double right = cloth.x0 - kCrooked - 1.2;
      const auto placed = marks_.words.put(figure, {{right - own.width(), y - own.height() / 2}});
      if (!placed) continue;
      strip_.items.emplace_back(*placed);
      strip_.draw(Group::label, line({right + 0.2, y}, {cloth.x0, y}), kArrowStroke, "measure");
    }
  }

  [[nodiscard]] Length ply_width(const Row& length) const {
    for (const lay::Section& section : lay_.sections) {
      if (length.from >= section.from && length.from < section.from + section.length) {
        return section.ply_width;
      }
    }
    return lay_.width;
  }

  [[nodiscard]] std::vector<Row> lengths_in_row() const {
    std::vector<Row> inside;
    for (const Row& length : lengths_of(lay_)) {
      if (length.from >= view_.row.from && length.to <= view_.row.to) inside.push_back(length);
    }
    return inside;
  }

  /// Lengths that are alike and too narrow for a figure each.
  struct Run {
    Length each, to;
    int times = 0;
  };

  [[nodiscard]] std::vector<Run> runs() const {
    std::vector<Run> runs;
    for (const auto& [from, to] : lengths_in_row()) {
      const Length each = to - from;
      const double width = measure_.measure(shown(to), kSmallestSize, Weight::regular).width;
      const bool narrow = width + kClearance > each.in_mm() * view_.scale;
      if (narrow && !runs.empty() && runs.back().each == each) {
        ++runs.back().times;
        runs.back().to = to;
      } else {
        runs.push_back({each, to, 1});
      }
    }
    return runs;
  }

  /// Below the row, from the squared end: how far along the cloth every length is cut off, in lines
  /// below each other where they are crowded. Returns how far down that goes.
  double measures_along(const Box& cloth) {
    const double foot = cloth.y1 + selvedge_height(drawn_, view_.scale);
    for (const auto& [from, to] : lengths_in_row()) {
      const double x = view_.box_of({Length(), from, lay_.width, to - from}).x1;
      strip_.draw(Group::fold, line({x, cloth.y0}, {x, foot + 2}), kCutAcrossStroke, "cut off");
    }
    std::vector<Run> all = runs();
    all.insert(all.begin(), {Length(), view_.row.from, 1});
    double deepest = foot + kLine;
    for (const Run& run : all) {
      const Text figure = run_figure(run);
      const double at = view_.box_of({Length(), run.to, Length(), Length()}).x0;
      const double width = bounds(figure, measure_).width();
      const double x = std::clamp(at - width / 2, 0.0, view_.width - width);
      constexpr int kLevels = 8;
      std::vector<Point> corners;
      corners.reserve(kLevels);
      for (int level = 0; level < kLevels; ++level)
        corners.push_back({x, foot + 2 + level * kLine});
      const auto placed = marks_.words.put(figure, corners);
      if (!placed) continue;
      deepest = std::max(deepest, placed->at.y);
      marks_.words.take(grown(bounds(*placed, measure_), 0.5));
      strip_.items.emplace_back(*placed);
    }
    return deepest;
  }

  [[nodiscard]] Text run_figure(const Run& run) const {
    Text figure{.group = Group::label, .words = shown(run.to), .at = {}, .size = kSmallestSize};
    if (run.times == 1) return figure;
    figure.words =
        words_.say({"lay-picture-run", {{"times", run.times}, {"each", run.each}, {"to", run.to}}});
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
  std::vector<lay::Area> trial_;
  Marks marks_;
  Frame strip_;
};

}  // namespace

Frame row_picture(const LayToDraw& drawn, const Row& row, double scale, double width,
                  const base::Voice& words, const TextMeasure& measure) {
  const RowView view{row, scale, width, selvedge_height(drawn, scale)};
  return RowPicture(drawn, view, words, measure).drawn();
}

}  // namespace pouchwright::draw::cut_plan

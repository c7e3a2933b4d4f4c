#include "draw/sheets/cut_plan_figures.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <string>

namespace pouchwright::draw::cut_plan {
namespace {

using base::Length;

/// Between the places that are tried for a number along its cut.
constexpr double kTry = 4;

/// Whether the cut is made in this row: a length is cut off at its row's end.
bool made_in(const lay::Line& line, lay::Cut cut, const Row& row) {
  const Length from = std::min(line.y0, line.y1);
  const Length to = std::max(line.y0, line.y1);
  if (cut == lay::Cut::off) return from > row.from && to <= row.to;
  return from >= row.from && to <= row.to && from < row.to;
}

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

Length ply_width(const RowSheet& sheet, const Row& length) {
  for (const lay::Section& section : sheet.lay().sections) {
    if (length.from >= section.from && length.from < section.from + section.length) {
      return section.ply_width;
    }
  }
  return sheet.lay().width;
}

std::vector<Row> lengths_in_row(const RowSheet& sheet) {
  std::vector<Row> inside;
  for (const Row& length : lengths_of(sheet.lay())) {
    if (length.from >= sheet.view.row.from && length.to <= sheet.view.row.to)
      inside.push_back(length);
  }
  return inside;
}

/// Lengths that are alike and too narrow for a figure each.
struct Run {
  Length each, to;
  int times = 0;
};

std::vector<Run> runs(const RowSheet& sheet) {
  std::vector<Run> runs;
  for (const auto& [from, to] : lengths_in_row(sheet)) {
    const Length each = to - from;
    const double width =
        sheet.measure.measure(sheet.words.text(to), kSmallestSize, Weight::regular).width;
    const bool narrow = width + kClearance > each.in_mm() * sheet.view.scale;
    if (narrow && !runs.empty() && runs.back().each == each) {
      ++runs.back().times;
      runs.back().to = to;
    } else {
      runs.push_back({each, to, 1});
    }
  }
  return runs;
}

Text run_figure(const RowSheet& sheet, const Run& run) {
  Text figure{
      .group = Group::label, .words = sheet.words.text(run.to), .at = {}, .size = kSmallestSize};
  if (run.times == 1) return figure;
  figure.words = sheet.words.say(
      {"lay-picture-run", {{"times", run.times}, {"each", run.each}, {"to", run.to}}});
  return figure;
}

std::optional<Text> number_at(RowSheet& sheet, const Text& text,
                              const std::vector<Point>& corners) {
  std::vector<Point> clear;
  for (const Point& corner : corners) {
    const Box box = bounds(with_top_left(text, corner, sheet.measure), sheet.measure);
    if (sheet.marks.outlines.is_free(grown(box, -kClearance))) clear.push_back(corner);
  }
  const auto placed = sheet.marks.words.put(text, clear);
  return placed ? placed : sheet.marks.words.put(text, corners);
}

/// Where a cut's surroundings are full: the nearest free place, with a line to the cut.
void number_aside(RowSheet& sheet, const Text& text, Point cut) {
  std::vector<Point> around;
  for (int x = -15; x <= 15; ++x) {
    for (int y = -15; y <= 15; ++y) {
      const Point at{cut.x + 1.5 * x, cut.y + 1.5 * y};
      const Box box = bounds(with_top_left(text, at, sheet.measure), sheet.measure);
      if (box.x0 > sheet.cloth.x0 && box.x1 < sheet.cloth.x1 && box.y0 > sheet.cloth.y0 &&
          box.y1 < sheet.cloth.y1) {
        around.push_back(at);
      }
    }
  }
  const auto far = [&](Point a) { return std::hypot(a.x - cut.x, a.y - cut.y); };
  std::stable_sort(around.begin(), around.end(), [&](Point a, Point b) { return far(a) < far(b); });
  const auto placed = sheet.marks.words.put(text, around);
  if (!placed) return;
  const Box box = bounds(*placed, sheet.measure);
  const Point near{std::clamp(cut.x, box.x0, box.x1), std::clamp(cut.y, box.y0, box.y1)};
  sheet.strip.draw(Group::label, line(near, cut), kArrowStroke, "leader");
  sheet.strip.items.emplace_back(*placed);
}

}  // namespace

void measure_across(RowSheet& sheet) {
  const Row first = lengths_in_row(sheet).front();
  std::set<Length> edges;
  for (const lay::Placed* piece : sheet.pieces) {
    const lay::Area& area = piece->area;
    const bool lies_first = area.y >= first.from && area.y < first.to;
    if (lies_first && area.x + area.width <= ply_width(sheet, first))
      edges.insert(area.x + area.width);
  }
  for (const Length edge : edges) {
    const double y = sheet.view.box_of({edge, first.from, Length(), Length()}).y0;
    Text figure{
        .group = Group::label, .words = sheet.words.text(edge), .at = {}, .size = kSmallestSize};
    const Box own = bounds(figure, sheet.measure);
    const double right = sheet.cloth.x0 - kCrooked - 1.2;
    const auto placed =
        sheet.marks.words.put(figure, {{right - own.width(), y - own.height() / 2}});
    if (!placed) continue;
    sheet.strip.items.emplace_back(*placed);
    sheet.strip.draw(Group::label, line({right + 0.2, y}, {sheet.cloth.x0, y}), kArrowStroke,
                     "measure");
  }
}

double measure_along(RowSheet& sheet) {
  const double foot = sheet.cloth.y1 + selvedge_height(sheet.drawn, sheet.view.scale);
  for (const auto& [from, to] : lengths_in_row(sheet)) {
    const double x = sheet.view.box_of({Length(), from, sheet.lay().width, to - from}).x1;
    sheet.strip.draw(Group::fold, line({x, sheet.cloth.y0}, {x, foot + 2}), kCutAcrossStroke,
                     "cut off");
  }
  std::vector<Run> all = runs(sheet);
  all.insert(all.begin(), {Length(), sheet.view.row.from, 1});
  double deepest = foot + kLine;
  for (const Run& run : all) {
    const Text figure = run_figure(sheet, run);
    const double at = sheet.view.box_of({Length(), run.to, Length(), Length()}).x0;
    const double width = bounds(figure, sheet.measure).width();
    const double x = std::clamp(at - width / 2, 0.0, sheet.view.width - width);
    constexpr int kLevels = 8;
    std::vector<Point> corners;
    corners.reserve(kLevels);
    for (int level = 0; level < kLevels; ++level) corners.push_back({x, foot + 2 + level * kLine});
    const auto placed = sheet.marks.words.put(figure, corners);
    if (!placed) continue;
    deepest = std::max(deepest, placed->at.y);
    sheet.marks.words.take(grown(bounds(*placed, sheet.measure), 0.5));
    sheet.strip.items.emplace_back(*placed);
  }
  return deepest;
}

void number_cuts(RowSheet& sheet) {
  int number = 0;
  for (const lay::Step& step : sheet.lay().steps) {
    ++number;
    if (step.lines.empty() || !made_in(step.lines.front(), step.cut, sheet.view.row)) continue;
    Text text{.group = Group::label,
              .words = std::to_string(number),
              .at = {},
              .size = kSmallestSize,
              .weight = Weight::bold};
    const auto corners = beside_lines(step, text, sheet.view, sheet.measure);
    const auto placed = number_at(sheet, text, corners);
    if (placed) {
      sheet.strip.items.emplace_back(*placed);
    } else {
      number_aside(sheet, text, corners.front());
    }
  }
}

}  // namespace pouchwright::draw::cut_plan

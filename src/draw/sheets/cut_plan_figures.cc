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

/// Where a step's number may stand: above the cloth where a length is cut off, else on its lines.
std::vector<Point> on_lines(const lay::Step& step, const RowView& view) {
  std::vector<Point> centres;
  for (const lay::Line& one : step.lines) {
    if (!made_in(one, step.cut, view.row)) continue;
    const Box at = view.line_box(one);
    if (step.cut == lay::Cut::off) {
      centres.push_back({std::clamp(at.x0, kLeft, view.width - kCircle), -kCircle - 0.4});
    } else if (at.height() < at.width()) {
      for (double x = at.x0 + kCircle + 0.6; x + kCircle < at.x1; x += kTry) {
        centres.push_back({x, at.y0});
      }
    } else {
      for (double y = at.y0 + kCircle + 0.6; y + kCircle < at.y1; y += kTry) {
        centres.push_back({at.x0, y});
      }
    }
    if (centres.empty()) centres.push_back(middle(at));
  }
  return centres;
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

void draw_number(RowSheet& sheet, int number, Point centre) {
  sheet.taken.take(grown({centre.x, centre.y, centre.x, centre.y}, kCircle));
  sheet.strip.items.emplace_back(Shape{.group = Group::label,
                                       .path = circle(centre, kCircle),
                                       .stroke = kPieceStroke,
                                       .fill = Fill::paper,
                                       .name = "cut number"});
  const Text text{.group = Group::label,
                  .words = std::to_string(number),
                  .at = {},
                  .size = kSmallestSize,
                  .weight = Weight::bold};
  sheet.strip.items.emplace_back(centred_on(text, centre, sheet.measure));
}

bool is_free(const RowSheet& sheet, Point centre) {
  return sheet.taken.is_free(grown({centre.x, centre.y, centre.x, centre.y}, kCircle));
}

/// Does no edge on the cloth run through the circle?
bool is_clear_of_edges(const RowSheet& sheet, Point centre) {
  const Box own = grown({centre.x, centre.y, centre.x, centre.y}, kCircle + kClearance / 2);
  const auto runs_through = [&](const Box& box) {
    return overlap(own, box) &&
           !(own.x0 >= box.x0 && own.x1 <= box.x1 && own.y0 >= box.y0 && own.y1 <= box.y1);
  };
  if (runs_through(sheet.cloth)) return false;
  for (const lay::Placed* piece : sheet.pieces) {
    if (runs_through(sheet.view.box_of(piece->area))) return false;
  }
  return std::none_of(sheet.trial.begin(), sheet.trial.end(), [&](const lay::Area& strip) {
    return runs_through(sheet.view.box_of(strip));
  });
}

/// Does a leader between these run over no words, arrow or other circle?
bool is_free_between(const RowSheet& sheet, Point from, Point to) {
  const double far = std::hypot(to.x - from.x, to.y - from.y);
  for (double at = 0; at <= far; at += 0.5) {
    const Point p{from.x + (to.x - from.x) * at / far, from.y + (to.y - from.y) * at / far};
    if (!sheet.taken.is_free(grown({p.x, p.y, p.x, p.y}, 0.1))) return false;
  }
  return true;
}

/// Steps from a cut to where its number may stand, the nearest first; none within the circle.
const std::vector<Point>& places_around() {
  constexpr int kReach = 26;
  constexpr double kStep = 1.5;
  static const std::vector<Point> kAround = [] {
    std::vector<Point> around;
    for (int x = -kReach; x <= kReach; ++x) {
      for (int y = -kReach; y <= kReach; ++y) {
        if (std::hypot(kStep * x, kStep * y) > kCircle) around.push_back({kStep * x, kStep * y});
      }
    }
    const auto squared = [](Point by) { return by.x * by.x + by.y * by.y; };
    std::stable_sort(around.begin(), around.end(),
                     [&](Point a, Point b) { return squared(a) < squared(b); });
    return around;
  }();
  return kAround;
}

enum class Edges { kept_clear, crossed };

/// Where a cut's surroundings are full: the nearest free place between edges, in the cloth or to
/// the right of it, with a line to the cut; on a crowded plan over edges. False where there is none.
bool number_aside(RowSheet& sheet, int number, Point cut, Edges edges) {
  const Box room{sheet.cloth.x0 + kCircle, sheet.cloth.y0 + kCircle, sheet.view.width - kCircle,
                 sheet.cloth.y1 - kCircle};
  const std::vector<Point>& around = places_around();
  const auto on_sheet = [&](Point by) { return Point{cut.x + by.x, cut.y + by.y}; };
  const auto found = std::find_if(around.begin(), around.end(), [&](Point by) {
    const Point at = on_sheet(by);
    if (at.x <= room.x0 || at.x >= room.x1 || at.y <= room.y0 || at.y >= room.y1) return false;
    if (!is_free(sheet, at)) return false;
    return edges == Edges::crossed ||
           (is_clear_of_edges(sheet, at) && is_free_between(sheet, cut, at));
  });
  if (found == around.end()) return false;
  const Point place = on_sheet(*found);
  sheet.strip.draw(Group::label, line(place, cut), kArrowStroke, "leader");
  draw_number(sheet, number, place);
  return true;
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
    const auto placed = sheet.taken.put(figure, {{right - own.width(), y - own.height() / 2}});
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
    sheet.strip.draw(Group::fold, line({x, sheet.cloth.y0}, {x, foot + 2}), kFirstCutStroke,
                     "cut off");
  }
  std::vector<Run> all = runs(sheet);
  all.insert(all.begin(), {Length(), sheet.view.row.from, 1});
  double deepest = foot + kLine;
  std::vector<Box> written;
  for (const Run& run : all) {
    const Text figure = run_figure(sheet, run);
    const double at = sheet.view.box_of({Length(), run.to, Length(), Length()}).x0;
    const double width = bounds(figure, sheet.measure).width();
    const double x = std::clamp(at - width / 2, 0.0, sheet.view.width - width);
    constexpr int kLevels = 8;
    constexpr double kLevel = kLine + 2;
    std::vector<Point> corners;
    corners.reserve(kLevels);
    for (int level = 0; level < kLevels; ++level) corners.push_back({x, foot + 2 + level * kLevel});
    const auto placed = sheet.taken.put(figure, corners);
    if (!placed) continue;
    deepest = std::max(deepest, placed->at.y);
    const Box own = bounds(*placed, sheet.measure);
    // Where it stands lower, a line says what it belongs to.
    const bool is_hidden = std::any_of(written.begin(), written.end(), [&](const Box& other) {
      return at > other.x0 && at < other.x1;
    });
    if (own.y0 > foot + kLevel && !is_hidden) {
      sheet.strip.draw(Group::label, line({at, foot + 2}, {at, own.y0}), kArrowStroke, "leader");
    }
    written.push_back(own);
    sheet.taken.take(grown(own, 0.5));
    sheet.strip.items.emplace_back(*placed);
  }
  return deepest;
}

void number_cuts(RowSheet& sheet) {
  int number = 0;
  for (const lay::Step& step : sheet.lay().steps) {
    ++number;
    if (step.lines.empty() || !made_in(step.lines.front(), step.cut, sheet.view.row)) continue;
    const std::vector<Point> centres = on_lines(step, sheet.view);
    const auto place =
        std::find_if(centres.begin(), centres.end(), [&](Point at) { return is_free(sheet, at); });
    if (place != centres.end()) {
      draw_number(sheet, number, *place);
      continue;
    }
    // Where the first few places along a cut are full, so are those between them.
    constexpr std::size_t kMostTries = 6;
    const std::size_t step_on = std::max<std::size_t>(1, centres.size() / kMostTries);
    const auto is_put = [&](Edges edges) {
      for (std::size_t i = 0; i < centres.size(); i += step_on) {
        if (number_aside(sheet, number, centres[i], edges)) return true;
      }
      return false;
    };
    const bool is_numbered = is_put(Edges::kept_clear) || is_put(Edges::crossed);
    if (!is_numbered) ++sheet.unnumbered;
  }
}

}  // namespace pouchwright::draw::cut_plan

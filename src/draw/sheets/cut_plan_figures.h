/// What is written on a row of a cut plan's picture: how far along and across the cloth it is cut,
/// and the number of each cut.
///
///     RowSheet sheet{drawn, view, cloth, words, measure, pieces, trial};
///     measure_across(sheet);
///
/// For cut_plan_lines.cc only, which has drawn the lines that the figures keep clear of.
#pragma once

#include <algorithm>
#include <map>
#include <vector>

#include "draw/sheets/cut_plan_rows.h"
#include "ink/labels.h"

namespace pouchwright::draw::cut_plan {

constexpr Stroke kArrowStroke{LinePattern::continuous, 0.18};
/// How far the shop's cut stands out at the end that is squared.
constexpr double kCrooked = 3;
/// Of the circle about a cut's number.
constexpr double kCircle = 2.6;
/// Room above a row for the circles of lengths cut off.
constexpr double kAboveRow = 2 * kCircle + 1;

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
    const base::Length x = std::min(one.x0, one.x1);
    const base::Length y = std::min(one.y0, one.y1);
    return box_of({x, y, std::max(one.x0, one.x1) - x, std::max(one.y0, one.y1) - y});
  }
};

/// A row while it is drawn.
struct RowSheet {
  const LayToDraw& drawn;
  RowView view;
  Box cloth;  ///< of the row, on the paper
  const base::Voice& words;
  const TextMeasure& measure;
  std::vector<const lay::Placed*> pieces{};  ///< of the row
  std::vector<int> numbers{};                ///< of these, in the order of cutting
  std::map<Alike, Look> looks{};
  std::vector<lay::Area> trial{};  ///< strips of the row
  Frame strip{};                   ///< what is drawn so far
  int unnumbered = 0;              ///< pieces and cuts that there was no room to number

  /// Words, arrows and circles, which never lie on each other.
  LabelPlacer taken{measure};

  [[nodiscard]] const lay::Lay& lay() const { return *drawn.lay; }
};

/// From the left edge, where the first length of the row is divided along the cloth: folded
/// cloth, from its fold.
void measure_across(RowSheet& sheet);

/// Below the row, from the squared end: how far along the cloth every length is cut off, in lines
/// below each other where they are crowded. Returns how far down that goes.
double measure_along(RowSheet& sheet);

/// The number of each cut, once, in a circle on one of its lines, where it covers no other word;
/// else beside it, with a line to it.
void number_cuts(RowSheet& sheet);

}  // namespace pouchwright::draw::cut_plan

/// How a cut plan's picture is broken into rows, and how large it is drawn.
///
///     const double scale = scale_for(lay, width, height);
///     for (const Row& row : rows_of(lay, room)) strips.push_back(row_picture(drawn, row, ...));
///
/// For the files of cut_plan only.
#pragma once

#include <vector>

#include "draw/sheets/cut_plan.h"

namespace pouchwright::draw::cut_plan {

constexpr Stroke kPieceStroke{LinePattern::continuous, 0.35};
constexpr Stroke kWasteStroke{LinePattern::continuous, 0.13};
constexpr Stroke kCutAcrossStroke{LinePattern::dashed, 0.35};
constexpr double kWasteSpacing = 2;
constexpr double kLine = 4.2;
constexpr double kGap = 5;
/// Left of a row, for the cloth's width, running measures and the end to be squared.
constexpr double kLeft = 27;

/// A stretch of the cloth that is drawn as one row: whole lengths cut off.
struct Row {
  base::Length from, to;
};

/// The lengths cut off, or the whole of a remnant.
[[nodiscard]] std::vector<Row> lengths_of(const lay::Lay& lay);

/// On paper: a selvedge is drawn to scale, and wide enough to be seen.
[[nodiscard]] double selvedge_height(const LayToDraw& drawn, double scale);

/// As many lengths in a row as it has room for; `room` is mm of cloth.
[[nodiscard]] std::vector<Row> rows_of(const lay::Lay& lay, double room);

/// Paper mm for a mm of cloth, as large as the rows allow on paper `width` wide.
[[nodiscard]] double scale_for(const LayToDraw& drawn, double width, double height);

/// What no piece covers of `part`, in rectangles between the pieces' edges.
[[nodiscard]] std::vector<lay::Area> waste_of(const lay::Area& part,
                                              const std::vector<lay::Area>& pieces);

}  // namespace pouchwright::draw::cut_plan

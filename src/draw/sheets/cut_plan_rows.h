/// The rows of a cut plan's picture: the cloth unrolled to the right, with its selvedges, the end to
/// be squared, pieces, waste, trial strips, numbered cuts and running measures.
///
///     const double scale = scale_for(lay, width, height);
///     for (const Row& row : rows_of(lay, room)) strips.push_back(row_picture(drawn, row, ...));
///
/// For cut_plan.cc only.
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

/// As many lengths in a row as it has room for; `room` is mm of cloth.
[[nodiscard]] std::vector<Row> rows_of(const lay::Lay& lay, double room);

/// Paper mm for a mm of cloth, as large as the rows allow on paper `width` wide.
[[nodiscard]] double scale_for(const LayToDraw& drawn, double width, double height);

/// What no piece covers of `part`, in rectangles between the pieces' edges.
[[nodiscard]] std::vector<lay::Area> waste_of(const lay::Area& part,
                                              const std::vector<lay::Area>& pieces);

/// `scale` is paper mm for a mm of cloth, `width` the paper's.
[[nodiscard]] Frame row_picture(const LayToDraw& drawn, const Row& row, double scale, double width,
                                const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw::cut_plan

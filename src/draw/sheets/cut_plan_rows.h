/// How a cut plan's picture is broken into rows, and how large it is drawn.
///
///     const double scale = scale_for(lay, width, height);
///     for (const Row& row : rows_of(lay, room)) strips.push_back(row_picture(drawn, row, ...));
///
/// For the files of cut_plan only.
#pragma once

#include <compare>
#include <map>
#include <vector>

#include "draw/sheets/cut_plan.h"

namespace pouchwright::draw::cut_plan {

constexpr Stroke kPieceStroke{LinePattern::continuous, 0.25};
constexpr Stroke kRuledStroke{LinePattern::continuous, 0.18};
constexpr Stroke kCutAcrossStroke{LinePattern::dashed, 0.35};
/// The first cuts, from which all others are measured.
constexpr Stroke kFirstCutStroke{LinePattern::continuous, 0.5};
constexpr double kRuledSpacing = 5;
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

/// How an area of pieces looks: what covers most of the cloth takes least ink.
enum class Look { dotted, pale, grey, ruled };
/// Of a kind of pieces, or of by-products, that lie one way.
struct Alike {
  bool by_product = false;
  int kind = 0;
  bool turned = false;

  auto operator<=>(const Alike&) const = default;
};
[[nodiscard]] inline Alike alike(const lay::Placed& piece) {
  return {piece.by_product, piece.kind, piece.turned};
}
/// Another look for each kind and direction, as far as there are looks.
[[nodiscard]] std::map<Alike, Look> looks_of(const lay::Lay& lay);
/// A piece's area, outlined.
void draw_piece(Frame& strip, const Box& box, Look look, const char* name = "piece");

}  // namespace pouchwright::draw::cut_plan

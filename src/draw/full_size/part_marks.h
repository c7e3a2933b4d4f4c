/// What the cutting templates of several panels and pieces need to know of a part: its lines, its
/// corners, where its lips and its bottom are.
///
/// Inside `draw` only, for template.cc, nested.cc and the pictures of folds.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "draw/with_ink.h"
#include "ink/canvas.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// `template` for the main panel, `template-NAME` for all others; only letters, digits and hyphens.
[[nodiscard]] std::string template_name(const pouch::Pouch& pouch, const pouch::CutPart& part);

/// The flat panel of a part; a piece is one span without a name.
[[nodiscard]] pouch::FlatPanel flat_of(const pouch::Sizes& sizes, const pouch::CutPart& part);

/// The fused bands of a part, x from its own raw left edge. A band all across ends where those of
/// the sides begin.
[[nodiscard]] std::vector<pouch::SealZone> own_zones(const pouch::Pouch& pouch,
                                                     const pouch::CutPart& part);
/// Does a band with this x run across the part, as at a bottom seam?
[[nodiscard]] bool is_across(const pouch::Interval& x, const pouch::CutPart& part);

/// The end of a panel that is sewn to another at the bottom; empty where it has none.
[[nodiscard]] std::optional<pouch::Edge> bottom_end(const pouch::Pouch& pouch,
                                                    const pouch::CutPart& part);

/// Where the stretch `flat` of a span lies once it is folded.
[[nodiscard]] pouch::Interval heights_of(const pouch::Folded& folded, pouch::SpanId span,
                                         const pouch::Interval& flat);

/// The free end of a compartment's film, on this part.
struct Lip {
  base::Length y;
  bool film_follows = true;  ///< the film lies beyond it, along the panel
};
[[nodiscard]] std::vector<Lip> lips_of(const pouch::Pouch& pouch, const pouch::CutPart& part);

/// How the corners of a part's ends are cut.
struct EndCorners {
  pouch::FlapShape shape = pouch::FlapShape::straight;
  double size = 0;        ///< mm
  bool at_start = false;  ///< the flap ends at the panel's start, not at its end
};
[[nodiscard]] EndCorners corners_of(const pouch::Pouch& pouch, const pouch::CutPart& part);
/// How far a shaped corner leaves one edge behind, `from_edge` mm from the other edge.
[[nodiscard]] double cut_off(const EndCorners& corners, double from_edge);
/// The shaped end of `box` alone, from its left edge over both corners to its right edge.
[[nodiscard]] Path end_with(const EndCorners& corners, const Box& box);
/// `box`, its corners so shaped: one closed path. Of a half pattern an open one from the upper left
/// corner clockwise to the lower left, its right corners shaped.
[[nodiscard]] Path outline_with(const EndCorners& corners, const Box& box);
[[nodiscard]] Path half_outline_with(const EndCorners& corners, const Box& box);

/// A cross at `from`; where the attachment covers a stretch down to `y1`, a bar at either end;
/// where it is `width` wide as well, the outline of what it covers. `across` is where the part's
/// sides are: nothing stands out of them.
[[nodiscard]] Path attachment_mark(Point from, double y1, double width, Point across);
/// Where the words of a mark may stand: beside it, below it, above it.
[[nodiscard]] std::vector<Box> regions_near(Point mark);
/// Words in a narrower strip are not worth reading.
inline constexpr double kNarrowestNote = 25;

/// A panel's centre line over the heights `y` of the sheet, with gaps `white` mm larger than the words that stand on it: to be drawn
/// when all words are placed.
void draw_centre_line(Sheet& sheet, double x, const pouch::Interval& y, double white);

}  // namespace pouchwright::draw

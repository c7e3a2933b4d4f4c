/// The icons beside a view, with their arrows to what they are about: an iron to the band, a needle
/// to the seam.
///
/// Inside `draw` only; callers outside use picture.h.
#pragma once

#include <vector>

#include "draw/folds/marks.h"
#include "ink/icons.h"

namespace pouchwright::draw {

/// What stands beside the view, and which way its arrows go.
struct SideIcon {
  Icon icon{};
  Point at;                 ///< on the view, what it is about
  bool has_arrow = false;   ///< to that point
  bool at_section = false;  ///< another arrow goes to the section
  bool never = false;       ///< crossed out
};

/// From the highest to the lowest.
[[nodiscard]] std::vector<SideIcon> side_icons(const FoldViews& views);

/// An icon, and an arrow on each of its sides.
inline constexpr double kSideIconSize = 8;
inline constexpr double kSideIconLane = kSideIconSize + 7;

/// One below the other from `left` on, each beside what it means, all inside the height of `view`.
void draw_side_icons(Drawing& drawing, const FoldViews& views, const std::vector<SideIcon>& beside,
                     double left, const Box& view, const Icons& icons);

}  // namespace pouchwright::draw

/// The folded pouch seen from above, the mouth up, the bottom fold below.
///
///     draw_plan(drawing, stage.folded, {}, {.origin = {10, 80}, .scale = 0.2, .width = width});
///
/// Inside `draw` only; callers outside use picture.h. Nothing is filled: what is covered is
/// left out, except raw ends, which show through as dotted lines.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "draw/full_size/part_marks.h"
#include "draw/with_ink.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// A card that lies on so many of Folded::layers(), and under the rest.
struct PlanCard {
  const pouch::Card* card = nullptr;
  std::size_t layers_below = 0;
};

/// A part of a card that is a rectangle: its x from the left raw edge, its folded heights.
struct CardPart {
  pouch::Interval x;
  pouch::Interval heights;
};
/// The card cut at every height where its outline has a corner, from the bottom up.
[[nodiscard]] std::vector<CardPart> parts_of(const pouch::Card& card);

/// A flap whose corners are shaped, and which end of which span they are at; sizes in mm of cloth.
struct ShapedEnd {
  pouch::SpanId span;
  EndCorners corners;  ///< `at_start` is the panel's start
};
[[nodiscard]] std::optional<ShapedEnd> shaped_end(const pouch::Pouch& pouch);

struct PlanLook {
  Point origin;        ///< the left raw edge, height 0
  double scale = 0.2;  ///< mm of paper for a mm of cloth
  base::Length width;  ///< of the panel
  bool film = true;    ///< dots where it looks up; not on an outer alone
  std::optional<ShapedEnd> shaped;

  [[nodiscard]] double x(base::Length from_left) const;
  [[nodiscard]] double y(base::Length height) const;
  [[nodiscard]] Box box(const pouch::Interval& across, const pouch::Interval& heights) const;
  /// The shaped corners in mm of paper; `at_start` is the upper end. Requires: `shaped`.
  [[nodiscard]] EndCorners corners(const pouch::Layer& layer) const;
};

inline constexpr Stroke kPlanStroke{LinePattern::continuous, 0.5};
inline constexpr Stroke kPlanCardStroke{LinePattern::continuous, 0.35};
inline constexpr Stroke kPlanFoldStroke{LinePattern::long_dash_double_dot, 0.18};
inline constexpr Stroke kPlanHiddenStroke{LinePattern::dotted, 0.35};

/// Shapes in `cut` are called `raw edge`, `end: SPAN`, `fold: BEFORE / AFTER`; in `fold` the lines
/// where it is not folded yet, likewise; `hidden end: SPAN`, `film up: SPAN` (rows of dots wherever
/// film looks up) and `card: NAME` speak for themselves.
void draw_plan(Drawing& drawing, const pouch::Folded& folded, const std::vector<PlanCard>& cards,
               const PlanLook& look);

}  // namespace pouchwright::draw

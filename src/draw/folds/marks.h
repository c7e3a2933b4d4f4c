/// The two views of one moment, and the marks in them of what is done: where to press, to sew, to
/// clip, to notch, to finish, how high to fill.
///
/// Inside `draw` only; callers outside use picture.h.
#pragma once

#include <array>
#include <optional>

#include "draw/folds/cut_through.h"
#include "draw/folds/from_above.h"
#include "draw/with_ink.h"
#include "pouch/fold/moment.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// What is drawn where. What it points to must outlive it.
struct FoldViews {
  const pouch::Pouch* pouch = nullptr;
  const pouch::FoldMoment* moment = nullptr;
  const Stack* stack = nullptr;
  PlanLook plan;
  SectionLook section;

  [[nodiscard]] pouch::Interval all_heights() const {
    return pouch::extent_of(moment->folded.layers());
  }
  /// On the plan; the left raw edge lies at 0.
  [[nodiscard]] double right() const { return plan.x(pouch->sizes.cut_width); }
  [[nodiscard]] double centre() const { return plan.x(base::half(pouch->sizes.cut_width)); }
  [[nodiscard]] double top() const { return plan.y(all_heights().to); }
  [[nodiscard]] double bottom() const { return plan.y(all_heights().from); }
  [[nodiscard]] std::array<double, 2> side_seams() const;
  /// The layer of the span that a panel's end is at, once it lies.
  [[nodiscard]] std::optional<pouch::Layer> end_layer(pouch::Edge end, std::size_t panel) const;
  /// The height of a panel's raw end, and the heights of the span that it ends.
  [[nodiscard]] base::Length end_height(pouch::Edge end, std::size_t panel = 0) const;
  [[nodiscard]] pouch::Interval end_span_heights(pouch::Edge end, std::size_t panel = 0) const;
  /// In the side view the left side of the topmost layer or card at a height, if any lies there.
  [[nodiscard]] std::optional<double> top_of_stack(base::Length height) const;
};

/// What is not there, or not there any more.
inline constexpr Stroke kGhost{LinePattern::dotted, 0.5};
/// The size of a ring around a corner that is to be looked at, mm of paper.
inline constexpr double kCornerRing = 3.2;

/// The marks of the moment's operations in both views, and its notches and clips.
void draw_marks(Drawing& drawing, const FoldViews& views);
/// All that is pressed and sewn, on the plan only.
void draw_seals_and_seams(Drawing& drawing, const FoldViews& views);

}  // namespace pouchwright::draw

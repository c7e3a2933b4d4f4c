/// The view of one moment, beside it the section where that tells more, and the marks in both of
/// what is done: where to press, to sew, to clip, to notch, to finish, how high to fill.
///
/// Inside `draw` only; callers outside use picture.h.
#pragma once

#include <array>
#include <optional>

#include "draw/folds/cut_through.h"
#include "draw/views/view.h"
#include "draw/with_ink.h"
#include "pouch/fold/moment.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// What is drawn where. What it points to must outlive it.
struct FoldViews {
  const pouch::Pouch* pouch = nullptr;
  const pouch::FoldMoment* moment = nullptr;
  const View* view = nullptr;
  base::Length water;                  ///< up to where it is filled, as it is said
  const Stack* stack = nullptr;        ///< of the section
  std::optional<SectionLook> section;  ///< absent: it would tell nothing more

  [[nodiscard]] pouch::Interval all_heights() const {
    return pouch::extent_of(moment->folded.layers());
  }
  [[nodiscard]] base::Length right() const { return pouch->sizes.cut_width; }
  [[nodiscard]] base::Length centre() const { return base::half(pouch->sizes.cut_width); }
  /// Distances from the left raw edge.
  [[nodiscard]] std::array<base::Length, 2> side_seams() const;
  /// A point at x of the layer that a panel's end is at, so far inwards from that end.
  [[nodiscard]] Point near_end(pouch::Edge end, std::size_t panel, base::Length x,
                               base::Length inwards) const;
  /// The layer of the span that a panel's end is at, once it lies.
  [[nodiscard]] std::optional<pouch::Layer> end_layer(pouch::Edge end, std::size_t panel) const;
  /// The height of a panel's raw end, and the heights of the span that it ends.
  [[nodiscard]] base::Length end_height(pouch::Edge end, std::size_t panel = 0) const;
  [[nodiscard]] pouch::Interval end_span_heights(pouch::Edge end, std::size_t panel = 0) const;
  /// In the section the left side of the topmost layer or card at a height, if any lies there.
  [[nodiscard]] std::optional<double> top_of_stack(base::Length height) const;
};

/// What is not there, or not there any more.
inline constexpr Stroke kGhost{LinePattern::dotted, 0.35};
/// The size of a ring around a corner that is to be looked at, mm of paper.
inline constexpr double kCornerRing = 3.2;

/// The marks of the moment's operations, and its notches and clips.
void draw_marks(Drawing& drawing, const FoldViews& views);
/// All that is pressed and sewn, on the view only.
void draw_seals_and_seams(Drawing& drawing, const FoldViews& views);

}  // namespace pouchwright::draw

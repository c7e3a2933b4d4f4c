/// Lines and areas that lie on the uppermost layers of a view: bands to press, seams, hems.
///
///     drawing.add_line(Group::seam, "sew here", along(view, seam, {Length(), depth}), kStitches);
///
/// Inside `draw` only. x from the widest panel's left raw edge.
#pragma once

#include "draw/views/view.h"

namespace pouchwright::draw {

/// Along the panel at x; over the end of a layer it steps to the next.
[[nodiscard]] Path along(const View& view, base::Length x, const pouch::Interval& heights);
/// Across it at a height, bowed as an open mouth is.
[[nodiscard]] Path across(const View& view, const pouch::Interval& x, base::Length height);
/// Round a rectangle: closed.
[[nodiscard]] Path outline_on(const View& view, const pouch::Interval& x,
                              const pouch::Interval& heights);
/// Lines at 45 degrees of the paper in it.
[[nodiscard]] Path hatch_on(const View& view, const pouch::Interval& x,
                            const pouch::Interval& heights, double spacing);

/// A line of waves across at the height of water.
[[nodiscard]] Path waves_on(const View& view, const pouch::Interval& x, base::Length height);

/// The face that is seen at a point of the paper; null where there is none.
[[nodiscard]] const ViewFace* seen_at(const View& view, Point at);

/// All faces on paper.
[[nodiscard]] Box box_of(const View& view);

}  // namespace pouchwright::draw

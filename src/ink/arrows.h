/// Lines that end in arrowheads.
///
///     for (Shape& shape : arrow({0, 0}, {20, 0})) drawing.add(std::move(shape));
#pragma once

#include <vector>

#include "ink/scene.h"

namespace pouchwright::ink {

struct HeadSize {
  double length = 2.4;
  double width = 1.8;
};

/// The head of an arrow that comes from `from`: a closed triangle from its tip, or two open barbs.
[[nodiscard]] Path arrow_head(Point tip, Point from, HeadSize size, Ends ends);

/// A line that ends in an arrowhead: through `from`, bent over `c1` and `c2`, to `to`.
[[nodiscard]] std::vector<Shape> arrow(Point from, Point c1, Point c2, Point to);
/// A straight one.
[[nodiscard]] std::vector<Shape> arrow(Point from, Point to);

}  // namespace pouchwright::ink

/// Flat faces with what they show to either side, and how they are painted: film grey, the knit
/// white, an outer dotted, a card white within a heavy edge. Only film takes much toner.
///
///     for (Shape& shape : painted(faces, view)) drawing.add(std::move(shape));
///
/// Inside `draw` only. All of a view is one group in painter's order. Three line widths (ISO 128-20,
/// from memory: a series by the root of two): outlines 0.7, edges 0.35, what is hidden 0.18.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "draw/views/depth_order.h"

namespace pouchwright::draw {

/// What a face shows.
enum class Skin { film, knit, outer, lining, card, liner, water };

/// What runs along a face's edge.
enum FaceEdge : int {
  kNoEdge = 0,  ///< it goes on smoothly
  kRawEdge = 1,
  kBendEdge = 2,   ///< it turns away from the eye here
  kCreaseEdge = 3  ///< it will be folded here
};

struct ViewFace {
  Face3 face;
  Skin front = Skin::knit;  ///< towards whoever sees the corners run counter-clockwise
  Skin back = Skin::film;
  std::string name;  ///< faces of one name that show the same are painted as one area
};

inline constexpr Stroke kOutlineStroke{LinePattern::continuous, 0.7};
inline constexpr Stroke kEdgeStroke{LinePattern::continuous, 0.35};
inline constexpr Stroke kHiddenStroke{LinePattern::dashed, 0.18};
/// The lines of folds to come, as on the template.
inline constexpr Stroke kCreaseStroke{LinePattern::long_dash_double_dot, 0.35};

/// `film`, `knit`, `outer`, …
[[nodiscard]] std::string_view word_of(Skin skin);
[[nodiscard]] Fill fill_of(Skin skin);
/// The side that the eye sees.
[[nodiscard]] Skin seen(const ViewFace& face, const Projection& view);

/// Adds a corner, and what runs from it to the next.
void add_corner(Face3& face, const Point3& at, int edge);
/// Four corners with their edges.
[[nodiscard]] Face3 quad(const Point3& a, const Point3& b, const Point3& c, const Point3& d,
                         const std::array<int, 4>& edges);

/// Lines at 45 degrees of the paper in a convex polygon, `spacing` apart; they run on in its
/// neighbours.
[[nodiscard]] Path hatched(const std::vector<Point>& corners, double spacing);

/// What lies under others: drawn first, or left out. Left out, all that shows the same is drawn in as
/// few shapes as nothing between them hinders: for bent cloth of many small faces.
enum class Hidden { drawn, left_out };

/// The shapes `seen SKIN: NAME` (areas), `pattern: NAME` and `edge: NAME`, the farthest first; below
/// all of them `outline`. Default: Hidden::drawn.
[[nodiscard]] std::vector<Shape> painted(const std::vector<ViewFace>& faces, const Projection& view,
                                         Hidden hidden = Hidden::drawn);

}  // namespace pouchwright::draw

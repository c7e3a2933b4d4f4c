/// Which flat face covers which, seen from one direction: painter's order, from the farthest to the
/// nearest.
///
///     for (const Painted& one : back_to_front(faces, view.towards_eye())) fill(one.corners);
///
/// By a binary space partition (Fuchs, Kedem and Naylor 1980): exact, also where faces cover each
/// other in turn or pass through each other. Not for curved faces.
#pragma once

#include <cstddef>
#include <vector>

#include "draw/views/space.h"

namespace pouchwright::draw {

/// A flat convex polygon. `edges[i]`, from corner i to the next, says what runs there, as its maker
/// likes; a cut that the order needs leaves kCutEdge.
struct Face3 {
  std::vector<Point3> corners;
  std::vector<int> edges;
};
inline constexpr int kCutEdge = -1;

struct Plane {
  Point3 normal;  ///< of length 1
  double offset = 0;

  [[nodiscard]] double above(const Point3& at) const { return dot(normal, at) - offset; }
};
/// What of the face lies on one side of the plane; `sign` is 1 for above, -1 for below.
[[nodiscard]] Face3 half_of(const Face3& face, const Plane& plane, double sign);

/// A face, or a part of it, in its turn.
struct Painted {
  std::size_t face = 0;  ///< index of the face
  Face3 part;
};

/// Faces of less than this are left out, and points so near to a plane lie in it, mm.
inline constexpr double kFlat = 1e-6;

/// Each face comes whole where its first part does, and its further parts come again where anything
/// may have covered them since: so no gap shows between the parts. Faces in one plane come in the
/// order of `faces`.
[[nodiscard]] std::vector<Painted> back_to_front(const std::vector<Face3>& faces,
                                                 const Projection& view);

/// Those of which something is seen, as far as a score of points on each of them tells; of what is
/// left out a sliver at the most would have been seen.
[[nodiscard]] std::vector<Painted> only_seen(std::vector<Painted> painted, const Projection& view);

}  // namespace pouchwright::draw

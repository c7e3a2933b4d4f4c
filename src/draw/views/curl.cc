#include "draw/views/curl.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace pouchwright::draw {
namespace {

/// The ring has so many sides, the passage so many rows.
constexpr int kSides = 14;
constexpr int kRows = 4;
/// Corners that are nearer than this are one, mm.
constexpr double kOne = 1e-3;

using Corner = std::array<long, 3>;
Corner rounded(const Point3& at) {
  return {std::lround(at.x / kOne), std::lround(at.y / kOne), std::lround(at.z / kOne)};
}

/// The faces cut along a plane. What the cut leaves goes on smoothly.
std::vector<ViewFace> cut(std::vector<ViewFace> faces, const Plane& plane) {
  std::vector<ViewFace> parts;
  for (ViewFace& face : faces) {
    double highest = 0;
    double lowest = 0;
    for (const Point3& corner : face.face.corners) {
      highest = std::max(highest, plane.above(corner));
      lowest = std::min(lowest, plane.above(corner));
    }
    if (highest < kOne || lowest > -kOne) {
      parts.push_back(std::move(face));
      continue;
    }
    for (const double side : {1.0, -1.0}) {
      ViewFace part = face;
      part.face = half_of(face.face, plane, side);
      std::replace(part.face.edges.begin(), part.face.edges.end(), kCutEdge, int{kNoEdge});
      parts.push_back(std::move(part));
    }
  }
  return parts;
}

/// The extent of all faces across.
std::pair<double, double> across(const std::vector<ViewFace>& faces) {
  double left = faces.front().face.corners.front().x;
  double right = left;
  for (const ViewFace& face : faces) {
    for (const Point3& corner : face.face.corners) {
      left = std::min(left, corner.x);
      right = std::max(right, corner.x);
    }
  }
  return {left, right};
}

/// From the lower left corner on, so that the triangles of layers that lie on each other do, too: cut
/// across other corners they would run through each other once they are bent.
Face3 from_lower_left(Face3 face) {
  const auto low = [](const Point3& a, const Point3& b) { return a.x + a.y < b.x + b.y; };
  const auto first = std::min_element(face.corners.begin(), face.corners.end(), low);
  const auto by = first - face.corners.begin();
  std::rotate(face.corners.begin(), face.corners.begin() + by, face.corners.end());
  std::rotate(face.edges.begin(), face.edges.begin() + by, face.edges.end());
  return face;
}

/// A bent face is no plane: triangles.
std::vector<ViewFace> triangles(const std::vector<ViewFace>& faces) {
  std::vector<ViewFace> made;
  for (const ViewFace& face : faces) {
    const auto [corners, edges] = from_lower_left(face.face);
    for (std::size_t i = 1; i + 1 < corners.size(); ++i) {
      ViewFace part = face;
      part.face = {{corners[0], corners[i], corners[i + 1]},
                   {i == 1 ? edges[0] : int{kNoEdge}, edges[i],
                    i + 2 == corners.size() ? edges.back() : int{kNoEdge}}};
      made.push_back(std::move(part));
    }
  }
  return made;
}

/// A line wherever one of two neighbours faces the eye and the other does not.
void find_bends(std::vector<ViewFace>& faces, const Projection& view) {
  std::map<std::pair<Corner, Corner>, std::vector<bool>> facing;
  const auto key = [](const Face3& face, std::size_t i) {
    const Corner a = rounded(face.corners[i]);
    const Corner b = rounded(face.corners[(i + 1) % face.corners.size()]);
    return std::pair(std::min(a, b), std::max(a, b));
  };
  const auto smooth = [](int edge) { return edge == kNoEdge || edge == kBendEdge; };
  for (const ViewFace& one : faces) {
    const bool faces_eye = dot(area_vector(one.face.corners), view.towards_eye()) > 0;
    for (std::size_t i = 0; i < one.face.edges.size(); ++i) {
      if (smooth(one.face.edges[i])) facing[key(one.face, i)].push_back(faces_eye);
    }
  }
  for (ViewFace& one : faces) {
    for (std::size_t i = 0; i < one.face.edges.size(); ++i) {
      if (!smooth(one.face.edges[i])) continue;
      const std::vector<bool>& both = facing[key(one.face, i)];
      one.face.edges[i] = both.size() == 2 && both[0] != both[1] ? kBendEdge : kNoEdge;
    }
  }
}

}  // namespace

Point3 Curl::at(const Point3& flat) const {
  const double way = std::clamp((flat.y - from) / (to - from), 0.0, 1.0);
  const double share = way * way * (3 - 2 * way);
  if (share < 1e-6) return flat;
  const double bent = radius / share;
  const double angle = (flat.x - centre) / bent;
  // Where it is bent little, the cloth itself keeps its length, not what lies high above it.
  const double kept = height * share * share;
  const double from_axis = bent + kept - flat.z;
  return {centre + from_axis * std::sin(angle), flat.y, bent + kept - from_axis * std::cos(angle)};
}

void curl_up(std::vector<ViewFace>& faces, const Curl& curl, const Projection& view) {
  if (faces.empty()) return;
  const auto [left, right] = across(faces);
  for (int i = 1; i < kSides; ++i) {
    faces = cut(std::move(faces), {{1, 0, 0}, left + (right - left) * i / kSides});
  }
  for (int i = 0; i <= kRows; ++i) {
    faces = cut(std::move(faces), {{0, 1, 0}, curl.from + (curl.to - curl.from) * i / kRows});
  }
  faces = triangles(faces);
  for (ViewFace& face : faces) {
    for (Point3& corner : face.face.corners) corner = curl.at(corner);
  }
  find_bends(faces, view);
}

}  // namespace pouchwright::draw

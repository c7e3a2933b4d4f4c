#include "draw/views/curl.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace pouchwright::draw;

namespace {

/// A ring of 200 round from y = 80 on, flat up to 20.
constexpr Curl kCurl{
    .from = 20, .to = 80, .centre = 100, .radius = 100 / std::numbers::pi, .height = 4};

void check_point(const Point3& at, double x, double y, double z) {
  CHECK(at.x == doctest::Approx(x).scale(1));
  CHECK(at.y == doctest::Approx(y).scale(1));
  CHECK(at.z == doctest::Approx(z).scale(1));
}

}  // namespace

TEST_CASE("a curl leaves its lower end flat and closes a ring at its upper one") {
  check_point(kCurl.at({170, 20, 3}), 170, 20, 3);
  check_point(kCurl.at({100, 80, 4}), 100, 80, 4);
  // Both ends of what is as long as the ring meet opposite, two radii up; a quarter is one up.
  const double across = 2 * kCurl.radius;
  check_point(kCurl.at({200, 80, 4}), 100, 80, 4 + across);
  check_point(kCurl.at({0, 80, 4}), 100, 80, 4 + across);
  check_point(kCurl.at({150, 80, 4}), 100 + kCurl.radius, 80, 4 + kCurl.radius);
  // What lies 2 higher is 2 nearer to the ring's middle.
  check_point(kCurl.at({100, 80, 6}), 100, 80, 6);
}

TEST_CASE("cloth that is bent to a ring keeps its size, and has a line where it turns away") {
  // A strip of 200 x 30 all in the ring: a prism of 14 sides, whose sides are 0.8 % shorter than
  // the circle's arcs (the sine of a 28th of the circle over its arc).
  std::vector<ViewFace> faces{{.face = quad({0, 90, 4}, {200, 90, 4}, {200, 120, 4}, {0, 120, 4},
                                            {kRawEdge, kRawEdge, kRawEdge, kRawEdge}),
                               .name = "strip"}};
  const Projection view(kViewAngles, 1);
  curl_up(faces, kCurl, view);
  double area = 0;
  double raw = 0;
  int bends = 0;
  for (const ViewFace& one : faces) {
    const Point3 across = area_vector(one.face.corners);
    area += std::sqrt(dot(across, across)) / 2;
    for (std::size_t i = 0; i < one.face.edges.size(); ++i) {
      const Point3 way = one.face.corners[(i + 1) % one.face.corners.size()] - one.face.corners[i];
      if (one.face.edges[i] == kRawEdge) raw += std::sqrt(dot(way, way));
      bends += one.face.edges[i] == kBendEdge ? 1 : 0;
    }
  }
  const double shorter = std::sin(std::numbers::pi / 14) / (std::numbers::pi / 14);
  CHECK(area == doctest::Approx(200 * 30 * shorter));
  CHECK(raw == doctest::Approx(2 * 200 * shorter + 2 * 30));
  // At two places of the ring, on both faces there.
  CHECK(bends == 4);
}

TEST_CASE("layers that lie on each other stay apart when they are bent") {
  // Two layers a millimetre apart, of which one begins at another corner: none of the upper one's
  // triangles may come through the lower one, which is seen nowhere from inside the ring.
  std::vector<ViewFace> faces;
  faces.push_back({.face = quad({0, 20, 0}, {200, 20, 0}, {200, 120, 0}, {0, 120, 0},
                                {kRawEdge, kRawEdge, kRawEdge, kRawEdge}),
                   .name = "lower"});
  faces.push_back({.face = quad({200, 20, 1}, {0, 20, 1}, {0, 120, 1}, {200, 120, 1},
                                {kRawEdge, kRawEdge, kRawEdge, kRawEdge}),
                   .name = "upper"});
  const Projection view(kFromAbove, 1);
  curl_up(faces, kCurl, view);
  const auto middle = [](const ViewFace& one) {
    return (1.0 / 3) * (one.face.corners[0] + one.face.corners[1] + one.face.corners[2]);
  };
  int pairs = 0;
  for (const ViewFace& lower : faces) {
    if (lower.name != "lower") continue;
    const Point3 here = middle(lower);
    for (const ViewFace& upper : faces) {
      const Point3 apart = middle(upper) - here;
      if (upper.name == "upper" && dot(apart, apart) < 4) ++pairs;
    }
  }
  // Each triangle has its own over it.
  CHECK(pairs == static_cast<int>(faces.size() / 2));
}

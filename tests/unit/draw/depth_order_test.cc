#include "draw/views/depth_order.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>

using namespace pouchwright::draw;

namespace {

constexpr int kRaster = 40;
constexpr double kSize = 100;
/// Points nearer than this to an edge, or faces nearer than this to each other, decide nothing.
constexpr double kTooNear = 1e-4;

Face3 face(std::vector<Point3> corners) {
  std::vector<int> edges(corners.size(), 1);
  return {std::move(corners), std::move(edges)};
}

enum class Inside { yes, no, on_edge };

/// Of a convex polygon on paper, either way round.
Inside inside(const std::vector<Point3>& corners, const Projection& view, Point at) {
  bool left = false;
  bool right = false;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point a = view.on_paper(corners[i]);
    const Point b = view.on_paper(corners[(i + 1) % corners.size()]);
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    if (length < kTooNear) continue;
    const double side = ((b.x - a.x) * (at.y - a.y) - (b.y - a.y) * (at.x - a.x)) / length;
    if (std::abs(side) < kTooNear) return Inside::on_edge;
    (side > 0 ? left : right) = true;
  }
  return left && right ? Inside::no : Inside::yes;
}

/// How near to the eye the ray through `at` meets the face, by the plane through three corners.
double nearness(const Face3& one, const Projection& view, Point at) {
  const Point a = view.on_paper(one.corners[0]);
  const Point b = view.on_paper(one.corners[1]);
  const Point c = view.on_paper(one.corners[2]);
  const double all = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
  const double p = ((at.x - a.x) * (c.y - a.y) - (c.x - a.x) * (at.y - a.y)) / all;
  const double q = ((b.x - a.x) * (at.y - a.y) - (at.x - a.x) * (b.y - a.y)) / all;
  const Point3 met = one.corners[0] + p * (one.corners[1] - one.corners[0]) +
                     q * (one.corners[2] - one.corners[0]);
  return dot(met, view.towards_eye());
}

/// The face that a ray meets first; empty where none is met or two are too near to tell.
std::optional<std::size_t> seen_by_ray(const std::vector<Face3>& faces, const Projection& view,
                                       Point at) {
  std::vector<std::pair<double, std::size_t>> met;
  for (std::size_t i = 0; i < faces.size(); ++i) {
    const Inside where = inside(faces[i].corners, view, at);
    if (where == Inside::on_edge) return std::nullopt;
    if (where == Inside::yes) met.emplace_back(nearness(faces[i], view, at), i);
  }
  if (met.empty()) return std::nullopt;
  std::sort(met.rbegin(), met.rend());
  if (met.size() > 1 && met[0].first - met[1].first < kTooNear) return std::nullopt;
  return met.front().second;
}

/// How many pixels of the raster were compared; a wrong one fails.
int compare(const std::vector<Face3>& faces, const Projection& view) {
  const std::vector<Painted> painted = back_to_front(faces, view);
  int compared = 0;
  int wrong = 0;
  for (int row = 0; row < kRaster; ++row) {
    for (int column = 0; column < kRaster; ++column) {
      const Point at{(column + 0.37) / kRaster * 2 * kSize - kSize,
                     (row + 0.41) / kRaster * 2 * kSize - kSize};
      const auto expected = seen_by_ray(faces, view, at);
      if (!expected) continue;
      std::optional<std::size_t> on_top;
      bool on_cut = false;
      for (const Painted& one : painted) {
        const Inside where = inside(one.part.corners, view, at);
        on_cut = on_cut || where == Inside::on_edge;
        if (where == Inside::yes) on_top = one.face;
      }
      if (on_cut) continue;
      ++compared;
      wrong += on_top == expected ? 0 : 1;
    }
  }
  CHECK(wrong == 0);
  return compared;
}

class Random {
 public:
  explicit Random(unsigned seed) : engine_(seed) {}
  double between(double from, double to) {
    return from + (to - from) * static_cast<double>(engine_()) / 4294967295.0;
  }

 private:
  std::mt19937 engine_;
};

Face3 random_parallelogram(Random& random) {
  const auto vector = [&](double size) {
    return Point3{random.between(-size, size), random.between(-size, size),
                  random.between(-size, size)};
  };
  const Point3 middle = vector(60);
  const Point3 a = vector(50);
  const Point3 b = vector(50);
  return face({middle - a - b, middle + a - b, middle + a + b, middle - a + b});
}

/// A strip folded at random angles, as a panel is: it may pass through itself.
std::vector<Face3> random_folding(Random& random) {
  std::vector<Face3> faces;
  double y = -40;
  double z = 0;
  for (int i = 0; i < 8; ++i) {
    const double angle = random.between(0, 6.28);
    const double length = random.between(10, 60);
    const double next_y = y + length * std::cos(angle);
    const double next_z = z + length * std::sin(angle);
    faces.push_back(face({{-50, y, z}, {50, y, z}, {50, next_y, next_z}, {-50, next_y, next_z}}));
    y = next_y;
    z = next_z;
  }
  return faces;
}

}  // namespace

TEST_CASE("what lies on top is what a ray from the eye meets first") {
  int compared = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    INFO(seed);
    Random random(seed);
    const Projection view({random.between(-80, 80), random.between(5, 85)}, 1);
    std::vector<Face3> faces;
    for (int i = 0; i < 9; ++i) faces.push_back(random_parallelogram(random));
    compared += compare(faces, view);
    compared += compare(random_folding(random), view);
  }
  CHECK(compared > 60 * kRaster * kRaster / 2);
}

TEST_CASE("faces that cover each other in turn are cut: no order of whole ones would do") {
  // Three bars laid as a triangle, each over the next.
  const auto bar = [](Point3 from, Point3 to, Point3 across) {
    return face({from - across, to - across, to + across, from + across});
  };
  const std::vector<Face3> faces = {bar({-60, -30, 4}, {60, -30, -4}, {0, 6, 0}),
                                    bar({45, -50, 4}, {-15, 60, -4}, {6, 3, 0}),
                                    bar({15, 60, 4}, {-45, -50, -4}, {-6, 3, 0})};
  const Projection view(kFromAbove, 1);
  CHECK(compare(faces, view) > 0);
  CHECK(back_to_front(faces, view).size() > faces.size());
}

TEST_CASE("flat layers come from the bottom up, whole, and in one plane as they were given") {
  std::vector<Face3> faces;
  for (const double z : {2.0, 0.0, 1.0, 1.0}) {
    faces.push_back(face({{0, 0, z}, {10, 0, z}, {10, 10, z}, {0, 10, z}}));
  }
  std::vector<std::size_t> order;
  for (const Painted& one : back_to_front(faces, Projection(kViewAngles, 1))) {
    order.push_back(one.face);
    CHECK(one.part.corners.size() == 4);
  }
  CHECK(order == std::vector<std::size_t>{1, 2, 3, 0});
}

TEST_CASE("a cut leaves its own kind of edge, and the others theirs") {
  // An upright wall passes through a sheet: one half of it is behind, one before the wall.
  const std::vector<Face3> faces = {
      {{{-10, -10, 0}, {10, -10, 0}, {10, 10, 0}, {-10, 10, 0}}, {1, 2, 3, 4}},
      face({{-10, 0, -5}, {10, 0, -5}, {10, 0, 5}, {-10, 0, 5}})};
  int cuts = 0;
  for (const Painted& one : back_to_front(faces, Projection({0, 45}, 1))) {
    REQUIRE(one.part.corners.size() == one.part.edges.size());
    cuts += static_cast<int>(std::count(one.part.edges.begin(), one.part.edges.end(), kCutEdge));
  }
  CHECK(cuts == 1);
}

TEST_CASE("what lies under others whole is left out, what shows at their side is not") {
  // From above: a square under one as large, and under it a strip that stands out by 1 of 20.
  const auto square = [](double x1, double z) {
    return Face3{{{0, 0, z}, {x1, 0, z}, {x1, 20, z}, {0, 20, z}}, {1, 1, 1, 1}};
  };
  const std::vector<Face3> faces{square(21, 0), square(20, 1), square(20, 2)};
  const Projection view(kFromAbove, 1);
  const auto seen = only_seen(back_to_front(faces, view), view);
  REQUIRE(seen.size() == 2);
  CHECK(seen[0].face == 0);
  CHECK(seen[1].face == 2);
}

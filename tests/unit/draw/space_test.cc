#include "draw/views/space.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace pouchwright::draw;

namespace {

void check_at(const Point& at, double x, double y) {
  CHECK(at.x == doctest::Approx(x).scale(1));
  CHECK(at.y == doctest::Approx(y).scale(1));
}

double area_on_paper(const std::vector<Point3>& corners, const Projection& view) {
  double twice = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point a = view.on_paper(corners[i]);
    const Point b = view.on_paper(corners[(i + 1) % corners.size()]);
    twice += a.x * b.y - b.x * a.y;
  }
  return std::abs(twice) / 2;
}

}  // namespace

TEST_CASE("from straight above a view is a plan, true to scale") {
  const Projection view(kFromAbove, 0.25);
  check_at(view.on_paper({204, 150, 80}), 51, -37.5);
  CHECK(view.rise() == 0);
}

TEST_CASE("a unit cube in isometric projection has the corners worked out by hand") {
  // Isometric axonometry (ISO 5456-3, from memory): turned by 45 degrees and seen from
  // asin(tan 30) = 35.264 degrees above, all three edges are sqrt(2/3) long and 120 degrees apart:
  // the level ones rise by 30 degrees, so by half of that length.
  const double height = std::asin(std::tan(std::numbers::pi / 6)) * 180 / std::numbers::pi;
  const Projection view({45, height}, 1);
  const double edge = std::sqrt(2.0 / 3);
  const double across = edge * std::sqrt(3.0) / 2;
  check_at(view.on_paper({1, 0, 0}), across, -edge / 2);
  check_at(view.on_paper({0, 1, 0}), -across, -edge / 2);
  check_at(view.on_paper({0, 0, 1}), 0, -edge);
  check_at(view.on_paper({1, 1, 0}), 0, -edge);
  // The corner nearest to the eye hides the one behind it.
  check_at(view.on_paper({1, 1, -1}), 0, 0);
}

TEST_CASE("a sheet folded up by a right angle is seen as worked out by hand") {
  // 100 of it lie on the table, 100 stand up behind; from 45 degrees both come out at
  // 100 / sqrt 2.
  const Projection view({0, 45}, 1);
  const double foreshortened = 100 / std::numbers::sqrt2;
  check_at(view.on_paper({80, 100, 0}), 80, -foreshortened);
  check_at(view.on_paper({80, 100, 100}), 80, -2 * foreshortened);
}

TEST_CASE("a face comes out at its area times the cosine of the angle to the eye") {
  // A panel of 204 x 360 in two parts, the second raised by 60 degrees; from 46 degrees above,
  // unturned, the flat part is seen at 90 - 46 = 44 degrees to its normal, the raised one at 16.
  const Projection view({0, 46}, 0.5);
  const double y = 150 + 210 * 0.5;
  const double z = 210 * std::sqrt(3.0) / 2;
  const double flat = area_on_paper({{0, 0, 0}, {204, 0, 0}, {204, 150, 0}, {0, 150, 0}}, view);
  const double raised = area_on_paper({{0, 150, 0}, {204, 150, 0}, {204, y, z}, {0, y, z}}, view);
  const auto cosine = [](double deg) { return std::cos(deg * std::numbers::pi / 180); };
  CHECK(flat + raised == doctest::Approx(0.25 * (204 * 150 * cosine(44) + 204 * 210 * cosine(16))));
}

TEST_CASE("turning the model keeps the heights of what is upright, and widths nearly true") {
  const Projection view(kViewAngles, 1);
  const Point right = view.on_paper({1, 0, 0});
  CHECK(right.x > 0.94);
  // A right side edge is seen: it points towards the eye.
  CHECK(dot(view.towards_eye(), {1, 0, 0}) > 0.1);
  check_at(view.on_paper({0, 0, 10}), 0, -10 * view.rise());
  CHECK(dot(view.towards_eye(), view.towards_eye()) == doctest::Approx(1));
}

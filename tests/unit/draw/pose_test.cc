#include "draw/views/pose.h"

#include <algorithm>
#include <cmath>

#include "draw/views/on_view.h"
#include "draw/views/view.h"
#include "unit/draw/fold_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::test;

namespace {

void check_point(const Point3& at, double x, double y, double z) {
  CHECK(at.x == doctest::Approx(x).scale(1));
  CHECK(at.y == doctest::Approx(y).scale(1));
  CHECK(at.z == doctest::Approx(z).scale(1));
}

double distance(const Point3& a, const Point3& b) {
  const Point3 way = b - a;
  return std::sqrt(dot(way, way));
}

/// The hand-worked pouch once its front is up: front 140, back 150, flap 70; the front's span is 0.
pouch::Folded front_up(const pouch::Pouch& pouch) {
  return pouch.stages[stage_of(pouch, "look")].folded;
}

}  // namespace

TEST_CASE("layers at rest lie a pitch apart, at their heights") {
  const pouch::Folded folded = front_up(derived(hand_worked(foldover())));
  const Pose pose(folded, stacked(folded, {}), {.pitch = 8});
  check_point(pose.at({0, 1}, 30, mm(150)), 30, 150, 0);
  check_point(pose.at({0, 0}, 30, mm(140)), 30, 140, 8);
  check_point(pose.on_top(30, mm(100)), 30, 100, 8);
  check_point(pose.on_top(30, mm(145)), 30, 145, 0);
}

TEST_CASE("what turns hangs at the angle worked out by hand") {
  // It turns about the middle between both levels, 4 above the table: the lip is 140 out from the
  // line and 4 over that middle.
  const pouch::Folded folded = front_up(derived(hand_worked(foldover())));
  const auto lip_at = [&](double left) {
    const Turning turning{{{0, 0}}, mm(0), pouch::Landing::on_top, left};
    return Pose(folded, stacked(folded, {}), {.pitch = 8, .turning = turning})
        .at({0, 0}, 0, mm(140));
  };
  check_point(lip_at(0), 0, 140, 8);
  check_point(lip_at(90), 0, -4, 144);
  check_point(lip_at(180), 0, -140, 0);
  const double root = std::sqrt(0.5);
  check_point(lip_at(45), 0, root * (140 - 4), 4 + root * (140 + 4));
}

TEST_CASE("an open mouth gapes in its middle where the sides are held, all along where not") {
  const pouch::Folded folded = front_up(derived(hand_worked(foldover())));
  OpenMouth mouth{.spans = {{0, 0}}, .lower = {0, 1}, .gap = 40, .left = 13, .right = 191};
  const auto rise = [&](double x, int height) {
    return Pose(folded, stacked(folded, {}), {.pitch = 8, .mouth = mouth})
               .at({0, 0}, x, mm(height))
               .z -
           8;
  };
  CHECK(rise(102, 140) == doctest::Approx(40));
  CHECK(rise(5, 140) == doctest::Approx(40));
  mouth.sides_held = true;
  CHECK(rise(102, 140) == doctest::Approx(40));
  CHECK(rise(13, 140) == doctest::Approx(0));
  CHECK(rise(102, 70) == doctest::Approx(10));
  CHECK(rise(102, 0) == doctest::Approx(0));
}

TEST_CASE("no span is stretched or shrunk, however it is turned") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    for (std::size_t stage = 0; stage < pouch.stages.size(); ++stage) {
      const View view = view_of(pouch, moment(pouch, stage, stage), {});
      for (const Plate& plate : view.pose.plates()) {
        const double size = view.pose.folded().layer(plate.id).heights.size().in_mm();
        CHECK(distance({0, plate.start.y, plate.start.z}, {0, plate.end.y, plate.end.z}) ==
              doctest::Approx(size));
      }
    }
  }
}

TEST_CASE("a cut panel's faces are as large as the panel, seen at the cosine of the view's angle") {
  // 204 x 360 flat on the table, seen from 50 degrees above: the sine of 50.
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const View view = view_of(pouch, pouch::cut_panel(pouch), {.scale = 1});
  double area = 0;
  double seen_area = 0;
  for (const ViewFace& face : view.faces) {
    const Point3 across = area_vector(face.face.corners);
    area += std::sqrt(dot(across, across)) / 2;
    seen_area += dot(across, view.projection.towards_eye()) / 2;
    CHECK(seen(face, view.projection) == Skin::film);
  }
  CHECK(area == doctest::Approx(204.0 * 360));
  CHECK(seen_area == doctest::Approx(204.0 * 360 * std::sin(50 * std::numbers::pi / 180)));
}

TEST_CASE("the uppermost span is the last one that lies there") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    const pouch::Folded& folded = pouch.stages.back().folded;
    const Pose pose(folded, stacked(folded, {}), {});
    const std::vector<base::Length> breaks = folded.breaks();
    for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
      const pouch::Interval stretch{breaks[i], breaks[i + 1]};
      const auto layers = folded.layers_over(stretch);
      if (layers.empty()) continue;
      const auto top = pose.top_span(pouch.sizes.cut_width.in_mm() / 2, middle(stretch));
      REQUIRE(top);
      CHECK(*top == layers.back().id);
    }
  }
}

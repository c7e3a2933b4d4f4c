// Movements of a step, beside what parallel projection makes of them (ISO 5456-3, from memory: a
// direction has one scale), worked by hand.
#include "draw/views/folding.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "draw/views/places.h"
#include "unit/draw/fold_support.h"
#include "unit/draw/icons_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

Drawing moment_of(const Folding& folding, std::size_t step, double done) {
  const EvenMeasure measure;
  return folding.view(step, done, own_icons(), own_words(), measure);
}

double radians(double deg) { return deg * std::numbers::pi / 180; }

/// Sides of a path of four corners, in order.
std::vector<Point> sides_of(const Path& path) {
  std::vector<Point> sides;
  for (std::size_t i = 0; i < 4; ++i) {
    const Point a = path[i].to;
    const Point b = path[(i + 1) % 4].to;
    sides.push_back({b.x - a.x, b.y - a.y});
  }
  return sides;
}

}  // namespace

TEST_CASE("all moments of all constructions have one extent, and all ink in it") {
  const EvenMeasure measure;
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    const Folding folding(pouch, {120, 90});
    CHECK(folding.size() == tell::assembly_steps(pouch).size());
    CHECK(folding.extent().width() <= 120 + 1e-6);
    CHECK(folding.extent().height() <= 90 + 1e-6);
    for (std::size_t step = 0; step < folding.size(); ++step) {
      for (const double done : {0.0, 0.3, 0.5, 0.8, 1.0}) {
        INFO(step << " at " << done);
        const Drawing drawing = moment_of(folding, step, done);
        CHECK(drawing.extent.width() == doctest::Approx(folding.extent().width()));
        const Box ink = bounds(drawing.items, measure);
        CHECK(ink.x0 >= drawing.extent.x0);
        CHECK(ink.y0 >= drawing.extent.y0);
        CHECK(ink.x1 <= drawing.extent.x1);
        CHECK(ink.y1 <= drawing.extent.y1);
        if (!folding.moves(step)) break;
      }
    }
  }
}

TEST_CASE("a flap half turned stands upright: it is seen by the cosine of the eye's height") {
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const Folding folding(pouch, {120, 90});
  std::size_t turns_flap = folding.size();
  for (std::size_t step = 0; step < folding.size(); ++step) {
    if (!folding.moves(step)) continue;
    const Drawing drawing = moment_of(folding, step, 0.5);
    // Seen from its film side, whole: nothing stands before it.
    const auto flap = named_shapes(drawing, "seen film: flap");
    if (flap.empty() || flap.front()->path.size() != 5) continue;
    const std::vector<Point> sides = sides_of(flap.front()->path);
    const auto upright =
        std::find_if(sides.begin(), sides.end(), [](Point side) { return std::abs(side.x) < 0.1; });
    if (upright == sides.end()) continue;
    turns_flap = step;
    double wide = 0;
    for (const Point side : sides) wide = std::max(wide, std::hypot(side.x, side.y));
    // Areas are painted a hair beyond their edges, so that no gap shows between two.
    // 70 mm of flap upright, 204 mm of panel across, turned by 12 degrees and seen from 50.
    const double high = 70 * std::cos(radians(50));
    const double across =
        204 * std::hypot(std::cos(radians(12)), std::sin(radians(12)) * std::sin(radians(50)));
    CHECK(std::abs(upright->y) / wide == doctest::Approx(high / across).epsilon(0.01));
  }
  CHECK(turns_flap < folding.size());
}

TEST_CASE("a part that is turned begins where the step before left it") {
  const pouch::Pouch pouch = derived(hand_worked(gusset()));
  const Folding folding(pouch, {120, 90});
  const EvenMeasure measure;
  int turned = 0;
  for (std::size_t step = 1; step < folding.size(); ++step) {
    const Drawing start = moment_of(folding, step, 0);
    const Drawing before = moment_of(folding, step - 1, 1);
    const auto flat = [&](const Drawing& drawing) {
      return bounds(named_shapes(drawing, "outline").front()->path);
    };
    const bool lies_as_before = folding.moves(step) && !folding.moves(step - 1);
    if (!lies_as_before || !named_shapes(before, "seen card: slip card").empty()) continue;
    if (!named_shapes(start, "seen card: slip card").empty()) continue;
    // A layer's thickness apart: where it will lie it counts already.
    CHECK(flat(start).y0 == doctest::Approx(flat(before).y0).epsilon(0.05));
    CHECK(flat(start).x1 == doctest::Approx(flat(before).x1).epsilon(0.05));
    ++turned;
  }
  CHECK(turned > 0);
}

TEST_CASE("the sizes of the placed pouch are the model's, and lie on the picture") {
  const EvenMeasure measure;
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    const PlacedPouch placed = placed_pouch(pouch, {120, 96}, own_words(), measure);
    REQUIRE(placed.sizes.size() >= 2);
    CHECK(placed.sizes[0].size == pouch.sizes.finished_width);
    CHECK(placed.sizes[1].size == pouch.sizes.depth);
    CHECK(texts_of(placed.drawing).empty());
    for (const PlacedSize& size : placed.sizes) {
      INFO(size.name);
      for (const Point at : {size.from, size.to}) {
        CHECK(at.x >= placed.drawing.extent.x0);
        CHECK(at.x <= placed.drawing.extent.x1);
        CHECK(at.y >= placed.drawing.extent.y0);
        CHECK(at.y <= placed.drawing.extent.y1);
      }
    }
    // The width runs along the bottom, and the eye sees it as long as it would any such line.
    const PlacedSize& width = placed.sizes[0];
    const double along = std::hypot(width.to.x - width.from.x, width.to.y - width.from.y);
    CHECK(along * width.mm_for_each == doctest::Approx(width.size.in_mm()));
    CHECK((width.to.y - width.from.y) / (width.to.x - width.from.x) ==
          doctest::Approx(std::tan(radians(12)) * std::sin(radians(50))).epsilon(1e-6));
  }
}

#include "ink/arrows.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace pouchwright::ink;

namespace {

double far(Point a, Point b) { return std::hypot(a.x - b.x, a.y - b.y); }

}  // namespace

TEST_CASE("an arrowhead is as long and as wide as it should be, whichever way it points") {
  for (const Point from : {Point{0, 10}, Point{3, -4}, Point{-7, 2}, Point{8, 0}}) {
    const Point tip{1, 1};
    const Path head = arrow_head(tip, from, {2.4, 1.8}, Ends::closed);
    REQUIRE(head.size() == 4);
    CHECK(head[0].to == tip);
    CHECK(head[3].verb == Verb::close);
    const Point a = head[1].to;
    const Point b = head[2].to;
    CHECK(far(a, b) == doctest::Approx(1.8));
    const Point back{(a.x + b.x) / 2, (a.y + b.y) / 2};
    CHECK(far(tip, back) == doctest::Approx(2.4));
    // The back lies between the tip and where the arrow comes from.
    CHECK(far(from, back) == doctest::Approx(far(from, tip) - 2.4));
  }
}

TEST_CASE("an open head is two barbs from its tip to the corners of the closed one") {
  const Path closed = arrow_head({5, 5}, {0, 1}, {1.2, 1.2}, Ends::closed);
  const Path open = arrow_head({5, 5}, {0, 1}, {1.2, 1.2}, Ends::open);
  REQUIRE(open.size() == 4);
  for (const std::size_t barb : {0U, 1U}) {
    CHECK(open[2 * barb].verb == Verb::move);
    CHECK(open[2 * barb].to == Point{5, 5});
    CHECK(open[2 * barb + 1].verb == Verb::line);
    CHECK(open[2 * barb + 1].to == closed[1 + barb].to);
  }
}

TEST_CASE("an arrow's line ends within its head, whose tip is where the arrow goes") {
  const auto shapes = arrow({0, 0}, {5, -5}, {10, -5}, {20, 0});
  REQUIRE(shapes.size() == 2);
  CHECK(shapes[1].path.front().to == Point{20, 0});
  CHECK(shapes[1].fill == Fill::solid);
  const Point end = shapes[0].path.back().to;
  CHECK(far(end, {20, 0}) == doctest::Approx(2.4));
  CHECK(shapes[0].path.front().to == Point{0, 0});
}

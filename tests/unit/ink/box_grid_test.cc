#include "ink/box_grid.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <random>

using namespace pouchwright::ink;

TEST_CASE("a grid of boxes says what looking at each of them says") {
  // The outside witness is the plain definition, box by box.
  std::mt19937 seeded(7);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(seeded() % 1000) / 1000;
  };
  const auto box = [&](double largest) {
    const double x = between(-80, 300);
    const double y = between(-80, 300);
    return Box{x, y, x + between(0, largest), y + between(0, largest)};
  };
  BoxGrid grid;
  int met = 0;
  for (int k = 0; k < 400; ++k) {
    const Box asked = box(k % 10 == 0 ? 400 : 15);
    const bool expected = std::any_of(grid.boxes().begin(), grid.boxes().end(),
                                      [&](const Box& other) { return overlap(asked, other); });
    INFO("box " << k);
    CHECK(grid.any_overlaps(asked) == expected);
    met += expected ? 1 : 0;
    if (k % 2 == 0) grid.add(box(k % 50 == 0 ? 200 : 6));
  }
  CHECK(met > 40);
  CHECK(met < 360);
}

TEST_CASE("boxes that only touch, and those of nothing, do not overlap") {
  BoxGrid grid;
  grid.add({12, 12, 24, 24});
  CHECK_FALSE(grid.any_overlaps({0, 0, 12, 12}));
  CHECK_FALSE(grid.any_overlaps({24, 12, 30, 24}));
  CHECK_FALSE(grid.any_overlaps({18, 18, 16, 16}));
  CHECK(grid.any_overlaps({11, 11, 12.01, 12.01}));
}

TEST_CASE("a box without a lower end is met far down") {
  BoxGrid grid;
  grid.add({100, 0, 200, std::numeric_limits<double>::max()});
  CHECK(grid.any_overlaps({150, 1e6, 151, 1e6 + 1}));
  CHECK_FALSE(grid.any_overlaps({50, 1e6, 51, 1e6 + 1}));
}

#include "lay/solve/cover.h"

#include <doctest/doctest.h>

using namespace pouchwright;
using lay::Cover;
using lay::Fixed;
using lay::Whole;
using lay::Work;

namespace {

Cover::Column column(std::vector<Whole> covers, Whole cost) {
  Cover::Column made{{}, Fixed::whole(cost)};
  for (const Whole one : covers) made.covers.push_back(Fixed::whole(one));
  return made;
}

bool near(Fixed a, Fixed b) {
  const Fixed off = a < b ? b - a : a - b;
  return off < Fixed::fraction(1, 1'000'000);
}

}  // namespace

TEST_CASE("the cheapest mix and its prices are those worked by hand") {
  // Demands 4 and 6; 2 of the first for 3, 3 of the second for 2, or one of each for 2. Alone: 6 + 4
  // = 10. A pair saves nothing at the prices 3/2 and 2/3, of which one of each costs 13/6 > 2: it
  // does. Four pairs for 8 and two of the second for 4/3: 28/3; prices 4/3 and 2/3.
  Cover cover({Fixed::whole(4), Fixed::whole(6)});
  cover.add(column({2, 0}, 3));
  cover.add(column({0, 3}, 2));
  Work work(1'000'000);
  cover.solve(work);
  CHECK(near(cover.cost(), Fixed::whole(10)));
  cover.add(column({1, 1}, 2));
  cover.solve(work);
  CHECK(near(cover.cost(), Fixed::fraction(28, 3)));
  const auto prices = cover.prices();
  CHECK(near(prices[0], Fixed::fraction(4, 3)));
  CHECK(near(prices[1], Fixed::fraction(2, 3)));
  const auto amounts = cover.amounts();
  CHECK(near(amounts[0], Fixed()));
  CHECK(near(amounts[1], Fixed::fraction(2, 3)));
  CHECK(near(amounts[2], Fixed::whole(4)));
}

TEST_CASE("what a dear kind brings along for nothing costs nothing") {
  // The only cheap way to the first kind covers more of the second than is wanted.
  Cover cover({Fixed::whole(5), Fixed::whole(1)});
  cover.add(column({1, 0}, 10));
  cover.add(column({0, 1}, 10));
  cover.add(column({1, 1}, 1));
  Work work(1'000'000);
  cover.solve(work);
  CHECK(near(cover.cost(), Fixed::whole(5)));
  CHECK(near(cover.prices()[0], Fixed::whole(1)));
  CHECK(near(cover.prices()[1], Fixed()));
}

#include <doctest/doctest.h>

#include "lay/solve/solvers.h"
#include "support/lay_cases.h"

using namespace pouchwright;
using lay::Whole;
using lay::Work;

namespace {

struct Published {
  Whole length, width, a, b;
  int five_block;
};
// The instances of one_kind_test.cc with the counts of the recursive five-block scheme. The
// largest, 300 x 200 with 21 x 19 (149), takes seconds without optimisation and stands in the
// benchmark.
constexpr Published kPublished[] = {
    {22, 16, 5, 3, 23},  {46, 34, 11, 6, 23},        {53, 51, 9, 7, 42}, {76, 73, 13, 10, 42},
    {49, 28, 8, 3, 56},  {43, 26, 7, 3, 52},         {63, 44, 8, 5, 68}, {67, 37, 11, 3, 74},
    {74, 49, 11, 4, 81}, {32, 22, 5, 4, 34},         {40, 26, 7, 4, 36}, {53, 26, 7, 4, 48},
    {81, 39, 9, 7, 49},  {1000, 1000, 205, 159, 30}, {14, 10, 3, 2, 23}, {87, 47, 7, 6, 97},
    {40, 25, 7, 3, 47},  {56, 52, 12, 5, 48},        {42, 39, 9, 4, 45}};

}  // namespace

TEST_CASE("free cuts reach at least the published five-block counts, and never pass the bound") {
  for (const Published& one : kPublished) {
    Work work(1'000'000'000);
    const lay::Part part =
        lay::five_block(one.width, one.length, {one.a, one.b, 1, true, true, 0}, work);
    INFO(one.length << " x " << one.width << ", " << one.a << " x " << one.b);
    const int count = lay::count_pieces(part, 1).front();
    CHECK(count >= one.five_block);
    CHECK(count <= lay::most_pieces(one.width, one.length, one.a, one.b, true));
  }
}

TEST_CASE("free cuts are never longer than straight ones, and state a bound for both") {
  test::Chance chance(11);
  int shorter = 0;
  for (int i = 0; i < 60; ++i) {
    const lay::Shape shape{chance.from_to(3, 12),
                           chance.from_to(3, 12),
                           static_cast<int>(chance.from_to(1, 40)),
                           true,
                           true,
                           0};
    const lay::RollQuestion question{chance.from_to(16, 50), lay::kNever, {shape}};
    Work work(100'000'000);
    Work again(100'000'000);
    const auto straight = lay::one_kind_straight(question, work);
    const auto free = lay::one_kind_free(question, again);
    CHECK(free.length <= straight.length);
    CHECK(free.bound <= free.length);
    CHECK(free.optimal == (free.bound == free.length));
    shorter += free.length < straight.length ? 1 : 0;
  }
  CHECK(shorter > 0);
}

TEST_CASE("a work limit ends a free layout with what it has") {
  Work work(2'000);
  const lay::Part part = lay::five_block(47, 87, {7, 6, 1, true, true, 0}, work);
  CHECK(work.ended());
  // Rows of one direction: 7 * 12 or 6 * 14.
  CHECK(lay::count_pieces(part, 1).front() >= 84);
}

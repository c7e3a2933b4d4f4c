#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "lay/lay.h"
#include "lay/solve/solvers.h"
#include "support/lay_cases.h"
#include "support/raster_count.h"

using namespace pouchwright;
using base::Length;
using lay::Shape;
using lay::Whole;
using lay::Work;

namespace {

constexpr std::int64_t kPlenty = 1'000'000'000;

int most(Whole width, Whole length, Whole a, Whole b) {
  Work work(kPlenty);
  return lay::most_straight(width, length, {a, b, 1, true, true, 0}, work);
}

lay::RollAnswer least(Whole width, Shape shape, Whole longest = lay::kNever) {
  Work work(kPlenty);
  return lay::one_kind_straight({width, longest, {shape}}, work);
}

/// The most pieces from w x l by trying every whole-number cut.
class EveryCut {
 public:
  explicit EveryCut(Shape shape) : shape_(shape) {}
  int most(Whole w, Whole l) {
    const auto known = known_.find({w, l});
    if (known != known_.end()) return known->second;
    int best = 0;
    if (shape_.upright && shape_.width <= w && shape_.length <= l) best = 1;
    if (shape_.turned && shape_.length <= w && shape_.width <= l) best = 1;
    for (Whole x = 1; 2 * x <= w; ++x) best = std::max(best, most(x, l) + most(w - x, l));
    for (Whole y = 1; 2 * y <= l; ++y) best = std::max(best, most(w, y) + most(w, l - y));
    return known_[{w, l}] = best;
  }

 private:
  Shape shape_;
  std::map<std::pair<Whole, Whole>, int> known_;
};

struct Published {
  Whole length, width, a, b;
  int bound, straight;
};
// Instances of K. A. Dowsland 1984 (D), and, sizes from memory, of E. G. Birgin, R. D. Lobato,
// R. Morabito 2010 and L. Lins, S. Lins, R. Morabito 2003 (B, H), A. N. Letchford, A. Amaral 2001
// (L), R. Morabito, S. Morales 1998 (M). "straight" was found by a dynamic program over raster
// points and confirmed on nine by a mixed-integer model; "bound" is F. W. Barnes's (Discrete
// Mathematics 26, 1979) or the area's.
constexpr Published kPublished[] = {
    {22, 16, 5, 3, 23, 22},   {46, 34, 11, 6, 23, 22},        {53, 51, 9, 7, 42, 41},
    {76, 73, 13, 10, 42, 41}, {49, 28, 8, 3, 57, 56},         {43, 26, 7, 3, 53, 52},
    {63, 44, 8, 5, 69, 67},   {67, 37, 11, 3, 75, 74},        {74, 49, 11, 4, 82, 81},
    {32, 22, 5, 4, 35, 34},   {40, 26, 7, 4, 37, 36},         {53, 26, 7, 4, 49, 48},
    {81, 39, 9, 7, 50, 49},   {1000, 1000, 205, 159, 30, 29}, {14, 10, 3, 2, 23, 23},
    {87, 47, 7, 6, 97, 94},   {40, 25, 7, 3, 47, 46},         {56, 52, 12, 5, 48, 47},
    {42, 39, 9, 4, 45, 43},   {300, 200, 21, 19, 149, 145}};

}  // namespace

TEST_CASE("straight cuts reach the published counts exactly, whichever side lies across") {
  for (const Published& one : kPublished) {
    INFO(one.length << " x " << one.width << ", " << one.a << " x " << one.b);
    CHECK(most(one.width, one.length, one.a, one.b) == one.straight);
    CHECK(most(one.length, one.width, one.b, one.a) == one.straight);
  }
}

TEST_CASE("the area and Barnes bounds are the published ones") {
  for (const Published& one : kPublished) {
    INFO(one.length << " x " << one.width << ", " << one.a << " x " << one.b);
    CHECK(lay::most_pieces(one.length, one.width, one.a, one.b, true) == one.bound);
    CHECK(lay::most_pieces(7 * one.length, 7 * one.width, 7 * one.a, 7 * one.b, true) == one.bound);
  }
}

TEST_CASE("a yard of cloth gives no fewer squares than the quilters' chart") {
  // Published quilters' chart, rows only: floor(W / s) * floor(36 / s), W in inches.
  struct Cell {
    Whole width, half_inches;
    int squares;
  };
  for (const Cell& cell : {Cell{42, 5, 224}, Cell{42, 8, 90}, Cell{42, 10, 56}, Cell{42, 14, 30},
                           Cell{42, 19, 12}, Cell{40, 6, 156}, Cell{40, 12, 36}}) {
    INFO(cell.width << " in, squares of " << cell.half_inches << " half inches");
    CHECK(most(2 * cell.width, 72, cell.half_inches, cell.half_inches) >= cell.squares);
  }
  for (Whole width = 40; width <= 44; ++width) {
    for (Whole side = 3; side <= 24; ++side) {
      CHECK(most(2 * width, 72, side, side) >= (2 * width / side) * (72 / side));
    }
  }
}

TEST_CASE("63 squares of 9 1/2 in take 152 in of 42 in cloth") {
  // Published worked example: 4 across, 16 rows, 4.222 yd.
  const Whole side = Length::inches(19, 2).in_nm();
  const auto answer = least(Length::inches(42).in_nm(), {side, side, 63, true, true, 0});
  CHECK(answer.length == Length::inches(152).in_nm());
  CHECK(answer.optimal);
}

TEST_CASE("the least length agrees with a count over raster points and with every cut tried") {
  test::Chance chance(20'26);
  for (int i = 0; i < 250; ++i) {
    Shape shape;
    shape.width = chance.from_to(1, 9);
    shape.length = chance.from_to(1, 9);
    shape.demand = static_cast<int>(chance.from_to(1, 14));
    shape.turned = !chance.once_in(4);
    shape.upright = !shape.turned || !chance.once_in(4);
    const Whole width = std::max(shape.width, shape.length) + chance.from_to(0, 14);
    const auto answer = least(width, shape);
    INFO(width << " wide, " << shape.width << " x " << shape.length << " * " << shape.demand
               << (shape.upright ? " upright" : "") << (shape.turned ? " turned" : ""));
    CHECK(answer.optimal);
    CHECK(answer.length == support::one_kind_by_raster({width, lay::kNever, {shape}}));
    EveryCut every(shape);
    CHECK(every.most(width, answer.length) >= shape.demand);
    CHECK(every.most(width, answer.length - 1) < shape.demand);
    int cut = 0;
    for (const lay::Part& part : answer.cut_offs) cut += lay::count_pieces(part, 1).front();
    CHECK(cut == shape.demand);
  }
}

TEST_CASE("larger demands agree with the count over raster points") {
  for (const auto& [width, a, b, n] : {std::tuple<Whole, Whole, Whole, int>{110, 20, 36, 97},
                                       {148, 21, 33, 150},
                                       {60, 7, 11, 180}}) {
    const Shape shape{a, b, n, true, true, 0};
    CHECK(least(width, shape).length == support::one_kind_by_raster({width, lay::kNever, {shape}}));
  }
}

TEST_CASE("no length cut off is longer than the table, and the sum is the least") {
  test::Chance chance(7);
  for (int i = 0; i < 120; ++i) {
    Shape shape{chance.from_to(2, 9),
                chance.from_to(2, 9),
                static_cast<int>(chance.from_to(1, 20)),
                true,
                true,
                0};
    const Whole width = 9 + chance.from_to(0, 14);
    const Whole longest = 9 + chance.from_to(0, 9);
    const auto answer = least(width, shape, longest);
    CHECK(answer.optimal);
    for (const lay::Part& part : answer.cut_offs) CHECK(part.length <= longest);
    // By trying every cut: the least sum of lengths up to the table's.
    EveryCut every(shape);
    std::vector<Whole> sum(static_cast<std::size_t>(shape.demand) + 1, lay::kNever);
    sum[0] = 0;
    for (int n = 1; n <= shape.demand; ++n) {
      for (Whole length = 1; length <= longest; ++length) {
        const int here = every.most(width, length);
        if (here == 0) continue;
        const auto rest = static_cast<std::size_t>(std::max(n - here, 0));
        sum[static_cast<std::size_t>(n)] =
            std::min(sum[static_cast<std::size_t>(n)], length + sum[rest]);
      }
    }
    CHECK(answer.length == sum.back());
  }
}

TEST_CASE("sizes without a common grid are solved exactly as well") {
  // Nanometres that share no divisor; the raster count has to agree.
  const Shape shape{204'123'457, 359'999'999, 37, true, true, 0};
  const auto answer = least(1'483'000'001, shape);
  CHECK(answer.optimal);
  CHECK(answer.length == support::one_kind_by_raster({1'483'000'001, lay::kNever, {shape}}));
}

TEST_CASE("two thousand pieces are planned within the work limit, and the gap is told beyond it") {
  const Shape panel{204'000'000, 360'000'000, 2000, true, true, 0};
  Work work(lay::kWork);
  const auto exact = lay::one_kind_straight({1'480'000'000, lay::kNever, {panel}}, work);
  CHECK(exact.optimal);
  // Seven 204s lie across 1480, so rows alone take 286 * 360 = 102,960 mm.
  CHECK(exact.length < 102'960'000'000);
  const Shape tag{23'123'457, 29'041'153, 2000, true, true, 0};
  Work little(100'000);
  const auto stopped = lay::one_kind_straight({1'480'000'000, lay::kNever, {tag}}, little);
  CHECK_FALSE(stopped.optimal);
  CHECK(stopped.work_ended);
  CHECK(stopped.bound < stopped.length);
  CHECK(stopped.bound > stopped.length * 9 / 10);
}

TEST_CASE("where the work does not do for few cuts, the shortest plan is still found") {
  const Shape panel{204'000'000, 360'000'000, 2000, true, true, 0};
  const lay::RollQuestion to_cut{1'480'000'000, lay::kNever, {panel}};
  lay::RollQuestion to_measure = to_cut;
  to_measure.aim = lay::Aim::length;
  Work all(lay::kWork);
  const Whole shortest = lay::one_kind_straight(to_cut, all).length;
  Work for_length(lay::kWork);
  CHECK(lay::one_kind_straight(to_measure, for_length).length == shortest);
  const std::int64_t cuts_take = lay::kWork - all.left();
  const std::int64_t length_takes = lay::kWork - for_length.left();
  CHECK(length_takes * 10 < cuts_take);
  Work some(length_takes * 2);
  const auto answer = lay::one_kind_straight(to_cut, some);
  CHECK(answer.optimal);
  CHECK(answer.length == shortest);
  Whole length = 0;
  for (const lay::Part& part : answer.cut_offs) length += part.length;
  CHECK(length == shortest);
  CHECK(lay::count_pieces(lay::behind(answer.cut_offs, 1'480'000'000, length), 1).front() == 2000);
}

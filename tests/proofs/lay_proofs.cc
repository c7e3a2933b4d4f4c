/// A sample of cut plans against models in whole numbers that CBC solves: where it ends, our least
/// must be its least; where its time is up, the two brackets must meet. The suite `few` takes a few
/// seconds, the suite `many` minutes.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "lay/solve/slices.h"
#include "support/integer_model.h"
#include "support/lay_cases.h"

using namespace pouchwright;
using lay::RollQuestion;
using lay::Shape;
using lay::Whole;
using lay::Work;

namespace {

constexpr int kSeconds = 30;

/// CTest looks for these words and counts the test as skipped.
bool without_cbc() {
  if (test::cbc_is_installed()) return false;
  MESSAGE("skipped: cbc is not installed (Debian package coinor-cbc)");
  return true;
}

/// The two opinions on a least cost cannot both be right if this fails.
struct Opinion {
  Whole least = 0, bound = 0;
  bool optimal = false;
};
bool compare(const Opinion& ours, const test::Solved& theirs) {
  CHECK(ours.bound <= ours.least);
  CHECK(ours.optimal == (ours.bound == ours.least));
  CHECK(theirs.bound <= ours.least);
  if (theirs.least) CHECK(ours.bound <= *theirs.least);
  if (theirs.closed && ours.optimal) CHECK(ours.least == *theirs.least);
  return theirs.closed;
}

Shape seeded_shape(test::Chance& chance, Whole least, Whole most, int demand) {
  Shape shape;
  shape.width = chance.from_to(least, most);
  shape.length = chance.from_to(least, most);
  shape.demand = static_cast<int>(chance.from_to(1, demand));
  shape.upright = !chance.once_in(5);
  shape.turned = !shape.upright || !chance.once_in(4);
  return shape;
}

RollQuestion seeded_roll(test::Chance& chance, Whole width, int kinds, Whole side, int demand) {
  RollQuestion question;
  question.width = width;
  for (int k = 0; k < kinds; ++k) {
    question.shapes.push_back(seeded_shape(chance, side / 4 + 1, side, demand));
  }
  if (chance.once_in(4)) question.longest = side + chance.from_to(0, 2 * side);
  return question;
}

std::string text_of(const RollQuestion& question) {
  std::string text = "width " + std::to_string(question.width);
  if (question.longest < lay::kNever) text += ", table " + std::to_string(question.longest);
  for (const Shape& shape : question.shapes) {
    text += "; " + std::to_string(shape.width) + "x" + std::to_string(shape.length) + "*" +
            std::to_string(shape.demand) + (shape.upright ? "" : " turned") +
            (shape.turned ? "" : " upright");
  }
  return text;
}

bool agrees_on_roll(const RollQuestion& question) {
  Work work(lay::kWork);
  const lay::RollAnswer answer = question.shapes.size() == 1
                                     ? lay::one_kind_straight(question, work)
                                     : lay::several_kinds(question, work);
  INFO(text_of(question));
  return compare({answer.length, answer.bound, answer.optimal},
                 test::solved_by_cbc(test::strip_model(question, answer.length), kSeconds));
}

bool agrees_on_plate(Whole width, Whole length, const std::vector<Shape>& shapes) {
  Work work(lay::kWork);
  const lay::PlateAnswer answer = lay::most_valuable(width, length, shapes, work);
  INFO(text_of({width, length, shapes}));
  return compare({-answer.value, -answer.bound, answer.optimal},
                 test::solved_by_cbc(test::plate_model(width, length, shapes), kSeconds));
}

/// Free layouts: a count that is reached, and a bound that is not exceeded.
bool agrees_on_free_count(Whole width, Whole length, const Shape& shape) {
  Work work(lay::kWork);
  const int found = lay::count_pieces(lay::five_block(width, length, shape, work), 1).front();
  const Whole most = lay::most_pieces(width, length, shape.width, shape.length, true);
  INFO(width << " x " << length << ": " << shape.width << " x " << shape.length);
  return compare({-found, -most, found == most},
                 test::solved_by_cbc(test::places_model(width, length, shape), kSeconds));
}

int one_kind(std::uint64_t seed, int questions, Whole width, int demand) {
  test::Chance chance(seed);
  int closed = 0;
  for (int i = 0; i < questions; ++i) {
    const Whole wide = width + chance.from_to(0, width);
    closed += agrees_on_roll(seeded_roll(chance, wide, 1, width / 2, demand)) ? 1 : 0;
  }
  return closed;
}

int several_kinds(std::uint64_t seed, int questions, Whole width, int demand) {
  test::Chance chance(seed);
  int closed = 0;
  for (int i = 0; i < questions; ++i) {
    const int kinds = static_cast<int>(chance.from_to(2, 4));
    closed += agrees_on_roll(seeded_roll(chance, width, kinds, width / 2 + 1, demand)) ? 1 : 0;
  }
  return closed;
}

int plates(std::uint64_t seed, int questions, Whole side, int demand) {
  test::Chance chance(seed);
  int closed = 0;
  for (int i = 0; i < questions; ++i) {
    std::vector<Shape> shapes;
    for (int k = 0; k < 3; ++k) {
      shapes.push_back(seeded_shape(chance, side / 8 + 1, side / 2, demand));
      shapes.back().value = shapes.back().width * shapes.back().length + chance.from_to(0, side);
    }
    const Whole width = side + chance.from_to(0, side / 2);
    closed += agrees_on_plate(width, side, shapes) ? 1 : 0;
  }
  return closed;
}

int free_counts(std::uint64_t seed, int questions, Whole side) {
  test::Chance chance(seed);
  int closed = 0;
  for (int i = 0; i < questions; ++i) {
    const Shape shape{chance.from_to(2, 5), chance.from_to(3, 8), 1, true, true, 0};
    closed += agrees_on_free_count(side + chance.from_to(0, side), side, shape) ? 1 : 0;
  }
  return closed;
}

/// The bound by slices is the linear bound of the model with every slice, to the next whole number.
/// How many of the questions the solver answered.
int slices(std::uint64_t seed, int questions, test::LinearSolver solver) {
  test::Chance chance(seed);
  int answered = 0;
  for (int i = 0; i < questions; ++i) {
    const int kinds = static_cast<int>(chance.from_to(2, 5));
    RollQuestion question = seeded_roll(chance, chance.from_to(40, 90), kinds, 40, 30);
    question.longest = lay::kNever;
    INFO(text_of(question));
    Work work(lay::kWork);
    const Whole bound = lay::slices_bound(question, work).length;
    const auto linear = test::least_linear(test::slices_model(question), solver);
    if (!linear) return answered;
    ++answered;
    CHECK(bound == static_cast<Whole>(std::ceil(*linear - 1e-6)));
  }
  return answered;
}

}  // namespace

TEST_SUITE_BEGIN("few");

TEST_CASE("cbc agrees on the bound by slices of a few strips") {
  if (without_cbc()) return;
  CHECK(slices(14, 10, test::LinearSolver::cbc) == 10);
}

TEST_CASE("cbc agrees on the least length of a few strips") {
  if (without_cbc()) return;
  CHECK(one_kind(11, 4, 14, 6) >= 3);
  CHECK(several_kinds(12, 3, 8, 2) >= 2);
}

TEST_CASE("cbc agrees on the most value of a few remnants") {
  if (without_cbc()) return;
  CHECK(plates(13, 4, 12, 3) >= 3);
}

TEST_CASE("cbc finds a published count that straight cuts cannot reach") {
  if (without_cbc()) return;
  // K. A. Dowsland 1984: 23 pieces 5 x 3 from 22 x 16, 22 of them by straight cuts.
  const Shape shape{5, 3, 23, true, true, 1};
  CHECK(test::solved_by_cbc(test::places_model(16, 22, shape), kSeconds).least == -23);
  CHECK(test::solved_by_cbc(test::plate_model(16, 22, {shape}), kSeconds).least == -22);
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("many");

TEST_CASE("cbc agrees on the least length of strips of one kind") {
  if (without_cbc()) return;
  CHECK(one_kind(21, 60, 20, 14) >= 40);
  CHECK(one_kind(22, 20, 60, 24) >= 10);
}

TEST_CASE("cbc agrees on the least length of strips of several kinds") {
  if (without_cbc()) return;
  CHECK(several_kinds(23, 40, 12, 3) >= 20);
  CHECK(several_kinds(24, 8, 20, 4) >= 1);
}

TEST_CASE("cbc agrees on the published strip instances that it solves") {
  if (without_cbc()) return;
  // M. Hifi, Computers & Operations Research 25, 1998: SCP1, SCP3; along the roll, across, demand;
  // straight cuts, no turning.
  struct Instance {
    Whole least, width;
    std::vector<std::tuple<Whole, Whole, int>> pieces;
  };
  const Instance instances[] = {{13, 5, {{3, 1, 4}, {2, 2, 2}, {3, 4, 2}, {2, 3, 1}, {5, 3, 1}}},
                                {14, 6, {{3, 1, 4}, {2, 3, 2}, {1, 2, 4}, {7, 2, 2}, {8, 1, 3}}}};
  for (const Instance& one : instances) {
    RollQuestion question{one.width, lay::kNever, {}};
    for (const auto& [along, across, demand] : one.pieces) {
      question.shapes.push_back({across, along, demand, true, false, 0});
    }
    CHECK(test::solved_by_cbc(test::strip_model(question, one.least + 3), kSeconds).least ==
          one.least);
    CHECK(agrees_on_roll(question));
  }
}

TEST_CASE("cbc agrees on the bound by slices") {
  if (without_cbc()) return;
  CHECK(slices(27, 300, test::LinearSolver::cbc) == 300);
}

TEST_CASE("glpk agrees on the bound by slices") {
  if (slices(28, 1, test::LinearSolver::glpk) == 0) {
    MESSAGE("left out: glpsol is not installed (Debian package glpk-utils)");
    return;
  }
  CHECK(slices(28, 300, test::LinearSolver::glpk) == 300);
}

TEST_CASE("cbc agrees on the most value of remnants") {
  if (without_cbc()) return;
  CHECK(plates(25, 40, 24, 4) >= 20);
}

TEST_CASE("cbc agrees on counts and bounds of free layouts") {
  if (without_cbc()) return;
  CHECK(free_counts(26, 30, 18) >= 15);
}

TEST_CASE("cbc agrees on the trade's example of 40 panels on 150 cm") {
  if (without_cbc()) return;
  CHECK(agrees_on_roll({1500, lay::kNever, {{204, 360, 40, true, true, 0}}}));
}

TEST_SUITE_END();

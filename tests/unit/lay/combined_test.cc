#include "lay/solve/combined.h"

#include <doctest/doctest.h>

#include <numeric>

using namespace pouchwright;
using lay::Part;
using lay::Pattern;
using lay::Patterns;
using lay::RollQuestion;
using lay::Shape;
using lay::Whole;
using lay::Work;

namespace {

/// Two kinds that fill a cloth of 100 side by side.
RollQuestion two_kinds(int demand) {
  return {100, lay::kNever, {{60, 50, demand, true, false}, {40, 50, demand, true, false}}};
}

Part alone(int kind) {
  return lay::beside({lay::piece_part(kind, false, kind == 0 ? 60 : 40, 50)}, 100, 50);
}

Pattern both() {
  return {
      lay::beside({lay::piece_part(0, false, 60, 50), lay::piece_part(1, false, 40, 50)}, 100, 50),
      {1, 1},
      100 * 50,
      0};
}

Whole length_of(const std::vector<Part>& parts) {
  return std::accumulate(parts.begin(), parts.end(), Whole{0},
                         [](Whole sum, const Part& part) { return sum + part.length; });
}

std::vector<int> counts_of(const std::vector<Part>& parts) {
  std::vector<int> counts{0, 0};
  for (const Part& part : parts) {
    const std::vector<int> some = lay::count_pieces(part, 2);
    for (std::size_t k = 0; k < 2; ++k) counts[k] += some[k];
  }
  return counts;
}

}  // namespace

TEST_CASE("a pattern is wanted that wastes at most 3 % and less than the one of the same pieces") {
  Patterns patterns;
  CHECK(patterns.wants({1, 1}, 970, 1000));
  CHECK_FALSE(patterns.wants({1, 1}, 969, 1000));
  CHECK_FALSE(patterns.wants({0, 0}, 0, 0));
  Pattern full = both();
  full.waste = 20;
  patterns.add(full);
  CHECK(patterns.wants({1, 1}, 5000, 5019));
  CHECK_FALSE(patterns.wants({1, 1}, 5000, 5020));
  CHECK(patterns.wants({2, 1}, 5000, 5020));
}

TEST_CASE("the fullest pattern comes first, and small ones are left out") {
  Patterns patterns;
  Pattern fuller = both();
  Pattern emptier = both();
  emptier.counts = {2, 1};
  emptier.waste = 50;
  Pattern smaller = both();
  smaller.counts = {0, 1};
  smaller.area = 40 * 50;
  for (const Pattern& one : {emptier, smaller, fuller}) patterns.add(one);
  const std::vector<Pattern> kept = patterns.fullest(5000);
  REQUIRE(kept.size() == 2);
  CHECK(kept[0].counts == std::vector{1, 1});
  CHECK(kept[1].counts == std::vector{2, 1});
}

TEST_CASE("lengths that hold one piece each are laid anew in half of the cloth") {
  Patterns patterns;
  patterns.add(both());
  std::vector<Part> plan = {alone(0), alone(0), alone(1), alone(1)};
  Work work(1'000'000);
  lay::combine(two_kinds(2), patterns, plan, work);
  CHECK(length_of(plan) == 100);
  CHECK(counts_of(plan) == std::vector{2, 2});
}

TEST_CASE("a plan that nothing shortens stays as it is") {
  Patterns patterns;
  patterns.add(both());
  const std::vector<Part> before = {both().part, both().part};
  std::vector<Part> plan = before;
  Work work(1'000'000);
  lay::combine(two_kinds(2), patterns, plan, work);
  CHECK(plan == before);
}

TEST_CASE("six kinds of twenty are laid within 1 % of a plan that wastes nothing") {
  // Made by cutting up a full rectangle of 1480 x 390 twenty times: 7800 is the least.
  const Shape kinds[] = {{204, 390, 20}, {250, 200, 20}, {250, 190, 20},
                         {310, 390, 20}, {716, 150, 20}, {716, 240, 20}};
  const RollQuestion question{1480, lay::kNever, {std::begin(kinds), std::end(kinds)}};
  Work work(Whole{250'000'000});
  const lay::RollAnswer answer = lay::several_kinds(question, work);
  CHECK(answer.bound <= 7800);
  CHECK(answer.length >= 7800);
  CHECK(answer.length <= 7878);
}

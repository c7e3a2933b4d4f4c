#include "lay/solve/tidy.h"

#include <doctest/doctest.h>

#include <numeric>

#include "lay/solve/solvers.h"
#include "support/lay_cases.h"
#include "support/lay_verifier.h"

using namespace pouchwright;
using lay::Part;
using lay::Whole;

namespace {

Part wide() { return lay::piece_part(0, false, 30, 40); }
Part narrow() { return lay::piece_part(1, false, 20, 40); }

}  // namespace

TEST_CASE("like parts are put next to each other, so that one setting does for them") {
  const std::vector<Part> mixed = {
      lay::beside({narrow(), wide(), narrow(), wide(), narrow()}, 120, 40)};
  // Off the roll, four strips by turns; the last one needs no cut.
  CHECK(lay::settings_for(mixed) == 5);
  const std::vector<Part> tidy = lay::tidied(mixed);
  CHECK(lay::settings_for(tidy) == 3);
  CHECK(tidy[0].parts == std::vector{wide(), wide(), narrow(), narrow(), narrow()});
}

TEST_CASE("lengths that hold the same in another order become alike") {
  const std::vector<Part> two = {lay::beside({narrow(), wide()}, 50, 40),
                                 lay::beside({wide(), narrow()}, 50, 40)};
  CHECK(lay::settings_for(two) == 4);
  const std::vector<Part> tidy = lay::tidied(two);
  CHECK(tidy[0] == tidy[1]);
  CHECK(lay::settings_for(tidy) == 2);
}

TEST_CASE("wastes that come together are one") {
  Part part = lay::beside({narrow(), lay::waste_part(5, 40), wide()}, 60, 40);
  CHECK(part.parts.size() == 4);
  const std::vector<Part> tidy = lay::tidied({part, part});
  REQUIRE(tidy[0].parts.size() == 3);
  CHECK(tidy[0].parts.back() == lay::waste_part(10, 40));
}

TEST_CASE("a plan that is tidy stays as it is") {
  const std::vector<Part> plan = {lay::beside({narrow(), narrow(), wide()}, 70, 40)};
  CHECK(lay::tidied(plan) == plan);
}

TEST_CASE("a day's plan has as many settings as its orders have steps, and no fewer by tidying") {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    lay::Request request = test::seeded_day(seed);
    request.work = 10'000'000;
    lay::RollQuestion question{request.cloth.width.in_nm(), lay::kNever, {}};
    for (const lay::Kind& kind : request.kinds) {
      question.shapes.push_back({kind.width.in_nm(), kind.length.in_nm(), kind.demand,
                                 kind.turn != lay::Turn::across, kind.turn != lay::Turn::along});
    }
    lay::Work work(request.work);
    const auto answer = lay::several_kinds(question, work);
    const lay::Plan plan = lay::plan(request);
    INFO("seed " << seed);
    CHECK(static_cast<int>(plan.cloth.steps.size()) == lay::settings_for(answer.cut_offs));
    const auto again = lay::tidied(answer.cut_offs);
    CHECK(lay::settings_for(again) == lay::settings_for(answer.cut_offs));
    CHECK(std::accumulate(again.begin(), again.end(), Whole{0}, [](Whole sum, const Part& part) {
            return sum + part.length;
          }) == answer.length);
    CHECK(test::wrong_with(request, plan).empty());
  }
}

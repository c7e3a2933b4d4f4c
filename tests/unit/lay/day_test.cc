#include <doctest/doctest.h>

#include "support/lay_cases.h"
#include "support/lay_verifier.h"

using namespace pouchwright;

TEST_CASE("whole days of several makes are planned within 3 % of the bound") {
  // Every hundredth of the 200 days of tests/bench/day_bench, which tells of all.
  constexpr std::uint64_t kEvery = 100;
  for (std::uint64_t seed = kEvery; seed <= 200; seed += kEvery) {
    const lay::Request request = test::seeded_day(seed);
    const lay::Plan plan = lay::plan(request);
    INFO("seed " << seed);
    CHECK(test::wrong_with(request, plan).empty());
    const double length = plan.cloth.length.in_mm();
    CHECK((length - plan.cloth.bound.in_mm()) / length <= 0.03);
  }
}

TEST_CASE("small days stand the verifier, and are no longer than their bound where that is said") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const lay::Request request = test::seeded_small_day(seed);
    const lay::Plan plan = lay::plan(request);
    const auto wrong = test::wrong_with(request, plan);
    INFO("seed " << seed);
    CHECK_MESSAGE(wrong.empty(), (wrong.empty() ? "" : wrong.front()));
    CHECK(plan.cloth.bound <= plan.cloth.length);
    CHECK(plan.cloth.optimal == (plan.cloth.bound == plan.cloth.length));
  }
}

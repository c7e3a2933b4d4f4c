// Sampling: ISO 2859-1, single sampling, normal inspection, general level II (cells as in
// MIL-STD-105E table II-A).
#include "batch/sampling.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace pouchwright::batch;

namespace {

SamplingPlan plan_of(int lot, double limit) {
  const auto made = sampling_plan(lot, limit);
  REQUIRE(std::holds_alternative<SamplingPlan>(made));
  return std::get<SamplingPlan>(made);
}

SamplingFault fault_of(int lot, double limit) {
  const auto made = sampling_plan(lot, limit);
  REQUIRE(std::holds_alternative<SamplingFault>(made));
  return std::get<SamplingFault>(made);
}

struct PublishedRow {
  char letter;
  int sample;
  int smallest_lot, largest_lot;
  std::vector<std::string> cells;  ///< by kQualityLimits
};

/// The table as published: v is the first plan below, ^ the first above.
const std::vector<PublishedRow> kPublished = {
    {'A', 2, 2, 8, {"v", "v", "v", "v", "v", "0/1"}},
    {'B', 3, 9, 15, {"v", "v", "v", "v", "0/1", "^"}},
    {'C', 5, 16, 25, {"v", "v", "v", "0/1", "^", "v"}},
    {'D', 8, 26, 50, {"v", "v", "0/1", "^", "v", "1/2"}},
    {'E', 13, 51, 90, {"v", "0/1", "^", "v", "1/2", "2/3"}},
    {'F', 20, 91, 150, {"0/1", "^", "v", "1/2", "2/3", "3/4"}},
    {'G', 32, 151, 280, {"^", "v", "1/2", "2/3", "3/4", "5/6"}},
    {'H', 50, 281, 500, {"v", "1/2", "2/3", "3/4", "5/6", "7/8"}},
    {'J', 80, 501, 1200, {"1/2", "2/3", "3/4", "5/6", "7/8", "10/11"}},
    {'K', 125, 1201, 3200, {"2/3", "3/4", "5/6", "7/8", "10/11", "14/15"}}};

/// The row whose own plan an arrow leads to.
std::size_t followed(std::size_t row, std::size_t limit) {
  while (kPublished[row].cells[limit] == "v") ++row;
  while (kPublished[row].cells[limit] == "^") --row;
  return row;
}

}  // namespace

TEST_CASE("every cell of the published table comes out, arrows with the sample of their own row") {
  // ISO 2859-1 tables 1 and 2-A.
  for (std::size_t row = 0; row < kPublished.size(); ++row) {
    for (std::size_t limit = 0; limit < kQualityLimits.size(); ++limit) {
      const PublishedRow& used = kPublished[followed(row, limit)];
      for (const int lot : {kPublished[row].smallest_lot, kPublished[row].largest_lot}) {
        CAPTURE(lot);
        CAPTURE(kQualityLimits[limit]);
        const SamplingPlan plan = plan_of(lot, kQualityLimits[limit]);
        CHECK(plan.lot_letter == kPublished[row].letter);
        CHECK(plan.letter == used.letter);
        CHECK(plan.sample == used.sample);
        CHECK(std::to_string(plan.accept) + "/" + std::to_string(plan.refuse) == used.cells[limit]);
        CHECK(plan.test_all == (used.sample >= lot));
      }
    }
  }
}

TEST_CASE("the two worked lots are sampled by the row that the arrow leads to") {
  // Worked in the table's own notes: 40 at 4.0 by 13 with 1/2, 100 at 1.5 by 32 with 1/2.
  const SamplingPlan forty = plan_of(40, 4.0);
  CHECK(forty.sample == 13);
  CHECK(forty.accept == 1);
  const SamplingPlan hundred = plan_of(100, 1.5);
  CHECK(hundred.sample == 32);
  CHECK(hundred.accept == 1);
}

TEST_CASE("a sample that reaches the lot means that all are tested") {
  CHECK(plan_of(13, 1.0).test_all);
  CHECK_FALSE(plan_of(14, 1.0).test_all);
  CHECK(plan_of(2, 0.65).test_all);
}

TEST_CASE("lots outside the table and limits it lacks are told apart") {
  CHECK(fault_of(1, 4.0).kind == SamplingFault::Kind::lot_of_one);
  CHECK(fault_of(3201, 4.0).kind == SamplingFault::Kind::lot_too_large);
  CHECK(fault_of(5000, 4.0).kind == SamplingFault::Kind::lot_too_large);
  const SamplingFault unknown = fault_of(40, 5.0);
  CHECK(unknown.kind == SamplingFault::Kind::unknown_limit);
  CHECK(unknown.nearest == 4.0);
  CHECK(nearest_limit(0) == 0.65);
  CHECK(nearest_limit(100) == 6.5);
  // Halfway, the stricter.
  CHECK(nearest_limit(1.25) == 1.0);
}

TEST_CASE("up to fifty pouches all are tested, beyond that first ones and a sample") {
  CHECK(usual_testing(1, 4).every);
  CHECK(usual_testing(50, 4).every);
  const Testing some = usual_testing(51, 4);
  CHECK_FALSE(some.every);
  CHECK(some.first_ones == 4);
  CHECK(some.sample == 13);  // ISO 2859-1: letter E
  const Testing crowd = usual_testing(60, 100);
  CHECK(crowd.first_ones == 60);
  CHECK(crowd.sample == 0);
}

TEST_CASE("a batch with one bad in twenty passes a sample of 13 about half the time") {
  // Binomial by hand: 0.95^13 = 0.5133.
  CHECK(passes_of_stream(0.05, 13, 0) == doctest::Approx(0.513342).epsilon(1e-5));
  // Hypergeometric by hand, a lot of 60 with 3 bad: C(57,13)/C(60,13) = 47·46·45/(60·59·58).
  CHECK(passes_of_lot(60, 3, 13, 0) == doctest::Approx(47.0 * 46 * 45 / (60.0 * 59 * 58)));
}

TEST_CASE("the chance of passing is sound at its ends and with several accepted") {
  CHECK(passes_of_lot(40, 0, 13, 0) == doctest::Approx(1));
  CHECK(passes_of_lot(40, 40, 13, 1) == doctest::Approx(0));
  CHECK(passes_of_lot(40, 30, 13, 13) == doctest::Approx(1));
  CHECK(passes_of_stream(0, 13, 0) == doctest::Approx(1));
  CHECK(passes_of_stream(1, 13, 12) == doctest::Approx(0));
  // By hand, a lot of 4 with 2 bad, 2 taken: C(2,1)·C(2,1)/C(4,2) = 4/6, none 1/6.
  CHECK(passes_of_lot(4, 2, 2, 0) == doctest::Approx(1.0 / 6));
  CHECK(passes_of_lot(4, 2, 2, 1) == doctest::Approx(5.0 / 6));
  // By hand: (1 - p)^2 + 2 p (1 - p) with p = 0.1.
  CHECK(passes_of_stream(0.1, 2, 1) == doctest::Approx(0.99));
}

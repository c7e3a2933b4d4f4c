// What a record tells. Exact intervals, tests and limits are held to published tables; who leaks more
// is held to records of which it is known, since they are made here from fixed seeds.
#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "batch/record/findings.h"

using namespace pouchwright;
using namespace pouchwright::batch;
using doctest::Approx;

namespace {

RecordRow row(int bundle, const std::string& operation, const std::string& helper) {
  RecordRow made;
  made.of.bundle = bundle;
  made.operation = operation;
  made.helper = helper;
  return made;
}

RecordRow test_row(int bundle, int pouches, int leaks, const std::string& place = "") {
  RecordRow made = row(bundle, kTestOperation, "T");
  made.pouches = pouches;
  made.leaks = leaks;
  made.place = place;
  return made;
}

RecordFindings found_in(std::vector<RecordRow> rows) {
  Record record{std::move(rows), {}};
  return findings(record, {.pouches_a_bundle = 5});
}

/// 80 bundles of five; four people press and four sew, each bundle by chance. What `leaky` presses
/// leaks at 20 %, all else at 4 %.
RecordFindings seeded(unsigned seed, const std::string& leaky) {
  std::mt19937 chance(seed);
  // Not the library's distributions, which differ between machines.
  const auto below = [&](unsigned of) { return static_cast<int>(chance() % of); };
  const std::vector<std::string> people{"Ada", "Ben", "Cleo", "Dora"};
  std::vector<RecordRow> rows;
  for (int bundle = 1; bundle <= 80; ++bundle) {
    const std::string presser = people[static_cast<std::size_t>(below(4))];
    rows.push_back(row(bundle, "press-sides", presser));
    rows.push_back(row(bundle, "sew-sides", people[static_cast<std::size_t>(below(4))]));
    int leaks = 0;
    for (int pouch = 0; pouch < 5; ++pouch) leaks += below(100) < (presser == leaky ? 20 : 4);
    rows.push_back(test_row(bundle, 5, leaks));
  }
  return found_in(std::move(rows));
}

bool names(const RecordFindings& found, const std::string& operation, const std::string& helper) {
  for (const Suspect& one : found.suspects) {
    if (one.of.operation == operation && one.of.helper == helper) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("the 95 % interval is that of published tables of Clopper and Pearson") {
  // Tables of exact binomial limits (as in Documenta Geigy), from memory.
  struct Known {
    int tested, leaked;
    double low, high;
  };
  for (const Known& one :
       {Known{10, 0, 0, 0.3085}, Known{10, 1, 0.0025, 0.4450}, Known{10, 2, 0.0252, 0.5561},
        Known{20, 0, 0, 0.1684}, Known{20, 1, 0.0013, 0.2487}, Known{20, 2, 0.0123, 0.3170},
        Known{50, 0, 0, 0.0711}, Known{50, 1, 0.0005, 0.1065}, Known{50, 2, 0.0049, 0.1371}}) {
    CAPTURE(one.tested);
    CAPTURE(one.leaked);
    const Interval made = clopper_pearson({one.leaked, one.tested});
    CHECK(std::abs(made.low - one.low) < 0.00006);
    CHECK(std::abs(made.high - one.high) < 0.00006);
  }
  CHECK(clopper_pearson({0, 0}).high == 1);
  CHECK(clopper_pearson({10, 10}).high == 1);
}

TEST_CASE("a chart of proportions has the points outside that the handbook's example has") {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.3.2: 30 wafers of 50 chips each, mean 0.2313,
  // upper limit 0.4102; n p = 11.6, so that its three standard deviations may be compared. Counts
  // from memory; their sum, 347, gives the handbook's mean.
  const std::vector<int> counts{12, 15, 8, 10, 4,  7,  16, 9,  14, 10, 5,  6, 17, 12, 22,
                                8,  10, 5, 13, 11, 20, 18, 24, 15, 9,  12, 7, 13, 9,  6};
  std::vector<RecordRow> rows;
  int bundle = 0;
  for (const int count : counts) rows.push_back(test_row(++bundle, 50, count));
  const RecordFindings found = found_in(std::move(rows));
  CHECK(found.total.share() == Approx(0.2313).epsilon(0.0005));
  std::vector<int> outside;
  for (const BundleLeaks& one : found.by_bundle) {
    if (one.outside_limits) outside.push_back(one.of.leaked);
  }
  CHECK(outside == std::vector<int>{22, 24});
  const int most = most_within_limits(50, found.total.share());
  CHECK(std::abs(most - 0.4102 * 50) < 1);
}

TEST_CASE("one leaking pouch in a bundle of five is within the limits, four are not") {
  // Three standard deviations about 4 % of five would put a second one outside: 0.04 + 3 * 0.088.
  CHECK_FALSE(is_outside_limits({1, 5}, 0.04));
  CHECK_FALSE(is_outside_limits({2, 5}, 0.04));  // the chance is 0.0148, by hand
  CHECK(chance_of_as_many({2, 5}, 0.04) ==
        Approx(1 - std::pow(0.96, 5) - 5 * 0.04 * std::pow(0.96, 4)));
  CHECK(is_outside_limits({4, 5}, 0.04));
}

TEST_CASE("Fisher's exact test gives the chances of his own examples") {
  // The lady tasting tea (The Design of Experiments, 1935): 17 and 1 of 70.
  CHECK(fisher_one_sided({3, 4}, {1, 4}) == Approx(17.0 / 70));
  CHECK(fisher_one_sided({4, 4}, {0, 4}) == Approx(1.0 / 70));
  // Convicts with a twin (The logic of inductive inference, 1935): 10 of 13 and 2 of 17; 0.0004652.
  CHECK(fisher_one_sided({10, 13}, {2, 17}) == Approx(0.0004652).epsilon(0.0005));
  CHECK(fisher_one_sided({0, 20}, {3, 20}) == 1);
  CHECK(fisher_one_sided({5, 5}, {5, 5}) == 1);
}

TEST_CASE("Holm's correction is that of his worked rule") {
  // By hand: 0.01 * 4, then 0.02 * 3, 0.03 * 2 = 0.06, 0.04 * 1 raised to the one before.
  const auto made = holm({0.03, 0.01, 0.04, 0.02});
  CHECK(made[0] == Approx(0.06));
  CHECK(made[1] == Approx(0.04));
  CHECK(made[2] == Approx(0.06));
  CHECK(made[3] == Approx(0.06));
  CHECK(holm({0.9, 0.8})[0] == 1);
}

TEST_CASE("whose pressing leaks five times as often is named in 95 of 100 records") {
  int named = 0;
  for (unsigned seed = 1; seed <= 100; ++seed)
    named += names(seeded(seed, "Ben"), "press-sides", "Ben");
  CHECK(named >= 95);
}

TEST_CASE("where all leak alike nobody is named in 95 of 100 records") {
  int silent = 0;
  for (unsigned seed = 1; seed <= 100; ++seed) silent += seeded(seed, "").suspects.empty();
  CHECK(silent >= 95);
}

TEST_CASE("where one person did all of an operation nothing is told apart, and a swap would") {
  std::vector<RecordRow> rows;
  for (int bundle = 1; bundle <= 20; ++bundle) {
    rows.push_back(row(bundle, "press-sides", "Ada"));
    rows.push_back(row(bundle, "sew-sides", "Ben"));
    rows.push_back(test_row(bundle, 5, bundle % 2));
  }
  const RecordFindings found = found_in(std::move(rows));
  CHECK(found.suspects.empty());
  CHECK_FALSE(found.would_show);
  REQUIRE(found.cannot_tell.size() == 2);
  CHECK(found.cannot_tell[0].operation == "press-sides");
  CHECK(found.cannot_tell[0].helper == "Ada");
  CHECK(found.cannot_tell[0].other == "Ben");
  CHECK(found.cannot_tell[0].other_operation == "sew-sides");
}

TEST_CASE("what two people did to a bundle together tells neither from the other") {
  std::vector<RecordRow> rows;
  for (int bundle = 1; bundle <= 20; ++bundle) {
    rows.push_back(row(bundle, "press-sides", "Ada"));
    rows.push_back(row(bundle, "press-sides", "Ben"));
    rows.push_back(test_row(bundle, 5, 1));
  }
  const RecordFindings found = found_in(std::move(rows));
  CHECK(found.by_station.empty());
  CHECK(found.compared == 0);
  CHECK(found.cannot_tell.empty());
}

TEST_CASE("those who did the same bundles are named together") {
  std::vector<RecordRow> rows;
  for (int bundle = 1; bundle <= 20; ++bundle) {
    const bool first = bundle <= 10;
    rows.push_back(row(bundle, "press-sides", first ? "Ada" : "Ben"));
    rows.push_back(row(bundle, "sew-sides", first ? "Cleo" : "Dora"));
    rows.push_back(test_row(bundle, 5, first ? 3 : 0));
  }
  const RecordFindings found = found_in(std::move(rows));
  REQUIRE(found.suspects.size() == 2);
  CHECK(found.suspects[0].of.helper == "Ada");
  CHECK(found.suspects[1].of.helper == "Cleo");
  CHECK(found.suspects[0].group == found.suspects[1].group);
}

TEST_CASE("what would have shown shows in four of five records, and a little less does not") {
  const Tested others{4, 100};
  const double least = 0.05 / 8;
  const auto share = least_share_shown(100, others, least);
  REQUIRE(share);
  // Counted out: the chance of all counts that Fisher's test would have named.
  const auto shows = [&](double of) {
    double sum = 0;
    for (int count = 0; count <= 100; ++count) {
      if (fisher_one_sided({count, 100}, others) >= least) continue;
      sum += chance_of_as_many({count, 100}, of) - chance_of_as_many({count + 1, 100}, of);
    }
    return sum;
  };
  CHECK(shows(*share) == Approx(0.8).epsilon(0.001));
  CHECK_FALSE(least_share_shown(3, {0, 3}, least));
}

TEST_CASE("a second place counts to the bundle's test, a second test is told apart") {
  std::vector<RecordRow> rows{test_row(1, 5, 1, "corner"), test_row(1, 5, 2, "side"),
                              test_row(1, 5, 0)};
  rows[1].pouches.reset();
  const RecordFindings found = found_in(std::move(rows));
  CHECK(found.total == Tested{3, 5});
  REQUIRE(found.by_place.size() == 2);
  CHECK(found.by_place[0].place == "side");
  REQUIRE(found.retests.size() == 1);
  CHECK(found.retests[0].of == Tested{0, 5});
}

TEST_CASE("rows that contradict others are left out, and the others count") {
  Record record{{test_row(1, 5, 6), test_row(2, 5, 1), test_row(3, 0, 0)}, {}};
  record.rows[2].pouches.reset();
  record.rows[2].leaks = 1;
  const RecordFindings found = findings(record, {});
  CHECK(found.total == Tested{1, 5});
  REQUIRE(record.left_out.size() == 2);
  CHECK(record.left_out[0].why.key == "record-more-leaks");
  CHECK(record.left_out[1].why.key == "record-not-tested");
}

TEST_CASE("bundles join to rows of at least twenty, and what is left over goes with the last") {
  std::vector<RecordRow> rows;
  for (int bundle = 1; bundle <= 9; ++bundle) rows.push_back(test_row(bundle, 5, 0));
  const RecordFindings found = found_in(std::move(rows));
  REQUIRE(found.rows.size() == 2);
  CHECK(found.rows[0].of.tested == 20);
  CHECK(found.rows[1].of.tested == 25);
  CHECK(found.rows[1].last.bundle == 9);
}

TEST_CASE("days come in order, each with its own limit") {
  std::vector<RecordRow> rows{test_row(1, 40, 0), test_row(1, 40, 20), test_row(2, 40, 0)};
  rows[0].of.date = "2026-03-14";
  rows[1].of.date = "2026-03-07";
  rows[2].of.date = "2026-03-14";
  const RecordFindings found = found_in(std::move(rows));
  REQUIRE(found.by_day.size() == 2);
  CHECK(found.by_day[0].first.date == "2026-03-07");
  CHECK(found.by_day[0].outside_limits);
  CHECK(found.by_day[1].of.tested == 80);
  CHECK_FALSE(found.by_day[1].outside_limits);
}

TEST_CASE(
    "minutes a piece follow the row's pouches, else the bundle's test, else the usual bundle") {
  std::vector<RecordRow> rows{test_row(1, 4, 0), row(1, "press-sides", "A"),
                              row(2, "press-sides", "A"), row(3, "press-sides", "A")};
  rows[1].minutes = 4;  // four tested
  rows[2].minutes = 5;  // five as usual
  rows[3].minutes = 6;
  rows[3].pouches = 3;
  const RecordFindings found = found_in(std::move(rows));
  REQUIRE(found.minutes.size() == 1);
  CHECK(found.minutes[0].pieces == 12);
  CHECK(found.minutes[0].a_piece() == Approx(15.0 / 12));
  CHECK(found.minutes[0].least_a_piece == Approx(1));
  CHECK(found.minutes[0].most_a_piece == Approx(2));
}

TEST_CASE("the setting is the last that held and never failed") {
  std::vector<RecordRow> rows;
  const auto trial = [&](int dots, double seconds, bool held) {
    rows.push_back(row(0, kTrialOperation, ""));
    rows.back().dots = dots;
    rows.back().seconds = seconds;
    rows.back().held = held;
  };
  trial(1, 8, false);
  trial(1, 12, true);
  trial(2, 8, true);
  trial(2, 8, false);
  const RecordFindings found = found_in(std::move(rows));
  CHECK(found.trials.size() == 4);
  REQUIRE(found.setting);
  CHECK(found.setting->dots == 1);
  CHECK(found.setting->seconds == 12);
}

TEST_CASE("measured seals: capability is one-sided, and told from twenty on") {
  // NIST/SEMATECH e-Handbook 6.1.6: C_pl = (mean - lower limit) / (3 s). By hand: ten of 3 and ten of
  // 5 mm: mean 4, s = sqrt(20/19).
  Record record;
  for (int i = 0; i < 20; ++i) {
    record.rows.push_back(row(i, "press-sides", "A"));
    record.rows.back().clear_seal = base::Length::whole_mm(i % 2 == 0 ? 3 : 5);
  }
  const auto found = findings(record, {.least_clear_seal = base::Length::whole_mm(1)});
  REQUIRE(found.clear_seals);
  REQUIRE(found.clear_seals->capability);
  CHECK(*found.clear_seals->capability == Approx(3 / (3 * std::sqrt(20.0 / 19))));
  record.rows.pop_back();
  CHECK_FALSE(findings(record, {}).clear_seals->capability);
}

// Several jobs' lines as one. The rules are the program's own; every plan for a joined line is walked
// by the verifier, which knows nothing of how lines are joined.
#include "batch/work/joined.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <string>
#include <vector>

#include "batch/work/plan.h"
#include "support/schedule_verifier.h"

using namespace pouchwright;
using namespace pouchwright::batch;

namespace {

Step step(const std::string& id, int each_minutes, Station station,
          std::vector<std::size_t> needs) {
  Step made;
  made.operations = {
      {id, id, std::nullopt, 1, base::Time::whole_minutes(each_minutes), Time(), ""}};
  made.station = station;
  made.needs = std::move(needs);
  return made;
}

Step once(const std::string& id, int minutes, Station station, std::vector<std::size_t> needs) {
  Step made = step(id, minutes, station, std::move(needs));
  made.once = true;
  made.firsts = 1;
  return made;
}

/// Threaded, warmed, cut, pressed, sewn; `more`: with snaps at the end.
OwnLine pouches(std::vector<int> bundles, bool has_snaps) {
  OwnLine own;
  own.steps = {once("thread", 5, Station::machine, {}), once("warm", 3, Station::iron, {}),
               step("cut", 2, Station::table, {}), step("press", 3, Station::iron, {1, 2}),
               step("sew", 4, Station::machine, {0, 3})};
  if (has_snaps) own.steps.push_back(step("snap", 1, Station::hands, {4}));
  own.bundles = std::move(bundles);
  own.serves = {"thread", "warm", "", "", "", ""};
  own.serves.resize(own.steps.size());
  return own;
}

std::vector<std::string> ids(const std::vector<Step>& steps) {
  std::vector<std::string> all;
  for (const Step& one : steps) all.push_back(one.operations.front().id);
  return all;
}

Line line_of(const JoinedLines& day, int helpers) {
  Line line;
  line.steps = day.steps;
  line.bundles = day.bundles;
  line.helpers = helpers;
  line.stations = {0, 1, 1, 1, 1};
  line.work = 3'000;
  return line;
}

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed * 2654435761U + 1) {}
  int from(int least, int most) {
    state_ = state_ * 6364136223846793005U + 1442695040888963407U;
    return least + static_cast<int>((state_ >> 33U) % static_cast<unsigned>(most - least + 1));
  }

 private:
  std::uint64_t state_;
};

OwnLine seeded(Dice& dice) {
  OwnLine own = pouches({}, dice.from(0, 1) == 1);
  for (Step& one : own.steps) {
    one.operations.front().each = base::Time::whole_minutes(dice.from(1, 9));
    if (!one.once && dice.from(0, 5) == 0) one.firsts = 1;
  }
  own.bundles.assign(static_cast<std::size_t>(dice.from(1, 5)), dice.from(1, 6));
  return own;
}

}  // namespace

TEST_CASE("like steps of two jobs stand together, what is done once is done once") {
  const JoinedLines day = joined({pouches({5, 5}, false), pouches({5, 5, 2}, true)});
  CHECK(ids(day.steps) == std::vector<std::string>{"thread", "warm", "cut", "cut", "press", "press",
                                                   "sew", "sew", "snap"});
  CHECK(day.bundles == std::vector<int>{5, 5, 5, 5, 2});
  CHECK(day.first_of == std::vector<std::size_t>{0, 2});
  CHECK(day.job_of == std::vector<std::size_t>{0, 0, 0, 1, 0, 1, 0, 1, 1});
  CHECK(day.steps[5].needs == std::vector<std::size_t>{1, 3});
  CHECK(day.steps[8].needs == std::vector<std::size_t>{7});
  CHECK(day.steps[4].from == 0);
  CHECK(day.steps[4].to == 2);
  CHECK(day.steps[5].from == 2);
  CHECK(day.steps[5].to == 5);
  CHECK(day.steps[5].like == 4);
  CHECK_FALSE(day.steps[8].like);
  CHECK(day.steps[5].number_of(2) == 1);
}

TEST_CASE("what makes ready for one job alone is done for each") {
  std::vector<OwnLine> lines = {pouches({3}, false), pouches({3}, false)};
  for (OwnLine& one : lines) one.serves.assign(one.steps.size(), "");
  const JoinedLines day = joined(lines);
  CHECK(std::count(day.job_of.begin(), day.job_of.end(), 1) == 5);
  CHECK(ids(day.steps).size() == 10);
}

TEST_CASE("one job's line joined with none is that line") {
  const OwnLine own = pouches({4, 4, 1}, true);
  const JoinedLines day = joined({own});
  REQUIRE(day.steps.size() == own.steps.size());
  for (std::size_t i = 0; i < own.steps.size(); ++i)
    CHECK(day.steps[i].needs == own.steps[i].needs);
  Line alone = line_of(day, 3);
  for (Step& one : alone.steps) {
    one.from = 0;
    one.to = Step::kAllBundles;
  }
  CHECK(planned(line_of(day, 3)).finish == planned(alone).finish);
}

TEST_CASE("plans for seeded days keep every rule, and their bound") {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    Dice dice(seed);
    std::vector<OwnLine> lines;
    const int jobs = dice.from(2, 4);
    for (int i = 0; i < jobs; ++i) lines.push_back(seeded(dice));
    Line line = line_of(joined(lines), dice.from(1, 5));
    for (int& count : line.stations) count = dice.from(1, 2);
    if (dice.from(0, 1) == 1) line.keep = Keep::posts;
    CHECK(test::schedule_faults(line, planned(line)) == std::vector<std::string>{});
  }
}

TEST_CASE("a day takes no longer than its jobs one after the other") {
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    CAPTURE(seed);
    Dice dice(seed);
    const std::vector<OwnLine> lines = {seeded(dice), seeded(dice)};
    Time apart{};
    for (const OwnLine& one : lines) apart += planned(line_of(joined({one}), 3)).finish;
    CHECK(planned(line_of(joined(lines), 3)).finish <= apart);
  }
}

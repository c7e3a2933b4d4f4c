#include "batch/work/plan.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <numeric>

#include "base/text.h"
#include "batch/work/dispatch.h"
#include "support/schedule_verifier.h"

using namespace pouchwright;
using namespace pouchwright::batch;

namespace {

Time minutes(int count) { return base::Time::whole_minutes(count); }

Step step(int each_minutes, Station station, std::vector<std::size_t> needs, int waits = 0) {
  Step made;
  made.operations = {{"step", "kind", std::nullopt, 1, minutes(each_minutes), Time(), ""}};
  made.station = station;
  made.needs = std::move(needs);
  made.waits = minutes(waits);
  return made;
}

/// One of each station.
Line line_of(std::vector<Step> steps, std::vector<int> bundles, int helpers) {
  Line line;
  line.steps = std::move(steps);
  line.bundles = std::move(bundles);
  line.helpers = helpers;
  line.stations = {0, 1, 1, 1, 1};
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

/// A line like a construction's: mostly one step after the other, a few steps side by side.
Line seeded(std::uint64_t seed, int most_steps, int most_bundles, int most_helpers) {
  Dice dice(seed);
  Line line;
  const int steps = dice.from(1, most_steps);
  for (int i = 0; i < steps; ++i) {
    std::vector<std::size_t> needs;
    if (i > 0 && dice.from(0, 4) > 0) needs.push_back(static_cast<std::size_t>(i - 1));
    if (i > 1 && dice.from(0, 3) == 0) needs.insert(needs.begin(), 0);
    if (needs.size() == 2 && needs[0] == needs[1]) needs.pop_back();
    line.steps.push_back(step(dice.from(0, 9), kStations[static_cast<std::size_t>(dice.from(0, 4))],
                              needs, dice.from(0, 5) == 0 ? dice.from(1, 9) : 0));
    line.steps.back().operations.front().per_bundle = minutes(dice.from(0, 1));
    if (dice.from(0, 6) == 0) line.steps.back().firsts = dice.from(1, 2);
  }
  line.bundles.assign(static_cast<std::size_t>(dice.from(1, most_bundles)), dice.from(1, 5));
  if (dice.from(0, 1) == 0) line.bundles.back() = dice.from(1, line.bundles.back());
  line.helpers = dice.from(1, most_helpers);
  for (int& count : line.stations) count = dice.from(1, 3);
  line.work = 3'000;
  return line;
}

/// The shortest finish of any plan: every order in which tasks can be put in, each as early as it
/// can be. Some such order gives the shortest plan, since none that can be begun earlier is put
/// off.
class AllOrders {
 public:
  explicit AllOrders(const Line& line) : line_(line), bundles_(line.bundles.size()) {
    ends_.assign(line.steps.size() * bundles_, Time::ms(-1));
  }

  Time shortest() {
    put_in(0, Time());
    return best_;
  }

 private:
  struct Span {
    Time from, to;
    Station station;
  };

  void put_in(std::size_t count, Time finish) {
    if (finish >= best_) return;
    if (count == ends_.size()) {
      best_ = finish;
      return;
    }
    for (std::size_t task = 0; task < ends_.size(); ++task) {
      if (ends_[task] >= Time()) continue;
      const auto earliest = ready(task);
      if (!earliest) continue;
      const Step& step = line_.steps[task / bundles_];
      const int pieces = !step.firsts ? line_.bundles[task % bundles_]
                         : static_cast<int>(task % bundles_) < *step.firsts ? 1
                                                                            : 0;
      if (pieces == 0) {  // passed by, and nobody's task
        ends_[task] = *earliest;
        put_in(count + 1, finish);
        ends_[task] = Time::ms(-1);
        return;
      }
      const Time takes = step.takes(pieces);
      const Time start = first_free(*earliest, takes, step.station);
      spans_.push_back({start, start + takes, step.station});
      ends_[task] = start + takes;
      put_in(count + 1, std::max(finish, start + takes));
      ends_[task] = Time::ms(-1);
      spans_.pop_back();
    }
  }

  [[nodiscard]] std::optional<Time> ready(std::size_t task) const {
    Time at{};
    for (const std::size_t need : line_.steps[task / bundles_].needs) {
      const Time end = ends_[need * bundles_ + task % bundles_];
      if (end < Time()) return std::nullopt;
      const auto& firsts = line_.steps[need].firsts;
      const bool waits = !firsts || static_cast<int>(task % bundles_) < *firsts;
      at = std::max(at, end + (waits ? line_.steps[need].waits : Time()));
    }
    return at;
  }

  [[nodiscard]] bool has_room(Time from, Time to, Station station) const {
    // Somebody must be free at every moment: what others do changes only where a task begins.
    std::vector<Time> moments = {from};
    for (const Span& span : spans_) {
      if (span.from > from && span.from < to) moments.push_back(span.from);
    }
    for (const Time moment : moments) {
      int helpers = 0;
      int stations = 0;
      for (const Span& span : spans_) {
        if (span.from > moment || span.to <= moment) continue;
        ++helpers;
        if (span.station == station) ++stations;
      }
      if (helpers >= line_.helpers) return false;
      const int units = line_.stations[static_cast<std::size_t>(station)];
      if (station != Station::hands && stations >= units) return false;
    }
    return true;
  }

  [[nodiscard]] Time first_free(Time earliest, Time takes, Station station) const {
    std::vector<Time> starts = {earliest};
    for (const Span& span : spans_) {
      if (span.to > earliest) starts.push_back(span.to);
    }
    std::sort(starts.begin(), starts.end());
    for (const Time start : starts) {
      if (takes == Time() || has_room(start, start + takes, station)) return start;
    }
    return starts.back();
  }

  const Line& line_;
  std::size_t bundles_;
  std::vector<Time> ends_;
  std::vector<Span> spans_;
  Time best_ = base::Time::longest();
};

}  // namespace

TEST_CASE("pouches go into bundles, and what is left over is a smaller one") {
  CHECK(bundles(40, 5, 12) == std::vector<int>(8, 5));
  CHECK(bundles(12, 5, 12) == std::vector<int>{5, 5, 2});
  CHECK(bundles(3, 5, 12) == std::vector<int>{3});
  const auto many = bundles(2'000'000, 5, 12);
  CHECK(many.size() * 12 <= static_cast<std::size_t>(kMostTasks));
  CHECK(std::accumulate(many.begin(), many.end(), 0) == 2'000'000);
}

TEST_CASE("a bundle walks down the line, and the next follows it") {
  // Worked by hand: two stations of 2 and 3 minutes, two bundles of one piece, two helpers.
  //   table    |1 1 |2 2 |
  //   machine       |1 1 1|2 2 2|       finish: 2 + 3 + 3 = 8
  const Line line =
      line_of({step(2, Station::table, {}), step(3, Station::machine, {0})}, {1, 1}, 2);
  const Schedule plan = planned(line);
  CHECK(plan.finish == minutes(8));
  CHECK(plan.bound.time == minutes(8));
  CHECK(plan.bound.because == Bound::Because::station);
  CHECK(plan.bound.station == Station::machine);
  CHECK(plan.tasks.size() == 4);
  CHECK(test::schedule_faults(line, plan) == std::vector<std::string>{});
  CHECK(plan.loads == std::vector<Time>{minutes(4), minutes(6)});
  // 10 minutes of work in 2 * 8.
  CHECK(balance_efficiency(plan) == doctest::Approx(10.0 / 16));
}

TEST_CASE("bundles lie as long as they must, and nobody waits beside them") {
  // Worked by hand: fill (1 min), stand for 5, look (1 min); one helper, two pouches one by one:
  // fill 0-1, fill 1-2, look 6-7, look 7-8.
  const Line line =
      line_of({step(1, Station::hands, {}, 5), step(1, Station::hands, {0})}, {1, 1}, 1);
  const Schedule plan = planned(line);
  CHECK(plan.finish == minutes(8));
  CHECK(test::schedule_faults(line, plan) == std::vector<std::string>{});
}

TEST_CASE("a step of the first bundle keeps that bundle, and no other") {
  // Worked by hand, two bundles of two pieces: press 2 + 2, the first pouch filled in 3 and dry 30
  // later, then sewn 2 + 2. The second bundle is pressed 4-8 and sewn 8-12 meanwhile, the first
  // sewn 4 + 3 + 30 = 37 to 41.
  Line line = line_of({step(2, Station::iron, {}), step(3, Station::hands, {0}, 30),
                       step(2, Station::machine, {1})},
                      {2, 2}, 3);
  line.steps[1].firsts = 1;
  const Schedule plan = planned(line);
  CHECK(plan.finish == minutes(41));
  CHECK(plan.bound.time == minutes(41));
  CHECK(plan.bound.because == Bound::Because::chain);
  CHECK(plan.tasks.size() == 5);
  CHECK(std::count_if(plan.tasks.begin(), plan.tasks.end(),
                      [](const Task& task) { return task.step == 1; }) == 1);
  CHECK(test::schedule_faults(line, plan) == std::vector<std::string>{});
  // 4 + 4 pressed, 3 filled, 4 + 4 sewn.
  CHECK(std::accumulate(plan.loads.begin(), plan.loads.end(), Time()) == minutes(19));
}

// Line-balancing textbooks, from memory: c >= Σt / n, and no cycle is shorter than the longest
// station.
TEST_CASE("no plan is shorter than the work shared out, the longest station, or one bundle's way") {
  // Work without stations: 12 tasks of 1 minute among 5 helpers are 2.4 minutes each.
  Line line = line_of({step(1, Station::hands, {})}, std::vector<int>(12, 1), 5);
  CHECK(bound(line).time == Time::ms(144'000));
  CHECK(bound(line).because == Bound::Because::helpers);
  CHECK(planned(line).finish == minutes(3));  // a whole number of tasks

  // The longest station: one iron for 4 bundles of 6 minutes, with 1 before and 2 after.
  line = line_of(
      {step(1, Station::hands, {}), step(6, Station::iron, {0}), step(2, Station::hands, {1})},
      std::vector<int>(4, 1), 9);
  CHECK(bound(line).time == minutes(1 + 4 * 6 + 2));
  CHECK(bound(line).because == Bound::Because::station);
  CHECK(planned(line).finish == minutes(27));
  // A second iron: its first task can be there no later than the first's.
  line.stations[static_cast<std::size_t>(Station::iron)] = 2;
  CHECK(bound(line).time == minutes(1 + 2 * 6 + 2));

  // One bundle's way, however many helpers.
  line = line_of({step(3, Station::hands, {}, 4), step(5, Station::hands, {0})}, {2}, 9);
  CHECK(bound(line).time == minutes(6 + 4 + 10));
  CHECK(bound(line).because == Bound::Because::chain);
  CHECK(planned(line).finish == minutes(20));
}

TEST_CASE("helpers who cannot all begin at once are not reckoned as if they could") {
  // One table: the second of two helpers begins no earlier than 4, since nobody else's task can be
  // there before. (42 minutes of work + 0 + 4) / 2.
  const Line line = line_of({step(4, Station::table, {}), step(10, Station::hands, {0})},
                            std::vector<int>(3, 1), 2);
  CHECK(bound(line).time == minutes(23));
  CHECK(bound(line).because == Bound::Because::helpers);
  // Nobody's tasks of 4 and 10 minutes make 23.
  CHECK(planned(line).finish == minutes(24));
}

TEST_CASE("plans of seeded lines keep every rule") {
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    CAPTURE(seed);
    const Line line = seeded(seed, 9, 12, 8);
    const std::vector<std::string> faults = test::schedule_faults(line, planned(line));
    INFO(base::list_text(faults));
    CHECK(faults.empty());
  }
}

TEST_CASE("a plan with one helper more is never longer") {
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    CAPTURE(seed);
    Line line = seeded(seed, 7, 10, 1);
    Time before = base::Time::longest();
    for (line.helpers = 1; line.helpers <= 10; ++line.helpers) {
      const Time finish = planned(line).finish;
      CHECK(finish <= before);
      before = finish;
    }
  }
}

TEST_CASE("the same line gives the same plan") {
  const Line line = seeded(7, 9, 12, 8);
  CHECK(planned(line).tasks == planned(line).tasks);
}

// When this was written: 224 of 227 are the shortest, the worst is 8 % longer.
TEST_CASE("plans of tiny lines are the shortest there are, or nearly") {
  int shortest = 0;
  int lines = 0;
  double worst = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    Line line = seeded(seed, 4, 3, 3);
    if (line.steps.size() * line.bundles.size() > 7) continue;
    CAPTURE(seed);
    const Time best = AllOrders(line).shortest();
    const Schedule plan = planned(line);
    CHECK(plan.finish >= best);
    CHECK(plan.bound.time <= best);
    ++lines;
    if (plan.finish == best) ++shortest;
    if (best > Time()) {
      worst = std::max(
          worst, static_cast<double>(plan.finish.in_ms()) / static_cast<double>(best.in_ms()) - 1);
    }
  }
  INFO(shortest << " of " << lines << " shortest, the worst " << worst * 100 << " % longer");
  REQUIRE(lines > 100);
  CHECK(shortest >= lines * 95 / 100);
  CHECK(worst <= 0.25);
}

TEST_CASE("one more of what holds the work up saves time, one more of the rest does not") {
  const Line line = line_of(
      {step(1, Station::table, {}), step(6, Station::iron, {0}), step(1, Station::machine, {1})},
      std::vector<int>(6, 1), 4);
  const Schedule plan = planned(line);
  CHECK(plan.finish == minutes(38));
  const auto more = what_if(line, plan);
  // A helper, and the stations that steps hold; nothing is overedged.
  REQUIRE(more.size() == 4);
  CHECK(more[0].more == Station::hands);
  CHECK(more[0].finish == minutes(38));
  CHECK(more[1].more == Station::table);
  CHECK(more[1].finish == minutes(38));
  CHECK(more[2].more == Station::machine);
  CHECK(more[2].finish == minutes(38));
  CHECK(more[3].more == Station::iron);
  // Two irons, three bundles each: from 1 and from 2, so 2 + 18 + 1.
  CHECK(more[3].finish == minutes(21));
}

TEST_CASE("more helpers than there is work for have nothing to do") {
  const Line line = line_of({step(1, Station::hands, {})}, {1, 1}, 50);
  const Schedule plan = planned(line);
  CHECK(plan.finish == minutes(1));
  CHECK(std::count(plan.loads.begin(), plan.loads.end(), Time()) == 48);
  CHECK(test::schedule_faults(line, plan) == std::vector<std::string>{});
}

TEST_CASE("an order does every task, and more helpers than it has at work change nothing") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    Line line = seeded(seed, 6, 7, 4);
    Urgency urgency;
    for (std::size_t i = 0; i < line.steps.size(); ++i) {
      urgency.step.push_back(static_cast<std::int64_t>(7 * i % 5));
    }
    const Dispatched whole = dispatched(line, urgency);
    std::size_t tasks = 0;
    for (const Step& one : line.steps) {
      for (std::size_t i = 0; i < line.bundles.size(); ++i)
        tasks += static_cast<std::size_t>(one.is_done_to(i));
    }
    CHECK(whole.tasks.size() == tasks);
    CHECK(whole.most_helpers <= line.helpers);
    line.helpers = whole.most_helpers;
    CHECK(dispatched(line, urgency).tasks == whole.tasks);
  }
}

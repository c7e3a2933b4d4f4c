/// How long work plans take: `schedule_bench`. One line a question: the plan alone and with what
/// one helper or station more would do, the best of a few runs, and the plan's gap to its bound.
#include <algorithm>
#include <chrono>
#include <cstdio>

#include "batch/work/plan.h"

using namespace pouchwright;
using batch::Station;

namespace {

template <class Run>
double best_ms(int runs, Run run) {
  double best = 1e9;
  for (int i = 0; i < runs; ++i) {
    const auto start = std::chrono::steady_clock::now();
    run();
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    best = std::min(best, took.count());
  }
  return best;
}

/// The fold-over pouch with an outer and overedged ends; seconds about as in shared/work.toml.
batch::Line foldover(int pouches, int helpers, int machines, int irons) {
  struct Given {
    int seconds;
    Station station;
    int waits;
  };
  const Given given[] = {
      {18, Station::table, 0},   {18, Station::table, 0}, {33, Station::hands, 0},
      {19, Station::machine, 0}, {16, Station::hands, 0}, {19, Station::machine, 0},
      {16, Station::hands, 0},   {57, Station::iron, 0},  {40, Station::machine, 0},
      {23, Station::hands, 0},   {26, Station::hands, 0}, {20, Station::hands, 300},
      {16, Station::hands, 0}};
  batch::Line line;
  for (const Given& one : given) {
    batch::Step step;
    step.operations = {
        {"step", "kind", std::nullopt, 1, base::Time::seconds(one.seconds), batch::Time(), ""}};
    step.station = one.station;
    step.waits = base::Time::seconds(one.waits);
    const std::size_t index = line.steps.size();
    if (index == 2) step.needs = {0, 1};
    if (index > 2) step.needs = {index - 1};
    line.steps.push_back(step);
  }
  line.bundles = batch::bundles(pouches, 5, line.steps.size());
  line.helpers = helpers;
  line.stations = {0, 1, machines, 0, irons};
  return line;
}

void question(int pouches, int helpers, int machines, int irons) {
  const batch::Line line = foldover(pouches, helpers, machines, irons);
  batch::Schedule plan;
  const double alone = best_ms(3, [&] { plan = batch::planned(line); });
  const double all = best_ms(1, [&] { (void)batch::what_if(line, plan); });
  std::printf(
      "%6d pouches, %3d helpers, %2d machines, %2d irons: %7.1f ms, what if %7.1f ms; "
      "%7.1f min, gap %.2f %%\n",
      pouches, helpers, machines, irons, alone, all, plan.finish.in_minutes(),
      100 * (plan.finish.in_minutes() / plan.bound.time.in_minutes() - 1));
}

}  // namespace

int main() {
  question(20, 2, 1, 1);
  question(40, 4, 1, 1);
  question(40, 4, 2, 2);
  question(40, 8, 2, 2);
  question(100, 6, 2, 2);
  question(500, 12, 4, 4);
  question(2'000, 4, 2, 1);
  question(2'000, 100, 20, 20);
  question(10'000, 4, 2, 2);
  question(10'000, 20, 5, 5);
  question(10'000, 100, 50, 50);
  return 0;
}

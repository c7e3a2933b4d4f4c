#include "batch/work/held_up.h"

#include <algorithm>
#include <vector>

namespace pouchwright::batch {
namespace {

/// How much of all breaks lies between two moments.
Time breaks_within(const Breaks& breaks, Time from, Time to) {
  Time sum{};
  if (!breaks.any()) return sum;
  for (Time at = breaks.every; at < to; at += breaks.cycle()) {
    const Time begin = std::max(at, from);
    const Time end = std::min(at + breaks.lasts, to);
    if (end > begin) sum += end - begin;
  }
  return sum;
}

/// Where the day of one person or place went. Tasks by start.
HeldUp day_of(const std::vector<const Task*>& tasks, const Line& line, Time finish) {
  HeldUp made;
  made.breaks = breaks_within(line.breaks, Time(), finish);
  bool has_begun = false;
  Time until{};
  const auto waits_until = [&](Time at, Time& where) {
    where += at - until - breaks_within(line.breaks, until, at);
  };
  for (const Task* task : tasks) {
    const bool is_once = line.steps[task->step].once;
    waits_until(task->start, has_begun ? made.between : made.before);
    has_begun = has_begun || !is_once;
    const Time takes = task->end - task->start;
    made.lays_ready += is_once ? takes : task->set_up;
    if (!is_once) made.works += takes - task->set_up;
    until = task->end;
  }
  waits_until(finish, made.after);
  return made;
}

Time has_to_do(const HeldUp& one) { return one.works + one.lays_ready; }

}  // namespace

HeldUp held_up(const Line& line, const Schedule& plan) {
  HeldUp fullest;
  const auto take = [&](Station station, std::size_t number) {
    std::vector<const Task*> own;
    for (const Task& task : plan.tasks) {
      const bool is_own = station == Station::hands ? task.helper == static_cast<int>(number)
                                                    : line.steps[task.step].station == station &&
                                                          task.station == static_cast<int>(number);
      if (is_own) own.push_back(&task);
    }
    if (own.empty()) return;
    HeldUp one = day_of(own, line, plan.finish);
    one.station = station;
    one.number = number;
    if (has_to_do(one) > has_to_do(fullest)) fullest = one;
  };
  for (const Station station : kStations) {
    if (station == Station::hands) continue;
    const int count = line.stations[static_cast<std::size_t>(station)];
    for (int i = 0; i < count; ++i) take(station, static_cast<std::size_t>(i));
  }
  for (std::size_t i = 0; i < plan.loads.size(); ++i) take(Station::hands, i);
  return fullest;
}

}  // namespace pouchwright::batch

#include "batch/work/people.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace pouchwright::batch {
namespace {

/// By helper: is she one of them?
using Crowd = std::vector<bool>;

Crowd who_can(const Line& line, std::size_t step) {
  Crowd crowd(line.people.size());
  for (std::size_t i = 0; i < crowd.size(); ++i) crowd[i] = line.people[i].does(step);
  return crowd;
}

bool is_within(const Crowd& part, const Crowd& whole) {
  for (std::size_t i = 0; i < part.size(); ++i) {
    if (part[i] && !whole[i]) return false;
  }
  return true;
}

Crowd both(const Crowd& a, const Crowd& b) {
  Crowd sum(a.size());
  for (std::size_t i = 0; i < a.size(); ++i) sum[i] = a[i] || b[i];
  return sum;
}

}  // namespace

Bound bound_of_people(const Line& line) {
  std::vector<Crowd> can;
  for (std::size_t i = 0; i < line.steps.size(); ++i) can.push_back(who_can(line, i));
  std::set<Crowd> single(can.begin(), can.end());
  std::set<Crowd> crowds = single;
  crowds.insert(Crowd(line.people.size(), true));
  for (const Crowd& a : single) {
    for (const Crowd& b : single) crowds.insert(both(a, b));
  }
  Bound best{{}, Bound::Because::helpers, Station::hands};
  for (const Crowd& crowd : crowds) {
    Time work{};
    std::int64_t tasks = 0;
    for (std::size_t i = 0; i < can.size(); ++i) {
      if (!is_within(can[i], crowd)) continue;
      work += work_of(line.steps[i], line);
      tasks += static_cast<std::int64_t>(line.bundles.size());
    }
    double speed = 0;
    std::int64_t count = 0;
    bool all_usual = true;
    for (std::size_t i = 0; i < crowd.size(); ++i) {
      if (!crowd[i]) continue;
      speed += line.people[i].speed;
      all_usual = all_usual && line.people[i].speed == 1;
      ++count;
    }
    if (count == 0) continue;
    if (all_usual) {
      best.time = std::max(best.time, work.shared_out(count));
      continue;
    }
    // Each task is rounded to the millisecond.
    const auto ms =
        static_cast<std::int64_t>(std::floor(static_cast<double>(work.in_ms()) / speed));
    best.time = std::max(best.time, Time::ms(std::max<std::int64_t>(0, ms - tasks)));
  }
  return best;
}

Time at_speed(Time time, double speed) {
  if (speed == 1) return time;
  return Time::ms(std::llround(static_cast<double>(time.in_ms()) / speed));
}

Time longest_task(const Line& line) {
  const int most = *std::max_element(line.bundles.begin(), line.bundles.end());
  Time longest{};
  for (std::size_t i = 0; i < line.steps.size(); ++i) {
    const Step& step = line.steps[i];
    for (std::size_t helper = 0; helper < static_cast<std::size_t>(line.helpers); ++helper) {
      if (!line.can_do(helper, i)) continue;
      const Time work = step.takes(step.pieces_of(step.from, most));
      longest = std::max(longest, at_speed(work, line.speed_of(helper)) + step.set_up);
      if (line.people.empty()) break;
    }
  }
  return longest;
}

bool can_be_planned(const Line& line) {
  for (std::size_t i = 0; i < line.steps.size(); ++i) {
    bool somebody = line.people.empty();
    for (const Person& person : line.people) somebody = somebody || person.does(i);
    if (!somebody) return false;
  }
  return !line.breaks.any() || longest_task(line) <= line.breaks.every;
}

}  // namespace pouchwright::batch

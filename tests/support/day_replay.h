/// Walks a work plan through its day, moment by moment, as somebody with a clock in the room would:
/// knows the line and the plan's tasks, and nothing of what made it. Every task takes some time.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "batch/work/plan.h"

namespace pouchwright::test {

class DayReplay {
 public:
  DayReplay(const batch::Line& line, const batch::Schedule& plan)
      : line_(line), plan_(plan), at_work_on_(static_cast<std::size_t>(line.helpers), kNobody) {
    last_step_.assign(at_work_on_.size(), kNobody);
  }

  /// What was seen that must not be; empty where nothing was.
  std::vector<std::string> faults() {
    struct Moment {
      std::int64_t at;
      bool begins;
      std::size_t task;
    };
    std::vector<Moment> day;
    for (std::size_t i = 0; i < plan_.tasks.size(); ++i) {
      day.push_back({plan_.tasks[i].start.in_ms(), true, i});
      day.push_back({plan_.tasks[i].end.in_ms(), false, i});
    }
    // Hands and places are free at the moment at which something ends.
    std::stable_sort(day.begin(), day.end(), [](const Moment& a, const Moment& b) {
      return std::pair(a.at, a.begins) < std::pair(b.at, b.begins);
    });
    for (const Moment& moment : day) {
      moment.begins ? begin(plan_.tasks[moment.task], moment.at) : end(plan_.tasks[moment.task]);
    }
    all_is_done();
    stretches_hold();
    return seen_;
  }

 private:
  static constexpr std::size_t kNobody = static_cast<std::size_t>(-1);

  void see(const batch::Task& task, const std::string& what) {
    seen_.push_back("step " + std::to_string(task.step) + " of bundle " +
                    std::to_string(task.bundle) + ": " + what);
  }

  void begin(const batch::Task& task, std::int64_t now) {
    const batch::Step& step = line_.steps[task.step];
    const auto helper = static_cast<std::size_t>(task.helper);
    if (at_work_on_[helper] != kNobody) see(task, "its helper is in two places");
    at_work_on_[helper] = task.step;
    if (!line_.people.empty() && !line_.people[helper].can.empty() &&
        !line_.people[helper].can[task.step]) {
      see(task, "its helper cannot do it");
    }
    if (step.station != batch::Station::hands) {
      const int count = ++at_place_[{step.station, task.station}];
      if (count > 1) see(task, "its place is taken");
      if (task.station < 0 ||
          task.station >= line_.stations[static_cast<std::size_t>(step.station)])
        see(task, "there is no such place");
    }
    if (now < free_at(task.step, task.bundle)) see(task, "its bundle is not there yet");
    if (!done_.emplace(std::pair(task.step, task.bundle), task.end.in_ms()).second)
      see(task, "twice");
    takes_its_time(task);
    rests(task);
    last_step_[helper] = task.step;
  }

  void end(const batch::Task& task) {
    at_work_on_[static_cast<std::size_t>(task.helper)] = kNobody;
    const batch::Station station = line_.steps[task.step].station;
    if (station != batch::Station::hands) --at_place_[{station, task.station}];
  }

  /// When what the step needs has let the bundle go.
  std::int64_t free_at(std::size_t step, std::size_t bundle) {
    std::int64_t at = 0;
    for (const std::size_t need : line_.steps[step].needs) {
      const batch::Step& before = line_.steps[need];
      const std::size_t whose = before.once ? 0 : bundle;
      if (before.firsts && static_cast<int>(whose) >= *before.firsts) {
        at = std::max(at, free_at(need, bundle));
        continue;
      }
      const auto done = done_.find({need, whose});
      if (done == done_.end()) return INT64_MAX;
      at = std::max(at, done->second + before.waits.in_ms());
    }
    return at;
  }

  void takes_its_time(const batch::Task& task) {
    const batch::Step& step = line_.steps[task.step];
    const auto helper = static_cast<std::size_t>(task.helper);
    const int pieces = step.firsts ? 1 : line_.bundles[task.bundle];
    std::int64_t work = 0;
    for (const auto& one : step.operations) {
      work += one.each.in_ms() * pieces + one.per_bundle.in_ms();
    }
    const double speed = line_.people.empty() ? 1 : line_.people[helper].speed;
    const std::size_t last = last_step_[helper];
    const bool comes = last != kNobody && last != task.step && !line_.steps[last].once;
    const std::int64_t set_up = comes ? step.set_up.in_ms() : 0;
    if (task.set_up.in_ms() != set_up) see(task, "another time to set up");
    const std::int64_t takes = std::llround(static_cast<double>(work) / speed) + set_up;
    if (task.end.in_ms() - task.start.in_ms() != takes) see(task, "takes another time");
  }

  /// Breaks lie in the day at every * k + lasts * (k - 1), k from 1.
  void rests(const batch::Task& task) {
    const std::int64_t every = line_.breaks.every.in_ms();
    const std::int64_t lasts = line_.breaks.lasts.in_ms();
    if (every == 0 || lasts == 0) return;
    for (std::int64_t from = every; from < task.end.in_ms(); from += every + lasts) {
      if (task.start.in_ms() < from + lasts) see(task, "in the break");
    }
  }

  void all_is_done() {
    std::int64_t finish = 0;
    for (const auto& [what, end] : done_) finish = std::max(finish, end);
    if (finish != plan_.finish.in_ms()) seen_.emplace_back("the finish is another");
    std::size_t tasks = 0;
    for (const batch::Step& step : line_.steps) {
      tasks += step.firsts ? std::min(line_.bundles.size(), static_cast<std::size_t>(*step.firsts))
                           : line_.bundles.size();
    }
    if (done_.size() != tasks) seen_.emplace_back("something is not done");
    if (plan_.bound.time > plan_.finish) seen_.emplace_back("the bound is above the finish");
  }

  /// Each task lies in a stretch of its helper that names its step; changes are counted.
  void stretches_hold() {
    std::map<int, int> count;
    for (const batch::Kept& kept : plan_.kept) ++count[kept.helper];
    int most = 0;
    for (const auto& [helper, stretches] : count) most = std::max(most, stretches - 1);
    if (most != plan_.changes) seen_.emplace_back("another number of changes");
    if (line_.keep == batch::Keep::posts && most > line_.changes) {
      seen_.emplace_back("more changes than allowed");
    }
    for (const batch::Task& task : plan_.tasks) {
      const bool is_in =
          std::any_of(plan_.kept.begin(), plan_.kept.end(), [&](const batch::Kept& kept) {
            return kept.helper == task.helper && kept.from <= task.start && task.end <= kept.to &&
                   std::count(kept.steps.begin(), kept.steps.end(), task.step) == 1;
          });
      if (!is_in) see(task, "in no stretch of its helper");
    }
  }

  const batch::Line& line_;
  const batch::Schedule& plan_;
  std::vector<std::string> seen_;
  std::vector<std::size_t> at_work_on_, last_step_;  ///< by helper
  std::map<std::pair<batch::Station, int>, int> at_place_;
  std::map<std::pair<std::size_t, std::size_t>, std::int64_t> done_;  ///< step, bundle: its end
};

}  // namespace pouchwright::test

/// Looks at a work plan with nothing of what made it: one pass over the tasks for each rule.
#pragma once

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "batch/work/plan.h"

namespace pouchwright::test {

/// Tasks that share one helper or one station, and lie over each other.
inline void no_overlaps(std::vector<std::pair<batch::Time, batch::Time>> spans,
                        const std::string& whose, std::vector<std::string>& faults) {
  std::sort(spans.begin(), spans.end());
  for (std::size_t i = 1; i < spans.size(); ++i) {
    if (spans[i].first < spans[i - 1].second) faults.push_back(whose + " is in two places");
  }
}

/// Everything wrong with `plan` as a plan for `line`; empty where nothing is.
inline std::vector<std::string> schedule_faults(const batch::Line& line,
                                                const batch::Schedule& plan) {
  using batch::Time;
  std::vector<std::string> faults;
  const auto name = [](const batch::Task& task) {
    return "step " + std::to_string(task.step) + " of bundle " + std::to_string(task.bundle);
  };
  std::map<std::pair<std::size_t, std::size_t>, const batch::Task*> done;
  std::map<int, std::vector<std::pair<Time, Time>>> of_helper;
  std::map<std::pair<batch::Station, int>, std::vector<std::pair<Time, Time>>> of_station;
  Time finish{};
  std::vector<Time> loads(static_cast<std::size_t>(line.helpers));
  for (const batch::Task& task : plan.tasks) {
    if (task.step >= line.steps.size() || task.bundle >= line.bundles.size()) {
      faults.push_back("a task of nothing");
      continue;
    }
    const batch::Step& step = line.steps[task.step];
    if (!done.try_emplace({task.step, task.bundle}, &task).second) {
      faults.push_back(name(task) + " twice");
    }
    if (task.bundle < step.from || task.bundle >= step.to) {
      faults.push_back(name(task) + " is another job's");
    } else if (step.firsts && task.bundle - step.from >= static_cast<std::size_t>(*step.firsts)) {
      faults.push_back(name(task) + " is none of the first");
    }
    Time length{};
    for (const auto& operation : step.operations) {
      length += operation.each * (step.firsts ? 1 : line.bundles[task.bundle]);
      length += operation.per_bundle;
    }
    if (task.start < Time() || task.end - task.start != length) {
      faults.push_back(name(task) + " takes another time");
    }
    if (task.helper < 0 || task.helper >= line.helpers) {
      faults.push_back(name(task) + " by nobody");
      continue;
    }
    of_helper[task.helper].emplace_back(task.start, task.end);
    loads[static_cast<std::size_t>(task.helper)] += task.end - task.start;
    if (step.station != batch::Station::hands) {
      const int units = line.stations[static_cast<std::size_t>(step.station)];
      if (task.station < 0 || task.station >= units) faults.push_back(name(task) + " nowhere");
      of_station[{step.station, task.station}].emplace_back(task.start, task.end);
    }
    finish = std::max(finish, task.end);
  }
  for (auto& [helper, spans] : of_helper) {
    no_overlaps(std::move(spans), "helper " + std::to_string(helper), faults);
  }
  for (auto& [station, spans] : of_station) {
    no_overlaps(std::move(spans), base::word_of(batch::kStationWords, station.first), faults);
  }
  // When the bundle is free of a step: once it is done and has waited, or, where it passes the step
  // by, once it is free of what that step needs.
  std::map<std::pair<std::size_t, std::size_t>, Time> free;
  for (std::size_t s = 0; s < line.steps.size(); ++s) {
    for (std::size_t b = 0; b < line.bundles.size(); ++b) {
      const auto task = done.find({s, b});
      Time earliest{};
      for (const std::size_t need : line.steps[s].needs) {
        earliest = std::max(earliest, free[{need, b}]);
      }
      const batch::Step& step = line.steps[s];
      const bool is_other_jobs = b < step.from || b >= step.to;
      const bool is_late =
          step.firsts && !is_other_jobs && b - step.from >= static_cast<std::size_t>(*step.firsts);
      if (task == done.end() && (is_other_jobs || is_late)) {
        // Every bundle waits for what is done once.
        free[{s, b}] = step.once ? free[{s, 0}] : earliest;
        continue;
      }
      if (task == done.end()) {
        faults.push_back("step " + std::to_string(s) + " of bundle " + std::to_string(b) +
                         " is not done");
        continue;
      }
      free[{s, b}] = task->second->end + line.steps[s].waits;
      if (earliest > task->second->start) faults.push_back(name(*task->second) + " too early");
    }
  }
  if (finish != plan.finish) faults.emplace_back("the finish is not the last task's end");
  if (loads != plan.loads) faults.emplace_back("loads are not what the helpers do");
  if (plan.bound.time > plan.finish) faults.emplace_back("the bound is above the finish");
  return faults;
}

}  // namespace pouchwright::test

#include "batch/work/clips.h"

#include <algorithm>
#include <map>
#include <utility>

namespace pouchwright::batch {
namespace {

/// What a step does to the clips of one pouch.
struct Clipping {
  int on = 0;
  bool off = false;
};

Clipping clipping(const Step& step, const WorkTable& table) {
  Clipping all;
  for (const StepOperation& operation : step.operations) {
    const WorkKind* kind = table.kind(operation.kind);
    if (kind == nullptr) continue;
    all.on += kind->clips;
    all.off = all.off || kind->takes_clips_off;
  }
  return all;
}

/// At a moment so many clips, and pouches that have any, more or fewer.
struct Change {
  Time at{};
  int clips = 0;
  int pouches = 0;
};

/// Of one bundle, its tasks in order.
void add_changes(const std::vector<const Task*>& tasks, int pieces, const Line& line,
                 const WorkTable& table, std::vector<Change>& changes) {
  int worn = 0;
  for (const Task* task : tasks) {
    const Clipping does = clipping(line.steps[task->step], table);
    if (does.on > 0) {
      changes.push_back({task->start, does.on * pieces, worn == 0 ? pieces : 0});
      worn += does.on;
    }
    if (!does.off || worn == 0) continue;
    changes.push_back({task->end, -worn * pieces, -pieces});
    worn = 0;
  }
}

}  // namespace

ClipNeed clips_in_use(const Line& line, const Schedule& plan, const WorkTable& table) {
  std::map<std::size_t, std::vector<const Task*>> by_bundle;
  for (const Task& task : plan.tasks) by_bundle[task.bundle].push_back(&task);
  std::vector<Change> changes;
  for (const auto& [bundle, tasks] : by_bundle) {
    add_changes(tasks, line.bundles[bundle], line, table, changes);
  }
  // What comes off at a moment can go on at it.
  std::sort(changes.begin(), changes.end(), [](const Change& a, const Change& b) {
    return std::pair(a.at, a.clips) < std::pair(b.at, b.clips);
  });
  ClipNeed now;
  ClipNeed most;
  for (const Change& change : changes) {
    now.clips += change.clips;
    now.pouches += change.pouches;
    if (now.clips > most.clips) most = now;
  }
  return most;
}

ClipNeed clips_of_all(const std::vector<Step>& steps, int pouches, const WorkTable& table) {
  int worn = 0;
  int most = 0;
  for (const Step& step : steps) {
    const Clipping does = clipping(step, table);
    worn += does.on;
    most = std::max(most, worn);
    if (does.off) worn = 0;
  }
  return {most * pouches, most > 0 ? pouches : 0};
}

}  // namespace pouchwright::batch

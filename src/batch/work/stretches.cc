#include "batch/work/stretches.h"

namespace pouchwright::batch {

std::vector<std::vector<Stretch>> stretches(const Schedule& plan) {
  std::vector<std::vector<Stretch>> all(plan.loads.size());
  for (const Task& task : plan.tasks) {
    auto& own = all[static_cast<std::size_t>(task.helper)];
    const bool goes_on =
        !own.empty() && own.back().end == task.start && own.back().first.step == task.step &&
        own.back().first.station == task.station && own.back().last_bundle + 1 == task.bundle;
    if (goes_on) {
      own.back().between.push_back(task.start);
    } else {
      own.push_back({task, task.end, {}, task.bundle});
    }
    own.back().end = task.end;
    own.back().last_bundle = task.bundle;
  }
  return all;
}

}  // namespace pouchwright::batch

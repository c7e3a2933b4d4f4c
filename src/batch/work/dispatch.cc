#include "batch/work/dispatch.h"

#include <algorithm>
#include <functional>
#include <optional>
#include <queue>
#include <tuple>
#include <utility>

namespace pouchwright::batch {
namespace {

constexpr std::size_t kNoStep = static_cast<std::size_t>(-1);

template <class Value>
using LeastFirst = std::priority_queue<Value, std::vector<Value>, std::greater<>>;

struct Helper {
  bool busy = false;
  std::size_t last_step = kNoStep;
  Time load{};
};

/// At `at`, the task's helper and station are free, or its bundle is ready for the next step.
struct Event {
  enum class Kind { freed, ready };
  Time at{};
  Kind kind{};
  std::size_t task = 0;  ///< freed: index into the tasks; ready: step * bundles + bundle

  bool operator>(const Event& other) const {
    return std::tie(at, kind, task) > std::tie(other.at, other.kind, other.task);
  }
};

class Dispatcher {
 public:
  Dispatcher(const Line& line, const Urgency& urgency)
      : line_(line),
        urgency_(urgency),
        bundles_(line.bundles.size()),
        followers_(line.steps.size()),
        helpers_(static_cast<std::size_t>(line.helpers)),
        missing_(line.steps.size() * bundles_),
        ready_at_(missing_.size()),
        ready_(line.steps.size()),
        free_from_(line.steps.size(), 0) {
    for (std::size_t kind = 0; kind < kStations.size(); ++kind) {
      for (int i = 0; i < line.stations[kind]; ++i) free_stations_[kind].push(i);
    }
    for (std::size_t step = 0; step < line.steps.size(); ++step) {
      const std::vector<std::size_t>& needs = line.steps[step].needs;
      for (const std::size_t need : needs) followers_[need].push_back(step);
      for (std::size_t bundle = 0; bundle < bundles_; ++bundle) {
        missing_[step * bundles_ + bundle] = needs.size();
        if (!needs.empty()) continue;
        if (line.steps[step].is_done_to(bundle)) {
          ready_[step].push(bundle);
        } else {
          events_.push({Time(), Event::Kind::ready, step * bundles_ + bundle});
        }
      }
    }
  }

  Dispatched run() {
    begin_what_can(Time());
    while (!events_.empty()) {
      const Time now = events_.top().at;
      while (!events_.empty() && events_.top().at == now) {
        const Event event = events_.top();
        events_.pop();
        happen(event);
      }
      begin_what_can(now);
    }
    return std::move(made_);
  }

 private:
  void happen(const Event& event) {
    if (event.kind == Event::Kind::ready) {
      const std::size_t step = event.task / bundles_;
      const std::size_t bundle = event.task % bundles_;
      if (line_.steps[step].is_done_to(bundle)) {
        ready_[step].push(bundle);
      } else {
        release(step, bundle, event.at);  // this bundle passes the step by
      }
      return;
    }
    const Task& task = made_.tasks[event.task];
    helpers_[static_cast<std::size_t>(task.helper)].busy = false;
    ++free_from_[task.step];
    --busy_;
    const Step& step = line_.steps[task.step];
    if (step.station != Station::hands) free_stations(step.station).push(task.station);
    release(task.step, task.bundle, event.at + step.waits);
  }

  /// From `at` on what follows may be done to the bundle, as far as this step goes.
  void release(std::size_t step, std::size_t bundle, Time at) {
    for (const std::size_t follower : followers_[step]) {
      const std::size_t next = follower * bundles_ + bundle;
      ready_at_[next] = std::max(ready_at_[next], at);
      if (--missing_[next] == 0) events_.push({ready_at_[next], Event::Kind::ready, next});
    }
  }

  void begin_what_can(Time now) {
    while (busy_ < line_.helpers) {
      const std::size_t step = most_urgent();
      if (step == kNoStep) return;
      begin(step, now);
    }
  }

  [[nodiscard]] std::size_t most_urgent() {
    std::size_t best = kNoStep;
    std::int64_t least = 0;
    for (std::size_t step = 0; step < ready_.size(); ++step) {
      const Station station = line_.steps[step].station;
      if (ready_[step].empty()) continue;
      if (station != Station::hands && free_stations(station).empty()) continue;
      std::int64_t key = urgency_.step[step];
      key += urgency_.per_bundle * static_cast<std::int64_t>(ready_[step].top());
      if (free_from_[step] > 0) key -= urgency_.stay;
      if (best == kNoStep || key < least) {
        best = step;
        least = key;
      }
    }
    return best;
  }

  void begin(std::size_t index, Time now) {
    const Step& step = line_.steps[index];
    Task task;
    task.step = index;
    task.bundle = ready_[index].top();
    ready_[index].pop();
    task.start = now;
    task.end = now + step.takes(step.pieces_of(task.bundle, line_.bundles[task.bundle]));
    task.helper = helper_for(index);
    if (step.station != Station::hands) {
      task.station = free_stations(step.station).top();
      free_stations(step.station).pop();
    }
    Helper& helper = helpers_[static_cast<std::size_t>(task.helper)];
    if (helper.last_step != kNoStep) --free_from_[helper.last_step];
    if (helper.last_step != kNoStep && helper.last_step != index) ++made_.moves;
    helper.busy = true;
    helper.last_step = index;
    helper.load += task.end - task.start;
    ++busy_;
    events_.push({task.end, Event::Kind::freed, made_.tasks.size()});
    made_.finish = std::max(made_.finish, task.end);
    made_.tasks.push_back(task);
  }

  /// Whoever did this step last; else who has worked least of those who have worked; else the next
  /// newcomer. So nobody is brought in while others wait, and more helpers than that change
  /// nothing.
  int helper_for(std::size_t step) {
    const auto rank = [step](const Helper& helper) {
      return std::pair(helper.last_step != step, helper.load);
    };
    std::optional<std::size_t> best;
    const auto used = static_cast<std::size_t>(made_.most_helpers);
    for (std::size_t i = 0; i < used; ++i) {
      if (helpers_[i].busy) continue;
      if (!best || rank(helpers_[i]) < rank(helpers_[*best])) best = i;
    }
    if (best) return static_cast<int>(*best);
    return made_.most_helpers++;
  }

  LeastFirst<int>& free_stations(Station station) {
    return free_stations_[static_cast<std::size_t>(station)];
  }

  const Line& line_;
  const Urgency& urgency_;
  std::size_t bundles_;
  std::vector<std::vector<std::size_t>> followers_;
  Dispatched made_;
  std::vector<Helper> helpers_;
  int busy_ = 0;
  std::array<LeastFirst<int>, kStations.size()> free_stations_;
  std::vector<std::size_t> missing_;  ///< by step * bundles + bundle: needs not yet met
  std::vector<Time> ready_at_;
  std::vector<LeastFirst<std::size_t>> ready_;  ///< by step: the bundles that wait for it
  std::vector<int> free_from_;                  ///< by step: the free helpers who did it last
  LeastFirst<Event> events_;
};

}  // namespace

Dispatched dispatched(const Line& line, const Urgency& urgency) {
  return Dispatcher(line, urgency).run();
}

}  // namespace pouchwright::batch

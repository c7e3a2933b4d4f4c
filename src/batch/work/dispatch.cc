#include "batch/work/dispatch.h"

#include <algorithm>
#include <functional>
#include <optional>
#include <queue>
#include <tuple>
#include <utility>

#include "batch/work/crew.h"

namespace pouchwright::batch {
namespace {

constexpr std::size_t kNoStep = static_cast<std::size_t>(-1);

template <class Value>
using LeastFirst = std::priority_queue<Value, std::vector<Value>, std::greater<>>;

/// At `at`, the task's helper and station are free, its bundle is ready for the next step, or a
/// break is over.
struct Event {
  enum class Kind { freed, ready, resumed };
  Time at{};
  Kind kind{};
  std::size_t task = 0;  ///< freed: index into the tasks; ready: step * bundles + bundle

  bool operator>(const Event& other) const {
    return std::tie(at, kind, task) > std::tie(other.at, other.kind, other.task);
  }
};

class Dispatcher {
 public:
  Dispatcher(const Line& line, const Urgency& urgency, const Assignment* posts)
      : line_(line),
        urgency_(urgency),
        bundles_(line.bundles.size()),
        followers_(line.steps.size()),
        crew_(line, posts),
        missing_(line.steps.size() * bundles_),
        ready_at_(missing_.size()),
        ready_(line.steps.size()) {
    if (line.breaks.any()) longest_ = longest_task(line);
    for (std::size_t kind = 0; kind < kStations.size(); ++kind) {
      for (int i = 0; i < line.stations[kind]; ++i) free_stations_[kind].push(i);
    }
    for (std::size_t step = 0; step < line.steps.size(); ++step) prepare(step);
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
    if (made_.tasks.size() < tasks_) made_.finish = Time::longest();
    made_.most_helpers = crew_.most_helpers();
    made_.moves = crew_.moves();
    return std::move(made_);
  }

 private:
  void prepare(std::size_t index) {
    const Step& step = line_.steps[index];
    for (const std::size_t need : step.needs) followers_[need].push_back(index);
    for (std::size_t bundle = 0; bundle < bundles_; ++bundle) {
      missing_[index * bundles_ + bundle] = step.needs.size();
      if (step.is_done_to(bundle)) ++tasks_;
      if (!step.needs.empty()) continue;
      if (step.is_done_to(bundle)) {
        ready_[index].push(bundle);
      } else if (!step.once) {
        events_.push({Time(), Event::Kind::ready, index * bundles_ + bundle});
      }
    }
  }

  void happen(const Event& event) {
    if (event.kind == Event::Kind::resumed) return;
    if (event.kind == Event::Kind::ready) {
      const std::size_t step = event.task / bundles_;
      const std::size_t bundle = event.task % bundles_;
      if (line_.steps[step].is_done_to(bundle)) {
        ready_[step].push(bundle);
      } else if (!line_.steps[step].once) {
        release(step, bundle, event.at);  // this bundle passes the step by
      }
      return;
    }
    const Task& task = made_.tasks[event.task];
    crew_.is_freed(static_cast<std::size_t>(task.helper));
    const Step& step = line_.steps[task.step];
    if (step.station != Station::hands) free_stations(step.station).push(task.station);
    const std::size_t last = step.once ? bundles_ - 1 : task.bundle;
    for (std::size_t bundle = task.bundle; bundle <= last; ++bundle) {
      release(task.step, bundle, event.at + step.waits);
    }
  }

  /// From `at` on what follows may be done to the bundle, as far as this step goes.
  void release(std::size_t step, std::size_t bundle, Time at) {
    for (const std::size_t follower : followers_[step]) {
      const std::size_t next = follower * bundles_ + bundle;
      ready_at_[next] = std::max(ready_at_[next], at);
      if (--missing_[next] == 0) events_.push({ready_at_[next], Event::Kind::ready, next});
    }
  }

  /// Within a break nothing is begun, nor what would reach into the next one.
  void begin_what_can(Time now) {
    std::optional<Time> until;
    if (line_.breaks.any()) {
      const Time pause = line_.breaks.after(now);
      if (pause <= now) return resume_at(pause + line_.breaks.lasts);
      if (now + longest_ > pause) until = pause;
    }
    const std::size_t before = made_.tasks.size();
    for (;;) {
      std::size_t step = most_urgent(now, until, urgency_.pile);
      // Whoever waits for a pile that nobody adds to waits for nothing.
      if (step == kNoStep && events_.empty()) step = most_urgent(now, until, 1);
      if (step == kNoStep) break;
      begin(step, now);
    }
    // What cannot be begun just after a break, and waits for nothing, never can.
    const bool is_stuck = now == resumes_ && events_.empty() && before == made_.tasks.size();
    if (until && !is_stuck) resume_at(*until + line_.breaks.lasts);
  }

  void resume_at(Time at) {
    if (at == resumes_ || made_.tasks.size() == tasks_) return;
    resumes_ = at;
    events_.push({at, Event::Kind::resumed, 0});
  }

  [[nodiscard]] std::size_t most_urgent(Time now, const std::optional<Time>& until,
                                        std::int64_t pile) {
    std::size_t best = kNoStep;
    std::int64_t least = 0;
    for (std::size_t step = 0; step < ready_.size(); ++step) {
      const Station station = line_.steps[step].station;
      if (ready_[step].empty() || !crew_.somebody_for(step)) continue;
      if (station != Station::hands && free_stations(station).empty()) continue;
      const auto waiting = static_cast<std::int64_t>(ready_[step].size());
      const bool stays = crew_.somebody_stays(step);
      if (!stays && waiting < std::min(pile, crew_.left(step))) continue;
      if (until && now + takes(crew_.who(step), step) > *until) continue;
      std::int64_t key = urgency_.step[step];
      key += urgency_.per_bundle * static_cast<std::int64_t>(ready_[step].top());
      if (stays) key -= urgency_.stay;
      if (best == kNoStep || key < least) {
        best = step;
        least = key;
      }
    }
    return best;
  }

  /// That helper, for the step's next bundle.
  [[nodiscard]] Time takes(std::size_t helper, std::size_t index) const {
    const Step& step = line_.steps[index];
    const std::size_t bundle = ready_[index].top();
    const Time work = step.takes(step.pieces_of(bundle, line_.bundles[bundle]));
    return at_speed(work, line_.speed_of(helper)) + crew_.set_up(helper, index);
  }

  void begin(std::size_t index, Time now) {
    const std::size_t helper = crew_.who(index);
    const Step& step = line_.steps[index];
    Task task;
    task.step = index;
    task.bundle = ready_[index].top();
    task.start = now;
    task.end = now + takes(helper, index);
    task.helper = static_cast<int>(helper);
    task.set_up = crew_.set_up(helper, index);
    ready_[index].pop();
    if (step.station != Station::hands) {
      task.station = free_stations(step.station).top();
      free_stations(step.station).pop();
    }
    crew_.begins(helper, index, task.end - task.start);
    events_.push({task.end, Event::Kind::freed, made_.tasks.size()});
    made_.finish = std::max(made_.finish, task.end);
    made_.tasks.push_back(task);
  }

  LeastFirst<int>& free_stations(Station station) {
    return free_stations_[static_cast<std::size_t>(station)];
  }

  const Line& line_;
  const Urgency& urgency_;
  std::size_t bundles_;
  std::vector<std::vector<std::size_t>> followers_;
  Crew crew_;
  Dispatched made_;
  std::size_t tasks_ = 0;
  Time longest_{};  ///< with breaks: no task takes longer
  Time resumes_{};  ///< the last break's end that is waited for
  std::array<LeastFirst<int>, kStations.size()> free_stations_;
  std::vector<std::size_t> missing_;  ///< by step * bundles + bundle: needs not yet met
  std::vector<Time> ready_at_;
  std::vector<LeastFirst<std::size_t>> ready_;  ///< by step: the bundles that wait for it
  LeastFirst<Event> events_;
};

}  // namespace

Dispatched dispatched(const Line& line, const Urgency& urgency) {
  return Dispatcher(line, urgency, nullptr).run();
}

Dispatched dispatched(const Line& line, const Urgency& urgency, const Assignment& posts) {
  return Dispatcher(line, urgency, &posts).run();
}

}  // namespace pouchwright::batch

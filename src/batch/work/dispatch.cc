#include "batch/work/dispatch.h"

#include <algorithm>
#include <bit>
#include <functional>
#include <optional>
#include <tuple>

namespace pouchwright::batch {
namespace {

constexpr std::size_t kNoStep = static_cast<std::size_t>(-1);

}  // namespace

// ---- Numbers, the least first ----

void LeastFirst::clear(std::size_t count) {
  words_.assign((count + kBits - 1) / kBits, 0);
  first_ = words_.size();
}

std::size_t LeastFirst::top() const {
  return first_ * kBits + static_cast<std::size_t>(std::countr_zero(words_[first_]));
}

void LeastFirst::pop() {
  words_[first_] &= words_[first_] - 1;
  while (first_ < words_.size() && words_[first_] == 0) ++first_;
}

// ---- What all plans of a line have in common ----

bool Dispatcher::Event::operator>(const Event& other) const {
  return std::tie(at, kind, task) > std::tie(other.at, other.kind, other.task);
}

Dispatcher::Dispatcher(const Line& line)
    : line_(line), bundles_(line.bundles.size()), followers_(line.steps.size()) {
  const std::size_t steps = line.steps.size();
  takes_.reserve(steps * bundles_);
  for (std::size_t step = 0; step < steps; ++step) {
    for (const std::size_t need : line.steps[step].needs) followers_[need].push_back(step);
    for (const int pieces : line.bundles) takes_.push_back(line.steps[step].takes(pieces));
  }
  tails_.resize(takes_.size());
  for (std::size_t step = steps; step-- > 0;) {
    for (std::size_t bundle = 0; bundle < bundles_; ++bundle) {
      tails_[step * bundles_ + bundle] = tail_of(step, bundle);
    }
  }
}

Time Dispatcher::tail_of(std::size_t step, std::size_t bundle) const {
  Time longest{};
  for (const std::size_t next : followers_[step]) {
    const std::size_t task = next * bundles_ + bundle;
    longest = std::max(longest, line_.steps[step].waits + takes_[task] + tails_[task]);
  }
  return longest;
}

// ---- One plan ----

Dispatched& Dispatcher::run(const Urgency& urgency, Time limit) {
  urgency_ = &urgency;
  limit_ = limit;
  begin_anew();
  begin_what_can(Time());
  while (!events_.empty() && !made_.given_up) {
    const Time now = events_.front().at;
    while (!events_.empty() && events_.front().at == now) {
      const Event event = events_.front();
      std::pop_heap(events_.begin(), events_.end(), std::greater<>());
      events_.pop_back();
      happen(event);
    }
    begin_what_can(now);
  }
  return made_;
}

void Dispatcher::begin_anew() {
  made_.tasks.clear();
  made_.tasks.reserve(takes_.size());
  made_.finish = Time();
  least_finish_ = Time();
  made_.most_helpers = 0;
  made_.moves = 0;
  made_.given_up = false;
  helpers_.assign(static_cast<std::size_t>(line_.helpers), Helper());
  busy_ = 0;
  for (const Station station : kStations) {
    const auto kind = static_cast<std::size_t>(station);
    const auto count = static_cast<std::size_t>(line_.stations[kind]);
    free_stations_[kind].clear(count);
    for (std::size_t i = 0; i < count; ++i) free_stations_[kind].push(i);
  }
  const std::size_t steps = line_.steps.size();
  missing_.resize(takes_.size());
  ready_at_.assign(takes_.size(), Time());
  ready_.resize(steps);
  free_from_.assign(steps, 0);
  events_.clear();
  for (std::size_t step = 0; step < steps; ++step) {
    const std::size_t needs = line_.steps[step].needs.size();
    ready_[step].clear(bundles_);
    for (std::size_t bundle = 0; bundle < bundles_; ++bundle) {
      missing_[step * bundles_ + bundle] = needs;
      if (needs == 0) ready_[step].push(bundle);
    }
  }
}

void Dispatcher::add(const Event& event) {
  events_.push_back(event);
  std::push_heap(events_.begin(), events_.end(), std::greater<>());
}

void Dispatcher::happen(const Event& event) {
  if (event.kind == Event::Kind::ready) {
    ready_[event.task / bundles_].push(event.task % bundles_);
    return;
  }
  const Task& task = made_.tasks[event.task];
  helpers_[static_cast<std::size_t>(task.helper)].busy = false;
  ++free_from_[task.step];
  --busy_;
  const Step& step = line_.steps[task.step];
  if (step.station != Station::hands) {
    free_stations_[static_cast<std::size_t>(step.station)].push(
        static_cast<std::size_t>(task.station));
  }
  for (const std::size_t follower : followers_[task.step]) {
    const std::size_t next = follower * bundles_ + task.bundle;
    Time& ready_at = ready_at_[next];
    ready_at = std::max(ready_at, event.at + step.waits);
    if (--missing_[next] > 0) continue;
    // All that happens at one moment happens before anything is begun: no event is needed for now.
    if (ready_at == event.at) {
      ready_[follower].push(task.bundle);
    } else {
      add({ready_at, Event::Kind::ready, next});
    }
  }
}

void Dispatcher::begin_what_can(Time now) {
  while (busy_ < line_.helpers && !made_.given_up) {
    const std::size_t step = most_urgent();
    if (step == kNoStep) return;
    begin(step, now);
  }
}

std::size_t Dispatcher::most_urgent() const {
  std::size_t best = kNoStep;
  std::int64_t least = 0;
  for (std::size_t step = 0; step < ready_.size(); ++step) {
    if (ready_[step].empty() || !has_station(line_.steps[step].station)) continue;
    std::int64_t key = urgency_->step[step];
    key += urgency_->per_bundle * static_cast<std::int64_t>(ready_[step].top());
    if (free_from_[step] > 0) key -= urgency_->stay;
    if (best == kNoStep || key < least) {
      best = step;
      least = key;
    }
  }
  return best;
}

bool Dispatcher::has_station(Station station) const {
  return station == Station::hands || !free_stations_[static_cast<std::size_t>(station)].empty();
}

void Dispatcher::begin(std::size_t index, Time now) {
  const Step& step = line_.steps[index];
  Task task;
  task.step = index;
  task.bundle = ready_[index].top();
  ready_[index].pop();
  const std::size_t known = index * bundles_ + task.bundle;
  task.start = now;
  task.end = now + takes_[known];
  task.helper = helper_for(index);
  if (step.station != Station::hands) {
    auto& free = free_stations_[static_cast<std::size_t>(step.station)];
    task.station = static_cast<int>(free.top());
    free.pop();
  }
  Helper& helper = helpers_[static_cast<std::size_t>(task.helper)];
  if (helper.last_step != kNoStep) --free_from_[helper.last_step];
  if (helper.last_step != kNoStep && helper.last_step != index) ++made_.moves;
  helper.busy = true;
  helper.last_step = index;
  helper.load += takes_[known];
  ++busy_;
  add({task.end, Event::Kind::freed, made_.tasks.size()});
  made_.finish = std::max(made_.finish, task.end);
  made_.tasks.push_back(task);
  // The bundle's own way to the end is left, however many helpers there are.
  least_finish_ = std::max(least_finish_, task.end + tails_[known]);
  made_.given_up = least_finish_ + kMove * made_.moves > limit_;
}

/// Whoever did this step last; else who has worked least of those who have worked; else the next
/// newcomer. So nobody is brought in while others wait, and more helpers than that change
/// nothing.
int Dispatcher::helper_for(std::size_t step) {
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

}  // namespace pouchwright::batch

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "batch/work/people.h"
#include "batch/work/plan.h"

namespace pouchwright::batch {
namespace {

Bound greater(const Bound& a, const Bound& b) { return b.time > a.time ? b : a; }

using Counts = std::vector<std::pair<Time, std::size_t>>;  ///< a time and how often it stands

class Bounds {
 public:
  /// As if everybody were as quick as the quickest, without breaks.
  explicit Bounds(const Line& line) : line_(line) {
    const bool all_alike = line.people.empty();
    for (const Person& person : line.people) quickest_ = std::max(quickest_, person.speed);
    if (all_alike) quickest_ = 1;
    for (const Step& step : line.steps) {
      const std::size_t last = step.last_of(line.bundles.size());
      const auto [least, most] =
          std::minmax_element(line.bundles.begin() + static_cast<std::ptrdiff_t>(step.from),
                              line.bundles.begin() + static_cast<std::ptrdiff_t>(last + 1));
      // Every bundle waits for what is done once.
      const int pieces = step.once ? 1 : step.pieces_of(last, *least);
      smallest_.push_back(at_best(step.takes(pieces)));
      largest_.push_back(at_best(step.takes(step.pieces_of(step.from, *most))));
      least_waits_.push_back(step.once || step.is_done_to(last) ? step.waits : Time());
      waits_.push_back(step.waits);
      work_.push_back(at_best(work_of(step, line)));
    }
    followers_.resize(line.steps.size());
    for (std::size_t i = 0; i < line.steps.size(); ++i) {
      for (const std::size_t need : line.steps[i].needs) followers_[need].push_back(i);
    }
    heads_ = heads(smallest_, least_waits_);
    wait_for_places();
    tails_ = tails(smallest_);
  }

  /// Of equal ones the one that more helpers would not lift comes first.
  [[nodiscard]] Bound greatest() const {
    Bound best{chain(), Bound::Because::chain, Station::hands};
    const auto take = [&](Time time, Bound::Because because, Station station) {
      if (time > best.time) best = {time, because, station};
    };
    for (const Station station : kStations) {
      if (station == Station::hands) continue;
      take(of_station(station), Bound::Because::station, station);
    }
    take(of_helpers(), Bound::Because::helpers, Station::hands);
    return best;
  }

 private:
  /// Rounded down, and less what rounding each task may hide.
  [[nodiscard]] Time at_best(Time time) const {
    if (quickest_ == 1) return time;
    const auto hidden = static_cast<std::int64_t>(line_.bundles.size());
    const auto ms =
        static_cast<std::int64_t>(std::floor(static_cast<double>(time.in_ms()) / quickest_));
    return Time::ms(std::max<std::int64_t>(0, ms - hidden));
  }

  /// The least time that passes before a step can begin.
  [[nodiscard]] std::vector<Time> heads(const std::vector<Time>& takes,
                                        const std::vector<Time>& waits) const {
    std::vector<Time> result(takes.size());
    for (std::size_t i = 0; i < takes.size(); ++i) {
      for (const std::size_t need : line_.steps[i].needs) {
        result[i] = std::max(result[i], result[need] + takes[need] + waits[need]);
      }
    }
    return result;
  }

  /// What comes before a step is done by no more people and at no more places than there are, be it
  /// at the same time or not.
  void wait_for_places() {
    const std::size_t count = line_.steps.size();
    std::vector<std::vector<bool>> before(count, std::vector<bool>(count, false));
    for (std::size_t i = 0; i < count; ++i) {
      std::array<Time, kStations.size()> work{};
      Time all{};
      for (const std::size_t need : line_.steps[i].needs) {
        before[i][need] = true;
        for (std::size_t k = 0; k < need; ++k) before[i][k] = before[i][k] || before[need][k];
        heads_[i] = std::max(heads_[i], heads_[need] + smallest_[need] + least_waits_[need]);
      }
      for (std::size_t k = 0; k < i; ++k) {
        if (!before[i][k]) continue;
        work[static_cast<std::size_t>(line_.steps[k].station)] += smallest_[k];
        all += smallest_[k];
      }
      for (const Station station : kStations) {
        if (station == Station::hands) continue;
        const auto kind = static_cast<std::size_t>(station);
        const auto places = static_cast<std::int64_t>(std::max<std::size_t>(1, units(station)));
        heads_[i] = std::max(heads_[i], work[kind].shared_out(places));
      }
      heads_[i] = std::max(heads_[i], all.shared_out(line_.helpers));
    }
  }

  /// The least time that passes after a step has ended.
  [[nodiscard]] std::vector<Time> tails(const std::vector<Time>& takes) const {
    std::vector<Time> result(takes.size());
    for (std::size_t i = takes.size(); i-- > 0;) {
      for (const std::size_t next : followers_[i]) {
        const Time after = takes[next] + result[next];
        // Nobody waits for a step that is passed by, with nothing behind it.
        const Step& behind = line_.steps[next];
        const bool ends_here = !behind.is_done_to(behind.last_of(line_.bundles.size()));
        if (ends_here && after == Time()) continue;
        result[i] = std::max(result[i], least_waits_[i] + after);
      }
    }
    return result;
  }

  /// The first bundle of a job is as large as any of its own, and passes none of its steps by.
  [[nodiscard]] Time chain() const {
    const std::vector<Time> before = heads(largest_, waits_);
    Time longest{};
    for (std::size_t i = 0; i < before.size(); ++i) {
      longest = std::max(longest, before[i] + largest_[i]);
    }
    return longest;
  }

  [[nodiscard]] std::size_t units(Station station) const {
    return static_cast<std::size_t>(line_.stations[static_cast<std::size_t>(station)]);
  }

  /// Each of `count` units works from its first task to its last. Their first tasks are different
  /// ones, so together they lie idle at least for the `count` least times before a task, and
  /// likewise after.
  [[nodiscard]] static Time spread(Time work, Counts before, Counts after, std::size_t count) {
    const auto least = [count](Counts& times) {
      std::sort(times.begin(), times.end());
      Time sum{};
      std::size_t left = count;
      for (const auto& [time, often] : times) {
        const std::size_t taken = std::min(left, often);
        sum += time * static_cast<std::int64_t>(taken);
        left -= taken;
      }
      return sum;
    };
    return (work + least(before) + least(after)).shared_out(static_cast<std::int64_t>(count));
  }

  /// Also for those of its steps alone that come no earlier than one of them, and have no less after
  /// them than one.
  [[nodiscard]] Time of_station(Station station) const {
    std::vector<std::size_t> own;
    for (std::size_t i = 0; i < line_.steps.size(); ++i) {
      if (line_.steps[i].station == station) own.push_back(i);
    }
    Time longest{};
    for (const std::size_t first : own) {
      for (const std::size_t last : own) {
        longest = std::max(longest, of_part(own, heads_[first], tails_[last], units(station)));
      }
    }
    return longest;
  }

  [[nodiscard]] Time of_part(const std::vector<std::size_t>& own, Time head, Time tail,
                             std::size_t places) const {
    Counts before;
    Counts after;
    Time work{};
    std::size_t tasks = 0;
    for (const std::size_t i : own) {
      if (heads_[i] < head || tails_[i] < tail) continue;
      before.emplace_back(heads_[i], tasks_of(i));
      after.emplace_back(tails_[i], tasks_of(i));
      work += work_[i];
      tasks += tasks_of(i);
    }
    if (tasks == 0) return {};
    return spread(work, std::move(before), std::move(after), std::min(places, tasks));
  }

  /// As of a station, but the tasks of a station cannot all be first: of n such tasks on c units
  /// the last begins no earlier than n / c tasks, rounded down, after the first.
  [[nodiscard]] Time of_helpers() const {
    std::size_t tasks = 0;
    for (std::size_t i = 0; i < line_.steps.size(); ++i) tasks += tasks_of(i);
    const std::size_t count = std::min(static_cast<std::size_t>(line_.helpers), tasks);
    Time work{};
    for (const Time time : work_) work += time;
    return spread(work, first_times(heads_, count), first_times(tails_, count), count);
  }

  [[nodiscard]] Counts first_times(const std::vector<Time>& times, std::size_t count) const {
    Counts result;
    std::map<Station, std::pair<Time, Time>> least;  // time outside, time of the task itself
    std::map<Station, std::size_t> tasks;
    for (std::size_t i = 0; i < times.size(); ++i) {
      const Station station = line_.steps[i].station;
      if (station == Station::hands) {
        result.emplace_back(times[i], tasks_of(i));
        continue;
      }
      const auto [found, is_new] = least.try_emplace(station, times[i], smallest_[i]);
      found->second.first = std::min(found->second.first, times[i]);
      found->second.second = std::min(found->second.second, smallest_[i]);
      tasks[station] += tasks_of(i);
    }
    for (const auto& [station, time] : least) {
      const std::size_t many = std::min(count, tasks[station]);
      for (std::size_t i = 0; i < many; ++i) {
        const auto before = static_cast<std::int64_t>(i / units(station));
        result.emplace_back(time.first + time.second * before, 1);
      }
    }
    return result;
  }

  /// How many bundles the step is done to.
  [[nodiscard]] std::size_t tasks_of(std::size_t step) const {
    return line_.steps[step].done_to(line_.bundles.size());
  }

  const Line& line_;
  double quickest_ = 0;
  std::vector<Time> smallest_, largest_;   ///< of each step: for the smallest and largest bundle
  std::vector<Time> least_waits_, waits_;  ///< 0 where a bundle passes the step by; of the first
  std::vector<Time> work_;                 ///< of each step, all bundles together
  std::vector<std::vector<std::size_t>> followers_;
  std::vector<Time> heads_, tails_;
};

}  // namespace

Bound bound(const Line& line) {
  Bound best = Bounds(line).greatest();
  if (!line.people.empty()) best = greater(best, bound_of_people(line));
  if (!line.breaks.any()) return best;
  // While all rest nothing is done but lying and drying.
  Line dry = line;
  for (Step& step : dry.steps) step.waits = Time();
  Bound worked = Bounds(dry).greatest();
  if (!line.people.empty()) worked = greater(worked, bound_of_people(line));
  worked.time = line.breaks.with(worked.time);
  return greater(best, worked);
}

}  // namespace pouchwright::batch

#include "batch/work/plan.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "batch/work/dispatch.h"

namespace pouchwright::batch {
namespace {

/// Numbers that look random and are the same everywhere (Knuth's MMIX multiplier, from memory).
class Dice {
 public:
  std::size_t below(std::size_t count) {
    state_ = state_ * 6364136223846793005U + 1442695040888963407U;
    return static_cast<std::size_t>(state_ >> 33U) % count;
  }

 private:
  std::uint64_t state_ = 1;
};

/// The plans for one number of helpers: some plain orders, and changes to them that help.
class Search {
 public:
  Search(const Line& line, Time least) : line_(line), least_(least), dispatcher_(line) {
    const auto tasks = static_cast<std::int64_t>(line.steps.size() * line.bundles.size());
    trials_ = line.work / tasks;
  }

  /// From every plain order a search of its own: each runs into another corner.
  Dispatched run() {
    const std::vector<Urgency> orders = plain_orders();
    const auto share = trials_ / static_cast<std::int64_t>(orders.size());
    for (const Urgency& order : orders) {
      now_ = Time::longest();
      consider(order);
      for (std::int64_t i = 0; i < share && best_.finish > least_; ++i) consider(changed());
    }
    return std::move(best_);
  }

  /// The most helpers that any plan tried had at work at once.
  [[nodiscard]] int most_helpers() const { return most_helpers_; }

 private:
  /// A step is as urgent as its place in such an order, times this.
  static constexpr std::int64_t kRank = 64;

  /// Nothing that costs more than now_ is of use: the best plan so far costs no more than that.
  void consider(Urgency urgency) {
    Dispatched& made = dispatcher_.run(urgency, now_);
    most_helpers_ = std::max(most_helpers_, made.most_helpers);
    if (made.given_up) return;
    // An order that is no worse is gone on from: without steps aside the search soon stands still.
    if (cost(made) <= now_) {
      now_ = cost(made);
      urgency_ = std::move(urgency);
    }
    if (best_.tasks.empty() || cost(made) < cost(best_)) std::swap(best_, made);
  }

  /// The line's end first, so that bundles are finished and few lie about; half way to bundle by
  /// bundle, and all the way; the longest station first, then what feeds it, nearest first; the
  /// line's beginning first, so that work spreads.
  [[nodiscard]] std::vector<Urgency> plain_orders() const {
    const auto steps = static_cast<std::int64_t>(line_.steps.size());
    Urgency forward;
    Urgency backward;
    for (std::int64_t i = 0; i < steps; ++i) {
      forward.step.push_back(kRank * i);
      backward.step.push_back(kRank * (steps - i));
    }
    Urgency by_bundle = backward;
    by_bundle.per_bundle = kRank * steps;
    Urgency half_way = backward;
    half_way.per_bundle = kRank;
    std::vector<Urgency> orders = {backward, half_way, by_bundle, longest_station_first(), forward};
    for (Urgency& order : orders) order.stay = kRank * steps / 2;
    return orders;
  }

  [[nodiscard]] Urgency longest_station_first() const {
    std::array<Time, kStations.size()> work{};
    for (const Step& step : line_.steps) {
      if (step.station == Station::hands) continue;
      const auto kind = static_cast<std::size_t>(step.station);
      for (const int pieces : line_.bundles) {
        work[kind] += step.takes(pieces).shared_out(line_.stations[kind]);
      }
    }
    const auto longest =
        static_cast<std::size_t>(std::max_element(work.begin() + 1, work.end()) - work.begin());
    Urgency urgency;
    const auto steps = static_cast<std::int64_t>(line_.steps.size());
    std::int64_t distance = steps;
    urgency.step.resize(line_.steps.size(), 2 * kRank * steps);
    for (std::size_t i = line_.steps.size(); i-- > 0;) {
      if (static_cast<std::size_t>(line_.steps[i].station) == longest) distance = 0;
      urgency.step[i] = kRank * distance;
      if (distance < steps) ++distance;
    }
    return urgency;
  }

  Urgency changed() {
    Urgency made = urgency_;
    const std::size_t steps = made.step.size();
    switch (dice_.below(5)) {
      case 0:
        std::swap(made.step[dice_.below(steps)], made.step[dice_.below(steps)]);
        break;
      case 1:
        made.per_bundle = small_more_often();
        break;
      case 2:
        made.stay = small_more_often();
        break;
      default:
        made.step[dice_.below(steps)] =
            kRank / 2 * static_cast<std::int64_t>(dice_.below(2 * steps + 1));
    }
    return made;
  }

  /// Up to four places in the order for each bundle.
  std::int64_t small_more_often() {
    const auto root = static_cast<std::int64_t>(dice_.below(2 * kRank / 8 + 1));
    return root * root;
  }

  const Line& line_;
  Time least_;
  Dispatcher dispatcher_;
  std::int64_t trials_ = 0;
  Dispatched best_;
  Urgency urgency_;  ///< gone on from; its plan costs now_
  Time now_ = Time::longest();
  int most_helpers_ = 0;
  Dice dice_;
};

Schedule told(const Line& line, Dispatched found) {
  Schedule made;
  made.finish = found.finish;
  made.bound = bound(line);
  made.loads.resize(static_cast<std::size_t>(line.helpers));
  made.tasks = std::move(found.tasks);
  std::stable_sort(made.tasks.begin(), made.tasks.end(), [](const Task& a, const Task& b) {
    return std::pair(a.start, a.helper) < std::pair(b.start, b.helper);
  });
  for (const Task& task : made.tasks) {
    made.loads[static_cast<std::size_t>(task.helper)] += task.end - task.start;
  }
  return made;
}

}  // namespace

std::vector<int> bundles(int pieces, int size, std::size_t steps) {
  const int most = std::max(1, kMostTasks / static_cast<int>(steps));
  const int of_each = std::max(size, (pieces + most - 1) / most);
  std::vector<int> made(static_cast<std::size_t>(pieces / of_each), of_each);
  if (pieces % of_each > 0) made.push_back(pieces % of_each);
  return made;
}

// A plan for fewer helpers would do for more as well, but a search may miss it. So all numbers of
// helpers are searched from the greatest down, except where the bound shows that none is shorter,
// and those at which the search would go the very same way: it never had more at work than that.
Schedule planned(const Line& line) {
  Line fewer = line;
  std::optional<Dispatched> best;
  while (fewer.helpers > 0) {
    const Time least = bound(fewer).time;
    if (best && least >= best->finish) break;
    Search search(fewer, least);
    Dispatched found = search.run();
    if (!best || found.finish < best->finish) best = std::move(found);
    fewer.helpers = std::min(fewer.helpers, search.most_helpers()) - 1;
  }
  return told(line, *std::move(best));
}

std::vector<WhatIf> what_if(const Line& line, const Schedule& plan) {
  std::vector<WhatIf> all;
  for (const Station station : kStations) {
    Line more = line;
    if (station == Station::hands) {
      ++more.helpers;
    } else {
      const bool held = std::any_of(line.steps.begin(), line.steps.end(),
                                    [&](const Step& step) { return step.station == station; });
      if (!held) continue;
      ++more.stations[static_cast<std::size_t>(station)];
    }
    all.push_back({station, std::min(plan.finish, planned(more).finish)});
  }
  return all;
}

double balance_efficiency(const Schedule& plan) {
  const Time work = std::accumulate(plan.loads.begin(), plan.loads.end(), Time());
  const auto offered =
      static_cast<double>(plan.finish.in_ms()) * static_cast<double>(plan.loads.size());
  return offered > 0 ? static_cast<double>(work.in_ms()) / offered : 1;
}

}  // namespace pouchwright::batch

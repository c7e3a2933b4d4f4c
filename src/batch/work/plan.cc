#include "batch/work/plan.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "batch/work/assignment.h"
#include "batch/work/dispatch.h"
#include "batch/work/kept.h"
#include "batch/work/orders.h"

namespace pouchwright::batch {
namespace {

/// Of a line's work, for each number of helpers.
constexpr std::int64_t kSearchPart = 4;

/// The plans for one number of helpers: plain orders, then the best of them with each step at every
/// other place.
class Search {
 public:
  Search(const Line& line, Time least)
      : line_(line),
        least_(least),
        tasks_left_(line.work / kSearchPart),
        steps_(static_cast<std::int64_t>(line.steps.size())) {}

  Dispatched run() {
    consider_plain_orders();
    for (std::size_t step = 0; step < line_.steps.size(); ++step) {
      for (std::int64_t place = 0; place <= 2 * steps_; ++place) {
        Urgency moved = urgency_;
        moved.step[step] = kRank * place - kRank / 2;
        consider(moved);
      }
    }
    return std::move(best_);
  }

  /// The most helpers that any plan tried had at work at once.
  [[nodiscard]] int most_helpers() const { return most_helpers_; }

 private:
  /// Every order of the steps, with little to much weight on finishing a bundle before the next and
  /// on staying where one is; the most different ones first, since a long line allows few.
  void consider_plain_orders() {
    const auto orders = step_orders(line_);
    const std::int64_t all = kRank * steps_;
    for (const std::int64_t stay : {all / 2, all / 8, std::int64_t{0}}) {
      for (const std::int64_t thirty_seconds : {0, 32, 2, 1, 4, 8, 16}) {
        for (const auto& order : orders) consider({order, all * thirty_seconds / 32, stay});
      }
    }
  }

  void consider(const Urgency& urgency) {
    const bool first = best_.tasks.empty();
    if (!first && (tasks_left_ <= 0 || best_.finish <= least_)) return;
    Dispatched made = dispatched(line_, urgency);
    tasks_left_ -= static_cast<std::int64_t>(made.tasks.size());
    most_helpers_ = std::max(most_helpers_, made.most_helpers);
    if (!first && cost(made) >= cost(best_)) return;
    best_ = std::move(made);
    urgency_ = urgency;
  }

  const Line& line_;
  Time least_;
  std::int64_t tasks_left_;
  std::int64_t steps_;
  Dispatched best_;
  Urgency urgency_;  ///< of the best
  int most_helpers_ = 0;
};

/// Of a line's work, for each thing more that is asked about.
constexpr std::int64_t kWhatIfPart = 8;

Schedule told(const Line& line, Dispatched found, const Assignment* posts) {
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
  made.kept =
      posts == nullptr ? kept_as_done(line, made.tasks) : kept_posts(line, *posts, made.tasks);
  made.changes = most_changes(made.kept);
  return made;
}

}  // namespace

namespace {

/// As first_pouches() of settings.h counts them.
void set_firsts_by_iron(Line& line) {
  const int irons = line.stations[static_cast<std::size_t>(Station::iron)];
  for (Step& step : line.steps) {
    if (step.firsts && !step.once) step.firsts = std::max(1, std::min(line.helpers, irons));
  }
}

}  // namespace

Time work_of(const Step& step, const Line& line) {
  Time sum{};
  for (std::size_t i = 0; i < line.bundles.size(); ++i) {
    sum += step.takes(step.pieces_of(i, line.bundles[i]));
  }
  return sum;
}

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
  if (line.keep == Keep::posts) {
    FoundPosts found = plan_by_posts(line, bound(line).time);
    return told(line, std::move(found.made), &found.posts);
  }
  if (!line.people.empty()) {
    return told(line, Search(line, bound(line).time).run(), nullptr);
  }
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
  return told(line, *std::move(best), nullptr);
}

std::vector<WhatIf> what_if(const Line& line, const Schedule& plan) {
  std::vector<WhatIf> all;
  for (const Station station : kStations) {
    Line more = line;
    if (station == Station::hands) {
      ++more.helpers;
      if (!more.people.empty()) more.people.emplace_back();
    } else {
      const bool held = std::any_of(line.steps.begin(), line.steps.end(),
                                    [&](const Step& step) { return step.station == station; });
      if (!held) continue;
      ++more.stations[static_cast<std::size_t>(station)];
    }
    if (line.firsts_by_iron) set_firsts_by_iron(more);
    // Several searches in one answer: each may be a little worse, and says at most so much less.
    if (line.keep == Keep::posts) more.work = line.work / kWhatIfPart;
    all.push_back({station, std::min(plan.finish, planned(more).finish)});
  }
  return all;
}

double Schedule::gap() const {
  if (finish == Time()) return 0;
  return static_cast<double>((finish - bound.time).in_ms()) / static_cast<double>(finish.in_ms());
}

double balance_efficiency(const Schedule& plan) {
  const Time work = std::accumulate(plan.loads.begin(), plan.loads.end(), Time());
  const auto offered =
      static_cast<double>(plan.finish.in_ms()) * static_cast<double>(plan.loads.size());
  return offered > 0 ? static_cast<double>(work.in_ms()) / offered : 1;
}

}  // namespace pouchwright::batch

/// A work plan for a table of helpers: who does which step to which bundle of pouches, and when.
/// Pieces move in bundles; a step holds one helper and, where it says so, one station. The plan is
/// the best of list scheduling under a fixed list of orders of precedence, so that the same line
/// gives the same plan everywhere; a bound says how far from the shortest plan it can be.
///
///     Line line;
///     line.steps = steps(...);
///     line.bundles = bundles(40, 5);
///     line.helpers = 4;
///     Schedule plan = planned(line);
///
/// Not for what a step takes (see steps.h), and not for drawing.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "batch/work/steps.h"

namespace pouchwright::batch {

/// How many of each station there are, by Station; that of hands is not looked at.
using Stations = std::array<int, kStations.size()>;

/// Trials that a plan may make, counted in tasks placed; one order is tried in any case.
inline constexpr std::int64_t kScheduleWork = 300'000;
/// A line has at most so many tasks: steps times bundles.
inline constexpr int kMostTasks = 30'000;

struct Line {
  std::vector<Step> steps;   ///< an earlier step never needs a later one
  std::vector<int> bundles;  ///< pieces of each, above 0
  int helpers = 1;
  Stations stations{};
  /// Steps of the first bundles are done to as many as there are irons with somebody to hold them.
  bool firsts_by_iron = false;
  std::int64_t work = kScheduleWork;
};

/// What a step takes for all bundles together.
[[nodiscard]] Time work_of(const Step& step, const Line& line);

/// `pieces` in bundles of `size`, the last one smaller where they do not come out even; larger
/// bundles where there would be more than kMostTasks tasks. Requires: all above 0.
[[nodiscard]] std::vector<int> bundles(int pieces, int size, std::size_t steps);

/// One step done to one bundle. Whole: nobody lays it down half done.
struct Task {
  std::size_t step = 0;
  std::size_t bundle = 0;
  Time start{};
  Time end{};
  int helper = 0;   ///< from 0
  int station = 0;  ///< which of its kind, from 0; 0 for hands

  bool operator==(const Task&) const = default;
};

/// What a plan cannot be shorter than, and which of the limits is the greatest.
struct Bound {
  enum class Because { helpers, station, chain };
  Time time{};
  Because because = Because::helpers;
  Station station = Station::hands;  ///< because == station
};
/// The greatest of: all work shared out evenly among the helpers (Σt / c of the line-balancing
/// textbooks, from memory), each station's work among the stations of its kind (the longest
/// station), both with the time before the first and after the last task can be there; and one
/// bundle's way through all its steps. Requires: as planned().
[[nodiscard]] Bound bound(const Line& line);

struct Schedule {
  std::vector<Task> tasks;  ///< by start, then helper
  Time finish{};            ///< the end of the last task
  Bound bound;              ///< bound.time <= finish
  std::vector<Time> loads;  ///< of each helper: the time that the helper works
};

/// The plan. With a helper more it is never longer, since plans for fewer helpers are looked at as
/// well wherever they could be shorter.
/// Requires: steps and bundles are not empty, helpers > 0, stations that a step holds are there.
[[nodiscard]] Schedule planned(const Line& line);

/// One thing more, and when the work would be finished then.
struct WhatIf {
  Station more = Station::hands;  ///< hands: one more helper
  Time finish{};
};
/// For a helper and for every station that a step holds, by Station. `plan` is planned(line): since
/// it would still do, no finish is later than its own.
[[nodiscard]] std::vector<WhatIf> what_if(const Line& line, const Schedule& plan);

/// The part of the helpers' time that is work: Σt / (n · c) (line-balancing textbooks, from
/// memory). From 0 to 1.
[[nodiscard]] double balance_efficiency(const Schedule& plan);

}  // namespace pouchwright::batch

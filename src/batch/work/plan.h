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

#include "batch/work/breaks.h"
#include "batch/work/steps.h"

namespace pouchwright::batch {

/// How many of each station there are, by Station; that of hands is not looked at.
using Stations = std::array<int, kStations.size()>;

/// Trials that a plan may make, counted in tasks placed; one order is tried in any case.
inline constexpr std::int64_t kScheduleWork = 300'000;
/// A line has at most so many tasks: steps times bundles.
inline constexpr int kMostTasks = 30'000;

/// Somebody at the table, where not all are alike.
struct Person {
  std::string name;       ///< empty: called by number
  double speed = 1;       ///< above 0; 0.5: takes twice as long
  std::vector<bool> can;  ///< by step; empty: everything

  [[nodiscard]] bool does(std::size_t step) const { return can.empty() || can[step]; }
};

/// What people keep to.
enum class Keep {
  nothing,  ///< whoever is free does what is most urgent: the shortest plan
  posts     ///< each has a post (see posts.h) for the day, or changes it at most so often
};

struct Line {
  std::vector<Step> steps;   ///< an earlier step never needs a later one
  std::vector<int> bundles;  ///< pieces of each, above 0
  int helpers = 1;
  Stations stations{};
  /// Steps of the first bundles are done to as many as there are irons with somebody to hold them.
  bool firsts_by_iron = false;
  std::vector<Person> people;  ///< one for each helper; empty: all are alike and can do everything
  Breaks breaks;               ///< long enough apart for every task
  Keep keep = Keep::nothing;
  int changes = 1;  ///< with posts: how often one person changes hers at most
  std::int64_t work = kScheduleWork;

  [[nodiscard]] double speed_of(std::size_t helper) const {
    return people.empty() ? 1 : people[helper].speed;
  }
  [[nodiscard]] bool can_do(std::size_t helper, std::size_t step) const {
    return people.empty() || people[helper].does(step);
  }
};

/// What it takes somebody of that speed, to the nearest millisecond.
[[nodiscard]] Time at_speed(Time time, double speed);

/// Is there for each step somebody who can do it, and no task that a break would cut in two however
/// it is begun? What planned() requires of a line.
[[nodiscard]] bool can_be_planned(const Line& line);
/// The longest that one task takes: the slowest who can do it, coming from another step.
[[nodiscard]] Time longest_task(const Line& line);

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
  Time set_up{};    ///< of the time from `start` on

  bool operator==(const Task&) const = default;
};

/// What a plan cannot be shorter than, and which of the limits is the greatest.
struct Bound {
  enum class Because { helpers, station, chain };
  Time time{};
  Because because = Because::helpers;
  Station station = Station::hands;  ///< because == station
};
/// For the same minutes, machines and skills, whatever anybody keeps to.
/// The greatest of: all work shared out evenly among the helpers (Σt / c of the line-balancing
/// textbooks, from memory), each station's work among the stations of its kind (the longest
/// station), both with the time before the first and after the last task can be there; and one
/// bundle's way through all its steps; and what only some can do, shared out among them. Breaks that
/// must lie within are added. Requires: as planned().
[[nodiscard]] Bound bound(const Line& line);

/// A stretch that a person keeps the same work: a post, or with Keep::nothing one step or one place.
struct Kept {
  int helper = 0;
  std::vector<std::size_t> steps;  ///< done in it, or of its post and done by others there; sorted
  Time from{};                     ///< the first task's start
  Time to{};                       ///< the last one's end
  /// Of a post: its steps neither follow each other nor are all of one place (see posts.h), or it has
  /// both water and an iron. Only where there are too few people, or too few who can.
  bool has_gaps = false;
  bool wet_and_hot = false;
  bool operator==(const Kept&) const = default;
};

struct Schedule {
  std::vector<Task> tasks;  ///< by start, then helper
  Time finish{};            ///< the end of the last task
  Bound bound;              ///< bound.time <= finish
  std::vector<Time> loads;  ///< of each helper: the time that the helper works
  std::vector<Kept> kept;   ///< by helper, then time
  int changes = 0;          ///< from one stretch to another: the most of any person

  /// How much longer than its bound, as a part of it; 0: none is shorter.
  [[nodiscard]] double gap() const;
};

/// The plan. Without posts one helper more (of the same kind) never makes it longer, since plans for
/// fewer are looked at as well wherever they could be shorter.
/// Requires: steps and bundles are not empty, helpers > 0, stations that a step holds are there,
/// can_be_planned().
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

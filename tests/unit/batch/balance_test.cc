#include "batch/work/balance.h"

#include <doctest/doctest.h>

#include <utility>

#include "batch/work/plan.h"

using namespace pouchwright;
using namespace pouchwright::batch;

namespace {

struct Published {
  const char* name;
  std::vector<int> times;
  std::vector<std::pair<int, int>> before;          ///< operation, one that needs it; from 1
  std::vector<std::pair<int, int>> cycle_stations;  ///< a cycle time and the least stations for it
};

// A. Scholl, Data of Assembly Line Balancing Problems (Schriften zur Quantitativen
// Betriebswirtschaftslehre 16/93, TH Darmstadt): times, precedence and the least number of stations
// for each cycle time. Mertens' graph was read in a copy of that collection; the others, and all
// least numbers, are from memory.
const std::vector<Published> kPublished = {
    {"Mertens",
     {1, 5, 4, 3, 5, 6, 5},
     {{1, 2}, {1, 4}, {2, 3}, {2, 5}, {4, 7}, {5, 6}},
     {{6, 6}, {7, 5}, {8, 5}, {10, 3}, {15, 2}, {18, 2}}},
    {"Bowman",
     {11, 17, 9, 5, 8, 12, 10, 3},
     {{1, 2}, {2, 3}, {2, 4}, {3, 5}, {3, 6}, {4, 6}, {5, 7}, {6, 8}},
     {{20, 5}}},
    {"Jaeschke",
     {5, 3, 4, 5, 4, 5, 1, 4, 6},
     {{1, 2}, {2, 3}, {2, 4}, {3, 5}, {3, 6}, {4, 6}, {5, 7}, {6, 7}, {6, 8}, {7, 9}, {8, 9}},
     {{6, 8}, {7, 7}, {8, 6}, {10, 4}, {18, 3}}},
    {"Jackson",
     {6, 2, 5, 7, 1, 2, 3, 6, 5, 5, 4},
     {{1, 2},
      {1, 3},
      {1, 4},
      {1, 5},
      {2, 6},
      {3, 7},
      {4, 7},
      {5, 7},
      {6, 8},
      {7, 9},
      {8, 10},
      {9, 11},
      {10, 11}},
     {{7, 8}, {9, 6}, {10, 5}, {13, 4}, {14, 4}, {21, 3}}},
};

std::vector<Time> minutes(const std::vector<int>& counts) {
  std::vector<Time> times;
  for (const int count : counts) times.push_back(Time::whole_minutes(count));
  return times;
}

std::vector<std::vector<std::size_t>> needs_of(const Published& one) {
  std::vector<std::vector<std::size_t>> needs(one.times.size());
  for (const auto& [first, then] : one.before) {
    needs[static_cast<std::size_t>(then - 1)].push_back(static_cast<std::size_t>(first - 1));
  }
  return needs;
}

/// The rules, and what the fullest takes; nothing where a rule is broken.
Time kept_by(const Balance& balance, const std::vector<Time>& times,
             const std::vector<std::vector<std::size_t>>& needs, int places) {
  std::vector<Time> full(static_cast<std::size_t>(places));
  for (std::size_t i = 0; i < times.size(); ++i) {
    const int place = balance.place[i];
    CHECK(place >= 0);
    CHECK(place < places);
    full[static_cast<std::size_t>(place)] += times[i];
    for (const std::size_t need : needs[i]) CHECK(balance.place[need] <= place);
  }
  return *std::max_element(full.begin(), full.end());
}

}  // namespace

TEST_CASE("published lines are balanced at their published optima") {
  for (const Published& one : kPublished) {
    CAPTURE(one.name);
    const auto times = minutes(one.times);
    const auto needs = needs_of(one);
    for (const auto& [cycle, stations] : one.cycle_stations) {
      CAPTURE(cycle);
      // With so many stations the cycle is kept, with one fewer it is not.
      const Balance with = balanced(times, needs, stations);
      CHECK(with.proved);
      CHECK(with.fullest <= Time::whole_minutes(cycle));
      CHECK(kept_by(with, times, needs, stations) == with.fullest);
      const Balance without = balanced(times, needs, stations - 1);
      CHECK(without.proved);
      CHECK(without.fullest > Time::whole_minutes(cycle));
    }
  }
}

// Line-balancing textbooks (from memory): c >= Σt / n, c >= the longest operation.
TEST_CASE(
    "no balance is below the work shared out or the longest operation, and one place has all") {
  for (const Published& one : kPublished) {
    CAPTURE(one.name);
    const auto times = minutes(one.times);
    const auto needs = needs_of(one);
    Time sum{};
    Time longest{};
    for (const Time time : times) {
      sum += time;
      longest = std::max(longest, time);
    }
    CHECK(balanced(times, needs, 1).fullest == sum);
    Time before = sum;
    for (int places = 2; places <= static_cast<int>(times.size()); ++places) {
      const Time fullest = balanced(times, needs, places).fullest;
      CHECK(fullest >= std::max(longest, sum.shared_out(places)));
      CHECK(fullest <= before);
      before = fullest;
    }
    CHECK(before == longest);
  }
}

TEST_CASE("a balance that could not be proved does not say it was") {
  const auto times = minutes(kPublished.back().times);
  const auto needs = needs_of(kPublished.back());
  CHECK_FALSE(balanced(times, needs, 4, 1).proved);
  CHECK(kept_by(balanced(times, needs, 4, 1), times, needs, 4) ==
        balanced(times, needs, 4, 1).fullest);
}

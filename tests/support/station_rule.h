/// What one person's station may hold, as somebody reads it from the wall: knows the line and what
/// the plan says of each person, and nothing of what made it.
#pragma once

#include <set>
#include <vector>

#include "batch/work/plan.h"

namespace pouchwright::test {

/// Steps that are done to bundles, in the line's order.
inline std::vector<std::size_t> bundle_steps(const batch::Line& line) {
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < line.steps.size(); ++i) {
    if (!line.steps[i].once) all.push_back(i);
  }
  return all;
}

/// One step, some that follow each other, or all that one kind of place does with handwork beside it.
/// `steps`: of a station; what is done once counts for nothing.
inline bool is_one_station(const batch::Line& line, const std::vector<std::size_t>& steps) {
  const std::vector<std::size_t> all = bundle_steps(line);
  std::set<std::size_t> own;  // places in the line
  for (std::size_t at = 0; at < all.size(); ++at) {
    for (const std::size_t step : steps) {
      if (step == all[at]) own.insert(at);
    }
  }
  if (own.empty() || *own.rbegin() - *own.begin() + 1 == own.size()) return true;
  for (const batch::Station place : batch::kStations) {
    if (place == batch::Station::hands) continue;
    bool holds = true;
    bool has_any = false;
    for (std::size_t at = 0; at < all.size(); ++at) {
      const bool is_there = line.steps[all[at]].station == place;
      if (is_there) {
        holds = holds && own.contains(at);
        has_any = true;
      } else if (own.contains(at)) {
        const bool is_beside = (at > 0 && line.steps[all[at - 1]].station == place) ||
                               (at + 1 < all.size() && line.steps[all[at + 1]].station == place);
        holds = holds && is_beside && line.steps[all[at]].station == batch::Station::hands;
      }
    }
    if (holds && has_any) return true;
  }
  return false;
}

inline bool has_water_and_iron(const batch::Line& line, const std::vector<std::size_t>& steps) {
  bool water = false;
  bool iron = false;
  for (const std::size_t step : steps) {
    water = water || line.steps[step].wet;
    iron = iron || line.steps[step].station == batch::Station::iron;
  }
  return water && iron;
}

/// Whether the line can be shared out into stretches without a gap, water and iron apart, that each
/// helper can do: by every set of steps that some helpers have together.
inline bool stretches_do(const batch::Line& line) {
  const std::vector<std::size_t> all = bundle_steps(line);
  std::set<unsigned> shared = {0};
  for (std::size_t helper = 0; helper < static_cast<std::size_t>(line.helpers); ++helper) {
    std::set<unsigned> more = shared;
    for (std::size_t from = 0; from < all.size(); ++from) {
      std::vector<std::size_t> own;
      unsigned bits = 0;
      for (std::size_t at = from; at < all.size() && line.can_do(helper, all[at]); ++at) {
        own.push_back(all[at]);
        bits |= 1U << at;
        if (has_water_and_iron(line, own)) break;
        for (const unsigned set : shared) more.insert(set | bits);
      }
    }
    shared = more;
  }
  return shared.contains((1U << all.size()) - 1);
}

}  // namespace pouchwright::test

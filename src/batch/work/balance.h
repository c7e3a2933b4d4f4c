/// Line balancing: operations shared out among so many places in a row, each operation whole and at
/// one place, none before what it needs, so that the fullest place is as little full as can be (the
/// textbooks' simple assembly line balancing problem of the second kind).
///
///     const Balance shared = balanced({minutes(5), minutes(3), minutes(4)}, {{}, {0}, {0}}, 2);
///
/// Not for skills, machines and bundles, nor for the day: see assignment.h, which begins with it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/time.h"

namespace pouchwright::batch {

struct Balance {
  std::vector<int> place;  ///< by operation, from 0
  base::Time fullest{};    ///< what the fullest place takes
  bool proved = false;     ///< no sharing has a less full one
};

/// More operations are not balanced.
inline constexpr std::size_t kMostBalanced = 64;
/// Sets of operations looked at, at most, for one question whether they find room.
inline constexpr std::int64_t kBalanceWork = 20'000;

/// Branch and bound place by place, each filled until nothing more fits; sets of operations that did
/// not lead anywhere are kept. Between Σt / n and the longest operation's bound and a greedy sharing
/// the least is found by halving.
/// Requires: as many needs as times, each an earlier operation; at most kMostBalanced; places > 0.
[[nodiscard]] Balance balanced(const std::vector<base::Time>& times,
                               const std::vector<std::vector<std::size_t>>& needs, int places,
                               std::int64_t work = kBalanceWork);

}  // namespace pouchwright::batch

/// The lines of several jobs as one, since one table of people makes them: each bundle passes through
/// the steps of its own job, what is done once for all is done once.
///
///     const JoinedLines day = joined({{steps_of_first, bundles_of_first, {}}, ...});
///     line.steps = day.steps; line.bundles = day.bundles;
///
/// Not for who does them and when: see plan.h.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "batch/work/steps.h"

namespace pouchwright::batch {

/// One job's.
struct OwnLine {
  std::vector<Step> steps;
  std::vector<int> bundles;
  /// By step: what it makes ready, where that serves other jobs as well; empty: its own job alone.
  std::vector<std::string> serves;
};

struct JoinedLines {
  std::vector<Step> steps;            ///< Step::from and Step::to say whose bundles pass through it
  std::vector<int> bundles;           ///< job by job
  std::vector<std::size_t> job_of;    ///< by step; of one that serves several, the first
  std::vector<std::size_t> step_of;   ///< by step: its number among that job's own
  std::vector<std::size_t> first_of;  ///< by job: its first bundle
};

/// Steps of the same operations stand next to each other, and know it (Step::like), as far as each
/// job's own order allows. Requires: at least one line; each one's steps need earlier ones only, and
/// those done once only others done once.
[[nodiscard]] JoinedLines joined(const std::vector<OwnLine>& lines);

}  // namespace pouchwright::batch

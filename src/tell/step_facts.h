/// What a sheet of steps says of the day besides the pouch.
///
///     StepsLook look{.facts = {.iron = settings.iron, .stitches = {}, .chain = rules.chain}};
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <vector>

#include "batch/settings.h"
#include "batch/thread.h"
#include "pouch/questions.h"

namespace pouchwright::tell {

struct StepFacts {
  std::optional<batch::IronTrial> iron;           ///< absent: it has to be tried
  std::map<std::size_t, batch::Stitch> stitches;  ///< by operation, the first; none: not said
  /// Of the sides, one for each of the job's passes; empty: they are sewn once.
  std::vector<batch::Stitch> passes{};
  base::Length chain;  ///< of thread, left between pieces that are sewn one after the other
  double test_minutes = pouch::kTestMinutes;  ///< that the water stays in at the least
  std::optional<base::Length> stitch_length;  ///< of all seams; absent: not said
  double dry_minutes = 0;     ///< that a first pouch dries before it goes on; 0: not said
  double warm_minutes = 0;    ///< that the finished pouch stays in a dryer; 0: not said
  bool every_presser = true;  ///< fills a first pouch, not only one of them
};

}  // namespace pouchwright::tell

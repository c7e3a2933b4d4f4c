/// How many clips a work plan needs: those on pouches that are clipped at the same time.
///
///     const ClipNeed need = clips_in_use(line, plan, table);
#pragma once

#include "batch/work/plan.h"
#include "batch/work/steps.h"

namespace pouchwright::batch {

struct ClipNeed {
  int clips = 0;
  int pouches = 0;  ///< clipped at that moment
};

/// The most clips in use at once. A bundle's clips count from the start of the step that puts them
/// on to the end of the first later step that takes clips off; those that nothing takes off stay.
/// Requires: `plan` is planned(line), and `table` has made its steps.
[[nodiscard]] ClipNeed clips_in_use(const Line& line, const Schedule& plan, const WorkTable& table);

/// Without a plan: all pouches are clipped at once.
[[nodiscard]] ClipNeed clips_of_all(const std::vector<Step>& steps, int pouches,
                                    const WorkTable& table);

}  // namespace pouchwright::batch

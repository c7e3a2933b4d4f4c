#include "job/step_facts.h"

#include "batch/thread.h"
#include "input/stitches.h"

namespace pouchwright::job {

drawing::StepFacts step_facts(const Run& run) {
  diag::Diagnostics faults;
  const auto data =
      input::read_stitches(run.data().file("shared/stitches.toml"), run.data().papers(), faults);
  Data::refuse(faults);
  drawing::StepFacts facts{.iron = run.settings().iron, .stitches = {}};
  for (const batch::Seam& seam : batch::seams_of(run.pouch(), data->thread, {})) {
    const batch::Stitch* stitch = data->thread.stitch(seam.stitch);
    if (stitch != nullptr) facts.stitches.emplace(seam.operation, *stitch);
  }
  return facts;
}

}  // namespace pouchwright::job

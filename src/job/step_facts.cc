#include "job/step_facts.h"

#include "batch/thread.h"

namespace pouchwright::job {

tell::StepFacts step_facts(const Run& run) {
  batch::ThreadRules rules = run.data().supplies().thread;
  batch::use(run.settings().batch.stitches, rules);
  tell::StepFacts facts{.iron = run.settings().iron, .stitches = {}, .chain = rules.chain};
  for (const batch::Seam& seam : batch::seams_of(run.pouch(), rules)) {
    const batch::Stitch* stitch = rules.stitch(seam.stitch);
    if (stitch != nullptr) facts.stitches.emplace(seam.operation, *stitch);
  }
  return facts;
}

}  // namespace pouchwright::job

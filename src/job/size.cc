#include "job/commands.h"
#include "job/documents.h"

namespace pouchwright::job {

Outcome check(Run& run) {
  // A check draws as well: paper that leaves no room is a fault of the job.
  (void)template_pages(run);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  const std::size_t count = run.diagnostics().sorted(diag::Severity::warning).size();
  const char* key =
      count == 0 ? "check-fine" : count == 1 ? "check-one-warning" : "check-warnings";
  const std::string text =
      run.say({key, {{"job", run.options().job_file}, {"count", std::to_string(count)}}});
  return run.done(size_report(run.pouch(), run.words()),
                  run.options().talk == Talk::quiet ? "" : text + "\n");
}

Outcome size(Run& run) {
  return run.done(size_report(run.pouch(), run.words()), size_table(run.pouch(), run.words()));
}

}  // namespace pouchwright::job

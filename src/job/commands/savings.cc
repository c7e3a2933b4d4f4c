#include "batch/savings.h"

#include <utility>

#include "job/commands/cloth_plans.h"
#include "job/commands/commands.h"
#include "job/job_text/edited.h"
#include "job/report/reports.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

constexpr base::Length kTolerance = base::Length::whole_mm(10);

/// A day of a job that names no number: of one pouch alone the cloth is a strip of the whole width,
/// whatever is cut of it.
constexpr int kPouchesOfADay = 40;

int pouches_of(const input::JobSettings& settings) {
  const auto& pouches = settings.batch.pouches;
  return pouches.place.file.empty() ? kPouchesOfADay : pouches.value;
}

/// The change that --apply names, from 1.
const batch::Change& chosen(const Run& run, const batch::Savings& found) {
  const auto index = static_cast<std::size_t>(*run.options().apply);
  if (index >= 1 && index <= found.changes.size()) return found.changes[index - 1];
  throw UsageFault{
      {"usage-apply", {{"number", *run.options().apply}, {"count", found.changes.size()}}},
      {{"usage-apply-hint"}}};
}

/// The job with one change, beside the old one.
OutputFiles applied(const Run& run, const batch::Savings& found) {
  const batch::Change& change = chosen(run, found);
  std::string text = run.job_text();
  for (const auto& [path, length] : change.set) {
    const std::string value = toml_text(base::exact_text(length, run.style().unit));
    text = edited(text, path, value).value_or(text);
  }
  const fs::path old = run.options().job_file;
  const std::string name =
      old.stem().string() + "-saving-" + std::to_string(*run.options().apply) + ".toml";
  OutputFiles files;
  files.add(old.parent_path() / name, text);
  return files;
}

/// Does every cloth take its pieces as they are? Else tells why not: there is no plan that a change
/// could save cloth against.
bool all_can_be_cut(Run& run) {
  bool all = true;
  for (const ClothPlan& cloth : cloth_requests(run.pouch(), run.settings())) {
    all &= can_be_cut(cloth, run.pouch().request.place, run.diagnostics());
  }
  return all;
}

}  // namespace

Answer savings(Run& run) {
  const input::JobSettings& settings = run.settings();
  batch::LayingRules rules{settings.lay.cuts, std::nullopt, settings.lay.plies_of("laminate"),
                           settings.lay.plies_of("outer")};
  if (settings.lay.table_length) rules.longest = settings.lay.table_length->value;
  const auto& asked = run.options().tolerance;
  const base::Length within = asked ? run.length_of("--tolerance", *asked) : kTolerance;
  if (!all_can_be_cut(run)) return run.job_wrong();
  const int pouches = pouches_of(settings);
  const batch::Savings found =
      batch::savings(run.pouch().request, pouches, rules, within, [&run] { run.go_on(); });
  OutputFiles files = run.options().apply ? applied(run, found) : OutputFiles();
  return Made{savings_report(found, pouches, within, run.words()), std::move(files),
              Made::Told::files};
}

}  // namespace pouchwright::job

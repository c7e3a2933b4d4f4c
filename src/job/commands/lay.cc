#include <utility>
#include <variant>

#include "draw/sheets/cut_plan.h"
#include "job/commands/cloth_plans.h"
#include "job/commands/commands.h"
#include "job/sheets.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

std::string file_bytes(const Run& run, const std::vector<ClothPlan>& plans, const Json& report) {
  const Ending ending = out_ending(run);
  if (ending == Ending::csv) return lays_csv(plans);
  if (ending == Ending::json) return dumped(report);
  const render::PangoMeasure measure(run.fonts());
  const auto breaks = ending == Ending::pdf ? ink::Breaks::pages : ink::Breaks::none;
  return sheet_bytes(run, "lay", ending,
                     draw::lay_pictures(lays_to_draw(plans, run.words()), run.words(), measure,
                                        kSheetRoom, breaks));
}

Outcome laid(Run& run, const std::vector<ClothPlan>& plans, const std::string& currency) {
  Json report;
  report["lays"] = lays_report(plans);
  if (!run.options().out.empty()) {
    OutputFiles files;
    files.add(run.options().out, file_bytes(run, plans, report));
    run.write(files);
  }
  return run.done(report, lays_table(plans, currency, run.words()));
}

}  // namespace

Outcome quick_lay(Run& run) {
  base::LengthStyle style;
  auto made = quick_request(run.options().quick, style);
  if (const auto* fault = std::get_if<QuickFault>(&made)) {
    throw UsageFault{fault->message, {fault->hint}};
  }
  if (!run.printed_units()) run.speak_in(style);
  std::vector<ClothPlan> plans = {std::get<ClothPlan>(std::move(made))};
  if (!planned(plans.front(), {}, run.diagnostics())) return run.job_wrong();
  return laid(run, plans, "");
}

Outcome lay(Run& run) {
  const auto plans = cloth_plans(run.pouch(), run.settings(), run.diagnostics());
  if (run.diagnostics().has_errors()) return run.job_wrong();
  return laid(run, plans, run.settings().batch.currency);
}

}  // namespace pouchwright::job

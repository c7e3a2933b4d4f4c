#include <utility>
#include <variant>

#include "draw/sheets/cut_plan.h"
#include "job/commands/cloth_plans.h"
#include "job/commands/commands.h"
#include "job/commands/have.h"
#include "job/commands/quick_lay.h"
#include "job/report/reports.h"
#include "job/sheets.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

Answer laid(const Run& run, std::vector<ClothPlan> plans, const std::string& currency) {
  Made made{lay_report(plans, currency, run.words())};
  made.sheets = {"lay", [&run, plans = std::move(plans)](ink::Breaks breaks) {
                   const render::FontMeasure measure(run.fonts());
                   return draw::lay_pictures(lays_to_draw(plans, run.paper_words()),
                                             run.paper_words(), measure, kSheetRoom, breaks);
                 }};
  return made;
}

}  // namespace

Answer quick_lay(Run& run) {
  base::LengthStyle style;
  auto made = quick_request(run.options().quick, style);
  if (const auto* fault = std::get_if<QuickFault>(&made)) {
    throw UsageFault{fault->message, {fault->hint}};
  }
  if (!run.printed_units()) run.speak_in(style);
  std::vector<ClothPlan> plans = {std::get<ClothPlan>(std::move(made))};
  if (!planned(plans.front(), {}, run.diagnostics())) return run.job_wrong();
  return laid(run, std::move(plans), "");
}

Answer lay_of_day(Run& run, const Day& day) {
  if (!run.options().have.empty()) {
    throw UsageFault{{"usage-have-of-day"}, {{"usage-no-day-hint"}}};
  }
  auto plans = cloth_plans(run, day);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  return laid(run, std::move(plans), day.makes.front().run->settings().batch.currency);
}

Answer lay(Run& run) {
  if (!run.options().have.empty()) return lay_from_stock(run);
  auto plans = cloth_plans(run);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  return laid(run, std::move(plans), run.settings().batch.currency);
}

}  // namespace pouchwright::job

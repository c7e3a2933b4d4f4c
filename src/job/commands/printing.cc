#include "job/commands/printing.h"

#include <string>
#include <utility>

#include "job/report/page.h"
#include "paper/pages.h"
#include "render/text.h"

namespace pouchwright::job {
namespace {

void add_printing(Report& report, const paper::PageSetup& setup, int home_prints) {
  report.begin();
  report.heading("printing-paper");
  report.say("printing-size");
  if (paper::is_corrected(setup)) {
    report.say({"guide-corrected",
                {{"across", base::exact(setup.printed_across)},
                 {"down", base::exact(setup.printed_down)}}});
  } else {
    report.say("printing-correct");
  }
  if (home_prints > 1) report.say({"printing-home", {{"times", home_prints}}});
  report.say("printing-hand-out");
}

void add_warnings(Report& report, Run& run) {
  const auto warnings = run.diagnostics().sorted(base::Severity::warning);
  if (warnings.empty()) return;
  report.begin();
  report.heading("printing-warnings");
  for (const base::Diagnostic& one : warnings) report.say(one.message);
}

void add_notes(Report& report, const char* heading, std::vector<std::string> notes) {
  if (notes.empty()) return;
  report.begin();
  report.heading(heading);
  for (std::string& note : notes) report.write(std::move(note));
}

}  // namespace

std::vector<ink::Drawing> printing_sheets(Run& run, const ShoppingList& shopping, int home_prints,
                                          ink::Point room) {
  Report report;
  add_printing(report, run.settings().paper, home_prints);
  add_warnings(report, run);
  add_notes(report, "printing-choices", choices_of(run, shopping));
  std::vector<std::string> sources = sources_of(run, shopping);
  sources.push_back(run.say({"schedule-minutes"}));
  sources.push_back(run.say({"printing-source-heat"}));
  add_notes(report, "printing-sources", std::move(sources));
  const render::FontMeasure measure(run.fonts());
  return pages(report.blocks,
               {.name = "printing", .title = run.say({"packet-section-printing"}), .room = room},
               run.paper_words(), measure);
}

}  // namespace pouchwright::job

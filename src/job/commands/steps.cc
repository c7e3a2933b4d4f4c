#include "draw/sheets/steps.h"

#include "draw/folds/picture.h"
#include "job/commands/commands.h"
#include "job/sheets.h"
#include "job/step_facts.h"
#include "render/text.h"
#include "tell/steps.h"

namespace pouchwright::job {

namespace {

/// An SVG holds all steps in one drawing, as long as it takes.
constexpr double kLongestDrawing = 5000;
/// Of the finished pouch: mm, across and down.
constexpr ink::Point kPictureRoom{90, 66};

Ending asked_ending(const Run& run) {
  const Ending ending = out_ending(run);
  if (ending == Ending::pdf || ending == Ending::svg) return ending;
  throw UsageFault{{"usage-out-no-sheet", {{"text", run.options().out}}},
                   {{"usage-out-ending-hint"}}};
}

std::string file_bytes(const Run& run, const tell::StepFacts& facts) {
  const Ending ending = asked_ending(run);
  const SheetPaper paper = sheet_paper(run.settings().paper);
  draw::StepsLook look{.room = paper.room, .wording = draw::Wording::words, .facts = facts};
  if (ending == Ending::svg) look.room.y = kLongestDrawing;
  if (run.options().wordless) look.wording = draw::Wording::wordless;
  const render::PangoMeasure measure(run.fonts());
  const auto pages =
      run.options().finished
          ? std::vector{draw::finished_picture(run.pouch(), kPictureRoom, run.words(), measure)}
          : draw::steps_sheet(run.pouch(), look, run.icons(), run.words(), measure);
  return sheet_bytes(run, "steps", ending, pages, paper);
}

}  // namespace

Outcome steps(Run& run) {
  Json report;
  report["steps"] = Json::array();
  std::string text;
  const tell::StepFacts facts = step_facts(run, sewing_of(run));
  for (const tell::StepText& step : tell::steps_in_words(run.pouch(), facts, run.words())) {
    report["steps"].push_back({{"operations", step.operations}, {"words", step.words}});
    text += std::to_string(report["steps"].size()) + ". " + step.words + "\n";
  }
  if (!run.options().out.empty()) {
    OutputFiles files;
    files.add(run.options().out, file_bytes(run, facts));
    run.write(files);
  }
  return run.done(report, text);
}

}  // namespace pouchwright::job

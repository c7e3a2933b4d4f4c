#include "draw/sheets/steps.h"

#include <string>
#include <utility>

#include "draw/folds/picture.h"
#include "job/commands/commands.h"
#include "job/commands/shown.h"
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

std::string file_bytes(const Run& run, Ending ending, const tell::StepFacts& facts) {
  const SheetPaper paper = sheet_paper(run.settings().paper);
  draw::StepsLook look{.room = paper.room, .wording = draw::Wording::words, .facts = facts};
  if (ending == Ending::svg) look.room.y = kLongestDrawing;
  if (run.options().wordless) look.wording = draw::Wording::wordless;
  const render::FontMeasure measure(run.fonts());
  const auto pages =
      run.options().finished
          ? std::vector{draw::finished_picture(run.pouch(), kPictureRoom, run.paper_words(),
                                               measure)}
          : draw::steps_sheet(run.pouch(), look, run.icons(), run.paper_words(), measure);
  return sheet_bytes(run, "steps", ending, pages, paper);
}

}  // namespace

Answer steps(Run& run) {
  Made made;
  Cell::List all;
  const tell::StepFacts facts = step_facts(run, sewing_of(run));
  for (const tell::StepText& step : tell::steps_in_words(run.pouch(), facts, run.words())) {
    const auto id = [&](std::size_t index) { return run.pouch().operation(index).id; };
    all.emplace_back(
        Cell::Fields{{"operations", cells(step.operations, id)}, {"words", step.words}});
    made.report.write(std::to_string(all.size()) + ". " + step.words);
  }
  made.report.field("steps", std::move(all));
  if (run.options().shown == Shown::folding) add_folding(made, run);
  const std::string& out = run.options().out;
  if (out.empty()) return made;
  made.files.add(
      out, [&run, ending = sheet_ending(run), facts] { return file_bytes(run, ending, facts); });
  return made;
}

}  // namespace pouchwright::job

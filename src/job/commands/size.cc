#include <algorithm>
#include <utility>
#include <vector>

#include "base/text.h"
#include "draw/sheets/content.h"
#include "input/reader.h"
#include "job/commands/commands.h"
#include "job/commands/explain.h"
#include "job/commands/have.h"
#include "job/commands/shown.h"
#include "job/documents.h"
#include "job/job_text/sides.h"
#include "job/report/parts.h"
#include "job/report/reports.h"
#include "job/sheets.h"
#include "pouch/judge/content.h"
#include "pouch/questions.h"
#include "render/text.h"
#include "tell/capacity.h"
#include "tell/changes.h"

namespace pouchwright::job {

namespace {

/// "[NAME =] WIDTH x LENGTH x THICKNESS"; a unit after the last holds for all.
struct OtherLiner {
  std::string name;
  pouch::Liners liners;
};

OtherLiner other_liner(const Run& run, const std::string& text) {
  const UsageFault fault{{"usage-option", {{"option", "--other-liner"}, {"text", text}}},
                         {{"usage-option-hint--other-liner"}}};
  const std::size_t equals = text.find('=');
  const bool named = equals != std::string::npos;
  const std::string lengths = named ? text.substr(equals + 1) : text;
  const auto sides = three_sides(lengths, base::Unit::mm);
  if (!sides) throw fault;
  OtherLiner other;
  // Ease and overlap are the pouch's, not the liner's.
  if (run.pouch().request.liners) other.liners = *run.pouch().request.liners;
  other.liners.count.reset();
  other.liners.columns.reset();
  other.liners.width.value = sides->width;
  other.liners.length.value = sides->length;
  other.liners.thickness.value = sides->thickness;
  other.name = base::trimmed(named ? text.substr(0, equals) : lengths);
  return other;
}

void add_other_liners(Report& report, const Run& run) {
  if (run.options().other_liners.empty()) return;
  Cell::List all;
  report.begin();
  report.heading("size-other-liners");
  for (const std::string& option : run.options().other_liners) {
    const OtherLiner other = other_liner(run, option);
    const pouch::Capacity capacity = pouch::capacity_for(run.pouch(), other.liners);
    all.emplace_back(Cell::Fields{{"name", other.name},
                                  {"width_mm", other.liners.width.value},
                                  {"length_mm", other.liners.length.value},
                                  {"thickness_mm", other.liners.thickness.value},
                                  {"capacity", capacity_cell(capacity)}});
    const std::string limits = limits_said(capacity, run.words());
    report.item({other.name,
                 base::Message(limits.empty() ? "size-other-liner" : "size-other-liner-limited",
                               {{"capacity", tell::capacity_said(capacity)}, {"limits", limits}})});
  }
  report.field("other_liners", std::move(all));
}

/// How many pouches as the job has them the remnant yields; none where the job alone has no pouch.
std::optional<Yield> yield_of_remnant(const Run& run, const pouch::CutPanel& remnant) {
  JobOptions options = run.options();
  options.remnant.reset();
  Run own(options, run.data());
  if (!own.read_job()) return std::nullopt;
  lay::Remnant piece;
  piece.material = "laminate";
  piece.width = remnant.width.value;
  piece.length = remnant.length.value;
  return yield_of(own.pouch(), own.settings(), {piece});
}

void add_remnant(Report& report, const Run& run) {
  if (!run.options().remnant) return;
  const pouch::CutPanel remnant = remnant_of(run);
  const pouch::CutPanel& panel = *run.pouch().request.panel;
  report.field("remnant", sides(remnant.width.value, remnant.length.value));
  const auto in_full = [](const char* key, base::Length width, base::Length length) {
    return base::Message(key, {{"width", base::in_both(width)}, {"length", base::in_both(length)}});
  };
  Report told;
  told.begin();
  told.say(in_full("size-remnant", remnant.width.value, remnant.length.value));
  if (const auto made = yield_of_remnant(run, remnant)) {
    report.field("yield", yield_cell(*made));
    say_yield(told, *made);
  }
  told.say(in_full("size-from-remnant", panel.width.value, panel.length.value));
  report.blocks.insert(report.blocks.begin(), told.blocks.begin(), told.blocks.end());
}

/// Of the content; none, after an error, where there is nothing to draw.
std::vector<ink::Drawing> pictures(Run& run) {
  const render::FontMeasure measure(run.fonts());
  constexpr double kHighest = 180;
  auto drawn =
      draw::content_picture(run.pouch(), run.paper_words(), measure, {kSheetRoom.x, kHighest});
  if (drawn.empty()) {
    run.diagnostics().error(run.pouch().request.place, {"size-no-picture"},
                            {{"size-no-picture-hint"}});
  }
  return drawn;
}

/// What the job leaves open and had otherwise before: said by `check` alone, and not by every run.
void add_changes(Report& report, const pouch::Pouch& pouch) {
  const auto changed = tell::changed_defaults(pouch);
  report.field("changed", cells(changed, [](const tell::ChangedDefault& one) {
                 return Cell::Fields{{"value", one.path}, {"now_mm", one.now}, {"was_mm", one.was}};
               }));
  const bool folds_move = pouch.request.panel.has_value();
  if (changed.empty() && !folds_move) return;
  report.begin();
  report.heading("check-changed");
  for (const auto& [path, now, was] : changed) {
    report.row({"check-changed-value", {{"value", path}}},
               base::Message("check-changed-from",
                             {{"now", base::exact(now)}, {"was", base::exact(was)}}));
  }
  if (folds_move) report.say("check-changed-folds");
  report.say("check-changed-keep");
}

}  // namespace

pouch::CutPanel remnant_of(const Run& run) {
  const std::string& text = *run.options().remnant;
  const auto sides = input::length_pair_of(text, base::Unit::mm);
  if (!sides || sides->across <= base::Length() || sides->down <= base::Length()) {
    throw UsageFault{{"usage-option", {{"option", "--remnant"}, {"text", text}}},
                     {{"usage-option-hint--remnant"}}};
  }
  const base::Place place{"--remnant " + text, 0, 0, 0};
  return {{sides->across, place}, {sides->down, place}, {}, place};
}

Answer check(Run& run) {
  const paper::Document document = template_document(run);
  if (!can_be_printed(run, document)) return run.job_wrong();
  const std::size_t count = run.diagnostics().sorted(base::Severity::warning).size();
  const char* key = count == 0 ? "check-fine" : count == 1 ? "check-one-warning" : "check-warnings";
  Report report = size_report(run.pouch(), run.words());
  report.field("ruler_mm", run.style().ruler);
  report.blocks.clear();
  add_changes(report, run.pouch());
  if (run.options().explain) add_explained(report, run);
  if (pouch::seal_for_many_hands(run.pouch())) {
    report.begin();
    report.say(seal_advice(run.pouch()));
  }
  if (run.options().talk == Talk::quiet) report.blocks.clear();
  if (run.options().talk == Talk::normal) {
    report.begin();
    report.say({key, {{"job", run.options().job_file}, {"count", count}}});
  }
  Made made{std::move(report)};
  if (run.options().shown == Shown::pouch) add_pouch(made, run, document.drawings.front());
  return made;
}

Answer size(Run& run) {
  Made made{size_report(run.pouch(), run.words()), {}, Made::Told::files};
  add_other_liners(made.report, run);
  add_remnant(made.report, run);
  if (run.options().out.empty()) return made;
  const Ending ending = out_ending(run);
  if (ending == Ending::csv) {
    throw UsageFault{{"usage-size-ending", {{"text", run.options().out}}},
                     {{"usage-out-ending-hint"}}};
  }
  std::vector<ink::Drawing> drawn;
  if (ending != Ending::json) drawn = pictures(run);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  made.sheets = {"content", [drawn = std::move(drawn)](ink::Breaks) { return drawn; }};
  return made;
}

}  // namespace pouchwright::job

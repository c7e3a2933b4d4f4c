#include "job/commands/interview.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "base/length.h"
#include "base/number.h"
#include "input/reader.h"
#include "input/work.h"
#include "job/commands/answered.h"
#include "job/commands/day_questions.h"
#include "job/commands/size_questions.h"
#include "job/commands/unlikely.h"
#include "job/job_text/edited.h"
#include "tell/names.h"

namespace pouchwright::job {
namespace {

/// What holds where the job says nothing, of the program's data.
void show_data(const Data& data, Starter& made) {
  const batch::ThreadRules& thread = data.supplies().thread;
  made.shown["stitches.sides"] = toml_text(thread.sew);
  made.shown["stitches.ends"] = toml_text(thread.finish_overedge);
  made.shown["stitches.hems"] = toml_text(thread.finish_turned);
  made.shown["stitches.tails"] = toml_text(thread.secure_tails);
  base::Diagnostics faults;
  const auto work = input::read_work(data.file("shared/work.toml"), faults);
  Data::refuse(faults);
  for (const batch::WorkKind& kind : work->kinds) {
    if (kind.hold_seconds > 0) made.shown["iron.seconds"] = base::shortest(kind.hold_seconds, 1);
  }
}

std::string square_as_text(const std::string& text) {
  const auto square = input::length_pair_of(text, base::Unit::mm);
  if (!square) {
    throw UsageFault{{"usage-printed-square", {{"text", text}}}, {{"usage-printed-square-hint"}}};
  }
  return base::decimal_mm(square->across) + " x " + base::decimal_mm(square->down) + " mm";
}

/// What the other options begin with.
const char* implied_way(const Answered& with) {
  if (with.answers.panel || with.answers.fold_at) return kFromPanel;
  if (with.answers.card || with.answers.card_kind) return kFromCard;
  if (!with.run.options().have.empty()) return kFromCloth;
  const bool has_sizes = with.answers.width || with.answers.depth;
  return has_sizes && !with.run.options().liners ? kFromPouch : kFromLiners;
}

std::string begun_with(const Answered& with) {
  std::vector<ChoiceOf> choices;
  for (const char* way : {kFromLiners, kFromPouch, kFromPanel, kFromCard, kFromCloth}) {
    choices.push_back({way, with.run.say({std::string("new-from-") + way})});
  }
  return with.ask.choice("--from", with.answers.from, "new-ask-from", implied_way(with),
                         std::move(choices));
}

pouch::Construction asked_construction(const Answered& with) {
  std::vector<ChoiceOf> choices;
  std::vector<pouch::Construction> known;
  for (const std::string& name : with.run.data().constructions()) {
    base::Diagnostics faults;
    const auto made = input::read_construction(*with.run.data().construction(name), name, faults);
    Data::refuse(faults);
    if (!made) continue;
    choices.push_back(
        {name, tell::construction_title(name, made->construction.title, with.run.words())});
    known.push_back(made->construction);
  }
  const std::string name = with.ask.choice("--construction", with.answers.construction,
                                           "new-ask-construction", kUsualConstruction, choices);
  const auto at = std::find_if(known.begin(), known.end(),
                               [&](const pouch::Construction& one) { return one.name == name; });
  if (at == known.end()) {
    throw UsageFault{{"construction-unknown", {{"text", name}}}, {{"new-nobody-hint"}}};
  }
  return *at;
}

void ask_units(Answered& with) {
  const bool in_inches = with.run.options().country == kCountryOfInches;
  const std::string name = with.ask.choice(
      "--units", with.run.options().units, "new-ask-units", in_inches ? "in" : "mm",
      {{"mm", with.run.say({"desk-choice-mm"})}, {"in", with.run.say({"desk-choice-in"})}});
  with.units = base::value_of(base::kUnitWords, name).value_or(base::Unit::mm);
  with.state("units", name);
  with.show("ruler", with.in_words(base::default_style(with.units).ruler));
}

/// Asked back, and not so meant: the sizes are asked for again.
bool is_unlikely(const Answered& with) {
  if (!with.ask.asks()) return false;
  JobOptions options;
  options.job_file = "new.toml";
  options.job_text = starter_text(with.made, with.run.words());
  Run inner(options, with.run.data());
  if (!inner.read_job()) return false;
  const auto odd = unlikely_panel(inner.pouch());
  return odd && !with.ask.is_sure({"new-ask-sure", {{"odd", inner.say(*odd)}}});
}

/// What a person calls the pouch.
std::string asked_title(const Answered& with) {
  return with.ask.answer({"--title",
                          with.answers.title,
                          "new-ask-title",
                          with.made.construction.title,
                          {"new-hint-title"},
                          [](const std::string&) { return true; }});
}

}  // namespace

Starter interviewed(const Run& run) {
  Answered with(run);
  with.from = begun_with(with);
  with.made.construction = asked_construction(with);
  with.state("construction", with.made.construction.name);
  ask_units(with);
  do {
    ask_sizes(with);
  } while (is_unlikely(with));
  ask_day(with);
  with.state("title", asked_title(with));
  with.state("paper.size", asked_paper(with));
  if (const auto& square = run.options().printed_square) {
    with.state("paper.printed_square", square_as_text(*square));
  }
  show_data(run.data(), with.made);
  return std::move(with.made);
}

}  // namespace pouchwright::job

#include "job/commands/day_questions.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "base/text.h"
#include "job/job_text/edited.h"

namespace pouchwright::job {
namespace {

constexpr const char* kOveredger = "overedger";

/// As the job says it: a name, or its size in millimetres.
std::string paper_as_text(const input::PaperSize& paper,
                          const std::vector<input::PaperSize>& known) {
  const bool is_known = std::any_of(known.begin(), known.end(),
                                    [&](const auto& one) { return one.name == paper.name; });
  return is_known ? paper.name
                  : base::decimal_mm(paper.width) + " x " + base::decimal_mm(paper.height) + " mm";
}

class DayQuestions {
 public:
  explicit DayQuestions(Answered& with) : with_(with) {}

  void put() {
    materials();
    know_the_stock();
    machines();
    batch();
  }

 private:
  void materials() {
    std::vector<ChoiceOf> laminates;
    std::vector<ChoiceOf> outers = {{kNone, ""}};
    for (const pouch::Material& one : with_.run.data().materials()) {
      const bool is_laminate = one.kind == pouch::MaterialKind::laminate;
      const std::string width = with_.in_words(one.width);
      (is_laminate ? laminates : outers)
          .push_back({one.name, with_.run.say({"new-wide", {{"width", width}}})});
    }
    with_.state("materials.laminate",
                with_.ask.choice("--laminate", with_.answers.laminate, "new-ask-laminate",
                                 input::kLaminate, std::move(laminates)));
    const std::string example = outers.size() > 1 ? outers[1].name : kNone;
    const std::string outer =
        with_.ask.choice("--outer", with_.answers.outer, "new-ask-outer", kNone, std::move(outers));
    with_.show("materials.outer", example);
    if (outer != kNone) with_.state("materials.outer", outer);
    for (const pouch::Material& one : with_.run.data().materials()) {
      outer_frays_ = outer_frays_ || (one.name == outer && one.frays);
    }
    const std::string plies =
        with_.ask.choice("--plies", with_.answers.plies, "new-ask-plies", "single",
                         {{"single", with_.run.say({"new-plies-single"})},
                          {"folded 2", with_.run.say({"new-plies-folded-2"})},
                          {"folded 4", with_.run.say({"new-plies-folded-4"})}});
    if (plies != "single") with_.state("lay.plies", plies);
  }

  /// Cloth that the pouch has not would set its number no end.
  void know_the_stock() const {
    const bool has_outer = with_.made.stated.contains("materials.outer");
    for (const Starter::Piece& piece : with_.made.stock) {
      if (piece.material == toml_text("laminate")) continue;
      if (has_outer && piece.material == toml_text("outer")) continue;
      throw UsageFault{{"have-no-such-cloth", {{"cloth", piece.material}}}, {{"new-stock-hint"}}};
    }
  }

  void machines() {
    const std::string machine =
        with_.ask.choice("--machine", with_.answers.machine, "new-ask-machine", kOveredger,
                         {{kOveredger, with_.run.say({"new-machine-overedger"})},
                          {"zigzag", with_.run.say({"new-machine-zigzag"})},
                          {"straight", with_.run.say({"new-machine-straight"})}});
    if (machine != kOveredger) with_.state("stitches.sides", machine);
    finish("pouch.start_finish", with_.made.construction.start_standard, machine);
    finish("pouch.end_finish", with_.made.construction.end_standard, machine);
    if (machine != kOveredger) return;
    const std::string knife = with_.ask.answer(
        {"--knife",
         with_.answers.knife,
         "new-ask-knife",
         "0",
         {"new-hint-knife"},
         [this](const std::string& of) { return of == "0" || with_.length(of).has_value(); }});
    if (knife != "0") with_.state("pouch.knife", with_.in_words(*with_.length(knife)));
  }

  /// A fraying outer needs its ends finished, unless the construction finishes them anyway; no
  /// machine does what another one is for.
  void finish(const char* path, pouch::FinishKind standard, const std::string& machine) {
    using pouch::FinishKind;
    const std::string usual = word_of(pouch::kFinishWords, standard);
    const std::string with_machine = machine == kOveredger ? "overedge"
                                     : machine == "zigzag" ? "zigzag"
                                                           : "turned";
    const bool is_needed = outer_frays_ && standard == FinishKind::none;
    const bool is_overedged = standard == FinishKind::overedge && with_machine != "overedge";
    if (is_needed || is_overedged) return with_.state(path, with_machine);
    with_.show(path, usual);
  }

  void batch() {
    // Cloth that is there says how many.
    const bool counts_cloth = with_.begins_with(kFromCloth) && !with_.answers.pouches;
    with_.made.takes_all_cloth = counts_cloth;
    with_.made.stated["batch.pouches"] =
        counts_cloth ? "1"
                     : with_.ask.count({"--pouches", with_.answers.pouches, "new-ask-pouches", "1"},
                                       1, batch::kMostPouches);
    with_.made.stated["batch.helpers"] = with_.ask.count(
        {"--helpers", with_.answers.helpers, "new-ask-helpers", "1"}, 1, batch::kMostPeople);
  }

  Answered& with_;
  bool outer_frays_ = false;
};

}  // namespace

void ask_day(Answered& with) { DayQuestions(with).put(); }

std::string asked_paper(const Answered& with) {
  const auto& known = with.run.data().papers();
  const std::string names = base::list_text(known, ", ", &input::PaperSize::name);
  const std::string text =
      with.ask.answer({"--paper",
                       with.run.options().paper,
                       "new-ask-paper",
                       with.run.options().country == kCountryOfInches ? "Letter" : "A4",
                       {"usage-paper-hint", {{"names", names}}},
                       [&](const std::string& of) {
                         return input::paper_of(of, base::Unit::mm, known).has_value();
                       }});
  return paper_as_text(*input::paper_of(text, base::Unit::mm, known), known);
}

}  // namespace pouchwright::job

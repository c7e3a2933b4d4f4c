#include "job/commands/interview.h"

#include <algorithm>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/length.h"
#include "base/number.h"
#include "base/text.h"
#include "input/reader.h"
#include "input/work.h"
#include "job/commands/asker.h"
#include "job/commands/have.h"
#include "job/job_text/edited.h"
#include "job/job_text/sides.h"
#include "pouch/judge/content.h"

namespace pouchwright::job {
namespace {

constexpr const char* kUsualLiners = "3";
constexpr const char* kNone = "none";
/// What somebody begins with.
constexpr const char* kFromLiners = "liners";
constexpr const char* kFromPouch = "pouch";
constexpr const char* kFromPanel = "panel";
constexpr const char* kFromCard = "card";
constexpr const char* kFromCloth = "cloth";
constexpr const char* kOveredger = "overedger";

/// A longer panel of a pouch that is folded once, and a smaller liner, are rarely meant.
constexpr base::Length kLongPanel = base::Length::whole_mm(500);
constexpr std::size_t kSpansOfFoldOver = 3;
constexpr base::Length kSmallLiner = base::Length::whole_mm(20);

std::optional<base::Message> unlikely_liner(const Sides& liner) {
  const base::Length least = std::min(liner.width, liner.length);
  if (least >= kSmallLiner && liner.thickness <= least) return std::nullopt;
  return base::Message{"new-unlikely-liner",
                       {{"width", base::exact(liner.width)},
                        {"length", base::exact(liner.length)},
                        {"thickness", base::exact(liner.thickness)}}};
}

std::optional<base::Message> unlikely_panel(const pouch::Pouch& pouch) {
  const bool is_folded_over = pouch.construction().panels.front().spans.size() <= kSpansOfFoldOver;
  if (!is_folded_over || pouch.sizes.cut_length <= kLongPanel) return std::nullopt;
  return base::Message{"new-unlikely-panel",
                       {{"width", base::exact(pouch.sizes.cut_width)},
                        {"length", base::exact(pouch.sizes.cut_length)}}};
}

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

/// As the job says it: a name, or its size in millimetres.
std::string paper_as_text(const input::PaperSize& paper,
                          const std::vector<input::PaperSize>& known) {
  const bool is_known = std::any_of(known.begin(), known.end(),
                                    [&](const auto& one) { return one.name == paper.name; });
  return is_known ? paper.name
                  : base::decimal_mm(paper.width) + " x " + base::decimal_mm(paper.height) + " mm";
}

std::string square_as_text(const std::string& text) {
  const auto square = input::length_pair_of(text, base::Unit::mm);
  if (!square) {
    throw UsageFault{{"usage-printed-square", {{"text", text}}}, {{"usage-printed-square-hint"}}};
  }
  return base::decimal_mm(square->across) + " x " + base::decimal_mm(square->down) + " mm";
}

/// A liner that stands where nobody has measured one.
const char* usual_liner(base::Unit units) {
  return units == base::Unit::inch ? "3 1/4 in x 4 3/4 in x 3/8 in" : "80 mm x 120 mm x 9 mm";
}

/// All that is asked for a starter job.
class Interview {
 public:
  explicit Interview(const Run& run) : run_(run), answers_(run.options().answers), ask_(run) {}

  Starter starter() {
    from_ = begun_with();
    made_.construction = construction();
    state("construction", made_.construction.name);
    units();
    content();
    while (is_unlikely()) content();
    materials();
    know_the_stock();
    machines();
    batch();
    state("title", ask_.answer({"--title",
                                answers_.title,
                                "new-ask-title",
                                made_.construction.title,
                                {"new-hint-title"},
                                [](const std::string&) { return true; }}));
    state("paper.size", paper());
    if (const auto& square = run_.options().printed_square) {
      state("paper.printed_square", square_as_text(*square));
    }
    show_data(run_.data(), made_);
    return std::move(made_);
  }

 private:
  void state(const std::string& path, std::string text) {
    // A person's control characters would be at fault.
    std::replace_if(
        text.begin(), text.end(),
        [](char c) { return static_cast<unsigned char>(c) < 0x20U || c == 0x7F; }, ' ');
    made_.stated[path] = toml_text(text);
  }

  void show(const std::string& path, const std::string& text) {
    made_.shown[path] = toml_text(text);
  }

  // ---- What she begins with ----

  [[nodiscard]] std::string begun_with() const {
    std::vector<ChoiceOf> choices;
    for (const char* way : {kFromLiners, kFromPouch, kFromPanel, kFromCard, kFromCloth}) {
      choices.push_back({way, run_.say({std::string("new-from-") + way})});
    }
    return ask_.choice("--from", answers_.from, "new-ask-from", implied(), std::move(choices));
  }

  /// What the other options begin with.
  [[nodiscard]] const char* implied() const {
    if (answers_.panel || answers_.fold_at) return kFromPanel;
    if (answers_.card || answers_.card_kind) return kFromCard;
    if (!run_.options().have.empty()) return kFromCloth;
    const bool has_sizes = answers_.width || answers_.depth;
    return has_sizes && !run_.options().liners ? kFromPouch : kFromLiners;
  }
  [[nodiscard]] bool begins_with(const char* way) const { return from_ == way; }

  [[nodiscard]] pouch::Construction construction() const {
    std::vector<ChoiceOf> choices;
    std::vector<pouch::Construction> known;
    for (const std::string& name : run_.data().constructions()) {
      base::Diagnostics faults;
      const auto made = input::read_construction(*run_.data().construction(name), name, faults);
      Data::refuse(faults);
      if (!made) continue;
      choices.push_back({name, made->construction.title});
      known.push_back(made->construction);
    }
    const std::string name = ask_.choice("--construction", answers_.construction,
                                         "new-ask-construction", kUsualConstruction, choices);
    const auto at = std::find_if(known.begin(), known.end(),
                                 [&](const pouch::Construction& one) { return one.name == name; });
    if (at == known.end()) {
      throw UsageFault{{"construction-unknown", {{"text", name}}}, {{"new-nobody-hint"}}};
    }
    return *at;
  }

  void units() {
    const bool in_inches = run_.options().country == kCountryOfInches;
    const std::string name =
        ask_.choice("--units", run_.options().units, "new-ask-units", in_inches ? "in" : "mm",
                    {{"mm", run_.say({"desk-choice-mm"})}, {"in", run_.say({"desk-choice-in"})}});
    units_ = base::value_of(base::kUnitWords, name).value_or(base::Unit::mm);
    state("units", name);
    show("ruler", in_words(base::default_style(units_).ruler));
  }

  void content() {
    made_.stock.clear();
    if (begins_with(kFromPanel)) return panel();
    if (begins_with(kFromCard)) card();
    if (begins_with(kFromCloth)) cloth();
    if (begins_with(kFromPouch)) return pouch();
    liners();
  }

  // ---- The ways ----

  /// Sizes; liners only where an option has them.
  void pouch() {
    has_count_ = run_.options().liners && *run_.options().liners != "0";
    if (has_count_) made_.stated["liners.count"] = *run_.options().liners;
    if (!has_count_) made_.shown["liners.count"] = kUsualLiners;
    liner();
    size("--width", answers_.width, "new-ask-width", pouch::size::kWidth);
    size("--depth", answers_.depth, "new-ask-depth", pouch::size::kDepth);
  }

  /// Liners, from which the sizes follow, or none and the sizes.
  void liners() {
    const std::string count = ask_.count(
        {"--liners", run_.options().liners, "new-ask-liners", kUsualLiners}, 0, pouch::kMostLiners);
    has_count_ = count != "0";
    (has_count_ ? made_.stated : made_.shown)["liners.count"] = has_count_ ? count : kUsualLiners;
    liner();
    // A card decides the width.
    if (!begins_with(kFromCard) || answers_.width) {
      size("--width", answers_.width, "new-ask-width", pouch::size::kWidth);
    }
    size("--depth", answers_.depth, "new-ask-depth", pouch::size::kDepth);
  }

  void panel() {
    const auto whole = both("--panel", answers_.panel, "new-ask-panel",
                            units_ == base::Unit::inch ? "8 1/2 x 15 in" : "204 x 360 mm");
    state("panel.width", in_words(whole.across));
    state("panel.length", in_words(whole.down));
    const std::string lines =
        ask_.answer({"--fold-at",
                     answers_.fold_at,
                     "new-ask-fold-at",
                     kNone,
                     {"new-hint-fold-at"},
                     [this](const std::string& of) { return of == kNone || folds_of(of); }});
    if (lines != kNone) made_.stated["panel.fold_at"] = folds_as_toml(*folds_of(lines));
    has_count_ = false;
    made_.shown["liners.count"] = kUsualLiners;
    liner();
  }

  void card() {
    state("card.kind", ask_.choice("--card-kind", answers_.card_kind, "new-ask-card-kind", "shield",
                                   {{"shield", run_.say({"new-card-shield"})},
                                    {"slip", run_.say({"new-card-slip"})}}));
    const auto whole = both("--card", answers_.card, "new-ask-card",
                            units_ == base::Unit::inch ? "7 1/4 x 5 1/2 in" : "172 x 150 mm");
    state("card.width", in_words(whole.across));
    state("card.length", in_words(whole.down));
  }

  void cloth() {
    std::vector<std::string> all = run_.options().have;
    static const std::optional<std::string> kNoOption;
    if (all.empty()) {
      all.push_back(ask_.answer({"--have",
                                 kNoOption,
                                 "new-ask-cloth",
                                 units_ == base::Unit::inch ? "60 in x 10 yd" : "150 cm x 5 m",
                                 {"usage-option-hint--have"},
                                 [](const std::string& of) { return piece_of(of).has_value(); }}));
    }
    for (const std::string& text : all) {
      const auto piece = piece_of(text);
      if (!piece) {
        throw UsageFault{{"usage-option", {{"option", "--have"}, {"text", text.substr(0, 60)}}},
                         {{"usage-option-hint--have"}}};
      }
      made_.stock.push_back({toml_text(piece->material),
                             piece->width ? toml_text(in_words(*piece->width)) : "",
                             toml_text(in_words(piece->length))});
    }
  }

  // ---- Sizes ----

  void liner() {
    const bool is_stated = has_count_ || answers_.liner;
    Sides sides = asked_liner(is_stated);
    while (is_stated && ask_.asks()) {
      const auto odd = unlikely_liner(sides);
      if (!odd || ask_.is_sure({"new-ask-sure", {{"odd", *odd}}})) break;
      sides = asked_liner(is_stated);
    }
    auto& into = is_stated ? made_.stated : made_.shown;
    into["liners.width"] = toml_text(in_words(sides.width));
    into["liners.length"] = toml_text(in_words(sides.length));
    into["liners.thickness"] = toml_text(in_words(sides.thickness));
  }

  [[nodiscard]] Sides asked_liner(bool is_stated) const {
    const std::string usual = usual_liner(units_);
    if (!is_stated) return *three_sides(usual, units_);
    const std::string text = ask_.answer(
        {"--liner",
         answers_.liner,
         "new-ask-liner",
         usual,
         {"new-hint-liner"},
         [this](const std::string& of) { return three_sides(of, units_).has_value(); }});
    return *three_sides(text, units_);
  }

  void size(const char* option, const std::optional<std::string>& given, const char* key,
            const char* name) {
    if (!given && (!ask_.asks() || has_count_)) return;
    const pouch::SizeRule* rule = made_.construction.size_rule(name);
    if (rule == nullptr) {
      if (!given) return;
      throw UsageFault{
          {"new-no-size", {{"option", option}, {"construction", made_.construction.name}}},
          {{"new-no-size-hint"}}};
    }
    const auto usual = rule->usual(units_);
    const std::string standard = usual ? in_words(*usual) : "";
    const std::string text = ask_.answer(
        {option, given, key, standard, {"new-hint-length"}, [this](const std::string& of) {
           return length(of).has_value();
         }});
    if (const auto read = length(text)) state("pouch." + std::string(name), in_words(*read));
  }

  /// Width x length of something that is there.
  [[nodiscard]] input::LengthPair both(const char* option, const std::optional<std::string>& given,
                                       const char* key, const char* standard) const {
    const auto read = [this](const std::string& of) {
      const auto pair = input::length_pair_of(of, units_);
      const bool is_size = pair && pair->across > base::Length() && pair->down > base::Length();
      return is_size ? pair : std::nullopt;
    };
    return *read(
        ask_.answer({option, given, key, standard, {"new-hint-both"}, [&](const std::string& of) {
                       return read(of).has_value();
                     }}));
  }

  [[nodiscard]] std::optional<std::vector<base::Length>> folds_of(const std::string& text) const {
    std::vector<base::Length> folds;
    for (std::size_t from = 0; from <= text.size();) {
      const std::size_t to = std::min(text.find(',', from), text.size());
      const auto fold = length(std::string(base::trimmed(text.substr(from, to - from))));
      if (!fold) return std::nullopt;
      folds.push_back(*fold);
      from = to + 1;
    }
    return folds;
  }
  [[nodiscard]] std::string folds_as_toml(const std::vector<base::Length>& folds) const {
    return "[" +
           base::list_text(folds, ", ",
                           [this](base::Length fold) { return toml_text(in_words(fold)); }) +
           "]";
  }

  [[nodiscard]] std::optional<base::Length> length(const std::string& text) const {
    const auto reading = base::read_length(text, units_);
    const auto* read = std::get_if<base::Length>(&reading);
    if (!read || *read <= base::Length()) return std::nullopt;
    return *read;
  }

  /// A length as the job says it: exactly what was read.
  [[nodiscard]] std::string in_words(base::Length length) const {
    return base::exact_text(length, units_);
  }

  /// Asked back, and not so meant: the sizes are asked for again.
  [[nodiscard]] bool is_unlikely() {
    if (!ask_.asks()) return false;
    JobOptions options;
    options.job_file = "new.toml";
    options.job_text = starter_text(made_, run_.words());
    Run inner(options, run_.data());
    if (!inner.read_job()) return false;
    const auto odd = unlikely_panel(inner.pouch());
    return odd && !ask_.is_sure({"new-ask-sure", {{"odd", inner.say(*odd)}}});
  }

  // ---- Cloth, machines, people ----

  void materials() {
    std::vector<ChoiceOf> laminates;
    std::vector<ChoiceOf> outers = {{kNone, ""}};
    for (const pouch::Material& one : run_.data().materials()) {
      const bool is_laminate = one.kind == pouch::MaterialKind::laminate;
      const std::string width = in_words(one.width);
      (is_laminate ? laminates : outers)
          .push_back({one.name, run_.say({"new-wide", {{"width", width}}})});
    }
    state("materials.laminate", ask_.choice("--laminate", answers_.laminate, "new-ask-laminate",
                                            input::kLaminate, std::move(laminates)));
    const std::string example = outers.size() > 1 ? outers[1].name : kNone;
    const std::string outer =
        ask_.choice("--outer", answers_.outer, "new-ask-outer", kNone, std::move(outers));
    show("materials.outer", example);
    if (outer != kNone) state("materials.outer", outer);
    for (const pouch::Material& one : run_.data().materials()) {
      outer_frays_ = outer_frays_ || (one.name == outer && one.frays);
    }
    const std::string plies = ask_.choice("--plies", answers_.plies, "new-ask-plies", "single",
                                          {{"single", run_.say({"new-plies-single"})},
                                           {"folded 2", run_.say({"new-plies-folded-2"})},
                                           {"folded 4", run_.say({"new-plies-folded-4"})}});
    if (plies != "single") state("lay.plies", plies);
  }

  /// Cloth that the pouch has not would set its number no end.
  void know_the_stock() const {
    const bool has_outer = made_.stated.contains("materials.outer");
    for (const Starter::Piece& piece : made_.stock) {
      if (piece.material == toml_text("laminate")) continue;
      if (has_outer && piece.material == toml_text("outer")) continue;
      throw UsageFault{{"have-no-such-cloth", {{"cloth", piece.material}}}, {{"new-stock-hint"}}};
    }
  }

  void machines() {
    const std::string machine =
        ask_.choice("--machine", answers_.machine, "new-ask-machine", kOveredger,
                    {{kOveredger, run_.say({"new-machine-overedger"})},
                     {"zigzag", run_.say({"new-machine-zigzag"})},
                     {"straight", run_.say({"new-machine-straight"})}});
    if (machine != kOveredger) state("stitches.sides", machine);
    finish("pouch.start_finish", made_.construction.start_standard, machine);
    finish("pouch.end_finish", made_.construction.end_standard, machine);
    if (machine != kOveredger) return;
    const std::string knife = ask_.answer(
        {"--knife",
         answers_.knife,
         "new-ask-knife",
         "0",
         {"new-hint-knife"},
         [this](const std::string& of) { return of == "0" || length(of).has_value(); }});
    if (knife != "0") state("pouch.knife", in_words(*length(knife)));
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
    if (is_needed || is_overedged) return state(path, with_machine);
    show(path, usual);
  }

  void batch() {
    // Cloth that is there says how many.
    const bool counts_cloth = begins_with(kFromCloth) && !answers_.pouches;
    made_.takes_all_cloth = counts_cloth;
    made_.stated["batch.pouches"] =
        counts_cloth ? "1"
                     : ask_.count({"--pouches", answers_.pouches, "new-ask-pouches", "1"}, 1,
                                  batch::kMostPouches);
    made_.stated["batch.helpers"] =
        ask_.count({"--helpers", answers_.helpers, "new-ask-helpers", "1"}, 1, batch::kMostPeople);
  }

  [[nodiscard]] std::string paper() const {
    const auto& known = run_.data().papers();
    const std::string names = base::list_text(known, ", ", &input::PaperSize::name);
    const std::string text =
        ask_.answer({"--paper",
                     run_.options().paper,
                     "new-ask-paper",
                     run_.options().country == kCountryOfInches ? "Letter" : "A4",
                     {"usage-paper-hint", {{"names", names}}},
                     [&](const std::string& of) {
                       return input::paper_of(of, base::Unit::mm, known).has_value();
                     }});
    return paper_as_text(*input::paper_of(text, base::Unit::mm, known), known);
  }

  const Run& run_;
  const Answers& answers_;
  Asker ask_;
  std::string from_;
  bool has_count_ = false;  ///< of liners
  bool outer_frays_ = false;
  base::Unit units_ = base::Unit::mm;
  Starter made_;
};

}  // namespace

Starter interviewed(const Run& run) { return Interview(run).starter(); }

std::vector<base::Message> unlikely_sizes(const pouch::Pouch& pouch) {
  std::vector<base::Message> found;
  if (auto odd = unlikely_panel(pouch)) found.push_back(std::move(*odd));
  if (const auto& liners = pouch.request.liners) {
    auto odd = unlikely_liner({liners->width.value, liners->length.value, liners->thickness.value});
    if (odd) found.push_back(std::move(*odd));
  }
  return found;
}

}  // namespace pouchwright::job

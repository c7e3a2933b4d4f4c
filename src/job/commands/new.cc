#include "job/commands/new.h"

#include <algorithm>
#include <charconv>
#include <utility>
#include <variant>
#include <vector>

#include "base/number.h"
#include "base/text.h"
#include "input/reader.h"
#include "input/work.h"
#include "job/commands/commands.h"
#include "job/documents.h"
#include "job/job_text/edited.h"
#include "job/job_text/sides.h"
#include "job/job_text/starter.h"
#include "job/report/reports.h"
#include "pouch/judge/content.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

constexpr const char* kUsualLiners = "3";
constexpr const char* kUsualFile = "new-pouch.toml";
constexpr const char* kStandardOutput = "-";
constexpr const char* kNone = "none";
constexpr std::size_t kLongestAnswer = 200;

struct ChoiceOf {
  std::string name;
  std::string label;  ///< what is shown beside it; may be empty
};

/// One question: by which option it is answered, how it is put, and what counts as an answer.
struct Question {
  const char* option;
  const std::optional<std::string>& given;
  const char* key;
  std::string standard;
  base::Message hint;
  std::function<bool(const std::string&)> takes;
  std::vector<ChoiceOf> choices{};
};

std::optional<int> whole_number(const std::string& text) {
  int number = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return number;
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

struct Counted {
  const char* option;
  const std::optional<std::string>& given;
  const char* key;
  const char* standard;
};

/// Answers: options first, then whoever can be asked, then the usual.
class Asker {
 public:
  explicit Asker(const Run& run) : run_(run), asks_(!has_answers()) {
    if (asks_ && !run_.options().ask) throw UsageFault{{"new-nobody"}, {{"new-nobody-hint"}}};
  }

  [[nodiscard]] bool asks() const { return asks_; }

  [[nodiscard]] std::string answer(const Question& question) const {
    if (question.given) {
      std::string text(base::trimmed(*question.given));
      if (is_taken(question, text)) return text;
      throw UsageFault{{"usage-option", {{"option", question.option}, {"text", text}}},
                       {question.hint}};
    }
    return asks_ ? asked(question) : question.standard;
  }

  [[nodiscard]] std::string choice(const char* option, const std::optional<std::string>& given,
                                   const char* key, const std::string& standard,
                                   std::vector<ChoiceOf> choices) const {
    const std::string names = base::list_text(choices, ", ", &ChoiceOf::name);
    return answer({option,
                   given,
                   key,
                   standard,
                   {"new-hint-choice", {{"names", names}}},
                   {},
                   std::move(choices)});
  }

  [[nodiscard]] std::string count(const Counted& of, int least, int most) const {
    return answer({of.option,
                   of.given,
                   of.key,
                   of.standard,
                   {"new-hint-count", {{"least", least}, {"most", most}}},
                   [=](const std::string& text) {
                     const auto number = whole_number(text);
                     return number && *number >= least && *number <= most;
                   }});
  }

 private:
  /// Paper and units alone say nothing of a pouch.
  [[nodiscard]] bool has_answers() const {
    const auto& options = run_.options();
    const Answers& answers = options.answers;
    return answers.construction || answers.title || answers.liner || answers.width ||
           answers.depth || answers.laminate || answers.outer || answers.pouches ||
           answers.helpers || options.liners;
  }

  [[nodiscard]] static bool is_taken(const Question& question, const std::string& text) {
    if (text.empty() || text.size() > kLongestAnswer) return false;
    if (question.choices.empty()) return question.takes(text);
    return std::any_of(question.choices.begin(), question.choices.end(),
                       [&](const ChoiceOf& one) { return one.name == text; });
  }

  [[nodiscard]] std::string asked(const Question& question) const {
    const std::string put = put_as(question);
    std::string before;
    while (true) {
      const auto reply = run_.options().ask(before + put);
      if (!reply) throw UsageFault{{"new-ended"}, {{"new-nobody-hint"}}};
      std::string text(base::trimmed(*reply));
      if (text.empty()) return question.standard;
      const auto number = whole_number(text);
      const auto most = static_cast<int>(question.choices.size());
      if (number && *number >= 1 && *number <= most) {
        return question.choices[static_cast<std::size_t>(*number - 1)].name;
      }
      if (is_taken(question, text)) return text;
      before = run_.say(question.hint) + "\n";
    }
  }

  /// The choices, a line each, then the question with what Enter takes.
  [[nodiscard]] std::string put_as(const Question& question) const {
    std::string text;
    int number = 0;
    for (const ChoiceOf& one : question.choices) {
      text += "  " + std::to_string(++number) + "  " + one.name;
      text += (one.label.empty() ? "" : ": " + one.label) + "\n";
    }
    return text +
           run_.say({"new-ask",
                     {{"question", run_.say(base::Message(question.key))},
                      {"standard", question.standard}}}) +
           " ";
  }

  const Run& run_;
  bool asks_;
};

/// All that is asked for a starter job.
class Interview {
 public:
  explicit Interview(const Run& run) : run_(run), answers_(run.options().answers), ask_(run) {}

  Starter starter() {
    made_.construction = construction();
    state("construction", made_.construction.name);
    units();
    content();
    materials();
    made_.stated["batch.pouches"] =
        ask_.count({"--pouches", answers_.pouches, "new-ask-pouches", "1"}, 1, batch::kMostPouches);
    made_.stated["batch.helpers"] =
        ask_.count({"--helpers", answers_.helpers, "new-ask-helpers", "1"}, 1, batch::kMostPeople);
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

  // ---- The questions ----

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
    const std::string name =
        ask_.choice("--units", run_.options().units, "new-ask-units", "mm",
                    {{"mm", run_.say({"desk-choice-mm"})}, {"in", run_.say({"desk-choice-in"})}});
    units_ = base::value_of(base::kUnitWords, name).value_or(base::Unit::mm);
    state("units", name);
    show("ruler", in_words(base::default_style(units_).ruler));
  }

  /// Either liners, from which the sizes follow, or sizes.
  void content() {
    const auto& options = run_.options();
    const bool has_sizes = answers_.width || answers_.depth;
    const bool counts = options.liners || ask_.asks() || !has_sizes;
    const std::string liners =
        counts ? ask_.count({"--liners", options.liners, "new-ask-liners", kUsualLiners}, 0,
                            pouch::kMostLiners)
               : "0";
    has_count_ = liners != "0";
    (has_count_ ? made_.stated : made_.shown)["liners.count"] = has_count_ ? liners : kUsualLiners;
    liner();
    size("--width", answers_.width, "new-ask-width", pouch::size::kWidth);
    size("--depth", answers_.depth, "new-ask-depth", pouch::size::kDepth);
  }

  void liner() {
    const bool is_stated = has_count_ || answers_.liner;
    const std::string usual = usual_liner(units_);
    const std::string text = is_stated ? ask_.answer({"--liner",
                                                      answers_.liner,
                                                      "new-ask-liner",
                                                      usual,
                                                      {"new-hint-liner"},
                                                      [this](const std::string& of) {
                                                        return three_sides(of, units_).has_value();
                                                      }})
                                       : usual;
    const auto sides = *three_sides(text, units_);
    auto& into = is_stated ? made_.stated : made_.shown;
    into["liners.width"] = toml_text(in_words(sides.width));
    into["liners.length"] = toml_text(in_words(sides.length));
    into["liners.thickness"] = toml_text(in_words(sides.thickness));
  }

  void size(const char* option, const std::optional<std::string>& given, const char* key,
            const char* name) {
    if (!given && (!ask_.asks() || has_count_)) return;
    const auto& rules = made_.construction.sizes;
    const auto rule = std::find_if(rules.begin(), rules.end(),
                                   [&](const pouch::SizeRule& one) { return one.name == name; });
    if (rule == rules.end()) {
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
    bool frays = false;
    for (const pouch::Material& one : run_.data().materials()) {
      frays = frays || (one.name == outer && one.frays);
    }
    finish("pouch.start_finish", made_.construction.start_standard, frays);
    finish("pouch.end_finish", made_.construction.end_standard, frays);
  }

  /// A fraying outer needs its ends finished, unless the construction finishes them anyway.
  void finish(const char* path, pouch::FinishKind standard, bool outer_frays) {
    if (outer_frays && standard == pouch::FinishKind::none) {
      state(path, word_of(pouch::kFinishWords, pouch::FinishKind::overedge));
    } else {
      show(path, word_of(pouch::kFinishWords, standard));
    }
  }

  [[nodiscard]] std::string paper() const {
    const auto& known = run_.data().papers();
    const std::string names = base::list_text(known, ", ", &input::PaperSize::name);
    const std::string text =
        ask_.answer({"--paper",
                     run_.options().paper,
                     "new-ask-paper",
                     "A4",
                     {"usage-paper-hint", {{"names", names}}},
                     [&](const std::string& of) {
                       return input::paper_of(of, base::Unit::mm, known).has_value();
                     }});
    return paper_as_text(*input::paper_of(text, base::Unit::mm, known), known);
  }

  const Run& run_;
  const Answers& answers_;
  Asker ask_;
  bool has_count_ = false;  ///< of liners
  base::Unit units_ = base::Unit::mm;
  Starter made_;
};

/// Where the job goes; asked before anything else, so that nobody answers in vain.
std::string free_place(const Run& run) {
  const JobOptions& options = run.options();
  std::string out = options.out.empty() ? kUsualFile : options.out;
  std::error_code ignored;
  if (out == kStandardOutput || options.answers.overwrites) return out;
  if (fs::is_regular_file(out, ignored)) {
    throw base::Failure(out, {"new-is-there"}, {{"new-is-there-hint"}});
  }
  return out;
}

/// Reads the new job as `check` would, and writes it if nothing is wrong.
Outcome checked_and_written(const Run& run, const std::string& out, const std::string& text) {
  const bool is_shown = out == kStandardOutput;
  JobOptions options;
  options.command = Command::check;
  options.job_file = is_shown ? kUsualFile : out;
  options.job_text = text;
  options.form = run.options().form;
  options.talk = run.options().talk;
  options.writing = run.options().writing;
  Run inner(options, run.data());
  if (!inner.read_job()) return inner.job_wrong();
  if (!can_be_printed(inner, template_document(inner))) return inner.job_wrong();
  Made made{size_report(inner.pouch(), inner.words()), {}, Made::Told::files};
  made.report.field("job", text);
  made.report.blocks.clear();
  if (is_shown) made.report.write(text.substr(0, text.find_last_not_of('\n') + 1));
  if (!is_shown) made.files.add(out, text);
  return inner.done(std::move(made));
}

}  // namespace

Answer new_job(Run& run) {
  if (!run.options().sets.empty()) {
    throw UsageFault{{"new-no-set"}, {{"new-no-set-hint"}}};
  }
  const std::string out = free_place(run);
  const Starter starter = Interview(run).starter();
  return checked_and_written(run, out, starter_text(starter, run.words()));
}

}  // namespace pouchwright::job

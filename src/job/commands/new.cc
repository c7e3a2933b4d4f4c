#include "job/commands/new.h"

#include <algorithm>
#include <charconv>
#include <variant>
#include <vector>

#include "base/text.h"
#include "input/reader.h"
#include "job/commands/commands.h"
#include "job/documents.h"
#include "job/job_text/sides.h"
#include "job/job_text/starter.h"
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

/// Answers: options first, then whoever can be asked, then the usual.
class Interview {
 public:
  explicit Interview(Run& run) : run_(run), answers_(run.options().answers), asks_(!has_answers()) {
    if (asks_ && !run_.options().ask) throw UsageFault{{"new-nobody"}, {{"new-nobody-hint"}}};
  }

  Starter starter() {
    made_.construction = construction();
    made_.units = units();
    content();
    materials();
    made_.pouches =
        count({"--pouches", answers_.pouches, "new-ask-pouches", "1"}, 1, batch::kMostPouches);
    made_.helpers =
        count({"--helpers", answers_.helpers, "new-ask-helpers", "1"}, 1, batch::kMostPeople);
    made_.title = answer({"--title",
                          answers_.title,
                          "new-ask-title",
                          made_.construction.title,
                          {"new-hint-title"},
                          [](const std::string&) { return true; }});
    made_.paper = paper();
    made_.printed_square = printed_square();
    return std::move(made_);
  }

 private:
  struct Counted {
    const char* option;
    const std::optional<std::string>& given;
    const char* key;
    const char* standard;
  };

  /// Paper and units alone say nothing of a pouch.
  [[nodiscard]] bool has_answers() const {
    const auto& options = run_.options();
    return answers_.construction || answers_.title || answers_.liner || answers_.width ||
           answers_.depth || answers_.laminate || answers_.outer || answers_.pouches ||
           answers_.helpers || options.liners;
  }

  [[nodiscard]] std::string answer(const Question& question) const {
    if (question.given) {
      std::string text(base::trimmed(*question.given));
      if (is_taken(question, text)) return text;
      throw UsageFault{{"usage-option", {{"option", question.option}, {"text", text}}},
                       {question.hint}};
    }
    return asks_ ? asked(question) : question.standard;
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

  // ---- The questions ----

  [[nodiscard]] pouch::Construction construction() const {
    std::vector<ChoiceOf> choices;
    std::vector<pouch::Construction> known;
    for (const std::string& name : run_.data().constructions()) {
      base::Diagnostics faults;
      const auto made = input::read_construction(*run_.data().construction(name), name, faults);
      Data::refuse(faults);
      if (!made) continue;
      choices.push_back({name, made->title});
      known.push_back(*made);
    }
    const std::string name = choice("--construction", answers_.construction, "new-ask-construction",
                                    kUsualConstruction, choices);
    const auto at = std::find_if(known.begin(), known.end(),
                                 [&](const pouch::Construction& one) { return one.name == name; });
    if (at == known.end()) {
      throw UsageFault{{"construction-unknown", {{"text", name}}}, {{"new-nobody-hint"}}};
    }
    return *at;
  }

  [[nodiscard]] base::Unit units() const {
    const std::string name =
        choice("--units", run_.options().units, "new-ask-units", "mm",
               {{"mm", run_.say({"desk-choice-mm"})}, {"in", run_.say({"desk-choice-in"})}});
    return base::value_of(base::kUnitWords, name).value_or(base::Unit::mm);
  }

  /// Either liners, from which the sizes follow, or sizes.
  void content() {
    const auto& options = run_.options();
    const bool has_sizes = answers_.width || answers_.depth;
    const bool counts = options.liners || asks_ || !has_sizes;
    const std::string liners =
        counts ? count({"--liners", options.liners, "new-ask-liners", kUsualLiners}, 0,
                       pouch::kMostLiners)
               : "0";
    if (liners != "0") made_.count = liners;
    if (made_.count || answers_.liner) made_.liner = liner();
    size("--width", answers_.width, "new-ask-width", pouch::size::kWidth);
    size("--depth", answers_.depth, "new-ask-depth", pouch::size::kDepth);
  }

  [[nodiscard]] LinerTexts liner() const {
    const LinerTexts usual = usual_liner(made_.units);
    const std::string text = answer(
        {"--liner",
         answers_.liner,
         "new-ask-liner",
         usual.width + " x " + usual.length + " x " + usual.thickness,
         {"new-hint-liner"},
         [this](const std::string& of) { return three_sides(of, made_.units).has_value(); }});
    const auto sides = *three_sides(text, made_.units);
    return {in_words(sides.width), in_words(sides.length), in_words(sides.thickness)};
  }

  void size(const char* option, const std::optional<std::string>& given, const char* key,
            const char* name) {
    if (!given && (!asks_ || made_.count)) return;
    const auto& rules = made_.construction.sizes;
    const auto rule = std::find_if(rules.begin(), rules.end(),
                                   [&](const pouch::SizeRule& one) { return one.name == name; });
    if (rule == rules.end()) {
      if (!given) return;
      throw UsageFault{
          {"new-no-size", {{"option", option}, {"construction", made_.construction.name}}},
          {{"new-no-size-hint"}}};
    }
    const std::string standard = rule->standard ? in_words(*rule->standard) : "";
    const std::string text =
        answer({option, given, key, standard, {"new-hint-length"}, [this](const std::string& of) {
                  return length(of).has_value();
                }});
    if (const auto read = length(text)) made_.sizes[name] = in_words(*read);
  }

  [[nodiscard]] std::optional<base::Length> length(const std::string& text) const {
    const auto reading = base::read_length(text, made_.units);
    const auto* read = std::get_if<base::Length>(&reading);
    if (!read || *read <= base::Length()) return std::nullopt;
    return *read;
  }

  /// A length as the job says it: exactly what was read.
  [[nodiscard]] std::string in_words(base::Length length) const {
    return base::exact_text(length, made_.units);
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
    made_.laminate = choice("--laminate", answers_.laminate, "new-ask-laminate", input::kLaminate,
                            std::move(laminates));
    const std::string outer =
        choice("--outer", answers_.outer, "new-ask-outer", kNone, std::move(outers));
    for (const pouch::Material& one : run_.data().materials()) {
      if (one.kind != pouch::MaterialKind::outer) continue;
      if (one.name == outer) made_.outer_frays = one.frays;
      if (made_.outer_example.empty()) made_.outer_example = one.name;
    }
    if (outer != kNone) made_.outer = outer;
  }

  [[nodiscard]] std::string paper() const {
    const auto& known = run_.data().papers();
    const std::string names = base::list_text(known, ", ", &input::PaperSize::name);
    const std::string text =
        answer({"--paper",
                run_.options().paper,
                "new-ask-paper",
                "A4",
                {"usage-paper-hint", {{"names", names}}},
                [&](const std::string& of) {
                  return input::paper_of(of, base::Unit::mm, known).has_value();
                }});
    const auto found = *input::paper_of(text, base::Unit::mm, known);
    const bool is_known = std::any_of(known.begin(), known.end(),
                                      [&](const auto& one) { return one.name == found.name; });
    if (is_known) return found.name;
    return base::decimal_mm(found.width) + " x " + base::decimal_mm(found.height) + " mm";
  }

  [[nodiscard]] std::optional<std::string> printed_square() const {
    const auto& text = run_.options().printed_square;
    if (!text) return std::nullopt;
    const auto square = input::length_pair_of(*text, base::Unit::mm);
    if (!square) {
      throw UsageFault{{"usage-printed-square", {{"text", *text}}},
                       {{"usage-printed-square-hint"}}};
    }
    return base::decimal_mm(square->across) + " x " + base::decimal_mm(square->down) + " mm";
  }

  const Run& run_;
  const Answers& answers_;
  bool asks_;
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
  (void)template_pages(inner);
  if (inner.diagnostics().has_errors()) return inner.job_wrong();
  if (!is_shown) {
    OutputFiles files;
    files.add(out, text);
    inner.write(files);
  }
  Json report = size_report(inner.pouch(), details_of(inner.pouch(), inner.style()), inner.words());
  report["job"] = text;
  return inner.done(std::move(report), is_shown ? text : inner.written());
}

}  // namespace

Outcome new_job(Run& run) {
  if (!run.options().sets.empty()) {
    throw UsageFault{{"new-no-set"}, {{"new-no-set-hint"}}};
  }
  const std::string out = free_place(run);
  const Starter starter = Interview(run).starter();
  return checked_and_written(run, out, starter_text(starter, run.words()));
}

}  // namespace pouchwright::job

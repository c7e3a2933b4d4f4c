#include "job/commands/asker.h"

#include <algorithm>
#include <charconv>
#include <utility>

#include "base/text.h"

namespace pouchwright::job {
namespace {

constexpr std::size_t kLongestAnswer = 200;

std::optional<int> whole_number(const std::string& text) {
  int number = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return number;
}

/// Paper and units alone say nothing of a pouch.
bool has_answers(const JobOptions& options) {
  const Answers& answers = options.answers;
  return answers.from || answers.construction || answers.title || answers.liner || answers.width ||
         answers.depth || answers.panel || answers.fold_at || answers.card || answers.card_kind ||
         answers.laminate || answers.outer || answers.pouches || answers.helpers ||
         answers.machine || answers.knife || answers.plies || options.liners ||
         !options.have.empty();
}

bool is_taken(const Question& question, const std::string& text) {
  if (text.empty() || text.size() > kLongestAnswer) return false;
  if (question.choices.empty()) return question.takes(text);
  return std::any_of(question.choices.begin(), question.choices.end(),
                     [&](const ChoiceOf& one) { return one.name == text; });
}

}  // namespace

Asker::Asker(const Run& run) : run_(run), asks_(!has_answers(run.options())) {
  if (asks_ && !run_.options().ask) throw UsageFault{{"new-nobody"}, {{"new-nobody-hint"}}};
}

std::string Asker::answer(const Question& question) const {
  if (question.given) {
    std::string text(base::trimmed(*question.given));
    if (is_taken(question, text)) return text;
    throw UsageFault{{"usage-option", {{"option", question.option}, {"text", text}}},
                     {question.hint}};
  }
  return asks_ ? asked(question) : question.standard;
}

std::string Asker::choice(const char* option, const std::optional<std::string>& given,
                          base::Message put, const std::string& standard,
                          std::vector<ChoiceOf> choices) const {
  const std::string names = base::list_text(choices, ", ", &ChoiceOf::name);
  return answer({option,
                 given,
                 std::move(put),
                 standard,
                 {"new-hint-choice", {{"names", names}}},
                 {},
                 std::move(choices)});
}

std::string Asker::count(const Counted& of, int least, int most) const {
  return answer({of.option,
                 of.given,
                 base::Message(of.key),
                 of.standard,
                 {"new-hint-count", {{"least", least}, {"most", most}}},
                 [=](const std::string& text) {
                   const auto number = whole_number(text);
                   return number && *number >= least && *number <= most;
                 }});
}

bool Asker::is_sure(base::Message put) const {
  static const std::optional<std::string> kNobody;
  return choice("", kNobody, std::move(put), "no", {{"no", ""}, {"yes", ""}}) == "yes";
}

std::string Asker::asked(const Question& question) const {
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
std::string Asker::put_as(const Question& question) const {
  std::string text;
  int number = 0;
  for (const ChoiceOf& one : question.choices) {
    text += "  " + std::to_string(++number) + "  " + one.name;
    text += (one.label.empty() ? "" : ": " + one.label) + "\n";
  }
  return text +
         run_.say(
             {"new-ask", {{"question", run_.say(question.put)}, {"standard", question.standard}}}) +
         " ";
}

}  // namespace pouchwright::job

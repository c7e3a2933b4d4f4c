#include "tell/work.h"

#include <algorithm>
#include <map>
#include <string_view>

#include "base/number.h"
#include "base/text.h"

namespace pouchwright::tell {
namespace {

/// Not what the work table has following it.
bool is_the_operation(const batch::StepOperation& operation, const pouch::Pouch& pouch) {
  const std::string pass = operation.pass == 1 ? "" : "-pass-" + std::to_string(operation.pass);
  return operation.id == pouch.operation(*operation.about).id + pass;
}

/// The construction's own operation, a cut through a cloth, or what follows another operation; that
/// is told by the other's name, unless it is the only one of its kind.
std::string name_of(const batch::StepOperation& operation, bool only_one, const pouch::Pouch& pouch,
                    const OperationWords& said, const base::Voice& words) {
  if (!operation.about) {
    const std::string key = "work-cut-" + operation.cloth;
    return words.has(key) ? words.say(key) : words.say({"work-cut", {{"cloth", operation.cloth}}});
  }
  const auto named = [&] {
    std::string name = said.name(*operation.about);
    if (operation.pass == 1) return name;
    return words.say({"work-pass", {{"operation", name}, {"number", operation.pass}}});
  };
  if (is_the_operation(operation, pouch)) return named();
  const std::string key = "work-" + base::slug(operation.kind);
  std::string kind = words.has(key) ? words.say(key) : operation.kind;
  if (only_one) return kind;
  return words.say({"work-after", {{"kind", kind}, {"operation", named()}}});
}

/// `step 3`, `steps 4-7`; sorted, and steps that do not follow each other one by one.
std::string steps_of(const std::vector<StepName>& names, const base::Voice& words) {
  std::vector<std::size_t> numbers;
  for (const StepName& one : names) {
    if (one.step) numbers.push_back(*one.step);
  }
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
  if (numbers.empty()) return "";
  std::string text;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    std::size_t last = i;
    while (last + 1 < numbers.size() && numbers[last + 1] == numbers[last] + 1) ++last;
    text += (text.empty() ? "" : ", ") + std::to_string(numbers[i]);
    if (last > i) text += "-" + std::to_string(numbers[last]);
    i = last;
  }
  return words.say({numbers.size() == 1 ? "work-step" : "work-steps", {{"numbers", text}}});
}

}  // namespace

std::vector<WorkName> work_names(const std::vector<batch::Step>& steps, const pouch::Pouch& pouch,
                                 const base::Voice& words) {
  const OperationWords said(pouch, words);
  std::map<std::string, int> count;
  for (const batch::Step& step : steps) {
    for (const batch::StepOperation& operation : step.operations) ++count[operation.kind];
  }
  std::vector<WorkName> all;
  for (const batch::Step& step : steps) {
    // What the work table adds is shown with the operation that it follows.
    std::vector<StepName> names;
    WorkName work;
    for (const batch::StepOperation& operation : step.operations) {
      names.push_back({name_of(operation, count[operation.kind] == 1, pouch, said, words),
                       operation.about ? said.step(*operation.about) : std::nullopt});
    }
    names = each_once(std::move(names));
    work.name = base::list_text(names, ", ", &StepName::name);
    work.with_steps = with_steps(names, words);
    work.steps = steps_of(names, words);
    all.push_back(std::move(work));
  }
  return all;
}

// Sheets are called by the first letters of the alphabet, which they never use up on common paper.
std::string step_letter(std::size_t step) {
  constexpr std::string_view kLetters = "KLMNPQRSTUVWXYZ";
  const std::size_t round = step / kLetters.size() + 1;
  const std::string letter(1, kLetters[step % kLetters.size()]);
  return round == 1 ? letter : std::to_string(round) + letter;
}

std::string clock_time(base::Time time, const base::Voice& words) {
  constexpr std::int64_t kMinute = 60'000;
  constexpr std::int64_t kHour = 60;
  const std::int64_t minutes = time.in_ms() / kMinute;
  const std::string rest = std::to_string(minutes % kHour);
  return words.say(
      {"schedule-clock",
       {{"hours", minutes / kHour}, {"minutes", rest.size() < 2 ? "0" + rest : rest}}});
}

std::string step_text(const batch::Step& step, const StepCalled& called, const base::Voice& words) {
  base::Message::Values values = {{"letter", called.letter},
                                  {"name", called.name},
                                  {"station", called.station},
                                  {"minutes", base::shortened(step.takes(1).in_minutes(), 2)}};
  if (step.waits == base::Time()) return words.say({"schedule-step", values});
  values.emplace_back("waits", base::shortest(step.waits.in_minutes(), 1));
  return words.say({"schedule-step-waits", values});
}

}  // namespace pouchwright::tell

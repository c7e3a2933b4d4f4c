#include "drawing/work_words.h"

#include <algorithm>
#include <map>

namespace pouchwright::drawing {
namespace {

std::string with_hyphens(std::string name) {
  std::replace(name.begin(), name.end(), ' ', '-');
  return name;
}

/// Not what the work table has following it.
bool is_the_operation(const batch::StepOperation& operation) {
  const std::string pass = operation.pass == 1 ? "" : "-pass-" + std::to_string(operation.pass);
  return operation.id == operation.about + pass;
}

/// The construction's own operation, a cut through a cloth, or what follows another operation; that
/// is told by the other's name, unless it is the only one of its kind.
std::string name_of(const batch::StepOperation& operation, bool only_one,
                    const OperationWords& said, const diag::Words& words) {
  const auto named = [&] {
    std::string name = said.name(operation.about);
    if (operation.pass == 1) return name;
    return words.say(
        {"work-pass", {{"operation", name}, {"number", std::to_string(operation.pass)}}});
  };
  if (is_the_operation(operation)) return named();
  if (operation.kind == batch::kCutting) {
    const std::string key = "work-cut-" + operation.about;
    return words.has(key) ? words.say(key) : words.say({"work-cut", {{"cloth", operation.about}}});
  }
  const std::string key = "work-" + with_hyphens(operation.kind);
  std::string kind = words.has(key) ? words.say(key) : operation.kind;
  if (only_one) return kind;
  return words.say({"work-after", {{"kind", kind}, {"operation", named()}}});
}

/// `step 3`, `steps 4-7`; sorted, and steps that do not follow each other one by one.
std::string steps_of(const std::vector<StepName>& names, const diag::Words& words) {
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
                                 const diag::Words& words) {
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
      names.push_back({name_of(operation, count[operation.kind] == 1, said, words),
                       said.step(operation.about)});
      work.name += (work.name.empty() ? "" : ", ") + names.back().name;
    }
    work.with_steps = with_steps(names, words);
    work.steps = steps_of(names, words);
    all.push_back(std::move(work));
  }
  return all;
}

}  // namespace pouchwright::drawing

#include "tell/operations.h"

#include <algorithm>

#include "pouch/questions.h"
#include "tell/names.h"
#include "tell/step_list.h"

namespace pouchwright::tell {
namespace {

namespace does = pouch::does;

class Namer {
 public:
  Namer(const pouch::Pouch& pouch, pouch::Action action, const base::Voice& words)
      : pouch_(pouch), action_(action), words_(words) {}

  [[nodiscard]] base::Message operator()(const does::Attach& work) const {
    const auto& name = pouch_.construction().attachments[work.attachment].name;
    return {"operation-attach", {{"name", part_name(name, words_)}}};
  }
  [[nodiscard]] base::Message operator()(const does::LayPanel& work) const {
    const auto& name = pouch_.construction().panels[work.panel].name;
    return {"operation-lay-panel", {{"panel", part_name(name, words_)}}};
  }
  [[nodiscard]] base::Message operator()(const does::Finish& work) const {
    const char* key = "operation-finish";
    const pouch::FinishKind kind = finish_of(pouch_.request, work.end).kind;
    if (kind == pouch::FinishKind::overedge) key = "operation-overedge";
    if (kind == pouch::FinishKind::zigzag) key = "operation-zigzag";
    if (kind == pouch::FinishKind::turned) key = "operation-turned";
    return {key, {{"span", end_name(pouch_, work, words_)}}};
  }
  [[nodiscard]] base::Message operator()(const does::LayCard& work) const {
    return about_card("operation-lay-card", "operation-lay-card-of", work.compartment);
  }
  [[nodiscard]] base::Message operator()(const does::Fold& work) const {
    const bool over = work.landing == pouch::Landing::on_top;
    return {over ? "operation-fold-over" : "operation-fold-under",
            {{"turn", span_name(pouch_.construction().span(work.turn).name, words_)}}};
  }
  [[nodiscard]] base::Message operator()(const does::Press& work) const {
    return {"operation-press", {{"edges", edges(work.edges)}}};
  }
  [[nodiscard]] base::Message operator()(const does::TakeCard& work) const {
    return about_card("operation-take-card", "operation-take-card-of", work.compartment);
  }
  [[nodiscard]] base::Message operator()(const does::Hem& work) const {
    return {"operation-hem",
            {{"span", span_name(pouch_.construction().span(work.span).name, words_)}}};
  }
  [[nodiscard]] base::Message operator()(const does::Sew& work) const {
    return {"operation-sew", {{"edges", edges(work.edges)}}};
  }
  /// Of what has no fields there is no more to say than its name.
  template <class Does>
  [[nodiscard]] base::Message operator()(const Does&) const {
    return key_of("operation-", pouch::kActionWords, action_);
  }

 private:
  /// Which card matters where there are several pockets.
  [[nodiscard]] base::Message about_card(const char* key, const char* key_of_pocket,
                                         std::size_t compartment) const {
    const auto& compartments = pouch_.construction().compartments;
    if (compartments.size() < 2) return key;
    return {key_of_pocket, {{"compartment", pocket_name(pouch_, compartment, words_)}}};
  }

  /// `the sides and the bottom`.
  [[nodiscard]] std::string edges(const std::vector<pouch::Edge>& all) const {
    std::string text;
    for (const base::Value& edge : edge_names(all)) {
      text = text.empty() ? words_.text(edge)
                          : words_.say({"operation-edges", {{"edges", text}, {"edge", edge}}});
    }
    return text;
  }

  const pouch::Pouch& pouch_;
  pouch::Action action_;
  base::Voice words_;
};

}  // namespace

std::string OperationWords::name(std::size_t operation) const {
  const std::vector<std::size_t> rolls = pouch::rolls_of(*pouch_);
  if (std::find(rolls.begin(), rolls.end(), operation) != rolls.end()) {
    return words_.say({"operation-roll"});
  }
  const pouch::Operation& done = pouch_->operation(operation);
  return words_.say(std::visit(Namer(*pouch_, done.action(), words_), done.work));
}

std::optional<std::size_t> OperationWords::step(std::size_t operation) const {
  const auto found = numbers_.find(operation);
  if (found == numbers_.end()) return std::nullopt;
  return found->second;
}

std::string OperationWords::listed(const std::vector<std::size_t>& operations) const {
  std::vector<StepName> names;
  for (const std::size_t one : operations) names.push_back({name(one), step(one)});
  return with_steps(each_once(std::move(names)), words_);
}

std::vector<StepName> each_once(std::vector<StepName> names) {
  const auto is_same = [](const StepName& a, const StepName& b) {
    return a.name == b.name && a.step == b.step;
  };
  names.erase(std::unique(names.begin(), names.end(), is_same), names.end());
  return names;
}

std::string with_steps(const std::vector<StepName>& names, const base::Voice& words) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const bool is_shared = i + 1 < names.size() && names[i + 1].step == names[i].step;
    text += (text.empty() ? "" : ", ") + names[i].name;
    if (names[i].step && !is_shared) {
      text += " " + words.say({"operation-step", {{"number", *names[i].step}}});
    }
  }
  return text;
}

}  // namespace pouchwright::tell

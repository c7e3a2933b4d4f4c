#include "tell/operations.h"

#include <algorithm>

#include "pouch/questions.h"
#include "tell/names.h"
#include "tell/step_list.h"

namespace pouchwright::tell {
namespace {

using pouch::Action;
using pouch::Edge;
using pouch::Operation;

class Namer {
 public:
  Namer(const pouch::Pouch& pouch, const base::Voice& words) : pouch_(pouch), words_(words) {}

  [[nodiscard]] base::Message named(const Operation& operation) const {
    switch (operation.action) {
      case Action::attach:
        return {"operation-attach", {{"name", part_name(operation.attachment, words_)}}};
      case Action::lay_panel:
        return {"operation-lay-panel", {{"panel", part_name(operation.panel, words_)}}};
      case Action::hem:
        return {"operation-hem", {{"span", span_name(operation.span, words_)}}};
      case Action::pair:
        return "operation-pair";
      case Action::finish:
        return finished(operation);
      case Action::lay_card:
        return about_card("operation-lay-card", "operation-lay-card-of", operation);
      case Action::fold:
        return {operation.landing == pouch::Landing::on_top ? "operation-fold-over"
                                                            : "operation-fold-under",
                {{"turn", span_name(operation.turn, words_)}}};
      case Action::press:
        return {"operation-press", {{"edges", edges_of(operation)}}};
      case Action::take_card:
        return about_card("operation-take-card", "operation-take-card-of", operation);
      case Action::look_inside:
        return "operation-look";
      case Action::sew:
        return {"operation-sew", {{"edges", edges_of(operation)}}};
      case Action::secure_tails:
        return "operation-tails";
      case Action::test:
        return "operation-test";
    }
    return {};
  }

 private:
  [[nodiscard]] base::Message finished(const Operation& operation) const {
    const char* key = "operation-finish";
    const pouch::FinishKind kind = finish_of(pouch_.request, operation).kind;
    if (kind == pouch::FinishKind::overedge) key = "operation-overedge";
    if (kind == pouch::FinishKind::turned) key = "operation-turned";
    return {key, {{"span", end_name(pouch_, operation, words_)}}};
  }

  /// Which card matters where there are several pockets.
  [[nodiscard]] base::Message about_card(const char* key, const char* key_of_pocket,
                                         const Operation& operation) const {
    const auto& compartments = pouch_.construction().compartments;
    if (compartments.size() < 2) return key;
    const std::string& name =
        compartments[pouch::compartment_of(pouch_.construction(), operation)].name;
    return {key_of_pocket, {{"compartment", name}}};
  }

  /// Left and right together are the sides.
  [[nodiscard]] std::string edges_of(const Operation& operation) const {
    const auto has = [&](Edge edge) {
      return std::any_of(operation.edges.begin(), operation.edges.end(),
                         [edge](const auto& one) { return one.value == edge; });
    };
    const bool both = has(Edge::left) && has(Edge::right);
    std::vector<const char*> keys;
    if (both) keys.push_back("construction-edge-sides");
    if (!both && has(Edge::left)) keys.push_back("construction-edge-left");
    if (!both && has(Edge::right)) keys.push_back("construction-edge-right");
    if (has(Edge::bottom)) keys.push_back("construction-edge-bottom");
    if (has(Edge::start)) keys.push_back("construction-edge-start");
    if (has(Edge::end)) keys.push_back("construction-edge-end");
    std::string text;
    for (const char* key : keys) {
      text = text.empty()
                 ? words_.say(key)
                 : words_.say({"operation-edges", {{"edges", text}, {"edge", words_.say(key)}}});
    }
    return text;
  }

  const pouch::Pouch& pouch_;
  base::Voice words_;
};

}  // namespace

std::string OperationWords::name(std::string_view id) const {
  for (const Operation& operation : pouch_->construction().operations) {
    if (operation.id == id) return words_.say(Namer(*pouch_, words_).named(operation));
  }
  return std::string(id);
}

std::optional<std::size_t> OperationWords::step(std::string_view id) const {
  const auto found = numbers_.find(id);
  if (found == numbers_.end()) return std::nullopt;
  return found->second;
}

std::string OperationWords::listed(const std::vector<std::string>& ids) const {
  std::vector<StepName> names;
  names.reserve(ids.size());
  for (const std::string& id : ids) names.push_back({name(id), step(id)});
  return with_steps(names, words_);
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

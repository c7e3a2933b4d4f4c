#include "pouch/construction.h"

#include <algorithm>
#include <set>

namespace pouchwright::pouch {

const SizeRule* Construction::size_rule(std::string_view size_name) const {
  const auto found = std::find_if(sizes.begin(), sizes.end(),
                                  [&](const SizeRule& rule) { return rule.name == size_name; });
  return found == sizes.end() ? nullptr : &*found;
}

const char* name_of(Action action) {
  switch (action) {
    case Action::pair:
      return "pair";
    case Action::finish:
      return "finish";
    case Action::lay_card:
      return "lay card";
    case Action::fold:
      return "fold";
    case Action::press:
      return "press";
    case Action::take_card:
      return "take card";
    case Action::look_inside:
      return "look inside";
    case Action::sew:
      return "sew";
    case Action::secure_tails:
      return "secure tails";
    case Action::test:
      return "test";
  }
  return "";
}

namespace {

class Checker {
 public:
  Checker(const Construction& construction, diag::Diagnostics& diagnostics)
      : construction_(construction), diagnostics_(diagnostics) {}

  bool check() {
    panels();
    named_spans();
    for (const Compartment& compartment : construction_.compartments) film_of(compartment);
    if (construction_.compartments.empty()) error(construction_.place, {"no-compartment"}, {});
    operations();
    return !found_;
  }

 private:
  void error(const Place& place, diag::Message message, std::vector<diag::Message> hints) {
    found_ = true;
    diagnostics_.error(place, std::move(message), std::move(hints));
  }

  void panels() {
    std::size_t spans = 0;
    for (const PanelRule& panel : construction_.panels) {
      spans += panel.spans.size();
      for (const SpanRule& span : panel.spans) {
        if (!names_.insert(span.name).second) {
          error(span.place, {"span-twice", {{"span", span.name}}}, {{"span-twice-hint"}});
        }
        for (const LinearForm::Term& term : span.length.terms) known_size(term);
      }
    }
    too_many(construction_.panels.size(), kMostPanels, "too-many-panels");
    too_many(spans, kMostSpans, "too-many-spans");
  }

  void too_many(std::size_t count, std::size_t most, const char* key) {
    if (count <= most) return;
    error(construction_.place,
          {key, {{"count", std::to_string(count)}, {"most", std::to_string(most)}}}, {});
  }

  void known_size(const LinearForm::Term& term) {
    if (construction_.size_rule(term.size)) return;
    std::vector<std::string> known;
    for (const SizeRule& rule : construction_.sizes) known.push_back(rule.name);
    error(term.place, {"size-unknown", {{"size", term.size}}}, nearest_hint(term.size, known));
  }

  static std::vector<diag::Message> nearest_hint(const std::string& word,
                                                 const std::vector<std::string>& known) {
    const std::string near = diag::nearest(word, known);
    if (near.empty()) return {{"known-names-hint", {{"names", listed(known)}}}};
    return {{"did-you-mean", {{"word", near}}}};
  }

  static std::string listed(const std::vector<std::string>& names) {
    std::string text;
    for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
    return text;
  }

  bool known_span(const std::string& name, const Place& place) {
    if (names_.contains(name)) return true;
    error(place, {"span-unknown", {{"span", name}}},
          nearest_hint(name, {names_.begin(), names_.end()}));
    return false;
  }

  /// Two spans that follow each other on one panel, in either order.
  bool touch(const std::string& a, const std::string& b) const {
    for (const PanelRule& panel : construction_.panels) {
      for (std::size_t i = 0; i + 1 < panel.spans.size(); ++i) {
        const std::string& first = panel.spans[i].name;
        const std::string& second = panel.spans[i + 1].name;
        if ((first == a && second == b) || (first == b && second == a)) return true;
      }
    }
    return false;
  }

  bool spans_meet(const std::string& a, const std::string& b, const Place& place) {
    if (!known_span(a, place) || !known_span(b, place)) return false;
    if (touch(a, b)) return true;
    error(place, {"spans-do-not-touch", {{"a", a}, {"b", b}}}, {{"spans-do-not-touch-hint"}});
    return false;
  }

  void named_spans() {
    (void)spans_meet(construction_.bottom_a, construction_.bottom_b, construction_.bottom_place);
    (void)known_span(construction_.spare, construction_.spare_place);
    (void)known_span(construction_.depth_span, construction_.place);
    if (!construction_.flap_span.empty()) {
      (void)known_span(construction_.flap_span, construction_.place);
    }
  }

  void film_of(const Compartment& compartment) {
    if (compartment.film.size() < 2) {
      error(compartment.place, {"compartment-too-small", {{"compartment", compartment.name}}}, {});
    }
    for (std::size_t i = 0; i < compartment.film.size(); ++i) {
      const auto& span = compartment.film[i];
      if (!known_span(span.value, span.place)) continue;
      if (i > 0 && names_.contains(compartment.film[i - 1].value)) {
        (void)spans_meet(compartment.film[i - 1].value, span.value, span.place);
      }
    }
  }

  void operations() {
    std::vector<std::string> ids;
    for (const Operation& operation : construction_.operations) {
      if (std::find(ids.begin(), ids.end(), operation.id) != ids.end()) {
        error(operation.place, {"operation-twice", {{"operation", operation.id}}}, {});
      }
      ids.push_back(operation.id);
    }
    std::set<std::string> in_circle = circles();
    std::set<std::string> done;
    std::set<std::pair<std::string, std::string>> folded;
    for (const Operation& operation : construction_.operations) {
      for (const auto& need : operation.needs) {
        need_is_met(operation, need, ids, done, in_circle);
      }
      done.insert(operation.id);
      if (operation.action == Action::fold) fold(operation, folded);
    }
  }

  void need_is_met(const Operation& operation, const Placed<std::string>& need,
                   const std::vector<std::string>& ids, const std::set<std::string>& done,
                   const std::set<std::string>& in_circle) {
    if (std::find(ids.begin(), ids.end(), need.value) == ids.end()) {
      error(need.place, {"operation-unknown", {{"operation", need.value}}},
            nearest_hint(need.value, ids));
    } else if (!done.contains(need.value) && !in_circle.contains(operation.id)) {
      error(operation.place,
            {"operation-out-of-order", {{"operation", operation.id}, {"need", need.value}}},
            {{"operation-out-of-order-hint", {{"operation", operation.id}, {"need", need.value}}}});
    }
  }

  /// Reports each circle of needs once, at its first operation, and returns all that are in one.
  /// Of circles that share an operation only the first is told: most often it breaks the others.
  std::set<std::string> circles() {
    std::set<std::string> members;
    for (const Operation& operation : construction_.operations) {
      if (members.contains(operation.id)) continue;
      std::vector<std::string> way{operation.id};
      std::set<std::string> seen;
      if (!leads_back(operation.id, operation.id, way, seen)) continue;
      const bool told = std::any_of(way.begin(), way.end(),
                                    [&](const std::string& id) { return members.contains(id); });
      members.insert(way.begin(), way.end());
      if (told) continue;
      std::string chain;
      for (const std::string& id : way) chain += id + ", ";
      error(operation.place, {"operations-in-a-circle", {{"chain", chain + way.front()}}},
            {{"operations-in-a-circle-hint"}});
    }
    return members;
  }

  bool leads_back(const std::string& from, const std::string& goal, std::vector<std::string>& way,
                  std::set<std::string>& seen) const {
    const auto operation =
        std::find_if(construction_.operations.begin(), construction_.operations.end(),
                     [&](const Operation& candidate) { return candidate.id == from; });
    if (operation == construction_.operations.end()) return false;
    for (const auto& need : operation->needs) {
      if (need.value == goal) return true;
      if (!seen.insert(need.value).second) continue;
      way.push_back(need.value);
      if (leads_back(need.value, goal, way, seen)) return true;
      way.pop_back();
    }
    return false;
  }

  void fold(const Operation& operation, std::set<std::pair<std::string, std::string>>& folded) {
    if (!spans_meet(operation.between_a, operation.between_b, operation.between_place)) return;
    if (operation.turn != operation.between_a && operation.turn != operation.between_b) {
      error(operation.turn_place,
            {"turns-another",
             {{"turn", operation.turn}, {"a", operation.between_a}, {"b", operation.between_b}}},
            {{"turns-another-hint"}});
    }
    if (!folded.insert(std::minmax(operation.between_a, operation.between_b)).second) {
      error(operation.place,
            {"folded-twice", {{"a", operation.between_a}, {"b", operation.between_b}}}, {});
    }
  }

  const Construction& construction_;
  diag::Diagnostics& diagnostics_;
  std::set<std::string> names_;
  bool found_ = false;
};

}  // namespace

bool check(const Construction& construction, diag::Diagnostics& diagnostics) {
  return Checker(construction, diagnostics).check();
}

}  // namespace pouchwright::pouch

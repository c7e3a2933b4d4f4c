#include "input/construction_names.h"

#include <algorithm>

namespace pouchwright::input {

namespace {

/// The names of panels, pieces, attachments or compartments.
template <class Rule>
std::vector<std::string> names_of(const std::vector<Rule>& rules) {
  std::vector<std::string> names;
  for (const Rule& rule : rules) names.push_back(rule.name);
  return names;
}

}  // namespace

base::Message hint_for(const std::string& word, const std::vector<std::string>& known) {
  return known.empty() ? base::Message("no-names-hint") : nearest_hint(word, known);
}

std::optional<TwoNames> two_spans(TableReader& reader, std::string_view key) {
  const Node* node = reader.require(key);
  if (!node) return std::nullopt;
  const auto names = reader.texts(key);
  if (names.size() == 2) return TwoNames{names[0].value, names[1].value, node->place};
  reader.context().diagnostics.error(node->place, {"two-spans", {{"key", reader.path(key)}}},
                                     {{"two-spans-hint"}});
  return std::nullopt;
}

void Names::add_span(const Name& name, SpanRef ref) {
  if (spans_.emplace(name.value, ref).second) return;
  faults.error(name.place, {"span-twice", {{"span", name.value}}}, {{"span-twice-hint"}});
}

void Names::twice(const char* what, const Name& name) {
  faults.error(name.place, {"name-twice", {{"what", what}, {"name", name.value}}},
               {{"name-twice-hint"}});
}

std::optional<SpanRef> Names::span(const Name& name) {
  const auto found = spans_.find(name.value);
  if (found != spans_.end()) return found->second;
  std::vector<std::string> known;
  for (const auto& [one, ref] : spans_) known.push_back(one);
  faults.error(name.place, {"span-unknown", {{"span", name.value}}}, {hint_for(name.value, known)});
  return std::nullopt;
}

std::optional<std::size_t> Names::among(const std::vector<std::string>& known, const Name& name,
                                        const char* key, const char* what) {
  const auto found = std::find(known.begin(), known.end(), name.value);
  if (found != known.end()) return static_cast<std::size_t>(found - known.begin());
  faults.error(name.place, {key, {{what, name.value}}}, {hint_for(name.value, known)});
  return std::nullopt;
}

std::optional<std::size_t> Names::panel(const Name& name) {
  return among(names_of(made_.panels), name, "panel-unknown", "panel");
}

std::optional<std::size_t> Names::piece(const Name& name) {
  return among(names_of(made_.pieces), name, "piece-unknown", "piece");
}

std::optional<std::size_t> Names::attachment(const Name& name) {
  return among(names_of(made_.attachments), name, "attachment-unknown", "attachment");
}

std::optional<std::size_t> Names::compartment(const Name& name) {
  return among(names_of(made_.compartments), name, "compartment-unknown", "compartment");
}

std::optional<std::size_t> Names::closure(const Name& name) {
  return among(made_.closures, name, "closure-unknown", "closure");
}

void Names::size(const Name& name) {
  (void)among(names_of(made_.sizes), name, "size-unknown", "size");
}

std::optional<std::pair<SpanRef, SpanRef>> Names::touching(const TwoNames& names) {
  const auto a = span({names.a, names.place});
  const auto b = a ? span({names.b, names.place}) : std::nullopt;
  if (!b) return std::nullopt;
  const SpanRef before = std::min(*a, *b);
  if (std::max(*a, *b) == SpanRef{before.panel, before.span + 1}) return std::pair(*a, *b);
  faults.error(names.place, {"spans-do-not-touch", {{"a", names.a}, {"b", names.b}}},
               {{"spans-do-not-touch-hint"}});
  return std::nullopt;
}

bool Names::is_at_an_end(SpanRef ref) const {
  return ref.span == 0 || ref.span + 1 == made_.panels[ref.panel].spans.size();
}

}  // namespace pouchwright::input

#include "pouch/judge/fold_marks.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace pouchwright::pouch {
namespace {

using base::exact;
using Term = LinearForm::Term;

/// A span of the panel as the folds make it.
struct MadeSpan {
  const SpanRule* rule = nullptr;
  Length length;
};

const std::vector<SpanRule>& rules_of(const Request& request) {
  return request.construction.panels.front().spans;
}

Length first_line(const Request& request) { return finish_of(request, 0, Edge::start).takes; }

Length last_line(const Request& request) {
  return request.panel->length.value - finish_of(request, 0, Edge::end).takes;
}

/// Which lines there are: "front and back", "back and flap".
base::Value::List lines_of(const Request& request) {
  const auto& rules = rules_of(request);
  base::Value::List lines;
  for (std::size_t i = 0; i + 1 < rules.size(); ++i) {
    lines.push_back(
        base::Message{"folds-line", {{"before", rules[i].name}, {"after", rules[i + 1].name}}});
  }
  return lines;
}

bool is_one_for_each_line(const Request& request, base::Diagnostics& diagnostics) {
  const CutPanel::Folds& folds = *request.panel->folds;
  const std::size_t lines = rules_of(request).size() - 1;
  if (folds.at.size() == lines) return true;
  const base::Message hint =
      lines == 0 ? base::Message("folds-of-unfolded-hint")
                 : base::Message("folds-of-another-number-hint", {{"lines", lines_of(request)}});
  diagnostics.error(
      folds.place,
      {"folds-of-another-number",
       {{"count", folds.at.size()}, {"construction", request.construction.name}, {"most", lines}}},
      {hint});
  return false;
}

/// In order, and inside what the finishes leave of the panel.
bool are_in_order(const Request& request, base::Diagnostics& diagnostics) {
  Length before = first_line(request);
  const Length end = last_line(request);
  for (const Placed<Length>& at : request.panel->folds->at) {
    if (at.value <= before) {
      diagnostics.error(at.place,
                        {"fold-not-beyond", {{"at", exact(at.value)}, {"before", exact(before)}}},
                        {{"fold-not-beyond-hint"}});
      return false;
    }
    if (at.value >= end) {
      diagnostics.error(at.place, {"fold-outside", {{"at", exact(at.value)}, {"end", exact(end)}}},
                        {{"fold-outside-hint"}});
      return false;
    }
    before = at.value;
  }
  return true;
}

/// Requires: the folds are in order, one for each line.
std::vector<MadeSpan> folded_spans(const Request& request) {
  std::vector<MadeSpan> spans;
  Length from = first_line(request);
  for (const SpanRule& rule : rules_of(request)) {
    const auto& at = request.panel->folds->at;
    const Length to = spans.size() < at.size() ? at[spans.size()].value : last_line(request);
    spans.push_back({&rule, to - from});
    from = to;
  }
  return spans;
}

/// Sizes in the spans' sums that the job does not state, in order.
std::vector<std::string> open_sizes(const Request& request) {
  std::vector<std::string> names;
  for (const SpanRule& rule : rules_of(request)) {
    for (const Term& term : rule.length.terms) {
      const auto known = request.sizes.find(term.size);
      const bool is_stated = known != request.sizes.end() && known->second.stated;
      const bool is_listed = std::find(names.begin(), names.end(), term.size) != names.end();
      if (!is_stated && !is_listed) names.push_back(term.size);
    }
  }
  return names;
}

/// The one size that a span's sum still leaves open, if it is one alone.
const Term* open_term(const MadeSpan& span, const std::vector<std::string>& open) {
  const Term* only = nullptr;
  for (const Term& term : span.rule->length.terms) {
    if (std::find(open.begin(), open.end(), term.size) == open.end()) continue;
    if (only != nullptr) return nullptr;
    only = &term;
  }
  return only;
}

/// What the size must be for the span to have its length, the others being `values`.
Length solved(const MadeSpan& span, const Term& term, Values values) {
  values[term.size] = Length();
  const std::int64_t rest = (span.length - value_of(span.rule->length, values)).in_nm();
  return Length::nm(rest * term.denominator / term.numerator);
}

/// Solves spans that leave one size open until none does. Is any size still open?
bool solves_some(const std::vector<MadeSpan>& spans, std::vector<std::string>& open,
                 Values& values) {
  for (bool found = true; found;) {
    found = false;
    for (const MadeSpan& span : spans) {
      const Term* term = open_term(span, open);
      if (term == nullptr) continue;
      values[term->size] = solved(span, *term, values);
      std::erase(open, term->size);
      found = true;
    }
  }
  return !open.empty();
}

/// Does every span have the length that the sizes give it? Unlike halves of a gusset do not.
bool agree(const Request& request, const std::vector<MadeSpan>& spans, const Values& values,
           base::Diagnostics& diagnostics) {
  for (const MadeSpan& span : spans) {
    const Length needed = value_of(span.rule->length, values);
    if (needed == span.length) continue;
    diagnostics.error(
        request.panel->folds->place,
        {"folds-disagree",
         {{"span", span.rule->name}, {"length", exact(span.length)}, {"needed", exact(needed)}}},
        {{"folds-disagree-hint"}});
    return false;
  }
  return true;
}

/// A lip drop below nothing: the lip would stand above the flap fold.
bool lip_is_below(const Request& request, const std::vector<MadeSpan>& spans, const Values& values,
                  base::Diagnostics& diagnostics) {
  const auto drop = values.find(size::kLipDrop);
  if (drop == values.end() || drop->second >= Length()) return true;
  const std::size_t back = request.construction.depth_span.span;
  for (const MadeSpan& span : spans) {
    if (span.length <= spans[back].length) continue;
    diagnostics.error(request.panel->folds->place,
                      {"front-longer-than-back",
                       {{"front", span.rule->name},
                        {"length", exact(span.length)},
                        {"back", spans[back].rule->name},
                        {"most", exact(spans[back].length)}}},
                      {{"front-longer-than-back-hint"}});
    return false;
  }
  return true;
}

}  // namespace

std::optional<Values> values_from_folds(const Request& request, Values values,
                                        base::Diagnostics& diagnostics) {
  if (!is_one_for_each_line(request, diagnostics)) return std::nullopt;
  if (!are_in_order(request, diagnostics)) return std::nullopt;
  const std::vector<MadeSpan> spans = folded_spans(request);
  std::vector<std::string> open = open_sizes(request);
  // A size that no span gives away holds as the construction has it, and others may follow.
  while (solves_some(spans, open, values)) open.pop_back();
  if (!agree(request, spans, values, diagnostics)) return std::nullopt;
  if (!lip_is_below(request, spans, values, diagnostics)) return std::nullopt;
  return values;
}

}  // namespace pouchwright::pouch

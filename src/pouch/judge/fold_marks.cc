#include "pouch/judge/fold_marks.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace pouchwright::pouch {
namespace {

/// A span of the panel as the folds make it.
struct Folded {
  const SpanRule* rule = nullptr;
  Length length;
};

Length takes_at(const Request& request, Edge end) { return finish_of(request, 0, end).takes; }

/// In order, inside what the finishes leave of the panel, and one for each line.
bool are_in_place(const Request& request, base::Diagnostics& diagnostics) {
  const CutPanel& panel = *request.panel;
  const std::size_t lines = request.construction.panels.front().spans.size() - 1;
  if (panel.fold_at.size() != lines) {
    diagnostics.error(panel.fold_place,
                      {"folds-of-another-number",
                       {{"count", panel.fold_at.size()},
                        {"construction", request.construction.name},
                        {"lines", lines}}},
                      {{"folds-of-another-number-hint"}});
    return false;
  }
  Length before = takes_at(request, Edge::start);
  const Length end = panel.length.value - takes_at(request, Edge::end);
  for (const Placed<Length>& at : panel.fold_at) {
    if (at.value <= before) {
      diagnostics.error(at.place,
                        {"fold-not-beyond",
                         {{"at", base::exact(at.value)}, {"before", base::exact(before)}}},
                        {{"fold-not-beyond-hint"}});
      return false;
    }
    if (at.value >= end) {
      diagnostics.error(
          at.place, {"fold-outside", {{"at", base::exact(at.value)}, {"end", base::exact(end)}}},
          {{"fold-outside-hint"}});
      return false;
    }
    before = at.value;
  }
  return true;
}

std::vector<Folded> spans_of(const Request& request) {
  const CutPanel& panel = *request.panel;
  const auto& rules = request.construction.panels.front().spans;
  std::vector<Folded> spans;
  Length from = takes_at(request, Edge::start);
  for (std::size_t i = 0; i < rules.size(); ++i) {
    const Length to = i < panel.fold_at.size() ? panel.fold_at[i].value
                                               : panel.length.value - takes_at(request, Edge::end);
    spans.push_back({&rules[i], to - from});
    from = to;
  }
  return spans;
}

/// Sizes that the folds decide: those of the spans' sums that the job does not state.
std::vector<std::string> unknown_sizes(const Request& request, const std::vector<Folded>& spans) {
  std::vector<std::string> names;
  for (const Folded& span : spans) {
    for (const LinearForm::Term& term : span.rule->length.terms) {
      const auto known = request.sizes.find(term.size);
      const bool is_stated = known != request.sizes.end() && known->second.stated;
      const bool is_listed = std::find(names.begin(), names.end(), term.size) != names.end();
      if (!is_stated && !is_listed) names.push_back(term.size);
    }
  }
  return names;
}

/// The one size that a span's sum still leaves open, if it is one alone.
const LinearForm::Term* open_term(const Folded& span, const std::vector<std::string>& unknown) {
  const LinearForm::Term* open = nullptr;
  for (const LinearForm::Term& term : span.rule->length.terms) {
    if (std::find(unknown.begin(), unknown.end(), term.size) == unknown.end()) continue;
    if (open != nullptr) return nullptr;
    open = &term;
  }
  return open;
}

/// What the size must be for the span to have its length, the others being `values`.
Length solved(const Folded& span, const LinearForm::Term& term, Values values) {
  values[term.size] = Length();
  const std::int64_t rest = (span.length - value_of(span.rule->length, values)).in_nm();
  return Length::nm(rest * term.denominator / term.numerator);
}

/// A span that asks for another size than one before it: a front longer than the back, unlike
/// halves.
bool agree(const Request& request, const std::vector<Folded>& spans, const Values& values,
           base::Diagnostics& diagnostics) {
  for (const Folded& span : spans) {
    const Length needed = value_of(span.rule->length, values);
    if (needed == span.length) continue;
    diagnostics.error(request.panel->fold_place,
                      {"folds-disagree",
                       {{"span", span.rule->name},
                        {"length", base::exact(span.length)},
                        {"needed", base::exact(needed)}}},
                      {{"folds-disagree-hint"}});
    return false;
  }
  const auto drop = values.find(size::kLipDrop);
  if (drop == values.end() || drop->second >= Length()) return true;
  const Length depth = values.at(size::kDepth);
  diagnostics.error(request.panel->fold_place,
                    {"front-longer-than-back",
                     {{"front", base::exact(depth - drop->second)}, {"back", base::exact(depth)}}},
                    {{"front-longer-than-back-hint"}});
  return false;
}

}  // namespace

std::optional<Values> values_from_folds(const Request& request, Values values,
                                        base::Diagnostics& diagnostics) {
  if (!are_in_place(request, diagnostics)) return std::nullopt;
  const std::vector<Folded> spans = spans_of(request);
  std::vector<std::string> unknown = unknown_sizes(request, spans);
  for (bool found = true; found;) {
    found = false;
    for (const Folded& span : spans) {
      const LinearForm::Term* term = open_term(span, unknown);
      if (term == nullptr) continue;
      values[term->size] = solved(span, *term, values);
      std::erase(unknown, term->size);
      found = true;
    }
  }
  values[size::kWidth] = request.panel->width.value - 2 * values[size::kSeamAllowance];
  if (!agree(request, spans, values, diagnostics)) return std::nullopt;
  return values;
}

}  // namespace pouchwright::pouch

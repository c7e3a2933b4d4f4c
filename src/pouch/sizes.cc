#include "pouch/sizes.h"

#include <algorithm>

#include "units/length.h"

namespace pouchwright::pouch {

using units::exact_text;

namespace {

Length value_or_zero(const Values& values, std::string_view name) {
  const auto found = values.find(name);
  return found == values.end() ? Length() : found->second;
}

/// `length` * numerator / denominator, rounded up.
Length scaled(Length length, std::int64_t numerator, std::int64_t denominator) {
  const std::int64_t product = length.in_nm() * numerator;
  const std::int64_t quotient = product / denominator;
  const bool over = product % denominator != 0 && (product > 0) == (denominator > 0);
  return Length::nm(quotient + (over ? 1 : 0));
}

bool is_hem(const EndFinish& finish) {
  return finish.kind == FinishKind::turned && finish.takes > Length();
}

const Span* span_named(const FlatPanel& panel, std::string_view name) {
  for (const Span& span : panel.spans) {
    if (span.name == name) return &span;
  }
  return nullptr;
}

/// Lays the main panel's spans end to end. A hem is a span; what a knife trims is left out.
FlatPanel laid_out(const Request& request, const std::vector<Length>& lengths) {
  const PanelRule& rule = request.construction.panels.front();
  FlatPanel panel{rule.name, {}};
  Length y;
  if (is_hem(request.start_finish)) {
    panel.spans.push_back({kStartHem, y, y + request.start_finish.takes});
  }
  y += request.start_finish.takes;
  for (std::size_t i = 0; i < rule.spans.size(); ++i) {
    panel.spans.push_back({rule.spans[i].name, y, y + lengths[i]});
    y += lengths[i];
  }
  if (is_hem(request.end_finish)) {
    panel.spans.push_back({kEndHem, y, y + request.end_finish.takes});
  }
  return panel;
}

std::vector<FoldLine> fold_lines(const FlatPanel& panel) {
  std::vector<FoldLine> lines;
  for (std::size_t i = 0; i + 1 < panel.spans.size(); ++i) {
    lines.push_back({panel.spans[i].to, panel.spans[i].name, panel.spans[i + 1].name});
  }
  return lines;
}

}  // namespace

Length value_of(const LinearForm& form, const Values& values) {
  Length sum;
  for (const LinearForm::Term& term : form.terms) {
    sum += scaled(value_or_zero(values, term.size), term.numerator, term.denominator);
  }
  return sum;
}

Values stated_values(const Request& request) {
  Values values;
  for (const auto& [name, placed] : request.sizes) values[name] = placed.value;
  return values;
}

const Place& place_of(const Request& request, std::string_view size_name) {
  const auto found = request.sizes.find(size_name);
  if (found != request.sizes.end() && !found->second.place.file.empty()) {
    return found->second.place;
  }
  return request.panel ? request.panel->place : request.place;
}

std::optional<Values> values_from_panel(const Request& request, Values values,
                                        diag::Diagnostics& diagnostics) {
  const CutPanel& panel = *request.panel;
  const Construction& construction = request.construction;
  const units::Unit unit = request.style.unit;
  const Length ruler = request.cut_step;
  values[size::kWidth] = panel.width.value - 2 * value_or_zero(values, size::kSeamAllowance);
  if (!construction.flap_span.empty() && !values.contains(size::kFlap)) {
    const Length fifth = units::rounded_down(scaled(panel.length.value, 1, 5), ruler);
    const Length least = value_or_zero(values, size::kLipDrop) + kFlapBeyondLipDrop;
    values[size::kFlap] = std::max(fifth, least);
  }

  // length = takes + (sum of the spans); the spans are linear in the depth, so what is left after
  // everything else is divided by how often the depth is in them.
  values[size::kDepth] = Length();
  std::int64_t numerator = 0;
  std::int64_t denominator = 1;
  Length rest = request.start_finish.takes + request.end_finish.takes;
  for (const SpanRule& span : construction.panels.front().spans) {
    rest += value_of(span.length, values);
    for (const LinearForm::Term& term : span.length.terms) {
      if (term.size != size::kDepth) continue;
      numerator = numerator * term.denominator + term.numerator * denominator;
      denominator *= term.denominator;
    }
  }
  if (numerator <= 0) {
    diagnostics.error(construction.place,
                      {"panel-has-no-depth", {{"construction", construction.name}}});
    return std::nullopt;
  }
  const std::int64_t left = (panel.length.value - rest).in_nm();
  const Length depth =
      units::rounded_down(Length::nm(left > 0 ? left * denominator / numerator : 0), ruler);
  if (values[size::kWidth] <= Length()) {
    diagnostics.error(panel.width.place,
                      {"panel-too-narrow",
                       {{"width", exact_text(panel.width.value, unit)},
                        {"allowances", exact_text(2 * values[size::kSeamAllowance], unit)}}},
                      {{"panel-too-narrow-hint"}});
  }
  if (depth <= Length()) {
    diagnostics.error(
        panel.length.place,
        {"panel-too-short",
         {{"length", exact_text(panel.length.value, unit)}, {"rest", exact_text(rest, unit)}}},
        {{"panel-too-short-hint"}});
  }
  if (diagnostics.has_errors()) return std::nullopt;
  values[size::kDepth] = depth;
  return values;
}

std::optional<Sizes> sizes_of(const Request& request, const Values& values,
                              const std::vector<Length>& turns, diag::Diagnostics& diagnostics) {
  const Construction& construction = request.construction;
  const PanelRule& rule = construction.panels.front();
  const units::Unit unit = request.style.unit;

  Sizes sizes;
  sizes.seam_allowance = value_or_zero(values, size::kSeamAllowance);
  sizes.needle_reach = value_or_zero(values, size::kNeedleReach);
  sizes.seal_width = value_or_zero(values, size::kSealWidth);
  sizes.min_clear_seal = value_or_zero(values, size::kMinClearSeal);
  sizes.lip_drop = value_or_zero(values, size::kLipDrop);
  sizes.start_takes = request.start_finish.takes;
  sizes.end_takes = request.end_finish.takes;

  std::vector<Length> lengths;
  Length needed = sizes.start_takes + sizes.end_takes;
  for (std::size_t i = 0; i < rule.spans.size(); ++i) {
    lengths.push_back(value_of(rule.spans[i].length, values) +
                      (i < turns.size() ? turns[i] : Length()));
    needed += lengths[i];
  }
  const Length width = value_or_zero(values, size::kWidth) + 2 * sizes.seam_allowance;
  sizes.cut_width =
      request.panel ? request.panel->width.value : units::rounded_up(width, request.cut_step);
  sizes.cut_length =
      request.panel ? request.panel->length.value : units::rounded_up(needed, request.cut_step);
  if (std::max(sizes.cut_width, sizes.cut_length) > units::kLongest) {
    diagnostics.error(request.place,
                      {"panel-too-long",
                       {{"width", exact_text(sizes.cut_width, unit)},
                        {"length", exact_text(sizes.cut_length, unit)},
                        {"most", exact_text(units::kLongest, unit)}}},
                      {{"panel-too-long-hint"}});
    return std::nullopt;
  }
  for (std::size_t i = 0; i < rule.spans.size(); ++i) {
    if (rule.spans[i].name == construction.spare) lengths[i] += sizes.cut_length - needed;
  }
  bool all_there = true;
  for (std::size_t i = 0; i < rule.spans.size(); ++i) {
    if (lengths[i] > Length()) continue;
    all_there = false;
    // A lip drop not below the depth is told on its own, in the words of its own sizes.
    if (values.contains(size::kLipDrop) && sizes.lip_drop >= value_or_zero(values, size::kDepth)) {
      continue;
    }
    diagnostics.error(request.place,
                      {"span-is-nothing",
                       {{"span", rule.spans[i].name}, {"length", exact_text(lengths[i], unit)}}},
                      {{"span-is-nothing-hint"}});
  }
  if (!all_there) return std::nullopt;

  sizes.panel = laid_out(request, lengths);
  sizes.folds = fold_lines(sizes.panel);
  sizes.finished_width = sizes.cut_width - 2 * sizes.seam_allowance;
  if (const Span* back = span_named(sizes.panel, construction.depth_span)) {
    sizes.depth = back->to - back->from;
  }
  if (const Span* flap = span_named(sizes.panel, construction.flap_span)) {
    sizes.flap = flap->to - flap->from;
  }
  sizes.overall_width = sizes.cut_width;
  sizes.inside_width = sizes.cut_width - 2 * std::max(sizes.seal_width, sizes.needle_reach);
  return sizes;
}

}  // namespace pouchwright::pouch

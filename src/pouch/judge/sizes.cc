#include "pouch/judge/sizes.h"

#include <algorithm>
#include <utility>

#include "base/length.h"
#include "pouch/judge/fold_marks.h"
#include "pouch/judge/remedies.h"

namespace pouchwright::pouch {

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

/// Which panel an end's finish belongs to: the one that the operation names, else the main panel.
std::size_t host_of(const Construction& construction, Edge end) {
  for (const Operation& operation : construction.operations) {
    const auto* finish = operation.as<does::Finish>();
    if (finish != nullptr && finish->end == end) return finish->panel;
  }
  return 0;
}

}  // namespace

const EndFinish& finish_of(const Request& request, Edge end) {
  return end == Edge::start ? request.start_finish : request.end_finish;
}

const EndFinish& finish_of(const Request& request, std::size_t panel, Edge end) {
  static const EndFinish kNone;
  return host_of(request.construction, end) == panel ? finish_of(request, end) : kNone;
}

const Span& end_span(const FlatPanel& panel, Edge end) {
  return end == Edge::start ? panel.spans[panel.hems_before]
                            : panel.spans[panel.spans.size() - 1 - panel.hems_after];
}

std::vector<FoldLine> folds_of(const FlatPanel& flat) {
  std::vector<FoldLine> lines;
  for (std::size_t i = 0; i + 1 < flat.spans.size(); ++i) lines.push_back({flat.spans[i].to, i});
  return lines;
}

namespace {

/// Lays a panel's spans end to end. A hem is a span; what a knife trims is left out.
FlatPanel laid_out(const Request& request, std::size_t index, const std::vector<Length>& lengths) {
  const PanelRule& rule = request.construction.panels[index];
  const EndFinish& start = finish_of(request, index, Edge::start);
  const EndFinish& end = finish_of(request, index, Edge::end);
  FlatPanel panel;
  panel.name = rule.name;
  panel.has_film = rule.cloth == ClothKind::laminate;
  Length y;
  panel.hems_before = is_hem(start) ? 1 : 0;
  panel.hems_after = is_hem(end) ? 1 : 0;
  if (is_hem(start)) panel.spans.push_back({kStartHem, y, y + start.takes});
  y += start.takes;
  for (std::size_t i = 0; i < rule.spans.size(); ++i) {
    panel.spans.push_back({rule.spans[i].name, y, y + lengths[i]});
    y += lengths[i];
  }
  if (is_hem(end)) panel.spans.push_back({kEndHem, y, y + end.takes});
  return panel;
}

Length takes_of(const Request& request, std::size_t panel) {
  return finish_of(request, panel, Edge::start).takes + finish_of(request, panel, Edge::end).takes;
}

void set_outer(FlatPanel& panel, const PanelRule& rule, const Values& values, Length cut_length,
               const Request& request) {
  if (!request.outer || rule.cloth != ClothKind::laminate) return;
  panel.outer = Interval{value_of(rule.outer_inset.start, values),
                         cut_length - value_of(rule.outer_inset.end, values)};
  panel.outer_inset = panel.inset + value_of(rule.outer_inset.sides, values);
}

CutPart part_of(const FlatPanel& panel, const PanelRule& rule, std::size_t index, Length width,
                Length length) {
  CutPart part{rule.name, width, length, 1, rule.cloth, {}, index, {}};
  if (panel.outer) {
    part.outer = CutPartOuter{width - 2 * (panel.outer_inset - panel.inset),
                              panel.outer->to - panel.outer->from};
  }
  return part;
}

Length turn_of(const Turns& turns, SpanRef span) {
  const auto found = turns.find(span);
  return found == turns.end() ? Length() : found->second;
}

/// The panels beside the main one. What rounding adds to one goes to its last span.
bool add_further_panels(const Request& request, const Values& values, const Turns& turns,
                        Sizes& sizes, base::Diagnostics& diagnostics) {
  const auto& rules = request.construction.panels;
  bool all_there = true;
  for (std::size_t index = 1; index < rules.size(); ++index) {
    const PanelRule& rule = rules[index];
    const bool is_cut = rule.cloth != ClothKind::lining || request.lining;
    std::vector<Length> lengths;
    Length needed = takes_of(request, index);
    for (std::size_t i = 0; i < rule.spans.size(); ++i) {
      const SpanRule& span = rule.spans[i];
      lengths.push_back(value_of(span.length, values) + turn_of(turns, {index, i}));
      needed += lengths.back();
      if (lengths.back() > Length() || !is_cut) continue;
      all_there = false;
      diagnostics.error(
          request.place,
          {"span-is-nothing", {{"span", span.name}, {"length", base::exact(lengths.back())}}},
          {{"span-is-nothing-hint"}});
    }
    const Length cut_length = base::rounded_up(needed, request.cut_step);
    lengths.back() += cut_length - needed;
    const Length width = rule.width.terms.empty()
                             ? sizes.cut_width
                             : base::rounded_up(value_of(rule.width, values), request.cut_step);
    FlatPanel panel = laid_out(request, index, lengths);
    panel.inset = base::half(sizes.cut_width - width);
    set_outer(panel, rule, values, cut_length, request);
    if (is_cut && (width <= Length() || width > sizes.cut_width)) {
      all_there = false;
      diagnostics.error(request.place,
                        {"panel-width-out",
                         {{"panel", rule.name},
                          {"width", base::exact(width)},
                          {"main", base::exact(sizes.cut_width)}}},
                        {{"panel-width-out-hint"}});
    }
    if (is_cut) sizes.parts.push_back(part_of(panel, rule, index, width, cut_length));
    sizes.panels.push_back(std::move(panel));
  }
  return all_there;
}

/// Is the piece part of this job? One that only an attachment of another closure needs is not.
bool piece_is_used(std::size_t piece, const Request& request) {
  bool is_named = false;
  for (const Attachment& attachment : request.construction.attachments) {
    if (attachment.made_of != piece) continue;
    is_named = true;
    if (!attachment.closure || attachment.closure == request.closure) return true;
  }
  return !is_named;
}

bool add_pieces(const Request& request, const Values& values, Sizes& sizes,
                base::Diagnostics& diagnostics) {
  bool all_there = true;
  for (std::size_t i = 0; i < request.construction.pieces.size(); ++i) {
    if (!piece_is_used(i, request)) continue;
    const PieceRule& rule = request.construction.pieces[i];
    const Length width = base::rounded_up(value_of(rule.width, values), request.cut_step);
    const Length length = base::rounded_up(value_of(rule.length, values), request.cut_step);
    if (width <= Length() || length <= Length()) {
      all_there = false;
      diagnostics.error(
          request.place,
          {"piece-is-nothing",
           {{"piece", rule.name}, {"width", base::exact(width)}, {"length", base::exact(length)}}},
          {{"piece-is-nothing-hint"}});
    }
    sizes.parts.push_back({rule.name, width, length, rule.count, rule.cloth, {}, {}, i});
  }
  return all_there;
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
  if (found != request.sizes.end() && found->second.stated) return *found->second.stated;
  const bool is_of_card = size_name == size::kSealWidth || size_name == size::kWidth;
  if (request.card && is_of_card) return request.card->width.place;
  return request.panel ? request.panel->place : request.place;
}

namespace {

/// How often the depth is in the spans' sums, as a fraction.
struct DepthShare {
  std::int64_t numerator = 0;
  std::int64_t denominator = 1;
};

DepthShare depth_share(const PanelRule& panel) {
  DepthShare share;
  for (const SpanRule& span : panel.spans) {
    for (const LinearForm::Term& term : span.length.terms) {
      if (term.size != size::kDepth) continue;
      share.numerator = share.numerator * term.denominator + term.numerator * share.denominator;
      share.denominator *= term.denominator;
    }
  }
  return share;
}

/// A lip drop that nobody stated, and a flap of a fifth of the panel, on marks.
void take_marks(const Request& request, Length mark, Values& values) {
  const auto drop = request.sizes.find(size::kLipDrop);
  if (drop != request.sizes.end() && !drop->second.stated) {
    values[size::kLipDrop] = base::rounded_up(drop->second.value, mark);
  }
  if (!request.construction.flap_span || values.contains(size::kFlap)) return;
  const Length fifth = base::rounded_down(scaled(request.panel->length.value, 1, 5), mark);
  values[size::kFlap] = std::max(fifth, value_or_zero(values, size::kLipDrop) + kFlapBeyondLipDrop);
}

bool is_wide_enough(const Request& request, const Values& values, base::Diagnostics& diagnostics) {
  const CutPanel& panel = *request.panel;
  if (value_or_zero(values, size::kWidth) > Length()) return true;
  const Length seal =
      std::max(value_or_zero(values, size::kSealWidth), value_or_zero(values, size::kNeedleReach));
  diagnostics.add(
      {.place = panel.width.place,
       .message = {"panel-too-narrow",
                   {{"width", base::exact(panel.width.value)},
                    {"allowances", base::exact(2 * value_or_zero(values, size::kSeamAllowance))}}},
       .hints = {{"panel-too-narrow-hint"}},
       .remedy = width_between_seals(request, seal)});
  return false;
}

/// The depth on a mark; none after an error where nothing is left for one.
std::optional<Length> depth_of_panel(const Request& request, Length mark, Values values,
                                     base::Diagnostics& diagnostics) {
  const PanelRule& rule = request.construction.panels.front();
  const DepthShare share = depth_share(rule);
  if (share.numerator <= 0) {
    diagnostics.error(request.places.file,
                      {"panel-has-no-depth", {{"construction", request.construction.name}}});
    return std::nullopt;
  }
  // length = takes + (sum of the spans); the spans are linear in the depth, so what is left after
  // everything else is divided by how often the depth is in them.
  values[size::kDepth] = Length();
  Length rest = takes_of(request, 0);
  for (const SpanRule& span : rule.spans) rest += value_of(span.length, values);
  const std::int64_t left = (request.panel->length.value - rest).in_nm();
  const Length depth = base::rounded_down(
      Length::nm(left > 0 ? left * share.denominator / share.numerator : 0), mark);
  if (depth > Length()) return depth;
  // So long that the front comes up as far as it stays below the flap fold.
  const Length least = std::max(2 * value_or_zero(values, size::kLipDrop), mark);
  const Length longer =
      rest + scaled(base::rounded_up(least + mark, mark), share.numerator, share.denominator);
  diagnostics.add({.place = request.panel->length.place,
                   .message = {"panel-too-short",
                               {{"length", base::exact(request.panel->length.value)},
                                {"rest", base::exact(rest)}}},
                   .hints = {{"panel-too-short-hint"}},
                   .remedy = not_below("panel.length", longer, request.units)});
  return std::nullopt;
}

}  // namespace

std::optional<Values> values_from_panel(const Request& request, Values values,
                                        base::Diagnostics& diagnostics) {
  const CutPanel& panel = *request.panel;
  values[size::kWidth] = panel.width.value - 2 * value_or_zero(values, size::kSeamAllowance);
  const bool is_wide = is_wide_enough(request, values, diagnostics);
  std::optional<Values> found;
  if (panel.folds) {
    found = values_from_folds(request, std::move(values), diagnostics);
  } else {
    const Length mark = kMark.of(request.units);
    take_marks(request, mark, values);
    if (const auto depth = depth_of_panel(request, mark, values, diagnostics)) {
      values[size::kDepth] = *depth;
      found = std::move(values);
    }
  }
  return is_wide ? found : std::nullopt;
}

std::optional<Sizes> sizes_of(const Request& request, const Values& values, const Turns& turns,
                              base::Diagnostics& diagnostics) {
  const Construction& construction = request.construction;
  const PanelRule& rule = construction.panels.front();

  Sizes sizes;
  sizes.seam_allowance = value_or_zero(values, size::kSeamAllowance);
  sizes.needle_reach = value_or_zero(values, size::kNeedleReach);
  Length knife_takes = request.knife.value;
  for (const SewingPass& pass : request.passes) {
    sizes.needle_reach = std::max(sizes.needle_reach, pass.reach());
    if (pass.from_edge) knife_takes = std::max(knife_takes, pass.at);
  }
  sizes.seal_width = value_or_zero(values, size::kSealWidth);
  sizes.min_clear_seal = value_or_zero(values, size::kMinClearSeal);
  sizes.lip_drop = value_or_zero(values, size::kLipDrop);
  sizes.start_takes = request.start_finish.takes;
  sizes.end_takes = request.end_finish.takes;

  std::vector<Length> lengths;
  Length needed = takes_of(request, 0);
  for (std::size_t i = 0; i < rule.spans.size(); ++i) {
    lengths.push_back(value_of(rule.spans[i].length, values) + turn_of(turns, {0, i}));
    needed += lengths[i];
  }
  const Length width = value_or_zero(values, size::kWidth) + 2 * sizes.seam_allowance;
  sizes.cut_width =
      request.panel ? request.panel->width.value : base::rounded_up(width, request.cut_step);
  sizes.cut_length =
      request.panel ? request.panel->length.value : base::rounded_up(needed, request.cut_step);
  if (std::max(sizes.cut_width, sizes.cut_length) > base::kLongest) {
    diagnostics.error(request.place,
                      {"panel-too-long",
                       {{"width", base::exact(sizes.cut_width)},
                        {"length", base::exact(sizes.cut_length)},
                        {"most", base::exact(base::kLongest)}}},
                      {{"panel-too-long-hint"}});
    return std::nullopt;
  }
  if (construction.spare.panel == 0) lengths[construction.spare.span] += sizes.cut_length - needed;
  bool all_there = true;
  for (std::size_t i = 0; i < rule.spans.size(); ++i) {
    if (lengths[i] > Length()) continue;
    all_there = false;
    // A lip drop not below the depth is told on its own, in the words of its own sizes.
    if (values.contains(size::kLipDrop) && sizes.lip_drop >= value_or_zero(values, size::kDepth)) {
      continue;
    }
    diagnostics.error(
        request.place,
        {"span-is-nothing", {{"span", rule.spans[i].name}, {"length", base::exact(lengths[i])}}},
        {{"span-is-nothing-hint"}});
  }
  if (!all_there) return std::nullopt;

  FlatPanel main = laid_out(request, 0, lengths);
  set_outer(main, rule, values, sizes.cut_length, request);
  sizes.parts.push_back(part_of(main, rule, 0, sizes.cut_width, sizes.cut_length));
  sizes.panels.push_back(std::move(main));
  if (!add_further_panels(request, values, turns, sizes, diagnostics)) return std::nullopt;
  if (!add_pieces(request, values, sizes, diagnostics)) return std::nullopt;
  sizes.finished_width = sizes.cut_width - 2 * sizes.seam_allowance;
  // What a span of the main panel measures when it is finished.
  const auto finished = [&](SpanRef ref) {
    const Span& span = sizes.span(cut_span(sizes.panels, ref));
    return ref.panel == 0 ? span.to - span.from - turn_of(turns, ref) : Length();
  };
  // Finished sizes go from seam line to seam line.
  if (construction.depth_span.panel == 0) {
    sizes.depth = finished(construction.depth_span);
    if (construction.has_bottom_seam()) sizes.depth -= sizes.seam_allowance;
  }
  if (construction.flap_span) sizes.flap = finished(*construction.flap_span);
  sizes.overall_width = sizes.cut_width - 2 * knife_takes;
  sizes.inside_width = sizes.cut_width - 2 * std::max(sizes.seal_width, sizes.needle_reach);
  return sizes;
}

Values finished_values(const Request& request, Values values, const Turns& turns,
                       const Sizes& sizes) {
  const Construction& construction = request.construction;
  if (values.contains(size::kWidth)) values[size::kWidth] = sizes.finished_width;
  const SpanRef spare = construction.spare;
  if (spare.panel != 0) return values;
  const Span& cut = sizes.span(cut_span(sizes.panels, spare));
  const Length added =
      cut.to - cut.from - turn_of(turns, spare) - value_of(construction.span(spare).length, values);
  const auto grow = [&](std::optional<SpanRef> span, std::string_view size_name) {
    const auto value = values.find(size_name);
    if (span == spare && value != values.end()) value->second += added;
  };
  grow(construction.flap_span, size::kFlap);
  grow(construction.depth_span, size::kDepth);
  return values;
}

}  // namespace pouchwright::pouch

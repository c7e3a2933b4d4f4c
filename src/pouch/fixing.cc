#include "pouch/fixing.h"

#include <algorithm>

#include "pouch/run_state.h"
#include "units/length.h"

namespace pouchwright::pouch {

using units::exact_text;

namespace {

/// Fixes one attachment.
class Fixer {
 public:
  explicit Fixer(RunState& state) : state_(state) {}

  bool attach(const Operation& operation) {
    const Attachment& attachment = *state_.request.construction.attachment(operation.attachment);
    const SpanId id = *state_.folded.find(attachment.span);
    const Span& span = state_.spans_of(id.panel)[id.span];
    const Interval y = extent_of(attachment, span);
    if (y.from < span.from || y.to > span.to) {
      const units::Unit unit = state_.request.style.unit;
      return state_.fault(operation,
                          {"attachment-beyond-span",
                           {{"attachment", attachment.name},
                            {"span", span.name},
                            {"length", exact_text(span.to - span.from, unit)},
                            {"needs", exact_text(value_of(attachment.distance, state_.values) +
                                                     value_of(attachment.extent, state_.values),
                                                 unit)}}},
                          {"attachment-beyond-span-hint", {{"operation", operation.id}}});
    }
    const bool on_outer = state_.request.outer && !state_.paired;
    const Through through = on_outer ? Through::outer : Through::film;
    if (operation.through == Through::outer && through == Through::film) {
      return state_.fault(operation, {"outer-already-paired", {{"attachment", attachment.name}}},
                          {"outer-already-paired-hint"});
    }
    state_.made.fixed.push_back({attachment.name, attachment.kind, operation.id, span.name,
                                 id.panel, y, places_across(attachment), through});
    if (attachment.between) return caught(operation, attachment, y);
    if (through == Through::film) pierce(attachment, id.panel, y);
    return true;
  }

 private:
  /// What an attachment covers along its panel.
  Interval extent_of(const Attachment& attachment, const Span& span) const {
    const Length distance = value_of(attachment.distance, state_.values);
    const Length extent = value_of(attachment.extent, state_.values);
    if (attachment.from == Edge::start) {
      return {span.from + distance, span.from + distance + extent};
    }
    return {span.to - distance - extent, span.to - distance};
  }

  std::vector<Length> places_across(const Attachment& attachment) const {
    std::vector<Length> places;
    if (attachment.between || attachment.across == Across::sides) return places;
    for (int i = 1; i <= attachment.count; ++i) {
      const std::int64_t part = state_.sizes.cut_width.in_nm() / (attachment.count + 1);
      places.push_back(Length::nm(part * i));
    }
    return places;
  }

  void pierce(const Attachment& attachment, std::size_t panel, const Interval& y) {
    const Length reach = std::max(value_of(attachment.reach, state_.values), Length::nm(1));
    state_.over_spans(panel, {y.from - reach, y.to + reach}, [&](SpanId id, const Interval& part) {
      state_.made.holes.push_back({attachment.name, id, part});
    });
  }

  /// A loop or a strap between two layers at the sides. Nothing else may lie between them.
  bool caught(const Operation& operation, const Attachment& attachment, const Interval& y) {
    const SpanId a = *state_.folded.find(attachment.between->first);
    const SpanId b = *state_.folded.find(attachment.between->second);
    const SpanId on = *state_.folded.find(attachment.span);
    const Length from = state_.folded.height_of(on, y.from);
    const Length to = state_.folded.height_of(on, y.to);
    const Interval heights{std::min(from, to), std::max(from, to)};
    if (!are_neighbours(a, b, heights)) {
      return state_.fault(operation,
                          {"not-neighbours",
                           {{"attachment", attachment.name},
                            {"a", state_.folded.name(a)},
                            {"b", state_.folded.name(b)}}},
                          {"not-neighbours-hint", {{"operation", operation.id}}});
    }
    const bool both = attachment.across == Across::sides || attachment.across == Across::middle;
    state_.made.caught.push_back({attachment.name, a, b, state_.folded.on_panel(a, heights),
                                  both || attachment.across == Across::left,
                                  both || attachment.across == Across::right});
    return true;
  }

  bool are_neighbours(SpanId a, SpanId b, const Interval& heights) const {
    const std::vector<Layer> stack = state_.folded.layers_over(heights, Length());
    for (std::size_t i = 0; i + 1 < stack.size(); ++i) {
      const bool pair =
          (stack[i].id == a && stack[i + 1].id == b) || (stack[i].id == b && stack[i + 1].id == a);
      if (pair) return true;
    }
    return false;
  }

  RunState& state_;
};

}  // namespace

bool attach(RunState& state, const Operation& operation) { return Fixer(state).attach(operation); }

}  // namespace pouchwright::pouch

#include "pouch/fold/fixing.h"

#include <algorithm>

#include "base/length.h"
#include "base/text.h"
#include "pouch/fold/run_state.h"
#include "pouch/judge/sizes.h"

namespace pouchwright::pouch {

namespace {

/// Fixes one attachment.
class Fixer {
 public:
  explicit Fixer(RunState& state) : state_(state) {}

  bool attach(std::size_t operation, const does::Attach& work) {
    const Attachment& attachment = state_.request.construction.attachments[work.attachment];
    if (attachment.on_piece) return attach_to_piece(operation, work.attachment);
    const SpanId id = state_.folded.id(attachment.span);
    const Span& span = state_.spans_of(id.panel)[id.span];
    const Interval y = extent_of(attachment, {span.from, span.to});
    const Interval holes = holes_of(attachment, y);
    // Cloth goes on beyond a fold, and ends with the panel.
    const auto& spans = state_.spans_of(id.panel);
    const Length least = id.span == 0 ? holes.from : y.from;
    const Length most = id.span + 1 == spans.size() ? holes.to : y.to;
    if (least < span.from || most > span.to) {
      const Length by = std::max(span.from - least, most - span.to);
      return beyond(work.attachment, span.name, span.to - span.from, by);
    }
    const Length width = value_of(attachment.width, state_.values);
    if (width > state_.sizes.cut_width) {
      state_.diagnostics.error(place_of(state_.request, attachment.width.terms.front().size),
                               {"attachment-beyond-sides",
                                {{"attachment", attachment.name},
                                 {"width", base::exact(state_.sizes.cut_width)},
                                 {"needs", base::exact(width)}}},
                               {{"attachment-beyond-sides-hint"}});
      return false;
    }
    const bool on_outer = state_.request.outer && !state_.paired;
    const Through through = on_outer ? Through::outer : Through::film;
    if (work.through == Through::outer && through == Through::film) {
      return state_.fault(operation, {"outer-already-paired", {{"attachment", attachment.name}}},
                          {"outer-already-paired-hint"});
    }
    const auto x = places_across(operation, attachment, id.panel);
    if (!x) return false;
    state_.made.fixed.push_back({.attachment = work.attachment,
                                 .operation = operation,
                                 .span = id,
                                 .piece = std::nullopt,
                                 .y = y,
                                 .width = width,
                                 .x = *x,
                                 .caught = seams_of(attachment),
                                 .through = through});
    if (attachment.between) return caught(operation, work.attachment, y);
    if (through == Through::film) pierce(work.attachment, id.panel, y);
    return true;
  }

 private:
  /// What is fixed to a piece pierces no film of the pouch.
  bool attach_to_piece(std::size_t operation, std::size_t index) {
    const Attachment& attachment = state_.request.construction.attachments[index];
    for (const CutPart& part : state_.sizes.parts) {
      if (!part.piece || part.piece != attachment.on_piece) continue;
      const Interval y = extent_of(attachment, {Length(), part.length});
      const Interval holes = holes_of(attachment, y);
      if (holes.from < Length() || holes.to > part.length) {
        const Length by = std::max(-holes.from, holes.to - part.length);
        return beyond(index, part.name, part.length, by);
      }
      state_.made.fixed.push_back({.attachment = index,
                                   .operation = operation,
                                   .span = std::nullopt,
                                   .piece = part.piece,
                                   .y = y,
                                   .width = value_of(attachment.width, state_.values),
                                   .x = spread(part.width, attachment.count),
                                   .caught = {},
                                   .through = Through::outer});
    }
    return true;
  }

  /// Told at the first of the sizes that place it which the job states.
  bool beyond(std::size_t index, const std::string& what, Length length, Length by) {
    const Attachment& attachment = state_.request.construction.attachments[index];
    base::Value::List names;
    std::optional<base::Place> stated_at;
    for (const LinearForm* form : {&attachment.distance, &attachment.extent, &attachment.reach}) {
      for (const LinearForm::Term& term : form->terms) {
        names.emplace_back(base::FieldName{"pouch." + term.size});
        const auto stated = state_.request.sizes.find(term.size);
        if (!stated_at && stated != state_.request.sizes.end()) stated_at = stated->second.stated;
      }
    }
    state_.diagnostics.error(stated_at.value_or(state_.request.places.attachment(index)),
                             {"attachment-beyond-span",
                              {{"attachment", attachment.name},
                               {"span", what},
                               {"length", base::exact(length)},
                               {"by", base::exact(by)}}},
                             {{"attachment-beyond-span-hint", {{"sizes", names}}}});
    return false;
  }

  /// What its holes take along its span.
  Interval holes_of(const Attachment& attachment, const Interval& y) const {
    const Length reach = value_of(attachment.reach, state_.values);
    return {y.from - reach, y.to + reach};
  }

  /// What an attachment covers along its span or piece.
  Interval extent_of(const Attachment& attachment, const Interval& span) const {
    const Length distance = value_of(attachment.distance, state_.values);
    const Length extent = value_of(attachment.extent, state_.values);
    if (attachment.from == Edge::start) {
      return {span.from + distance, span.from + distance + extent};
    }
    return {span.to - distance - extent, span.to - distance};
  }

  /// `count` places, spread evenly over a width.
  static std::vector<Length> spread(Length width, int count) {
    std::vector<Length> places;
    for (int i = 1; i <= count; ++i) {
      places.push_back(Length::nm(width.in_nm() / (count + 1) * i));
    }
    return places;
  }

  static bool is_at(const Attachment& attachment, Across side) {
    return attachment.across == side || attachment.across == Across::sides;
  }

  /// Fails: empty after an error where the panel is too narrow for its distance from the side.
  std::optional<std::vector<Length>> places_across(std::size_t operation,
                                                   const Attachment& attachment,
                                                   std::size_t panel) {
    if (attachment.between) return std::vector<Length>();
    const Length width = state_.sizes.cut_width;
    if (attachment.across == Across::middle) return spread(width, attachment.count);
    const Length inset = state_.sizes.panels[panel].inset;
    const Length from_side = value_of(attachment.from_side, state_.values);
    if (from_side < Length() || from_side > width - 2 * inset) {
      state_.fault(operation,
                   {"attachment-beyond-side",
                    {{"attachment", attachment.name},
                     {"distance", base::exact(from_side)},
                     {"panel", state_.sizes.panels[panel].name},
                     {"width", base::exact(width - 2 * inset)}}},
                   {"attachment-beyond-side-hint", {}});
      return std::nullopt;
    }
    std::vector<Length> places;
    if (is_at(attachment, Across::left)) places.push_back(inset + from_side);
    if (is_at(attachment, Across::right)) places.push_back(width - inset - from_side);
    return places;
  }

  /// In which side seams it is caught; a middle is in neither, so that both are meant.
  static std::vector<Edge> seams_of(const Attachment& attachment) {
    std::vector<Edge> seams;
    if (!attachment.between) return seams;
    if (attachment.across != Across::right) seams.push_back(Edge::left);
    if (attachment.across != Across::left) seams.push_back(Edge::right);
    return seams;
  }

  void pierce(std::size_t index, std::size_t panel, const Interval& y) {
    const Attachment& attachment = state_.request.construction.attachments[index];
    const Length reach = std::max(value_of(attachment.reach, state_.values), Length::nm(1));
    state_.over_spans(panel, {y.from - reach, y.to + reach}, [&](SpanId id, const Interval& part) {
      state_.made.holes.push_back({index, id, part});
    });
  }

  /// A loop or a strap between two layers at the sides. Nothing else may lie between them.
  bool caught(std::size_t operation, std::size_t index, const Interval& y) {
    const Attachment& attachment = state_.request.construction.attachments[index];
    const SpanId a = state_.folded.id(attachment.between->first);
    const SpanId b = state_.folded.id(attachment.between->second);
    const SpanId on = state_.folded.id(attachment.span);
    const Length from = state_.folded.height_of(on, y.from);
    const Length to = state_.folded.height_of(on, y.to);
    const Interval heights{std::min(from, to), std::max(from, to)};
    if (!are_neighbours(a, b, heights)) {
      return state_.fault(operation,
                          {"not-neighbours",
                           {{"attachment", attachment.name},
                            {"a", state_.folded.name(a)},
                            {"b", state_.folded.name(b)}}},
                          {"not-neighbours-hint", {{"operation", state_.id_of(operation)}}});
    }
    state_.made.caught.push_back({index, a, b, state_.folded.on_panel(a, heights),
                                  attachment.across != Across::right,
                                  attachment.across != Across::left});
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

bool attach(RunState& state, std::size_t operation, const does::Attach& work) {
  return Fixer(state).attach(operation, work);
}

}  // namespace pouchwright::pouch

#include "pouch/fold/run_state.h"

#include <algorithm>

namespace pouchwright::pouch {

namespace {

/// Where two spans of the main panel meet at the bottom, or, where a seam joins the bottom, the
/// seam line of its end there.
Length bottom_line(const Construction& construction, const Sizes& sizes) {
  const SpanId a = cut_span(sizes.panels, construction.bottom_a);
  const SpanId b = cut_span(sizes.panels, construction.bottom_b);
  if (!construction.has_bottom_seam()) {
    const SpanId before = std::min(a, b);
    const bool is_fold = std::max(a, b) == SpanId{0, before.span + 1};
    return is_fold ? sizes.span(before).to : Length();
  }
  if (a.panel != 0 && b.panel != 0) return {};
  // An end there that is finished is no longer where it was cut: the seam counts from what is left.
  const SpanId joined = a.panel == 0 ? a : b;
  const Span& span = sizes.span(joined);
  const bool at_start = joined.span == sizes.main_panel().hems_before;
  return at_start ? span.from + sizes.seam_allowance : span.to - sizes.seam_allowance;
}

}  // namespace

RunState::RunState(const Request& the_request, const Sizes& the_sizes, const Values& the_values,
                   base::Diagnostics& the_diagnostics)
    : request(the_request),
      sizes(the_sizes),
      values(the_values),
      diagnostics(the_diagnostics),
      folded(the_sizes.panels, the_request.laminate.film,
             bottom_line(the_request.construction, the_sizes)) {}

bool RunState::fault(std::size_t operation, base::Message message, base::Message hint) {
  message.values.emplace_back("operation", id_of(operation));
  diagnostics.error(request.places.operation(operation), std::move(message), {std::move(hint)});
  return false;
}

const std::vector<Span>& RunState::spans_of(std::size_t panel) const {
  return sizes.panels[panel].spans;
}

SpanId RunState::end_span(std::size_t panel, Edge end) const {
  return {panel, end == Edge::start ? 0 : spans_of(panel).size() - 1};
}

Length RunState::thickness(const Layer& layer, const Interval& heights, Length inset) const {
  const bool is_lining = !folded.panels()[layer.id.panel].has_film;
  if (is_lining && request.lining) return request.lining->thickness;
  const bool has_outer = request.outer && folded.has_outer(layer, heights, inset);
  return request.laminate.thickness + (has_outer ? request.outer->thickness : Length());
}

bool RunState::in_compartment(const Compartment& compartment, SpanId a, SpanId b) const {
  const std::vector<SpanId> path = film_path(compartment, folded);
  return std::find(path.begin(), path.end(), a) != path.end() &&
         std::find(path.begin(), path.end(), b) != path.end();
}

void RunState::note_lips() {
  made.lip_heights.clear();
  for (const Compartment& compartment : request.construction.compartments) {
    const std::vector<SpanId> path = film_path(compartment, folded);
    made.lip_heights.push_back(path.empty() ? Length() : folded.layer(path.front()).heights.to);
  }
}

}  // namespace pouchwright::pouch

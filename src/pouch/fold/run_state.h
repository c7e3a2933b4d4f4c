/// What one run of a construction's operations carries from each to the next.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "pouch/fold/run.h"

namespace pouchwright::pouch {

/// The panels as they lie, what has been done to them, and what is at hand to judge it.
struct RunState {
  RunState(const Request& the_request, const Sizes& the_sizes, const Values& the_values,
           base::Diagnostics& the_diagnostics);

  /// Reports an error at the operation's place. Returns false, so that the run ends with it.
  bool fault(std::size_t operation, base::Message message, base::Message hint);
  [[nodiscard]] const std::string& id_of(std::size_t operation) const {
    return request.construction.operations[operation].id;
  }
  /// The id of the last fold, or of what was laid on since; empty before the first.
  [[nodiscard]] std::string last_fold() const { return folded_by ? id_of(*folded_by) : ""; }

  [[nodiscard]] const std::vector<Span>& spans_of(std::size_t panel) const;
  [[nodiscard]] SpanId end_span(std::size_t panel, Edge end) const;
  /// The stretch of one panel's spans that lies in `band`.
  template <typename Take>
  void over_spans(std::size_t panel, const Interval& band, Take take) const {
    for (std::size_t i = 0; i < spans_of(panel).size(); ++i) {
      const Span& span = spans_of(panel)[i];
      if (const auto part = shared(band, {span.from, span.to})) take(SpanId{panel, i}, *part);
    }
  }

  /// How thick a layer is there, at `inset` from the raw side edge: with its outer, where it has
  /// one.
  [[nodiscard]] Length thickness(const Layer& layer, const Interval& heights, Length inset) const;

  [[nodiscard]] bool in_compartment(const Compartment& compartment, SpanId a, SpanId b) const;
  /// Keeps where the compartments' lips lie now.
  void note_lips();

  const Request& request;
  const Sizes& sizes;
  const Values& values;
  base::Diagnostics& diagnostics;
  Folded folded;
  Run made;
  std::optional<std::size_t> folded_by;  ///< the operation that folded or laid on last
  std::set<std::size_t> cards_inside;    ///< of which compartments
  bool paired = false;
  bool pressed = false;
  bool sewn = false;
};

}  // namespace pouchwright::pouch

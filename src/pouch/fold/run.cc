#include "pouch/fold/run.h"

#include <algorithm>
#include <numbers>
#include <utility>

#include "pouch/fold/fixing.h"
#include "pouch/fold/mouth.h"
#include "pouch/fold/pressing.h"
#include "pouch/fold/run_state.h"
#include "pouch/fold/seams.h"
#include "pouch/fold/turning.h"

namespace pouchwright::pouch {

// A fold around a stack G is a half circle of radius G/2 on its inside and, its layers being T
// thick together, G/2 + T on its outside, so it reaches G/2 + T beyond its straight legs. Two legs
// that are to measure L each to the outside leave 2 L - G - 2 T of straight cloth. Of n layers t =
// T/n thick, the k-th from the inside (from 0) turns on a mean radius of G/2 + (k + 1/2) t and
// takes pi (G/2 + (k + 1/2) t) there; over all n that is a mean of pi (G + T)/2. So together they
// need n times pi (G + T)/2 - G - 2 T = (pi/2 - 1) G + (pi/2 - 2) T more. What is fused at the
// sides cannot slip there, so all get the mean; the outer layer pulls a little, the inner one
// puckers.
Length turn_of_cloth(Length thickness, Length enclosed) {
  const double quarter = std::numbers::pi / 2;
  return Length::mm((quarter - 1) * enclosed.in_mm() + (quarter - 2) * thickness.in_mm());
}

namespace {

bool takes_part(const does::Attach& work, const Request& request) {
  const Attachment& attachment = request.construction.attachments[work.attachment];
  if (attachment.closure && attachment.closure != request.closure) return false;
  return !work.through || *work.through == request.closure_through;
}
bool takes_part(const does::LayPanel& work, const Request& request) {
  const PanelRule& panel = request.construction.panels[work.panel];
  return panel.cloth != ClothKind::lining || request.lining;
}
bool takes_part(const does::Pair&, const Request& request) { return request.outer.has_value(); }
bool takes_part(const does::Finish& work, const Request& request) {
  return finish_of(request, work.end).kind != FinishKind::none;
}
bool takes_part(const does::LayCard&, const Request& request) {
  return request.cards != CardUse::on_top;
}
bool takes_part(const does::TakeCard&, const Request& request) {
  return request.cards != CardUse::on_top;
}
bool takes_part(const does::FillFirst&, const Request& request) { return request.fills_first; }
bool takes_part(const does::SecureTails&, const Request& request) { return request.chains; }
bool takes_part(const does::Tag&, const Request& request) { return request.tag.has_value(); }
bool takes_part(const does::Dry&, const Request& request) { return request.dryer; }
template <class Does>
bool takes_part(const Does&, const Request&) {
  return true;
}

}  // namespace

bool takes_part(const Operation& operation, const Request& request) {
  return std::visit([&](const auto& work) { return takes_part(work, request); }, operation.work);
}

std::vector<SpanId> film_path(const Compartment& compartment, const Folded& folded) {
  std::vector<SpanId> path;
  for (const SpanRef film : compartment.film) {
    if (folded.lies(film.panel)) path.push_back(folded.id(film));
  }
  return path;
}

namespace {

/// Carries the state from operation to operation.
class Runner {
 public:
  Runner(const Request& request, const Sizes& sizes, const Values& values,
         base::Diagnostics& diagnostics)
      : state_(request, sizes, values, diagnostics) {}

  std::optional<Run> run() {
    const auto& operations = state_.request.construction.operations;
    for (std::size_t i = 0; i < operations.size(); ++i) {
      if (!takes_part(operations[i], state_.request)) continue;
      // After a fault in the order, what follows would only repeat it in other words.
      const auto is_done = [&](const auto& work) { return done(i, work); };
      if (!std::visit(is_done, operations[i].work)) return std::nullopt;
      const auto& cards = state_.cards_inside;
      state_.made.stages.push_back({i, state_.folded, {cards.begin(), cards.end()}});
    }
    if (state_.made.stages.empty()) state_.made.stages.push_back({0, state_.folded, {}});
    if (!state_.pressed) state_.note_lips();
    return std::move(state_.made);
  }

 private:
  bool done(std::size_t operation, const does::Attach& work) {
    return attach(state_, operation, work);
  }
  bool done(std::size_t operation, const does::Fold& work) { return fold(state_, operation, work); }
  bool done(std::size_t operation, const does::Press& work) {
    return press(state_, operation, work);
  }
  bool done(std::size_t operation, const does::Sew& work) { return sew(state_, operation, work); }

  bool done(std::size_t operation, const does::Pair&) {
    state_.paired = true;
    if (state_.made.folds.empty()) return true;
    return state_.fault(operation, {"pair-after-fold", {{"fold", state_.last_fold()}}},
                        {"pair-after-fold-hint"});
  }

  /// The stretch of the flat panel that the finish's needles pierce, from the raw end inwards.
  std::vector<Stitched> stitched_by(std::size_t panel, Edge end, const EndFinish& finish) const {
    const Length takes =
        end == Edge::end && finish.kind != FinishKind::turned ? finish.takes : Length();
    const Length raw_end = state_.spans_of(panel).back().to + takes;
    const Interval band = end == Edge::start ? Interval{Length(), finish.needle_reach}
                                             : Interval{raw_end - finish.needle_reach, raw_end};
    std::vector<Stitched> result;
    state_.over_spans(panel, band, [&](SpanId id, const Interval& part) {
      result.push_back({end, id, part});
    });
    return result;
  }

  bool done(std::size_t operation, const does::Finish& work) {
    const SpanId id = state_.end_span(work.panel, work.end);
    const EndFinish& finish = finish_of(state_.request, work.end);
    for (const Stitched& part : stitched_by(work.panel, work.end, finish)) {
      state_.made.stitched.push_back(part);
    }
    // A panel that lies apart is finished on its own.
    if (!state_.folded.lies(work.panel)) {
      turned_apart_.emplace_back(operation, work);
      return true;
    }
    if (const auto over = buried_by(id, work.end)) {
      return state_.fault(operation,
                          {"finish-buried",
                           {{"span", state_.folded.name(id)},
                            {"other", state_.folded.name(*over)},
                            {"fold", state_.last_fold()}}},
                          {"finish-buried-hint", {{"fold", state_.last_fold()}}});
    }
    return turn_hem(state_, operation, work);
  }

  /// A layer over or under the end's outermost stretch, where a needle would catch it.
  std::optional<SpanId> buried_by(SpanId id, Edge end) const {
    const Interval heights = state_.folded.layer(id).heights;
    const bool at_low = state_.folded.layer(id).rising == (end == Edge::start);
    const Length small = std::min(Length::whole_mm(1), heights.size());
    const Interval rim = at_low ? Interval{heights.from, heights.from + small}
                                : Interval{heights.to - small, heights.to};
    for (const Layer& layer : state_.folded.layers_over(rim)) {
      if (layer.id != id) return layer.id;
    }
    return std::nullopt;
  }

  bool done(std::size_t operation, const does::LayCard& work) {
    const Compartment& pocket = state_.request.construction.compartments[work.compartment];
    for (const Fused& fused : state_.made.fused) {
      if (state_.in_compartment(pocket, fused.lower, fused.upper)) {
        return state_.fault(operation, {"card-after-press", {}}, {"card-after-press-hint"});
      }
    }
    state_.cards_inside.insert(work.compartment);
    state_.made.carded.insert(work.compartment);
    return true;
  }

  bool done(std::size_t operation, const does::TakeCard& work) {
    if (!state_.cards_inside.contains(work.compartment)) {
      return state_.fault(operation, {"card-not-inside", {}}, {"card-not-inside-hint"});
    }
    const Compartment& pocket = state_.request.construction.compartments[work.compartment];
    if (!mouth_is_open(state_, operation, pocket, "card-mouth-covered")) return false;
    state_.cards_inside.erase(work.compartment);
    return true;
  }

  /// Ends meet at a seam, or a lining is laid on a span; a lining then moves with what it lies on.
  bool done(std::size_t operation, const does::LayPanel& work) {
    const bool a_is_new = work.meets_a.panel == work.panel;
    const SpanId there = state_.folded.id(a_is_new ? work.meets_b : work.meets_a);
    if (!state_.folded.lies(there.panel)) {
      return state_.fault(operation, {"panel-not-there", {}}, {"panel-not-there-hint"});
    }
    if (state_.request.construction.panels[work.panel].cloth == ClothKind::lining) {
      const Length y =
          state_.spans_of(there.panel)[there.span].from + value_of(work.offset, state_.values);
      const Length height = state_.folded.height_of(there, y);
      const bool rising = state_.folded.layer(there).rising;
      const Length size = state_.spans_of(work.panel).back().to;
      state_.folded.lay(work.panel, rising ? height : height - size, rising, false, work.landing);
      tack(work.panel);
      return true;
    }
    state_.folded.lay(work.panel, raw_end_height(there), work.end == Edge::start, work.film_up,
                      work.landing);
    state_.folded_by = operation;
    for (const auto& [index, finished] : turned_apart_) {
      if (finished.panel == work.panel && !turn_hem(state_, index, finished)) return false;
    }
    return true;
  }

  /// The height of the raw end next to a span that lies at an end of its panel; the lower one where
  /// it lies at both.
  Length raw_end_height(SpanId id) const {
    const auto& spans = state_.spans_of(id.panel);
    const Length at_start = state_.folded.height_of(id, spans[id.span].from);
    const Length at_end = state_.folded.height_of(id, spans[id.span].to);
    if (spans.size() == 1) return std::min(at_start, at_end);
    return id.span == 0 ? at_start : at_end;
  }

  void tack(std::size_t panel) {
    for (const Layer& laid : state_.folded.layers()) {
      if (laid.id.panel != panel) continue;
      for (const Layer& other : state_.folded.layers()) {
        if (other.id.panel != panel && shared(laid.heights, other.heights)) {
          state_.folded.join(laid.id, other.id);
        }
      }
    }
  }

  bool done(std::size_t operation, const does::Hem& work) {
    const SpanId id = state_.folded.id(work.span);
    for (const Compartment& compartment : state_.request.construction.compartments) {
      for (const SpanId film : film_path(compartment, state_.folded)) {
        if (film != id) continue;
        return state_.fault(operation,
                            {"hem-in-compartment",
                             {{"span", state_.folded.name(id)}, {"compartment", compartment.name}}},
                            {"hem-in-compartment-hint"});
      }
    }
    return true;
  }

  bool done(std::size_t operation, const does::SecureTails&) { return after_sewing(operation); }
  bool done(std::size_t operation, const does::Test&) { return after_sewing(operation); }
  bool done(std::size_t operation, const does::Dry&) { return after_sewing(operation); }
  bool after_sewing(std::size_t operation) {
    if (state_.sewn) return true;
    return state_.fault(operation, {"before-sewing", {}}, {"before-sewing-hint"});
  }

  /// The side seam is what catches it.
  bool done(std::size_t operation, const does::Tag&) {
    const auto& operations = state_.request.construction.operations;
    const bool is_caught =
        std::any_of(operations.begin() + static_cast<std::ptrdiff_t>(operation), operations.end(),
                    [](const Operation& later) {
                      const auto* sews = later.as<does::Sew>();
                      return sews != nullptr && works_on(sews->edges, Edge::left);
                    });
    return is_caught || state_.fault(operation, {"tag-not-caught", {}}, {"tag-not-caught-hint"});
  }

  bool done(std::size_t operation, const does::LookInside&) {
    const auto& all = state_.request.construction.compartments;
    return std::all_of(all.begin(), all.end(), [&](const Compartment& compartment) {
      return mouth_is_open(state_, operation, compartment, "look-mouth-covered");
    });
  }

  bool done(std::size_t operation, const does::FillFirst&) { return fill_first(state_, operation); }

  RunState state_;
  std::vector<std::pair<std::size_t, does::Finish>>
      turned_apart_;  ///< of panels that did not lie yet
};

}  // namespace

std::optional<Run> run(const Request& request, const Sizes& sizes, const Values& values,
                       base::Diagnostics& diagnostics) {
  return Runner(request, sizes, values, diagnostics).run();
}

}  // namespace pouchwright::pouch

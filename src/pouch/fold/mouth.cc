#include "pouch/fold/mouth.h"

#include <algorithm>

#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {
namespace {

/// The cloth that goes on beyond the compartment's last span: a flap, or a further pocket.
bool is_beyond(const std::vector<SpanId>& path, SpanId id) {
  const SpanId last = path.back();
  if (id.panel != last.panel) return false;
  const SpanId before = path[path.size() - 2];
  const bool grows = before.panel == last.panel ? before.span < last.span : last.span == 0;
  return grows ? id.span > last.span : id.span < last.span;
}

std::size_t position(const Folded& folded, SpanId id) {
  const auto& layers = folded.layers();
  const auto found = std::find_if(layers.begin(), layers.end(),
                                  [id](const Layer& layer) { return layer.id == id; });
  return static_cast<std::size_t>(found - layers.begin());
}

bool is_fused(const RunState& state, const Compartment& compartment) {
  return std::any_of(state.made.fused.begin(), state.made.fused.end(), [&](const Fused& fused) {
    return state.in_compartment(compartment, fused.lower, fused.upper);
  });
}

/// The first pressing after `operation`; the number of operations where there is none.
std::size_t next_pressing(const Construction& construction, std::size_t operation) {
  const auto& all = construction.operations;
  std::size_t next = operation + 1;
  while (next < all.size() && all[next].action() != Action::press) ++next;
  return next;
}

}  // namespace

bool mouth_is_open(RunState& state, std::size_t operation, const Compartment& compartment,
                   const char* key) {
  const Folded& folded = state.folded;
  const std::vector<SpanId> path = film_path(compartment, folded);
  if (path.size() < 2) return true;
  const Interval lip = folded.layer(path.front()).heights;
  const Length small = std::min(Length::whole_mm(1), lip.size());
  const bool lip_is_above = position(folded, path.front()) > position(folded, path.back());
  for (const Layer& layer : folded.layers_over({lip.to - small, lip.to})) {
    const bool is_above_lip = position(folded, layer.id) > position(folded, path.front());
    if (layer.id == path.front() || !is_beyond(path, layer.id)) continue;
    if (is_above_lip != lip_is_above) continue;
    return state.fault(operation, {key, {{"cover", folded.name(layer.id)}}},
                       {"mouth-covered-hint"});
  }
  return true;
}

bool fill_first(RunState& state, std::size_t operation) {
  const Construction& construction = state.request.construction;
  if (state.sewn) return state.fault(operation, {"fill-after-sewing"}, {"fill-after-sewing-hint"});
  if (!state.cards_inside.empty()) {
    return state.fault(operation, {"fill-over-card"}, {"sew-over-card-hint"});
  }
  const std::size_t next = next_pressing(construction, operation);
  if (next < construction.operations.size()) {
    const base::Message::Values press = {{"press", state.id_of(next)}};
    return state.fault(operation, {"fill-before-press", press}, {"fill-before-press-hint", press});
  }
  for (const Compartment& pocket : construction.compartments) {
    if (pocket.holds == Holds::dry) continue;
    if (!is_fused(state, pocket)) {
      return state.fault(operation, {"fill-unsealed", {{"compartment", pocket.name}}},
                         {"fill-unsealed-hint"});
    }
    if (!mouth_is_open(state, operation, pocket, "fill-mouth-covered")) return false;
  }
  return true;
}

}  // namespace pouchwright::pouch

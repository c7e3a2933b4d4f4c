#include "pouch/fold/seams.h"

#include <algorithm>

#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {

namespace {

/// Sews the edges of one operation. A seam goes from the lowest to the highest point where it joins
/// layers, and on to the end of a span that stands out above that, so that no raw edge is left
/// beside it: a flap that hangs free beyond the mouth is no part of it.
class Sewer {
 public:
  explicit Sewer(RunState& state) : state_(state) {}

  bool sew(std::size_t operation, const does::Sew& work) {
    if (!state_.cards_inside.empty()) {
      return state_.fault(operation, {"sew-over-card", {}}, {"sew-over-card-hint"});
    }
    const std::vector<Length> heights = seam_breaks();
    const auto joins = [&](std::size_t i) { return joined_at(heights, i); };
    std::size_t first = 0;
    std::size_t last = heights.size() - 1;
    while (first < last && !joins(first)) ++first;
    while (last > first && !joins(last - 1)) --last;
    if (first == last) {
      return state_.fault(operation, {"sew-joins-nothing", {}}, {"sew-joins-nothing-hint"});
    }
    while (last + 1 < heights.size() && goes_on(heights, last)) ++last;
    for (std::size_t i = first; i < last; ++i) sew_stretch(operation, work, heights, i);
    state_.sewn = true;
    return true;
  }

 private:
  std::vector<Layer> stack_at(const std::vector<Length>& heights, std::size_t i) const {
    return state_.folded.layers_over({heights[i], heights[i + 1]}, Length());
  }

  /// Lie several spans there? A hem that is turned under its own span joins nothing.
  bool joined_at(const std::vector<Length>& heights, std::size_t i) const {
    const std::vector<Layer> stack = stack_at(heights, i);
    return std::count_if(stack.begin(), stack.end(), [&](const Layer& layer) {
             return span_ref(state_.sizes.panels, layer.id).has_value();
           }) > 1;
  }

  /// Do all layers of the stretch from `i` on lie in the one below it as well?
  bool goes_on(const std::vector<Length>& heights, std::size_t i) const {
    const std::vector<Layer> below = stack_at(heights, i - 1);
    const std::vector<Layer> here = stack_at(heights, i);
    return !here.empty() && std::all_of(here.begin(), here.end(), [&](const Layer& layer) {
      return std::any_of(below.begin(), below.end(),
                         [&](const Layer& other) { return other.id == layer.id; });
    });
  }

  void sew_stretch(std::size_t operation, const does::Sew& work, const std::vector<Length>& heights,
                   std::size_t i) {
    const Interval stretch{heights[i], heights[i + 1]};
    const std::vector<Layer> stack = stack_at(heights, i);
    const bool at_bottom = works_on(work.edges, Edge::bottom);
    for (std::size_t k = 0; k + 1 < stack.size(); ++k) {
      state_.folded.join(stack[k].id, stack[k + 1].id);
    }
    if (!at_bottom || work.edges.size() > 1) {
      add_seam_layers(operation, Edge::left, stretch, stack);
    }
    if (at_bottom && stretch.from == -state_.sizes.seam_allowance) {
      add_seam_layers(operation, Edge::bottom, {stretch.from, std::min(stretch.to, Length())},
                      stack);
    }
  }

  /// Heights at which a layer, or something caught between two, begins or ends.
  std::vector<Length> seam_breaks() const {
    std::vector<Length> heights = state_.folded.breaks();
    for (const Caught& one : state_.made.caught) {
      heights.push_back(state_.folded.height_of(one.a, one.y.from));
      heights.push_back(state_.folded.height_of(one.a, one.y.to));
    }
    std::sort(heights.begin(), heights.end());
    heights.erase(std::unique(heights.begin(), heights.end()), heights.end());
    return heights;
  }

  /// What a needle meets: the panels with their outers, and what is caught between them.
  void add_seam_layers(std::size_t operation, Edge edge, const Interval& stretch,
                       const std::vector<Layer>& stack) {
    if (stack.empty()) return;
    SeamLayers seam;
    seam.operation = operation;
    seam.edge = edge;
    seam.heights = stretch;
    for (const Layer& layer : stack) {
      const bool outer = state_.request.outer && state_.folded.has_outer(layer, stretch, Length());
      seam.layers += outer ? 2 : 1;
      seam.thickness += state_.thickness(layer, stretch, Length());
    }
    add_caught_layers(stretch, seam);
    auto& all = state_.made.seam_layers;
    const bool goes_on = !all.empty() && all.back().operation == operation &&
                         all.back().edge == edge && all.back().layers == seam.layers &&
                         all.back().thickness == seam.thickness &&
                         all.back().heights.to == stretch.from;
    if (goes_on) {
      all.back().heights.to = stretch.to;
    } else {
      all.push_back(std::move(seam));
    }
  }

  /// A loop is a piece folded in two, so it counts as two layers of laminate.
  void add_caught_layers(const Interval& stretch, SeamLayers& seam) const {
    for (const Caught& one : state_.made.caught) {
      const Length a = state_.folded.height_of(one.a, one.y.from);
      const Length b = state_.folded.height_of(one.a, one.y.to);
      if (!shared(stretch, {std::min(a, b), std::max(a, b)})) continue;
      seam.layers += 2;
      seam.thickness += 2 * state_.request.laminate.thickness;
    }
  }

  RunState& state_;
};

}  // namespace

bool sew(RunState& state, std::size_t operation, const does::Sew& work) {
  return Sewer(state).sew(operation, work);
}

}  // namespace pouchwright::pouch

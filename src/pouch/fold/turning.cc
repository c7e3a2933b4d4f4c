#include "pouch/fold/turning.h"

#include <algorithm>

#include "base/length.h"
#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {

namespace {

/// Makes one fold.
class Turner {
 public:
  explicit Turner(RunState& state) : state_(state) {}

  bool fold(std::size_t operation, const does::Fold& work) {
    const SpanId before = state_.folded.id(std::min(work.between_a, work.between_b));
    const SpanId after = state_.folded.id(std::max(work.between_a, work.between_b));
    if (!state_.folded.lies(before.panel)) {
      return state_.fault(operation, {"panel-not-there", {}}, {"panel-not-there-hint"});
    }
    const SpanId turned = state_.folded.id(work.turn);
    const SpanId stays = turned == before ? after : before;
    const Folded flat = state_.folded;
    if (const auto trouble = state_.folded.fold(before, turned, work.landing)) {
      return told(operation, *trouble);
    }
    const Length line =
        state_.folded.height_of(before, state_.spans_of(before.panel)[before.span].to);
    FoldMade made{before, bent_along(flat, line), {}, {}, operation, line, state_.pressed};
    measure(turned, made);
    state_.made.folds.push_back(std::move(made));
    if (is_fused(turned) && is_fused(stays)) note_rolled(flat);
    state_.folded_by = operation;
    return true;
  }

  bool turn_hem(std::size_t operation, const does::Finish& work) {
    const EndFinish& finish = finish_of(state_.request, work.end);
    if (finish.kind != FinishKind::turned || finish.takes <= Length()) return true;
    const SpanId id = state_.end_span(work.panel, work.end);
    const SpanId next{work.panel, work.end == Edge::start ? id.span + 1 : id.span - 1};
    const Landing to_cloth =
        state_.folded.layer(id).film_up ? Landing::underneath : Landing::on_top;
    if (const auto trouble = state_.folded.fold(std::min(id, next), id, to_cloth)) {
      return told(operation, *trouble);
    }
    state_.folded.join(id, next);
    return true;
  }

 private:
  bool told(std::size_t operation, const FoldTrouble& trouble) {
    const bool joined_already = trouble.kind == FoldTrouble::Kind::joined;
    return state_.fault(operation,
                        {joined_already ? "fold-joined" : "fold-in-the-way",
                         {{"span", state_.folded.name(trouble.span)},
                          {"other", state_.folded.name(trouble.other)}}},
                        {joined_already ? "fold-joined-hint" : "fold-in-the-way-hint"});
  }

  /// Every line that lay at the same height and was bent with it, as the span before it.
  std::vector<SpanId> bent_along(const Folded& flat, Length line) const {
    std::vector<SpanId> lines;
    const auto is_moved = [&](SpanId id) { return flat.layer(id) != state_.folded.layer(id); };
    for (const Layer& layer : state_.folded.layers()) {
      const SpanId next{layer.id.panel, layer.id.span + 1};
      const auto& spans = state_.spans_of(layer.id.panel);
      if (next.span == spans.size() || is_moved(layer.id) == is_moved(next)) continue;
      const Length end = state_.folded.height_of(layer.id, spans[layer.id.span].to);
      if (end == line) lines.push_back(layer.id);
    }
    return lines;
  }

  bool is_fused(SpanId id) const {
    return std::any_of(state_.made.fused.begin(), state_.made.fused.end(),
                       [id](const Fused& fused) { return fused.lower == id || fused.upper == id; });
  }

  void note_rolled(const Folded& before) {
    for (const Layer& layer : state_.folded.layers()) {
      if (before.layer(layer.id) != layer) state_.made.rolled.insert(layer.id);
    }
  }

  /// T and G of a fold, seen close to its line: the layers that are bent there, each of which lies
  /// there with both its legs, and whatever lies between the outermost legs besides.
  void measure(SpanId turned, FoldMade& made) const {
    std::set<SpanId> legs;
    for (const SpanId before : made.bent) legs.insert({before, {before.panel, before.span + 1}});
    const Length small = Length::nm(1);
    const bool is_above = state_.folded.layer(turned).heights.from == made.height;
    const Interval rim = is_above ? Interval{made.height, made.height + small}
                                  : Interval{made.height - small, made.height};
    Length of_legs;
    Length between;  // what lies above the last leg is added in vain, and not taken
    for (const Layer& layer : state_.folded.layers_over(rim)) {
      const Length thickness = state_.thickness(layer, rim, base::kLongest);
      if (legs.contains(layer.id)) {
        of_legs += thickness;
        made.enclosed = between;
      } else if (of_legs > Length()) {
        between += thickness;
      }
    }
    made.thickness = base::half(of_legs);
  }

  RunState& state_;
};

}  // namespace

bool fold(RunState& state, std::size_t operation, const does::Fold& work) {
  return Turner(state).fold(operation, work);
}

bool turn_hem(RunState& state, std::size_t operation, const does::Finish& finish) {
  return Turner(state).turn_hem(operation, finish);
}

}  // namespace pouchwright::pouch

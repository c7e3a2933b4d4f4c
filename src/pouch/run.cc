#include "pouch/run.h"

#include <algorithm>
#include <numbers>

#include "units/length.h"

namespace pouchwright::pouch {

using units::exact_text;

Length panel_thickness(const Request& request) {
  return request.laminate.thickness + (request.outer ? request.outer->thickness : Length());
}

Length turn_of_cloth(Length thickness, Length enclosed) {
  const double quarter = std::numbers::pi / 2;
  return Length::mm((quarter - 1) * enclosed.in_mm() + (quarter - 2) * thickness.in_mm());
}

bool takes_part(const Operation& operation, const Request& request) {
  switch (operation.action) {
    case Action::pair:
      return request.outer.has_value();
    case Action::finish:
      return (operation.end == Edge::start ? request.start_finish : request.end_finish).kind !=
             FinishKind::none;
    case Action::lay_card:
    case Action::take_card:
      return request.cards != CardUse::on_top;
    case Action::fold:
    case Action::press:
    case Action::look_inside:
    case Action::sew:
    case Action::secure_tails:
    case Action::test:
      return true;
  }
  return true;
}

namespace {

/// Carries the state from operation to operation.
class Runner {
 public:
  Runner(const Request& request, const Sizes& sizes, diag::Diagnostics& diagnostics)
      : request_(request),
        sizes_(sizes),
        diagnostics_(diagnostics),
        folded_({sizes.panel}, request.laminate.film, bottom_line()) {}

  std::optional<Run> run() {
    const auto& operations = request_.construction.operations;
    for (std::size_t i = 0; i < operations.size(); ++i) {
      if (!takes_part(operations[i], request_)) continue;
      // After a fault in the order, what follows would only repeat it in other words.
      if (!done(operations[i])) return std::nullopt;
      result_.stages.push_back({i, folded_, card_inside_});
    }
    if (result_.stages.empty()) result_.stages.push_back({0, folded_, false});
    if (!pressed_) result_.lip_height = lip_height();
    return std::move(result_);
  }

 private:
  Length bottom_line() const {
    for (const Span& span : sizes_.panel.spans) {
      if (span.name == request_.construction.bottom_a) return span.to;
    }
    return {};
  }

  bool done(const Operation& operation) {
    switch (operation.action) {
      case Action::pair:
        return still_flat(operation);
      case Action::finish:
        return finish(operation);
      case Action::lay_card:
        return lay_card(operation);
      case Action::fold:
        return fold(operation);
      case Action::press:
        return press(operation);
      case Action::take_card:
        return take_card(operation);
      case Action::look_inside:
        return mouth_is_open(operation, "look-mouth-covered");
      case Action::sew:
        return sew(operation);
      case Action::secure_tails:
      case Action::test:
        return after_sewing(operation);
    }
    return true;
  }

  bool fault(const Operation& operation, diag::Message message, diag::Message hint) {
    message.values.emplace_back("operation", operation.id);
    diagnostics_.error(operation.place, std::move(message), {std::move(hint)});
    return false;
  }

  bool still_flat(const Operation& operation) {
    if (result_.folds.empty()) return true;
    return fault(operation, {"pair-after-fold", {{"fold", last_fold_}}}, {"pair-after-fold-hint"});
  }

  std::optional<SpanId> find(std::string_view name) const {
    const auto& spans = sizes_.panel.spans;
    for (std::size_t i = 0; i < spans.size(); ++i) {
      if (spans[i].name == name) return SpanId{0, i};
    }
    return std::nullopt;
  }

  SpanId end_span(Edge end) const {
    return {0, end == Edge::start ? 0 : sizes_.panel.spans.size() - 1};
  }

  /// The stretch of the flat panel that the finish's needles pierce, from the end inwards.
  std::vector<Stitched> stitched_by(Edge end, const EndFinish& finish) const {
    const Length reach = finish.needle_reach;
    const Interval band = end == Edge::start
                              ? Interval{Length(), reach}
                              : Interval{sizes_.cut_length - reach, sizes_.cut_length};
    std::vector<Stitched> result;
    for (std::size_t i = 0; i < sizes_.panel.spans.size(); ++i) {
      const Span& span = sizes_.panel.spans[i];
      if (const auto part = shared(band, {span.from, span.to})) {
        result.push_back({end, {0, i}, *part});
      }
    }
    return result;
  }

  bool finish(const Operation& operation) {
    const EndFinish& finish =
        operation.end == Edge::start ? request_.start_finish : request_.end_finish;
    const SpanId id = end_span(operation.end);
    if (const auto over = buried_by(id, operation.end)) {
      return fault(
          operation,
          {"finish-buried",
           {{"span", folded_.name(id)}, {"other", folded_.name(*over)}, {"fold", last_fold_}}},
          {"finish-buried-hint", {{"fold", last_fold_}}});
    }
    if (finish.kind == FinishKind::turned && finish.takes > Length()) {
      const bool at_start = operation.end == Edge::start;
      const SpanId line{0, at_start ? id.span : id.span - 1};
      const Landing to_cloth = folded_.layer(id).film_up ? Landing::underneath : Landing::on_top;
      if (const auto trouble = folded_.fold(line, id, to_cloth)) return told(operation, *trouble);
      folded_.join(id, {0, at_start ? id.span + 1 : id.span - 1});
    }
    for (const Stitched& part : stitched_by(operation.end, finish)) {
      result_.stitched.push_back(part);
    }
    return true;
  }

  /// A layer over or under the end's outermost stretch, where a needle would catch it.
  std::optional<SpanId> buried_by(SpanId id, Edge end) const {
    const Interval heights = folded_.layer(id).heights;
    const bool at_low = folded_.layer(id).rising == (end == Edge::start);
    const Length small = std::min(Length::whole_mm(1), heights.size());
    const Interval rim = at_low ? Interval{heights.from, heights.from + small}
                                : Interval{heights.to - small, heights.to};
    for (const Layer& layer : folded_.layers_over(rim)) {
      if (layer.id != id) return layer.id;
    }
    return std::nullopt;
  }

  bool lay_card(const Operation& operation) {
    if (!pressed_) {
      card_inside_ = true;
      return true;
    }
    return fault(operation, {"card-after-press", {}}, {"card-after-press-hint"});
  }

  bool take_card(const Operation& operation) {
    if (!card_inside_) return fault(operation, {"card-not-inside", {}}, {"card-not-inside-hint"});
    if (!mouth_is_open(operation, "card-mouth-covered")) return false;
    card_inside_ = false;
    return true;
  }

  bool told(const Operation& operation, const FoldTrouble& trouble) {
    const bool joined_already = trouble.kind == FoldTrouble::Kind::joined;
    return fault(operation,
                 {joined_already ? "fold-joined" : "fold-in-the-way",
                  {{"span", folded_.name(trouble.span)}, {"other", folded_.name(trouble.other)}}},
                 {joined_already ? "fold-joined-hint" : "fold-in-the-way-hint"});
  }

  bool fold(const Operation& operation) {
    const auto a = find(operation.between_a);
    const auto b = find(operation.between_b);
    if (!a || !b) return true;  // check() has told
    const SpanId before = std::min(*a, *b);
    const SpanId after = std::max(*a, *b);
    const SpanId turned = operation.turn == folded_.name(before) ? before : after;
    const SpanId stays = turned == before ? after : before;
    if (const auto trouble = folded_.fold(before, turned, operation.landing)) {
      return told(operation, *trouble);
    }
    result_.folds.push_back({before, panel_thickness(request_), enclosed(turned, stays)});
    last_fold_ = operation.id;
    return true;
  }

  /// The thickness of the layers between two that meet at a fold, close to the line.
  Length enclosed(SpanId a, SpanId b) const {
    const Layer& leg = folded_.layer(a);
    const auto near_line = shared(leg.heights, folded_.layer(b).heights);
    if (!near_line) return {};
    const bool line_is_low = leg.heights.from == folded_.layer(b).heights.from;
    const Length small = Length::nm(1);
    const Interval rim = line_is_low ? Interval{near_line->from, near_line->from + small}
                                     : Interval{near_line->to - small, near_line->to};
    Length between;
    bool inside = false;
    for (const Layer& layer : folded_.layers_over(rim)) {
      if (layer.id == a || layer.id == b) {
        inside = !inside;
      } else if (inside) {
        between += panel_thickness(request_);
      }
    }
    return between;
  }

  bool press(const Operation& operation) {
    const std::vector<Meeting> meetings = folded_.film_contacts();
    if (meetings.empty()) {
      return fault(operation, {"press-without-contact", {}}, {"press-without-contact-hint"});
    }
    if (request_.cards != CardUse::on_top && !card_inside_) {
      return fault(operation, {"press-without-card", {}}, {"press-without-card-hint"});
    }
    if (closes_the_mouth(operation)) {
      return fault(operation, {"press-closes-mouth", {}}, {"press-closes-mouth-hint"});
    }
    for (const Meeting& meeting : meetings) {
      result_.contacts.push_back({operation.id, folded_.name(meeting.lower),
                                  folded_.name(meeting.upper), meeting.heights});
      fuse(operation, meeting);
      warn_of_side_bands(operation, meeting);
    }
    note_exposed(operation);
    result_.lip_height = lip_height();
    pressed_ = true;
    return true;
  }

  void note_exposed(const Operation& operation) {
    if (operation.from != PressFrom::back) append(result_.exposed, folded_.film_on_top());
    if (operation.from != PressFrom::front) append(result_.exposed_below, folded_.film_below());
  }

  static void append(std::vector<Interval>& to, const std::vector<Interval>& more) {
    to.insert(to.end(), more.begin(), more.end());
    to = joined(std::move(to));
  }

  /// Parts of `span` that are stitched already, as folded heights.
  void add_stitched(SpanId span, std::vector<Interval>& holes) const {
    for (const Stitched& part : result_.stitched) {
      if (part.span != span) continue;
      const Length a = folded_.height_of(span, part.y.from);
      const Length b = folded_.height_of(span, part.y.to);
      holes.push_back({std::min(a, b), std::max(a, b)});
    }
  }

  static bool presses(const Operation& operation, Edge side) {
    return std::any_of(operation.edges.begin(), operation.edges.end(),
                       [side](const auto& edge) { return edge.value == side; });
  }

  void fuse(const Operation& operation, const Meeting& meeting) {
    const bool left = presses(operation, Edge::left);
    const bool right = presses(operation, Edge::right);
    if (!left && !right) return;
    std::vector<Interval> holes;
    add_stitched(meeting.lower, holes);
    add_stitched(meeting.upper, holes);
    for (const Interval& part : without(meeting.heights, holes)) {
      result_.fused.push_back({.lower = meeting.lower,
                               .upper = meeting.upper,
                               .left = left,
                               .right = right,
                               .lower_y = folded_.on_panel(meeting.lower, part),
                               .upper_y = folded_.on_panel(meeting.upper, part)});
    }
    folded_.join(meeting.lower, meeting.upper);
  }

  /// A band along a panel's end closes the mouth where that end is a compartment's lip.
  bool closes_the_mouth(const Operation& operation) const {
    for (const auto& edge : operation.edges) {
      if (edge.value == Edge::left || edge.value == Edge::right) continue;
      for (const Compartment& compartment : request_.construction.compartments) {
        const auto lip = find(compartment.film.front().value);
        if (lip && *lip == end_span(edge.value)) return true;
      }
    }
    return false;
  }

  bool in_one_compartment(SpanId a, SpanId b) const {
    for (const Compartment& compartment : request_.construction.compartments) {
      int found = 0;
      for (const auto& film : compartment.film) {
        if (film.value == folded_.name(a) || film.value == folded_.name(b)) ++found;
      }
      if (found == 2) return true;
    }
    return false;
  }

  void warn_of_side_bands(const Operation& operation, const Meeting& meeting) {
    if (in_one_compartment(meeting.lower, meeting.upper)) return;
    const units::Unit unit = request_.style.unit;
    diagnostics_.warning(operation.place,
                         {"side-bands-fused",
                          {{"operation", operation.id},
                           {"lower", folded_.name(meeting.lower)},
                           {"upper", folded_.name(meeting.upper)},
                           {"from", exact_text(meeting.heights.from, unit)},
                           {"to", exact_text(meeting.heights.to, unit)}}},
                         {{"side-bands-fused-hint"}});
  }

  bool sew(const Operation& operation) {
    if (card_inside_) return fault(operation, {"sew-over-card", {}}, {"sew-over-card-hint"});
    const std::vector<Length> heights = folded_.breaks();
    for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
      const Interval stretch{heights[i], heights[i + 1]};
      const std::vector<Layer> stack = folded_.layers_over(stretch);
      for (std::size_t k = 0; k + 1 < stack.size(); ++k) {
        folded_.join(stack[k].id, stack[k + 1].id);
      }
      add_seam_layers(operation, stretch, static_cast<int>(stack.size()));
    }
    sewn_ = true;
    return true;
  }

  void add_seam_layers(const Operation& operation, const Interval& stretch, int panels) {
    if (panels == 0) return;
    const int layers = panels * (request_.outer ? 2 : 1);
    auto& all = result_.seam_layers;
    if (!all.empty() && all.back().operation == operation.id && all.back().layers == layers &&
        all.back().heights.to == stretch.from) {
      all.back().heights.to = stretch.to;
      return;
    }
    all.push_back({operation.id, stretch, layers, panels * panel_thickness(request_)});
  }

  bool after_sewing(const Operation& operation) {
    if (sewn_) return true;
    return fault(operation, {"before-sewing", {}}, {"before-sewing-hint"});
  }

  Length lip_height() const {
    const auto& film = request_.construction.compartments.front().film;
    const auto lip = find(film.front().value);
    return lip ? folded_.height_of(*lip, sizes_.panel.spans[lip->span].from) : Length();
  }

  /// A hand reaches a compartment where nothing lies over its lip, or nothing under it.
  bool mouth_is_open(const Operation& operation, const char* key) {
    for (const Compartment& compartment : request_.construction.compartments) {
      const auto lip = find(compartment.film.front().value);
      if (!lip) continue;
      const Interval heights = folded_.layer(*lip).heights;
      const Length small = std::min(Length::whole_mm(1), heights.size());
      const Interval rim{heights.to - small, heights.to};
      const std::vector<Layer> stack = folded_.layers_over(rim);
      const auto is_lip_or_hem = [&](const Layer& layer) {
        return layer.id == *lip || folded_.name(layer.id) == kStartHem;
      };
      if (is_lip_or_hem(stack.back()) || is_lip_or_hem(stack.front())) continue;
      return fault(operation, {key, {{"cover", folded_.name(stack.back().id)}}},
                   {"mouth-covered-hint"});
    }
    return true;
  }

  const Request& request_;
  const Sizes& sizes_;
  diag::Diagnostics& diagnostics_;
  Folded folded_;
  Run result_;
  std::string last_fold_;
  bool card_inside_ = false;
  bool pressed_ = false;
  bool sewn_ = false;
};

}  // namespace

std::optional<Run> run(const Request& request, const Sizes& sizes, diag::Diagnostics& diagnostics) {
  return Runner(request, sizes, diagnostics).run();
}

}  // namespace pouchwright::pouch

#include "pouch/run.h"

#include <algorithm>
#include <numbers>

#include "pouch/contacts.h"
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

namespace {

bool attaches(const Operation& operation, const Request& request) {
  const Attachment* attachment = request.construction.attachment(operation.attachment);
  if (!attachment) return false;
  if (!attachment->closure.empty() && attachment->closure != request.closure) return false;
  return !operation.through || *operation.through == request.closure_through;
}

bool lays_panel(const Operation& operation, const Request& request) {
  const PanelRule* panel = request.construction.panel(operation.panel);
  return panel && (panel->cloth != ClothKind::lining || request.lining);
}

}  // namespace

bool takes_part(const Operation& operation, const Request& request) {
  switch (operation.action) {
    case Action::attach:
      return attaches(operation, request);
    case Action::lay_panel:
      return lays_panel(operation, request);
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
    case Action::hem:
    case Action::sew:
    case Action::secure_tails:
    case Action::test:
      return true;
  }
  return true;
}

std::vector<SpanId> film_path(const Compartment& compartment, const Folded& folded) {
  std::vector<SpanId> path;
  for (const auto& film : compartment.film) {
    const auto id = folded.find(film.value);
    if (id && folded.lies(id->panel)) path.push_back(*id);
  }
  return path;
}

namespace {

/// Carries the state from operation to operation.
class Runner {
 public:
  Runner(const Request& request, const Sizes& sizes, const Values& values,
         diag::Diagnostics& diagnostics)
      : request_(request),
        sizes_(sizes),
        values_(values),
        diagnostics_(diagnostics),
        folded_(sizes.panels, request.laminate.film, bottom_line()) {}

  std::optional<Run> run() {
    const auto& operations = request_.construction.operations;
    for (std::size_t i = 0; i < operations.size(); ++i) {
      if (!takes_part(operations[i], request_)) continue;
      // After a fault in the order, what follows would only repeat it in other words.
      if (!done(operations[i])) return std::nullopt;
      result_.stages.push_back({i, folded_, !cards_inside_.empty()});
    }
    if (result_.stages.empty()) result_.stages.push_back({0, folded_, false});
    if (!pressed_) note_lips();
    return std::move(result_);
  }

 private:
  /// Where two spans of the main panel meet at the bottom, or, where a seam joins the bottom, the
  /// seam line of its end there.
  Length bottom_line() const {
    const Construction& construction = request_.construction;
    const auto& spans = sizes_.panel.spans;
    if (construction.has_bottom_seam()) {
      const bool at_start = is_bottom(spans.front().name);
      return at_start ? spans.front().from + sizes_.seam_allowance
                      : spans.back().to - sizes_.seam_allowance;
    }
    for (std::size_t i = 0; i + 1 < spans.size(); ++i) {
      if (is_bottom(spans[i].name) && is_bottom(spans[i + 1].name)) return spans[i].to;
    }
    return {};
  }

  bool is_bottom(const std::string& span) const {
    return span == request_.construction.bottom_a || span == request_.construction.bottom_b;
  }

  bool done(const Operation& operation) {
    switch (operation.action) {
      case Action::attach:
        return attach(operation);
      case Action::lay_panel:
        return lay_panel(operation);
      case Action::hem:
        return hem(operation);
      case Action::pair:
        paired_ = true;
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
        return mouths_are_open(operation, "look-mouth-covered");
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

  /// The panel that an operation names, else the main one.
  std::size_t panel_of(const Operation& operation) const {
    for (std::size_t i = 0; i < sizes_.panels.size(); ++i) {
      if (sizes_.panels[i].name == operation.panel) return i;
    }
    return 0;
  }

  const std::vector<Span>& spans_of(std::size_t panel) const { return sizes_.panels[panel].spans; }

  SpanId end_span(std::size_t panel, Edge end) const {
    return {panel, end == Edge::start ? 0 : spans_of(panel).size() - 1};
  }

  /// The stretch of one panel's spans that lies in `band`.
  template <typename Take>
  void over_spans(std::size_t panel, const Interval& band, Take take) const {
    for (std::size_t i = 0; i < spans_of(panel).size(); ++i) {
      const Span& span = spans_of(panel)[i];
      if (const auto part = shared(band, {span.from, span.to})) take(SpanId{panel, i}, *part);
    }
  }

  /// The stretch of the flat panel that the finish's needles pierce, from the raw end inwards.
  std::vector<Stitched> stitched_by(std::size_t panel, Edge end, const EndFinish& finish) const {
    const Length takes =
        end == Edge::end && finish.kind != FinishKind::turned ? finish.takes : Length();
    const Length raw_end = spans_of(panel).back().to + takes;
    const Interval band = end == Edge::start ? Interval{Length(), finish.needle_reach}
                                             : Interval{raw_end - finish.needle_reach, raw_end};
    std::vector<Stitched> result;
    over_spans(panel, band, [&](SpanId id, const Interval& part) {
      result.push_back({end, id, part});
    });
    return result;
  }

  bool finish(const Operation& operation) {
    const EndFinish& finish =
        operation.end == Edge::start ? request_.start_finish : request_.end_finish;
    const std::size_t panel = panel_of(operation);
    const SpanId id = end_span(panel, operation.end);
    for (const Stitched& part : stitched_by(panel, operation.end, finish)) {
      result_.stitched.push_back(part);
    }
    // A panel that lies apart is finished on its own.
    if (!folded_.lies(panel)) {
      turned_apart_.push_back(&operation);
      return true;
    }
    if (const auto over = buried_by(id, operation.end)) {
      return fault(
          operation,
          {"finish-buried",
           {{"span", folded_.name(id)}, {"other", folded_.name(*over)}, {"fold", last_fold_}}},
          {"finish-buried-hint", {{"fold", last_fold_}}});
    }
    return turn_hem(operation, panel);
  }

  bool turn_hem(const Operation& operation, std::size_t panel) {
    const EndFinish& finish =
        operation.end == Edge::start ? request_.start_finish : request_.end_finish;
    if (finish.kind != FinishKind::turned || finish.takes <= Length()) return true;
    const bool at_start = operation.end == Edge::start;
    const SpanId id = end_span(panel, operation.end);
    const SpanId next{panel, at_start ? id.span + 1 : id.span - 1};
    const Landing to_cloth = folded_.layer(id).film_up ? Landing::underneath : Landing::on_top;
    if (const auto trouble = folded_.fold(std::min(id, next), id, to_cloth)) {
      return told(operation, *trouble);
    }
    folded_.join(id, next);
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

  const Compartment& compartment_of(const Operation& operation) const {
    const auto& all = request_.construction.compartments;
    for (const Compartment& one : all) {
      if (one.name == operation.compartment) return one;
    }
    return all.front();
  }

  bool lay_card(const Operation& operation) {
    const std::string& name = compartment_of(operation).name;
    for (const Fused& fused : result_.fused) {
      if (in_compartment(compartment_of(operation), fused.lower, fused.upper)) {
        return fault(operation, {"card-after-press", {}}, {"card-after-press-hint"});
      }
    }
    cards_inside_.insert(name);
    result_.carded.push_back(name);
    return true;
  }

  bool take_card(const Operation& operation) {
    const Compartment& compartment = compartment_of(operation);
    if (!cards_inside_.contains(compartment.name)) {
      return fault(operation, {"card-not-inside", {}}, {"card-not-inside-hint"});
    }
    if (!mouth_is_open(operation, compartment, "card-mouth-covered")) return false;
    cards_inside_.erase(compartment.name);
    return true;
  }

  /// Ends meet at a seam, or a lining is laid on a span; a lining then moves with what it lies on.
  bool lay_panel(const Operation& operation) {
    const std::size_t panel = panel_of(operation);
    const bool a_is_new = folded_.find(operation.meets_a)->panel == panel;
    const SpanId there = *folded_.find(a_is_new ? operation.meets_b : operation.meets_a);
    if (!folded_.lies(there.panel)) {
      return fault(operation, {"panel-not-there", {}}, {"panel-not-there-hint"});
    }
    if (request_.construction.panels[panel].cloth == ClothKind::lining) {
      const Length y = spans_of(there.panel)[there.span].from + value_of(operation.offset, values_);
      const Length height = folded_.height_of(there, y);
      const bool rising = folded_.layer(there).rising;
      const Length size = spans_of(panel).back().to;
      folded_.lay(panel, rising ? height : height - size, rising, false, operation.landing);
      tack(panel);
      return true;
    }
    const bool from_end = operation.end == Edge::end;
    folded_.lay(panel, raw_end_height(there), !from_end, operation.film_up, operation.landing);
    last_fold_ = operation.id;
    for (const Operation* finished : turned_apart_) {
      if (panel_of(*finished) == panel && !turn_hem(*finished, panel)) return false;
    }
    return true;
  }

  /// The height of the raw end next to a span that lies at an end of its panel; the lower one where
  /// it lies at both.
  Length raw_end_height(SpanId id) const {
    const auto& spans = spans_of(id.panel);
    const Length at_start = folded_.height_of(id, spans[id.span].from);
    const Length at_end = folded_.height_of(id, spans[id.span].to);
    if (spans.size() == 1) return std::min(at_start, at_end);
    return id.span == 0 ? at_start : at_end;
  }

  void tack(std::size_t panel) {
    for (const Layer& laid : folded_.layers()) {
      if (laid.id.panel != panel) continue;
      for (const Layer& other : folded_.layers()) {
        if (other.id.panel != panel && shared(laid.heights, other.heights)) {
          folded_.join(laid.id, other.id);
        }
      }
    }
  }

  bool hem(const Operation& operation) {
    const auto id = folded_.find(operation.span);
    for (const Compartment& compartment : request_.construction.compartments) {
      for (const SpanId film : film_path(compartment, folded_)) {
        if (film != *id) continue;
        return fault(
            operation,
            {"hem-in-compartment", {{"span", operation.span}, {"compartment", compartment.name}}},
            {"hem-in-compartment-hint"});
      }
    }
    return true;
  }

  /// What an attachment covers along its panel.
  Interval extent_of(const Attachment& attachment, const Span& span) const {
    const Length distance = value_of(attachment.distance, values_);
    const Length extent = value_of(attachment.extent, values_);
    if (attachment.from == Edge::start) {
      return {span.from + distance, span.from + distance + extent};
    }
    return {span.to - distance - extent, span.to - distance};
  }

  std::vector<Length> places_across(const Attachment& attachment) const {
    std::vector<Length> places;
    if (attachment.between || attachment.across == Across::sides) return places;
    for (int i = 1; i <= attachment.count; ++i) {
      const std::int64_t part = sizes_.cut_width.in_nm() / (attachment.count + 1);
      places.push_back(Length::nm(part * i));
    }
    return places;
  }

  bool attach(const Operation& operation) {
    const Attachment& attachment = *request_.construction.attachment(operation.attachment);
    const SpanId id = *folded_.find(attachment.span);
    const Span& span = spans_of(id.panel)[id.span];
    const Interval y = extent_of(attachment, span);
    if (y.from < span.from || y.to > span.to) {
      const units::Unit unit = request_.style.unit;
      return fault(operation,
                   {"attachment-beyond-span",
                    {{"attachment", attachment.name},
                     {"span", span.name},
                     {"length", exact_text(span.to - span.from, unit)},
                     {"needs", exact_text(value_of(attachment.distance, values_) +
                                              value_of(attachment.extent, values_),
                                          unit)}}},
                   {"attachment-beyond-span-hint", {{"operation", operation.id}}});
    }
    const bool on_outer = request_.outer && !paired_;
    const Through through = on_outer ? Through::outer : Through::film;
    if (operation.through == Through::outer && through == Through::film) {
      return fault(operation, {"outer-already-paired", {{"attachment", attachment.name}}},
                   {"outer-already-paired-hint"});
    }
    result_.fixed.push_back({attachment.name, attachment.kind, operation.id, span.name, id.panel, y,
                             places_across(attachment), through});
    if (attachment.between) return caught(operation, attachment, y);
    if (through == Through::film) pierce(attachment, id.panel, y);
    return true;
  }

  void pierce(const Attachment& attachment, std::size_t panel, const Interval& y) {
    const Length reach = std::max(value_of(attachment.reach, values_), Length::nm(1));
    over_spans(panel, {y.from - reach, y.to + reach}, [&](SpanId id, const Interval& part) {
      result_.holes.push_back({attachment.name, id, part});
    });
  }

  /// A loop or a strap between two layers at the sides. Nothing else may lie between them.
  bool caught(const Operation& operation, const Attachment& attachment, const Interval& y) {
    const SpanId a = *folded_.find(attachment.between->first);
    const SpanId b = *folded_.find(attachment.between->second);
    const SpanId on = *folded_.find(attachment.span);
    const Length from = folded_.height_of(on, y.from);
    const Length to = folded_.height_of(on, y.to);
    const Interval heights{std::min(from, to), std::max(from, to)};
    if (!are_neighbours(a, b, heights)) {
      return fault(
          operation,
          {"not-neighbours",
           {{"attachment", attachment.name}, {"a", folded_.name(a)}, {"b", folded_.name(b)}}},
          {"not-neighbours-hint", {{"operation", operation.id}}});
    }
    const bool both = attachment.across == Across::sides || attachment.across == Across::middle;
    result_.caught.push_back({attachment.name, a, b, folded_.on_panel(a, heights),
                              both || attachment.across == Across::left,
                              both || attachment.across == Across::right});
    return true;
  }

  bool are_neighbours(SpanId a, SpanId b, const Interval& heights) const {
    const std::vector<Layer> stack = folded_.layers_over(heights, Length());
    for (std::size_t i = 0; i + 1 < stack.size(); ++i) {
      const bool pair =
          (stack[i].id == a && stack[i + 1].id == b) || (stack[i].id == b && stack[i + 1].id == a);
      if (pair) return true;
    }
    return false;
  }

  bool told(const Operation& operation, const FoldTrouble& trouble) {
    const bool joined_already = trouble.kind == FoldTrouble::Kind::joined;
    return fault(operation,
                 {joined_already ? "fold-joined" : "fold-in-the-way",
                  {{"span", folded_.name(trouble.span)}, {"other", folded_.name(trouble.other)}}},
                 {joined_already ? "fold-joined-hint" : "fold-in-the-way-hint"});
  }

  bool fold(const Operation& operation) {
    const auto a = folded_.find(operation.between_a);
    const auto b = folded_.find(operation.between_b);
    const SpanId before = std::min(*a, *b);
    const SpanId after = std::max(*a, *b);
    if (!folded_.lies(before.panel)) {
      return fault(operation, {"panel-not-there", {}}, {"panel-not-there-hint"});
    }
    const SpanId turned = operation.turn == folded_.name(before) ? before : after;
    const SpanId stays = turned == before ? after : before;
    const Folded flat = folded_;
    if (const auto trouble = folded_.fold(before, turned, operation.landing)) {
      return told(operation, *trouble);
    }
    const Length line = folded_.height_of(before, spans_of(before.panel)[before.span].to);
    result_.folds.push_back({before, bent_along(flat, line), panel_thickness(request_),
                             enclosed(turned, stays), operation.id, line, pressed_});
    if (is_fused(turned) && is_fused(stays)) note_rolled(flat);
    last_fold_ = operation.id;
    return true;
  }

  /// Every line that lay at the same height and was bent with it, as the span before it.
  std::vector<SpanId> bent_along(const Folded& flat, Length line) const {
    std::vector<SpanId> lines;
    const auto is_moved = [&](SpanId id) { return flat.layer(id) != folded_.layer(id); };
    for (const Layer& layer : folded_.layers()) {
      const SpanId next{layer.id.panel, layer.id.span + 1};
      const auto& spans = spans_of(layer.id.panel);
      if (next.span == spans.size() || is_moved(layer.id) == is_moved(next)) continue;
      if (folded_.height_of(layer.id, spans[layer.id.span].to) == line) lines.push_back(layer.id);
    }
    return lines;
  }

  bool is_fused(SpanId id) const {
    return std::any_of(result_.fused.begin(), result_.fused.end(),
                       [id](const Fused& fused) { return fused.lower == id || fused.upper == id; });
  }

  void note_rolled(const Folded& before) {
    for (const Layer& layer : folded_.layers()) {
      if (before.layer(layer.id) != layer) result_.rolled.insert(layer.id);
    }
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
    const std::vector<EdgeMeeting> meetings = edge_meetings(folded_, sizes_.seal_width);
    if (meetings.empty()) {
      return fault(operation, {"press-without-contact", {}}, {"press-without-contact-hint"});
    }
    if (request_.cards != CardUse::on_top && cards_inside_.empty()) {
      return fault(operation, {"press-without-card", {}}, {"press-without-card-hint"});
    }
    if (closes_the_mouth(operation)) {
      return fault(operation, {"press-closes-mouth", {}}, {"press-closes-mouth-hint"});
    }
    for (const EdgeMeeting& found : meetings) {
      note_contact(operation, found.meeting);
      fuse_sides(operation, found);
    }
    if (presses(operation, Edge::bottom)) fuse_bottom(operation);
    note_corners();
    note_lips();
    note_exposed(operation);
    pressed_ = true;
    return true;
  }

  /// Bands of one contact at several distances from the edge are one contact.
  void note_contact(const Operation& operation, const Meeting& meeting) {
    const Contact contact{operation.id, folded_.name(meeting.lower), folded_.name(meeting.upper),
                          meeting.heights};
    auto& all = result_.contacts;
    if (std::find(all.begin(), all.end(), contact) != all.end()) return;
    all.push_back(contact);
    warn_of_side_bands(operation, meeting);
    warn_of_cold_contact(operation, meeting);
  }

  void note_corners() {
    for (TestPoint& corner : corners(folded_, folded_.film_contacts())) {
      auto& all = result_.test_points;
      if (std::find(all.begin(), all.end(), corner) == all.end()) all.push_back(std::move(corner));
    }
  }

  void note_exposed(const Operation& operation) {
    PressMade press{operation.id, {}, result_.lip_heights, presses(operation, Edge::bottom)};
    if (operation.from != PressFrom::back) {
      append(result_.exposed, folded_.film_on_top());
      append(press.exposed, folded_.film_on_top());
    }
    if (operation.from != PressFrom::front) {
      append(result_.exposed_below, folded_.film_below());
      append(press.exposed, folded_.film_below());
    }
    result_.presses.push_back(std::move(press));
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

  /// The parts of a contact that nothing keeps from fusing along one side.
  std::vector<Interval> free_parts(const Meeting& meeting, Edge side) const {
    std::vector<Interval> holes;
    add_stitched(meeting.lower, holes);
    add_stitched(meeting.upper, holes);
    for (const Caught& one : result_.caught) {
      const bool is_pair = (one.a == meeting.lower && one.b == meeting.upper) ||
                           (one.a == meeting.upper && one.b == meeting.lower);
      if (!is_pair || !(side == Edge::left ? one.left : one.right)) continue;
      const Length a = folded_.height_of(one.a, one.y.from);
      const Length b = folded_.height_of(one.a, one.y.to);
      holes.push_back({std::min(a, b), std::max(a, b)});
    }
    return without(meeting.heights, holes);
  }

  void fuse_sides(const Operation& operation, const EdgeMeeting& found) {
    const Meeting& meeting = found.meeting;
    std::vector<Interval> left;
    std::vector<Interval> right;
    if (presses(operation, Edge::left)) left = free_parts(meeting, Edge::left);
    if (presses(operation, Edge::right)) right = free_parts(meeting, Edge::right);
    if (left == right) {
      for (const Interval& part : left) add_fused(found, part, true, true);
    } else {
      for (const Interval& part : left) add_fused(found, part, true, false);
      for (const Interval& part : right) add_fused(found, part, false, true);
    }
    if (!left.empty() || !right.empty()) folded_.join(meeting.lower, meeting.upper);
  }

  void add_fused(const EdgeMeeting& found, const Interval& heights, bool left, bool right) {
    Fused fused;
    fused.lower = found.meeting.lower;
    fused.upper = found.meeting.upper;
    fused.left = left;
    fused.right = right;
    fused.lower_film_side = folded_.layer(fused.lower).film_up;
    fused.upper_film_side = !folded_.layer(fused.upper).film_up;
    fused.from_edge = found.from_edge;
    fused.lower_y = folded_.on_panel(fused.lower, heights);
    fused.upper_y = folded_.on_panel(fused.upper, heights);
    const bool known =
        std::any_of(result_.fused.begin(), result_.fused.end(), [&](const Fused& other) {
          return other.lower_y == fused.lower_y && other.lower == fused.lower &&
                 other.upper == fused.upper && other.left == left && other.right == right &&
                 other.bottom == fused.bottom && other.from_edge == fused.from_edge;
        });
    if (!known) result_.fused.push_back(fused);
  }

  /// The raw ends that lie on each other at the bottom, pressed all across.
  void fuse_bottom(const Operation& operation) {
    const Length raw = -sizes_.seam_allowance;
    const Interval band{raw, raw + sizes_.seal_width};
    bool any = false;
    for (const Meeting& meeting : folded_.film_contacts(units::kLongest)) {
      const auto part = shared(meeting.heights, band);
      if (!part || part->from != raw) continue;
      Fused fused;
      fused.lower = meeting.lower;
      fused.upper = meeting.upper;
      fused.left = fused.right = false;
      fused.bottom = true;
      fused.from_edge = {Length(), part->to - raw};
      fused.lower_y = folded_.on_panel(fused.lower, *part);
      fused.upper_y = folded_.on_panel(fused.upper, *part);
      result_.fused.push_back(fused);
      folded_.join(meeting.lower, meeting.upper);
      any = true;
    }
    if (any) return;
    diagnostics_.warning(operation.place, {"bottom-not-fused", {{"operation", operation.id}}},
                         {{"bottom-not-fused-hint"}});
  }

  /// A band along a panel's end closes the mouth where that end is a compartment's lip.
  bool closes_the_mouth(const Operation& operation) const {
    for (const auto& edge : operation.edges) {
      if (edge.value != Edge::start && edge.value != Edge::end) continue;
      for (const Compartment& compartment : request_.construction.compartments) {
        const auto lip = folded_.find(compartment.film.front().value);
        if (lip && *lip == end_span(lip->panel, edge.value)) return true;
      }
    }
    return false;
  }

  bool in_compartment(const Compartment& compartment, SpanId a, SpanId b) const {
    const std::vector<SpanId> path = film_path(compartment, folded_);
    return std::find(path.begin(), path.end(), a) != path.end() &&
           std::find(path.begin(), path.end(), b) != path.end();
  }

  void warn_of_cold_contact(const Operation& operation, const Meeting& meeting) {
    const std::size_t layers = layers_to_iron(folded_, meeting, operation.from);
    if (layers <= kIronLayers) return;
    diagnostics_.warning(operation.place,
                         {"iron-may-not-reach",
                          {{"operation", operation.id},
                           {"lower", folded_.name(meeting.lower)},
                           {"upper", folded_.name(meeting.upper)},
                           {"layers", std::to_string(layers)},
                           {"most", std::to_string(kIronLayers)}}},
                         {{"iron-may-not-reach-hint"}});
  }

  bool in_one_compartment(SpanId a, SpanId b) const {
    const auto& all = request_.construction.compartments;
    return std::any_of(all.begin(), all.end(), [&](const Compartment& compartment) {
      return in_compartment(compartment, a, b);
    });
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
    if (!cards_inside_.empty()) {
      return fault(operation, {"sew-over-card", {}}, {"sew-over-card-hint"});
    }
    const bool at_bottom = presses(operation, Edge::bottom);
    const bool at_sides = !at_bottom || operation.edges.size() > 1;
    const std::vector<Length> heights = seam_breaks();
    for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
      const Interval stretch{heights[i], heights[i + 1]};
      const std::vector<Layer> stack = folded_.layers_over(stretch, Length());
      for (std::size_t k = 0; k + 1 < stack.size(); ++k) {
        folded_.join(stack[k].id, stack[k + 1].id);
      }
      if (at_sides) add_seam_layers(operation, Edge::left, stretch, stack);
      const bool is_bottom_stretch = stretch.from == -sizes_.seam_allowance;
      if (at_bottom && is_bottom_stretch) {
        add_seam_layers(operation, Edge::bottom, {stretch.from, std::min(stretch.to, Length())},
                        stack);
      }
    }
    sewn_ = true;
    return true;
  }

  /// Heights at which a layer, or something caught between two, begins or ends.
  std::vector<Length> seam_breaks() const {
    std::vector<Length> heights = folded_.breaks();
    for (const Caught& one : result_.caught) {
      heights.push_back(folded_.height_of(one.a, one.y.from));
      heights.push_back(folded_.height_of(one.a, one.y.to));
    }
    std::sort(heights.begin(), heights.end());
    heights.erase(std::unique(heights.begin(), heights.end()), heights.end());
    return heights;
  }

  /// What a needle meets: the panels with their outers, and what is caught between them.
  void add_seam_layers(const Operation& operation, Edge edge, const Interval& stretch,
                       const std::vector<Layer>& stack) {
    if (stack.empty()) return;
    SeamLayers seam;
    seam.operation = operation.id;
    seam.edge = edge;
    seam.heights = stretch;
    for (const Layer& layer : stack) {
      const bool is_lining = !folded_.panels()[layer.id.panel].has_film;
      const bool outer = request_.outer && folded_.has_outer(layer, stretch, Length());
      seam.layers += outer ? 2 : 1;
      seam.thickness +=
          is_lining && request_.lining ? request_.lining->thickness : request_.laminate.thickness;
      if (outer) seam.thickness += request_.outer->thickness;
    }
    add_caught_layers(stretch, seam);
    auto& all = result_.seam_layers;
    const bool goes_on = !all.empty() && all.back().operation == operation.id &&
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
    for (const Caught& one : result_.caught) {
      const Length a = folded_.height_of(one.a, one.y.from);
      const Length b = folded_.height_of(one.a, one.y.to);
      if (!shared(stretch, {std::min(a, b), std::max(a, b)})) continue;
      seam.layers += 2;
      seam.thickness += 2 * request_.laminate.thickness;
    }
  }

  bool after_sewing(const Operation& operation) {
    if (sewn_) return true;
    return fault(operation, {"before-sewing", {}}, {"before-sewing-hint"});
  }

  void note_lips() {
    result_.lip_heights.clear();
    for (const Compartment& compartment : request_.construction.compartments) {
      const std::vector<SpanId> path = film_path(compartment, folded_);
      result_.lip_heights.push_back(path.empty() ? Length()
                                                 : folded_.layer(path.front()).heights.to);
    }
    result_.lip_height = result_.lip_heights.front();
  }

  /// The cloth that goes on beyond the compartment's last span: a flap, or a further pocket.
  bool is_beyond(const std::vector<SpanId>& path, SpanId id) const {
    const SpanId last = path.back();
    if (id.panel != last.panel) return false;
    const SpanId before = path[path.size() - 2];
    const bool grows = before.panel == last.panel ? before.span < last.span : last.span == 0;
    return grows ? id.span > last.span : id.span < last.span;
  }

  std::size_t position(SpanId id) const {
    const auto& layers = folded_.layers();
    const auto found = std::find_if(layers.begin(), layers.end(),
                                    [id](const Layer& layer) { return layer.id == id; });
    return static_cast<std::size_t>(found - layers.begin());
  }

  /// A hand reaches into a compartment unless the cloth beyond its last span comes over the mouth
  /// and down on the other side of the lip.
  bool mouth_is_open(const Operation& operation, const Compartment& compartment, const char* key) {
    const std::vector<SpanId> path = film_path(compartment, folded_);
    if (path.size() < 2) return true;
    const Interval lip = folded_.layer(path.front()).heights;
    const Length small = std::min(Length::whole_mm(1), lip.size());
    const bool lip_is_above = position(path.front()) > position(path.back());
    for (const Layer& layer : folded_.layers_over({lip.to - small, lip.to})) {
      const bool is_above_lip = position(layer.id) > position(path.front());
      if (layer.id == path.front() || !is_beyond(path, layer.id)) continue;
      if (is_above_lip != lip_is_above) continue;
      return fault(operation, {key, {{"cover", folded_.name(layer.id)}}}, {"mouth-covered-hint"});
    }
    return true;
  }

  bool mouths_are_open(const Operation& operation, const char* key) {
    for (const Compartment& compartment : request_.construction.compartments) {
      if (!mouth_is_open(operation, compartment, key)) return false;
    }
    return true;
  }

  const Request& request_;
  const Sizes& sizes_;
  const Values& values_;
  diag::Diagnostics& diagnostics_;
  Folded folded_;
  Run result_;
  std::string last_fold_;
  std::set<std::string> cards_inside_;          ///< compartments
  std::vector<const Operation*> turned_apart_;  ///< finishes of panels that did not lie yet
  bool paired_ = false;
  bool pressed_ = false;
  bool sewn_ = false;
};

}  // namespace

std::optional<Run> run(const Request& request, const Sizes& sizes, const Values& values,
                       diag::Diagnostics& diagnostics) {
  return Runner(request, sizes, values, diagnostics).run();
}

}  // namespace pouchwright::pouch

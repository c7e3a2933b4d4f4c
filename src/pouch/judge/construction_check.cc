// What can be wrong with a construction before there is a job; see check() in construction.h.
#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "pouch/construction.h"

namespace pouchwright::pouch {

namespace {

class Checker {
 public:
  Checker(const Construction& construction, base::Diagnostics& diagnostics)
      : construction_(construction), diagnostics_(diagnostics) {}

  bool check() {
    panels();
    named_spans();
    pieces();
    attachments();
    for (const Compartment& compartment : construction_.compartments) film_of(compartment);
    if (construction_.compartments.empty()) error(construction_.place, {"no-compartment"}, {});
    operations();
    return !found_;
  }

 private:
  void error(const Place& place, base::Message message, std::vector<base::Message> hints) {
    found_ = true;
    diagnostics_.error(place, std::move(message), std::move(hints));
  }

  void panels() {
    std::size_t spans = 0;
    for (const PanelRule& panel : construction_.panels) {
      spans += panel.spans.size();
      for (const SpanRule& span : panel.spans) {
        if (!names_.insert(span.name).second) {
          error(span.place, {"span-twice", {{"span", span.name}}}, {{"span-twice-hint"}});
        }
        known_sizes(span.length);
      }
      known_sizes(panel.width);
      known_sizes(panel.outer_inset.start);
      known_sizes(panel.outer_inset.end);
      known_sizes(panel.outer_inset.sides);
      if (!panel_names_.insert(panel.name).second) twice(panel.place, "panel", panel.name);
    }
    too_many(construction_.panels.size(), kMostPanels, "too-many-panels");
    too_many(spans, kMostSpans, "too-many-spans");
  }

  void too_many(std::size_t count, std::size_t most, const char* key) {
    if (count <= most) return;
    error(construction_.place, {key, {{"count", count}, {"most", most}}}, {});
  }

  void twice(const Place& place, const char* what, const std::string& name) {
    error(place, {"name-twice", {{"what", what}, {"name", name}}}, {{"name-twice-hint"}});
  }

  void known_sizes(const LinearForm& form) {
    for (const LinearForm::Term& term : form.terms) known_size(term);
  }

  void known_size(const LinearForm::Term& term) {
    if (construction_.size_rule(term.size)) return;
    std::vector<std::string> known;
    for (const SizeRule& rule : construction_.sizes) known.push_back(rule.name);
    error(term.place, {"size-unknown", {{"size", term.size}}}, nearest_hint(term.size, known));
  }

  static std::vector<base::Message> nearest_hint(const std::string& word,
                                                 const std::vector<std::string>& known) {
    if (known.empty()) return {{"no-names-hint"}};
    const std::string near = base::nearest(word, known);
    if (near.empty()) return {{"known-names-hint", {{"names", base::list_text(known)}}}};
    return {{"did-you-mean", {{"word", near}}}};
  }

  bool known_span(const std::string& name, const Place& place) {
    if (names_.contains(name)) return true;
    error(place, {"span-unknown", {{"span", name}}},
          nearest_hint(name, {names_.begin(), names_.end()}));
    return false;
  }

  /// Two spans that follow each other on one panel, in either order.
  bool touch(const std::string& a, const std::string& b) const {
    for (const PanelRule& panel : construction_.panels) {
      for (std::size_t i = 0; i + 1 < panel.spans.size(); ++i) {
        const std::string& first = panel.spans[i].name;
        const std::string& second = panel.spans[i + 1].name;
        if ((first == a && second == b) || (first == b && second == a)) return true;
      }
    }
    return false;
  }

  bool spans_meet(const std::string& a, const std::string& b, const Place& place) {
    if (!known_span(a, place) || !known_span(b, place)) return false;
    if (touch(a, b)) return true;
    error(place, {"spans-do-not-touch", {{"a", a}, {"b", b}}}, {{"spans-do-not-touch-hint"}});
    return false;
  }

  /// Does the span lie at an end of its panel, where another panel's end may be joined to it?
  bool is_at_an_end(const std::string& name) const {
    const PanelRule* panel = construction_.panel_of_span(name);
    return panel && (panel->spans.front().name == name || panel->spans.back().name == name);
  }

  /// The bottom pair of two panels is joined by a seam.
  bool meet_at_the_bottom(const std::string& a, const std::string& b) const {
    const auto bottom = std::minmax(construction_.bottom_a, construction_.bottom_b);
    return construction_.has_bottom_seam() && std::minmax(a, b) == bottom;
  }

  void bottom() {
    const std::string& a = construction_.bottom_a;
    const std::string& b = construction_.bottom_b;
    const bool known = names_.contains(a) && names_.contains(b);
    if (known && construction_.has_bottom_seam()) {
      if (is_at_an_end(a) && is_at_an_end(b)) return;
      error(construction_.bottom_place, {"bottom-not-at-ends", {{"a", a}, {"b", b}}},
            {{"bottom-not-at-ends-hint"}});
      return;
    }
    (void)spans_meet(a, b, construction_.bottom_place);
  }

  void pieces() {
    std::set<std::string> names;
    for (const PieceRule& piece : construction_.pieces) {
      if (!names.insert(piece.name).second || panel_names_.contains(piece.name)) {
        twice(piece.place, "piece", piece.name);
      }
      known_sizes(piece.width);
      known_sizes(piece.length);
    }
    too_many(construction_.pieces.size(), kMostPieceRules, "too-many-pieces-in-construction");
  }

  void attachments() {
    std::set<std::string> names;
    for (const Attachment& one : construction_.attachments) {
      if (!names.insert(one.name).second) twice(one.place, "attachment", one.name);
      lies_on(one);
      known_sizes(one.distance);
      known_sizes(one.extent);
      known_sizes(one.reach);
      known_sizes(one.from_side);
      across(one);
      known_sizes(one.width);
      if (one.between) {
        (void)known_span(one.between->first, one.place);
        (void)known_span(one.between->second, one.place);
      }
      if (!one.piece.empty()) known_piece(one.piece, one.place);
      known_closure(one);
      known_half(one);
      is_fixed(one);
    }
    too_many(construction_.attachments.size(), kMostAttachments, "too-many-attachments");
  }

  void known_piece(const std::string& name, const Place& place) {
    if (construction_.piece(name)) return;
    std::vector<std::string> known;
    for (const PieceRule& piece : construction_.pieces) known.push_back(piece.name);
    error(place, {"piece-unknown", {{"piece", name}}}, nearest_hint(name, known));
  }

  void known_closure(const Attachment& one) {
    const auto& known = construction_.closures;
    if (one.closure.empty() || std::find(known.begin(), known.end(), one.closure) != known.end()) {
      return;
    }
    error(one.place, {"closure-unknown", {{"closure", one.closure}}},
          nearest_hint(one.closure, known));
  }

  /// The other half is a whole attachment of the same kind and closure.
  void known_half(const Attachment& one) {
    if (one.half_of.empty()) return;
    std::vector<std::string> known;
    for (const Attachment& other : construction_.attachments) {
      if (other.kind != one.kind || other.closure != one.closure) continue;
      if (other.half_of.empty() && &other != &one) known.push_back(other.name);
    }
    if (std::find(known.begin(), known.end(), one.half_of) != known.end()) return;
    error(one.place, {"half-unknown", {{"attachment", one.name}, {"half", one.half_of}}},
          nearest_hint(one.half_of, known));
  }

  void is_fixed(const Attachment& one) {
    for (const Operation& operation : construction_.operations) {
      if (operation.action == Action::attach && operation.attachment == one.name) return;
    }
    error(one.place, {"attachment-never-fixed", {{"attachment", one.name}}},
          {{"attachment-never-fixed-hint"}});
  }

  void named_spans() {
    bottom();
    (void)known_span(construction_.spare, construction_.spare_place);
    (void)known_span(construction_.depth_span, construction_.place);
    if (!construction_.flap_span.empty()) {
      (void)known_span(construction_.flap_span, construction_.place);
    }
  }

  void film_of(const Compartment& compartment) {
    if (compartment.film.size() < 2) {
      error(compartment.place, {"compartment-too-small", {{"compartment", compartment.name}}}, {});
    }
    for (std::size_t i = 0; i < compartment.film.size(); ++i) {
      const auto& span = compartment.film[i];
      if (!known_span(span.value, span.place)) continue;
      if (i == 0 || !names_.contains(compartment.film[i - 1].value)) continue;
      if (meet_at_the_bottom(compartment.film[i - 1].value, span.value)) continue;
      (void)spans_meet(compartment.film[i - 1].value, span.value, span.place);
    }
  }

  /// On a span or on a piece, not on both; a piece has neither seams nor sides.
  void lies_on(const Attachment& one) {
    if (one.on.empty() != one.span.empty()) {
      if (one.on.empty()) {
        (void)known_span(one.span, one.span_place);
      } else {
        known_piece(one.on, one.on_place);
      }
    } else {
      error(one.place, {"attachment-on-one", {{"attachment", one.name}}},
            {{"attachment-on-one-hint"}});
    }
    if (one.on.empty() || (!one.between && one.across == Across::middle)) return;
    error(one.place, {"attachment-on-piece", {{"attachment", one.name}, {"piece", one.on}}},
          {{"attachment-on-piece-hint"}});
  }

  /// Off the middle it says how far from the side, unless a seam catches it at the side itself.
  void across(const Attachment& one) {
    const bool aside = one.across != Across::middle;
    const Place& place = one.across_place.file.empty() ? one.place : one.across_place;
    if (aside && !one.between && one.from_side.terms.empty()) {
      error(place, {"attachment-side-unstated", {{"attachment", one.name}}},
            {{"attachment-side-unstated-hint"}});
    }
    if ((!aside || one.between) && !one.from_side.terms.empty()) {
      error(place, {"attachment-side-idle", {{"attachment", one.name}}},
            {{"attachment-side-idle-hint"}});
    }
    if (one.count > 1 && (aside || one.between)) {
      error(one.place, {"attachment-count-aside", {{"attachment", one.name}, {"count", one.count}}},
            {{"attachment-count-aside-hint"}});
    }
  }

  void operations() {
    too_many(construction_.operations.size(), kMostOperations, "too-many-operations");
    if (construction_.operations.size() > kMostOperations) return;
    std::vector<std::string> ids;
    for (const Operation& operation : construction_.operations) {
      if (std::find(ids.begin(), ids.end(), operation.id) != ids.end()) {
        error(operation.place, {"operation-twice", {{"operation", operation.id}}}, {});
      }
      ids.push_back(operation.id);
    }
    std::set<std::string> in_circle = circles();
    std::set<std::string> done;
    std::set<std::pair<std::string, std::string>> folded;
    for (const Operation& operation : construction_.operations) {
      for (const auto& need : operation.needs) {
        need_is_met(operation, need, ids, done, in_circle);
      }
      done.insert(operation.id);
      if (operation.action == Action::fold) fold(operation, folded);
      if (operation.action == Action::sew) sew(operation);
      if (operation.action == Action::lay_panel) lay_panel(operation);
      if (operation.action == Action::attach) attach(operation);
      if (operation.action == Action::hem) (void)known_span(operation.span, operation.span_place);
      known_panel(operation);
      known_compartment(operation);
    }
    const std::size_t told = construction_.panels.size();
    for (std::size_t i = 1; told <= kMostPanels && i < told; ++i) {
      const PanelRule& panel = construction_.panels[i];
      if (laid_.contains(panel.name)) continue;
      error(panel.place, {"panel-never-laid", {{"panel", panel.name}}},
            {{"panel-never-laid-hint"}});
    }
  }

  void known_panel(const Operation& operation) {
    if (operation.panel.empty() || construction_.panel(operation.panel)) return;
    error(operation.panel_place, {"panel-unknown", {{"panel", operation.panel}}},
          nearest_hint(operation.panel, {panel_names_.begin(), panel_names_.end()}));
  }

  void known_compartment(const Operation& operation) {
    if (operation.compartment.empty()) return;
    std::vector<std::string> known;
    for (const Compartment& one : construction_.compartments) {
      if (one.name == operation.compartment) return;
      known.push_back(one.name);
    }
    error(operation.place, {"compartment-unknown", {{"compartment", operation.compartment}}},
          nearest_hint(operation.compartment, known));
  }

  /// The edge as the file says it: both sides at one place are `sides`.
  static std::string file_name_of(const Placed<Edge>& edge, const Operation& operation) {
    const auto has = [&](Edge side) {
      return std::any_of(operation.edges.begin(), operation.edges.end(), [&](const auto& one) {
        return one.value == side && one.place.line == edge.place.line &&
               one.place.column == edge.place.column;
      });
    };
    return has(Edge::left) && has(Edge::right) ? "sides" : word_of(kEdgeWords, edge.value);
  }

  /// An edge is sewn once; sewing it again would pierce what is closed already.
  void sew(const Operation& operation) {
    std::set<std::string> told;  // "sides" are two edges of one name in the file
    for (const auto& edge : operation.edges) {
      const auto [first, is_new] = sewn_.emplace(edge.value, &operation);
      if (is_new || !told.insert(file_name_of(edge, operation)).second) continue;
      const Operation& before = *first->second;
      error(edge.place,
            {"edge-closed-twice",
             {{"operation", operation.id},
              {"edge", file_name_of(edge, operation)},
              {"first", before.id}}},
            {{"edge-closed-twice-hint", {{"first", before.id}, {"line", before.place.line}}}});
    }
  }

  /// One of the two spans is of the panel, the other of one that lies already. Either both are at
  /// ends, which lie on each other, or the panel is a lining, laid anywhere.
  void lay_panel(const Operation& operation) {
    const PanelRule* panel = construction_.panel(operation.panel);
    if (!panel) return;  // known_panel tells
    if (panel == &construction_.panels.front() || !laid_.insert(panel->name).second) {
      error(operation.panel_place,
            {"panel-laid-twice", {{"operation", operation.id}, {"panel", panel->name}}},
            {{"panel-laid-twice-hint"}});
      return;
    }
    if (!known_span(operation.meets_a, operation.meets_place)) return;
    if (!known_span(operation.meets_b, operation.meets_place)) return;
    known_sizes(operation.offset);
    const bool a_is_new = construction_.panel_of_span(operation.meets_a) == panel;
    const bool b_is_new = construction_.panel_of_span(operation.meets_b) == panel;
    const bool at_ends = is_at_an_end(operation.meets_a) && is_at_an_end(operation.meets_b);
    if (a_is_new != b_is_new && (at_ends || panel->cloth == ClothKind::lining)) return;
    error(operation.meets_place,
          {"panels-do-not-meet",
           {{"panel", panel->name}, {"a", operation.meets_a}, {"b", operation.meets_b}}},
          {{"panels-do-not-meet-hint"}});
  }

  void attach(const Operation& operation) {
    if (construction_.attachment(operation.attachment)) return;
    std::vector<std::string> known;
    for (const Attachment& one : construction_.attachments) known.push_back(one.name);
    error(operation.attachment_place,
          {"attachment-unknown", {{"attachment", operation.attachment}}},
          nearest_hint(operation.attachment, known));
  }

  void need_is_met(const Operation& operation, const Placed<std::string>& need,
                   const std::vector<std::string>& ids, const std::set<std::string>& done,
                   const std::set<std::string>& in_circle) {
    if (std::find(ids.begin(), ids.end(), need.value) == ids.end()) {
      error(need.place, {"operation-unknown", {{"operation", need.value}}},
            nearest_hint(need.value, ids));
    } else if (!done.contains(need.value) && !in_circle.contains(operation.id)) {
      error(operation.place,
            {"operation-out-of-order", {{"operation", operation.id}, {"need", need.value}}},
            {{"operation-out-of-order-hint", {{"operation", operation.id}, {"need", need.value}}}});
    }
  }

  /// Reports each circle of needs once, at its first operation, and returns all that are in one.
  /// Of circles that share an operation only the first is told: most often it breaks the others.
  std::set<std::string> circles() {
    std::set<std::string> members;
    for (const Operation& operation : construction_.operations) {
      if (members.contains(operation.id)) continue;
      std::vector<std::string> way{operation.id};
      std::set<std::string> seen;
      if (!leads_back(operation.id, operation.id, way, seen)) continue;
      const bool told = std::any_of(way.begin(), way.end(),
                                    [&](const std::string& id) { return members.contains(id); });
      members.insert(way.begin(), way.end());
      if (told) continue;
      way.push_back(way.front());
      error(operation.place, {"operations-in-a-circle", {{"chain", base::list_text(way)}}},
            {{"operations-in-a-circle-hint"}});
    }
    return members;
  }

  bool leads_back(const std::string& from, const std::string& goal, std::vector<std::string>& way,
                  std::set<std::string>& seen) const {
    const auto operation =
        std::find_if(construction_.operations.begin(), construction_.operations.end(),
                     [&](const Operation& candidate) { return candidate.id == from; });
    if (operation == construction_.operations.end()) return false;
    for (const auto& need : operation->needs) {
      if (need.value == goal) return true;
      if (!seen.insert(need.value).second) continue;
      way.push_back(need.value);
      if (leads_back(need.value, goal, way, seen)) return true;
      way.pop_back();
    }
    return false;
  }

  void fold(const Operation& operation, std::set<std::pair<std::string, std::string>>& folded) {
    if (!spans_meet(operation.between_a, operation.between_b, operation.between_place)) return;
    if (operation.turn != operation.between_a && operation.turn != operation.between_b) {
      error(operation.turn_place,
            {"turns-another",
             {{"turn", operation.turn}, {"a", operation.between_a}, {"b", operation.between_b}}},
            {{"turns-another-hint"}});
    }
    if (!folded.insert(std::minmax(operation.between_a, operation.between_b)).second) {
      error(operation.place,
            {"folded-twice", {{"a", operation.between_a}, {"b", operation.between_b}}}, {});
    }
  }

  const Construction& construction_;
  base::Diagnostics& diagnostics_;
  std::set<std::string> names_;  ///< of all spans
  std::set<std::string> panel_names_;
  std::set<std::string> laid_;             ///< panels that an operation lays on
  std::map<Edge, const Operation*> sewn_;  ///< by which operation first
  bool found_ = false;
};

}  // namespace

bool check(const Construction& construction, base::Diagnostics& diagnostics) {
  return Checker(construction, diagnostics).check();
}

}  // namespace pouchwright::pouch

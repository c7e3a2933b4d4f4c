#include "pouch/fold/pressing.h"

#include <algorithm>

#include "base/length.h"
#include "pouch/fold/contacts.h"
#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {

namespace {

/// Fuses what one pressing reaches.
class Presser {
 public:
  explicit Presser(RunState& state) : state_(state) {}

  bool press(std::size_t operation, const does::Press& work) {
    const std::vector<EdgeMeeting> meetings = edge_meetings(state_.folded, state_.sizes.seal_width);
    if (meetings.empty()) {
      return state_.fault(operation, {"press-without-contact", {}}, {"press-without-contact-hint"});
    }
    if (state_.request.cards != CardUse::on_top && state_.cards_inside.empty()) {
      return state_.fault(operation, {"press-without-card", {}}, {"press-without-card-hint"});
    }
    if (closes_the_mouth(work)) {
      return state_.fault(operation, {"press-closes-mouth", {}}, {"press-closes-mouth-hint"});
    }
    for (const EdgeMeeting& found : meetings) {
      note_contact(operation, work, found.meeting);
      fuse_sides(work, found);
    }
    if (works_on(work.edges, Edge::bottom)) fuse_bottom(operation);
    note_corners();
    state_.note_lips();
    note_exposed(operation, work);
    state_.pressed = true;
    return true;
  }

 private:
  /// Bands of one contact at several distances from the edge are one contact.
  void note_contact(std::size_t operation, const does::Press& work, const Meeting& meeting) {
    const Contact contact{operation, meeting.lower, meeting.upper, meeting.heights};
    auto& all = state_.made.contacts;
    if (std::find(all.begin(), all.end(), contact) != all.end()) return;
    all.push_back(contact);
    warn_of_side_bands(operation, meeting);
    warn_of_cold_contact(operation, work, meeting);
  }

  void note_corners() {
    for (TestPoint& corner : corners(state_.folded, state_.folded.film_contacts())) {
      auto& all = state_.made.test_points;
      if (std::find(all.begin(), all.end(), corner) == all.end()) all.push_back(std::move(corner));
    }
  }

  void note_exposed(std::size_t operation, const does::Press& work) {
    PressMade press{operation, {}, state_.made.lip_heights, works_on(work.edges, Edge::bottom)};
    if (work.from != PressFrom::back) {
      append(state_.made.exposed, state_.folded.film_on_top());
      append(press.exposed, state_.folded.film_on_top());
    }
    if (work.from != PressFrom::front) {
      append(state_.made.exposed_below, state_.folded.film_below());
      append(press.exposed, state_.folded.film_below());
    }
    state_.made.presses.push_back(std::move(press));
  }

  static void append(std::vector<Interval>& to, const std::vector<Interval>& more) {
    to.insert(to.end(), more.begin(), more.end());
    to = joined(std::move(to));
  }

  /// Parts of `span` that are stitched already, as folded heights.
  void add_stitched(SpanId span, std::vector<Interval>& holes) const {
    for (const Stitched& part : state_.made.stitched) {
      if (part.span != span) continue;
      const Length a = state_.folded.height_of(span, part.y.from);
      const Length b = state_.folded.height_of(span, part.y.to);
      holes.push_back({std::min(a, b), std::max(a, b)});
    }
  }

  /// The parts of a contact that nothing keeps from fusing along one side.
  std::vector<Interval> free_parts(const Meeting& meeting, Edge side) const {
    std::vector<Interval> holes;
    add_stitched(meeting.lower, holes);
    add_stitched(meeting.upper, holes);
    for (const Caught& one : state_.made.caught) {
      const bool is_pair = (one.a == meeting.lower && one.b == meeting.upper) ||
                           (one.a == meeting.upper && one.b == meeting.lower);
      if (!is_pair || !(side == Edge::left ? one.left : one.right)) continue;
      const Length a = state_.folded.height_of(one.a, one.y.from);
      const Length b = state_.folded.height_of(one.a, one.y.to);
      holes.push_back({std::min(a, b), std::max(a, b)});
    }
    return without(meeting.heights, holes);
  }

  void fuse_sides(const does::Press& work, const EdgeMeeting& found) {
    const Meeting& meeting = found.meeting;
    std::vector<Interval> left;
    std::vector<Interval> right;
    if (works_on(work.edges, Edge::left)) left = free_parts(meeting, Edge::left);
    if (works_on(work.edges, Edge::right)) right = free_parts(meeting, Edge::right);
    if (left == right) {
      for (const Interval& part : left) add_fused(found, part, true, true);
    } else {
      for (const Interval& part : left) add_fused(found, part, true, false);
      for (const Interval& part : right) add_fused(found, part, false, true);
    }
    if (!left.empty() || !right.empty()) state_.folded.join(meeting.lower, meeting.upper);
  }

  void add_fused(const EdgeMeeting& found, const Interval& heights, bool left, bool right) {
    Fused fused;
    fused.lower = found.meeting.lower;
    fused.upper = found.meeting.upper;
    fused.left = left;
    fused.right = right;
    fused.lower_film_side = state_.folded.layer(fused.lower).film_up;
    fused.upper_film_side = !state_.folded.layer(fused.upper).film_up;
    fused.from_edge = found.from_edge;
    fused.lower_y = state_.folded.on_panel(fused.lower, heights);
    fused.upper_y = state_.folded.on_panel(fused.upper, heights);
    const bool known =
        std::any_of(state_.made.fused.begin(), state_.made.fused.end(), [&](const Fused& other) {
          return other.lower_y == fused.lower_y && other.lower == fused.lower &&
                 other.upper == fused.upper && other.left == left && other.right == right &&
                 other.bottom == fused.bottom && other.from_edge == fused.from_edge;
        });
    if (!known) state_.made.fused.push_back(fused);
  }

  /// The raw ends that lie on each other at the bottom, pressed all across.
  void fuse_bottom(std::size_t operation) {
    const Length raw = -state_.sizes.seam_allowance;
    const Interval band{raw, raw + state_.sizes.seal_width};
    bool any = false;
    for (const Meeting& meeting : state_.folded.film_contacts(base::kLongest)) {
      const auto part = shared(meeting.heights, band);
      if (!part || part->from != raw) continue;
      Fused fused;
      fused.lower = meeting.lower;
      fused.upper = meeting.upper;
      fused.left = fused.right = false;
      fused.bottom = true;
      fused.from_edge = {Length(), part->to - raw};
      fused.lower_y = state_.folded.on_panel(fused.lower, *part);
      fused.upper_y = state_.folded.on_panel(fused.upper, *part);
      state_.made.fused.push_back(fused);
      state_.folded.join(meeting.lower, meeting.upper);
      any = true;
    }
    if (any) return;
    state_.diagnostics.warning(state_.request.places.operation(operation),
                               {"bottom-not-fused", {{"operation", state_.id_of(operation)}}},
                               {{"bottom-not-fused-hint"}});
  }

  /// A band along a panel's end closes the mouth where that end is a compartment's lip.
  bool closes_the_mouth(const does::Press& work) const {
    for (const Edge edge : work.edges) {
      if (edge != Edge::start && edge != Edge::end) continue;
      for (const Compartment& compartment : state_.request.construction.compartments) {
        const SpanId lip = state_.folded.id(compartment.film.front());
        if (lip == state_.end_span(lip.panel, edge)) return true;
      }
    }
    return false;
  }

  void warn_of_cold_contact(std::size_t operation, const does::Press& work,
                            const Meeting& meeting) {
    const std::size_t layers = layers_to_iron(state_.folded, meeting, work.from);
    if (layers <= kIronLayers) return;
    state_.diagnostics.warning(state_.request.places.operation(operation),
                               {"iron-may-not-reach",
                                {{"operation", state_.id_of(operation)},
                                 {"lower", state_.folded.name(meeting.lower)},
                                 {"upper", state_.folded.name(meeting.upper)},
                                 {"layers", layers},
                                 {"most", kIronLayers}}},
                               {{"iron-may-not-reach-hint"}});
  }

  bool in_one_compartment(SpanId a, SpanId b) const {
    const auto& all = state_.request.construction.compartments;
    return std::any_of(all.begin(), all.end(), [&](const Compartment& compartment) {
      return state_.in_compartment(compartment, a, b);
    });
  }

  void warn_of_side_bands(std::size_t operation, const Meeting& meeting) {
    if (in_one_compartment(meeting.lower, meeting.upper)) return;
    state_.diagnostics.warning(state_.request.places.operation(operation),
                               {"side-bands-fused",
                                {{"operation", state_.id_of(operation)},
                                 {"lower", state_.folded.name(meeting.lower)},
                                 {"upper", state_.folded.name(meeting.upper)},
                                 {"from", meeting.heights.from},
                                 {"to", meeting.heights.to}}},
                               {{"side-bands-fused-hint"}});
  }

  RunState& state_;
};

}  // namespace

bool press(RunState& state, std::size_t operation, const does::Press& work) {
  return Presser(state).press(operation, work);
}

}  // namespace pouchwright::pouch

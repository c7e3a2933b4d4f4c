#include "pouch/judge/water.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <numbers>
#include <set>
#include <utility>

namespace pouchwright::pouch {

namespace {

/// Works out one compartment's water line.
class Follower {
 public:
  Follower(const Construction& construction, std::size_t index, const Sizes& sizes, const Run& run,
           Length tolerances, bool film_side)
      : sizes_(sizes),
        run_(run),
        folded_(run.finished()),
        path_(film_path(construction.compartments[index], folded_)),
        tolerances_(tolerances),
        film_side_(film_side) {
    line_.lip = lip(index);
    line_.height = std::max(line_.lip, Length());  // a lip below the bottom holds nothing
    line_.span = path_.front();
  }

  WaterLine follow() {
    if (!is_wide_enough({Length(), sizes_.seal_width})) {
      line_.height = Length();
      line_.cause = LeakCause::clear_seal;
      return line_;
    }
    for (std::size_t i = 0; i + 1 < path_.size(); ++i) bottom_seam(path_[i], path_[i + 1]);
    for (const SpanId id : path_) {
      if (!run_.rolled.contains(id)) open_stretches(id);
    }
    for (const Hole& hole : run_.holes) pierced(hole);
    for (const Stitched& part : run_.stitched) stitched_through(part);
    return line_;
  }

 private:
  /// Where the lip is in the end; of a rolled mouth where it was before, at most the lowest roll.
  Length lip(std::size_t index) const {
    Length height = run_.rolled.contains(path_.front()) ? run_.lip_heights[index]
                                                        : folded_.layer(path_.front()).heights.to;
    for (const FoldMade& fold : run_.folds) {
      const SpanId after{fold.span_before.panel, fold.span_before.span + 1};
      const bool is_rolled = run_.rolled.contains(fold.span_before) || run_.rolled.contains(after);
      const bool is_roll =
          fold.after_press && is_rolled && in_path(fold.span_before) && in_path(after);
      if (is_roll) height = std::min(height, fold.height);
    }
    return height;
  }

  bool in_path(SpanId id) const { return std::find(path_.begin(), path_.end(), id) != path_.end(); }

  /// Is enough left of a band between these distances from the raw edge, beside the needle line?
  bool is_wide_enough(const Interval& from_edge) const {
    const Length clear = from_edge.to - std::max(sizes_.needle_reach, from_edge.from);
    return clear - tolerances_ >= sizes_.min_clear_seal;
  }

  /// A part that is fused to one partner: how far from the raw edge, and where on the panel.
  struct Band {
    Interval from_edge, y;
  };
  using Bands = std::map<SpanId, std::vector<Band>>;  ///< by partner

  /// Where bands that touch each other make a seal that is wide enough: what begins at one distance
  /// from the edge may go on at the next, over another stretch.
  std::vector<Interval> wide_stretches(const Bands& bands) const {
    std::vector<Interval> wide;
    for (const auto& [partner, parts] : bands) {
      std::set<Length> breaks;
      for (const Band& part : parts) breaks.insert({part.y.from, part.y.to});
      for (auto at = breaks.begin(); at != breaks.end() && std::next(at) != breaks.end(); ++at) {
        std::vector<Interval> across;
        for (const Band& part : parts) {
          if (part.y.from <= *at && *at < part.y.to) across.push_back(part.from_edge);
        }
        const std::vector<Interval> seals = joined(std::move(across));
        const bool any = std::any_of(seals.begin(), seals.end(),
                                     [this](const Interval& seal) { return is_wide_enough(seal); });
        if (any) wide.push_back({*at, *std::next(at)});
      }
    }
    return joined(std::move(wide));
  }

  static std::vector<Interval> all_stretches(const Bands& bands) {
    std::vector<Interval> all;
    for (const auto& [partner, parts] : bands) {
      for (const Band& part : parts) all.push_back(part.y);
    }
    return joined(std::move(all));
  }

  /// The stretches of `span` whose wet face is fused to the wet face of another span of the same
  /// compartment. Fusing the outsides of a fold to each other holds no water in.
  std::vector<Interval> fused_stretches(SpanId span, bool wide_only) const {
    Bands left;
    Bands right;
    for (const Fused& fused : run_.fused) {
      if (fused.bottom) continue;
      const bool is_lower = fused.lower == span && in_path(fused.upper);
      const bool is_upper = fused.upper == span && in_path(fused.lower);
      if (!is_lower && !is_upper) continue;
      if (fused.lower_film_side != film_side_ || fused.upper_film_side != film_side_) continue;
      const Band band{fused.from_edge, is_lower ? fused.lower_y : fused.upper_y};
      const SpanId partner = is_lower ? fused.upper : fused.lower;
      if (fused.left) left[partner].push_back(band);
      if (fused.right) right[partner].push_back(band);
    }
    // Water runs out where either side is open.
    std::vector<Interval> both;
    for (const Interval& a : wide_only ? wide_stretches(left) : all_stretches(left)) {
      for (const Interval& b : wide_only ? wide_stretches(right) : all_stretches(right)) {
        if (const auto part = shared(a, b)) both.push_back(*part);
      }
    }
    return both;
  }

  void lower_to(Length height, LeakCause cause, SpanId span,
                std::optional<std::size_t> by = std::nullopt) {
    if (height >= line_.height) return;
    line_.height = std::max(height, Length());
    line_.cause = cause;
    line_.span = span;
    line_.by = by;
  }

  /// Spans of two panels that follow each other are joined at the bottom, where the seal has to be
  /// wide enough as at the sides.
  void bottom_seam(SpanId a, SpanId b) {
    if (a.panel == b.panel) return;
    for (const Fused& fused : run_.fused) {
      const bool is_pair =
          (fused.lower == a && fused.upper == b) || (fused.lower == b && fused.upper == a);
      if (is_pair && fused.bottom && is_wide_enough(fused.from_edge)) return;
    }
    lower_to(Length(), LeakCause::bottom_seam, a);
  }

  void open_stretches(SpanId id) {
    const Span& span = folded_.panels()[id.panel].spans[id.span];
    for (const Interval& open : without({span.from, span.to}, fused_stretches(id, true))) {
      const Length a = folded_.height_of(id, open.from);
      const Length b = folded_.height_of(id, open.to);
      const Interval heights{std::min(a, b), std::max(a, b)};
      if (heights.from >= line_.height) continue;
      leaks(id, open, heights);
    }
  }

  /// Says why a stretch is open.
  void leaks(SpanId id, const Interval& open, const Interval& heights) {
    if (const Stitched* stitched = stitched_at(heights.from)) {
      lower_to(heights.from, LeakCause::end_finish, id);
      line_.end = stitched->end;
      return;
    }
    for (const Caught& one : run_.caught) {
      // Between outer faces, or beside a flap, it keeps no wet film from its partner.
      if ((one.a != id && one.b != id) || !in_path(one.a) || !in_path(one.b)) continue;
      const Length from = folded_.height_of(one.a, one.y.from);
      const Length to = folded_.height_of(one.a, one.y.to);
      if (!shared(heights, {std::min(from, to), std::max(from, to)})) continue;
      return lower_to(heights.from, LeakCause::caught, id, one.attachment);
    }
    for (const Interval& narrow : fused_stretches(id, false)) {
      if (shared(narrow, open)) return lower_to(heights.from, LeakCause::narrow_seal, id);
    }
    not_fused(id, {heights.from, std::min(heights.to, heights.from + Length::nm(1))});
  }

  /// The finish whose needles have pierced the film next to the open stretch, or that of the layer
  /// it should have met: the stitched stretch at the same finished height.
  const Stitched* stitched_at(Length height) const {
    for (const Stitched& part : run_.stitched) {
      const Length a = folded_.height_of(part.span, part.y.from);
      const Length b = folded_.height_of(part.span, part.y.to);
      if (std::min(a, b) == height) return &part;
    }
    return nullptr;
  }

  void not_fused(SpanId id, const Interval& rim) {
    for (const Meeting& meeting : folded_.film_contacts()) {
      const bool concerns = (meeting.lower == id && in_path(meeting.upper)) ||
                            (meeting.upper == id && in_path(meeting.lower));
      if (!concerns || !shared(meeting.heights, rim)) continue;
      const auto cause =
          met_under_the_iron(meeting) ? LeakCause::never_fused : LeakCause::too_early;
      return lower_to(rim.from, cause, id, last_fold());
    }
    const std::vector<Layer> stack = folded_.layers_over(rim, Length());
    const auto at = std::find_if(stack.begin(), stack.end(),
                                 [id](const Layer& layer) { return layer.id == id; });
    const bool film_up = folded_.layer(id).film_up;
    const bool alone = at == stack.end() || (film_up ? at + 1 == stack.end() : at == stack.begin());
    if (alone) return lower_to(rim.from, LeakCause::never_fused, id);
    const Layer& facing = film_up ? *(at + 1) : *(at - 1);
    if (rim.from < line_.height) line_.facing = facing.id;
    lower_to(rim.from, LeakCause::cloth, id);
  }

  bool met_under_the_iron(const Meeting& meeting) const {
    return std::any_of(run_.contacts.begin(), run_.contacts.end(), [&](const Contact& contact) {
      return (contact.lower == meeting.lower && contact.upper == meeting.upper) ||
             (contact.lower == meeting.upper && contact.upper == meeting.lower);
    });
  }

  std::optional<std::size_t> last_fold() const {
    for (auto fold = run_.folds.rbegin(); fold != run_.folds.rend(); ++fold) {
      if (fold->after_press) return fold->operation;
    }
    return std::nullopt;
  }

  void pierced(const Hole& hole) {
    if (!in_path(hole.span) || run_.rolled.contains(hole.span)) return;
    const Length a = folded_.height_of(hole.span, hole.y.from);
    const Length b = folded_.height_of(hole.span, hole.y.to);
    lower_to(std::min(a, b), LeakCause::attachment, hole.span, hole.attachment);
  }

  /// An end that was finished after the pressing is fused there, and pierced all across.
  void stitched_through(const Stitched& part) {
    if (!in_path(part.span) || run_.rolled.contains(part.span)) return;
    const Length a = folded_.height_of(part.span, part.y.from);
    const Length b = folded_.height_of(part.span, part.y.to);
    const Length height = std::min(a, b);
    if (height >= line_.height) return;
    lower_to(height, LeakCause::end_finish, part.span);
    line_.end = part.end;
  }

  const Sizes& sizes_;
  const Run& run_;
  const Folded& folded_;
  std::vector<SpanId> path_;
  Length tolerances_;
  bool film_side_;  ///< water stands on the film side, not on film on the other face
  WaterLine line_;
};

}  // namespace

WaterLine water_line(const Construction& construction, std::size_t index, const Sizes& sizes,
                     const Run& run, Length tolerances) {
  const auto on_face = [&](bool film_side) {
    return Follower(construction, index, sizes, run, tolerances, film_side).follow();
  };
  const WaterLine inside = on_face(true);
  const WaterLine other = on_face(false);
  return other.height > inside.height ? other : inside;
}

namespace {

/// The stretches of a fused part on its panels; on one panel they are one where they touch.
std::vector<std::pair<std::size_t, Interval>> on_panels(const Fused& fused) {
  std::vector<std::pair<std::size_t, Interval>> parts;
  if (fused.lower.panel != fused.upper.panel) {
    return {{fused.lower.panel, fused.lower_y}, {fused.upper.panel, fused.upper_y}};
  }
  for (const Interval& y : joined({fused.lower_y, fused.upper_y})) {
    parts.emplace_back(fused.lower.panel, y);
  }
  return parts;
}

}  // namespace

std::vector<SealZone> seal_zones(const Sizes& sizes, const Run& run) {
  std::vector<SealZone> zones;
  for (const Fused& fused : run.fused) {
    for (const auto& [panel, y] : on_panels(fused)) {
      SealZone zone{{fused.from_edge.from, fused.from_edge.to}, y, fused.lower, fused.upper, panel};
      if (fused.bottom) zone.x = {Length(), sizes.cut_width};
      if (fused.bottom || fused.left) zones.push_back(zone);
      if (!fused.right) continue;
      zone.x = {sizes.cut_width - fused.from_edge.to, sizes.cut_width - fused.from_edge.from};
      zones.push_back(zone);
    }
  }
  std::stable_sort(zones.begin(), zones.end(), [](const SealZone& a, const SealZone& b) {
    if (a.panel != b.panel) return a.panel < b.panel;
    return a.y.from != b.y.from ? a.y.from < b.y.from : a.x.from < b.x.from;
  });
  return zones;
}

Length water_height(const Construction& construction, const Sizes& sizes, Length level) {
  if (!construction.has_bottom_seam()) return level;
  const Length floor = sizes.seal_width - sizes.seam_allowance;
  return std::max(Length(), level - floor);
}

double open_bag_ml(Length width, Length height) {
  if (width <= Length() || height <= Length()) return 0;
  const double w = width.in_mm() / 10;  // cm, so that the result is in ml
  const double h = height.in_mm() / 10;
  const double shape = h / (std::numbers::pi * w) - 0.071 * (1 - std::pow(10.0, -2 * h / w));
  return std::max(0.0, w * w * w * shape);
}

double water_pressure_pa(Length height) {
  constexpr double kDensity = 998.2;    // kg/m³ at 20 °C, handbook tables
  constexpr double kGravity = 9.80665;  // m/s², 3rd CGPM, 1901
  return height.in_mm() / 1000 * kDensity * kGravity;
}

}  // namespace pouchwright::pouch

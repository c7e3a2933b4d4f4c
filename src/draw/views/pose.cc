#include "draw/views/pose.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Layer;
using pouch::SpanId;

/// A cubic from end to end of a half circle has handles of 4/3 of its radius, so of 2/3 of the way.
constexpr double kHandle = 2.0 / 3;
/// A bend round many layers stands out no more than one round so many.
constexpr double kMostHandle = 1.4;
/// What fills a mouth makes its bow so much flatter.
constexpr double kFullness = 0.3;
/// Ends that are nearer than this are one, mm.
constexpr double kFlatJoint = 1e-6;

Aloft operator+(const Aloft& a, const Aloft& b) { return {a.y + b.y, a.z + b.z}; }
Aloft operator-(const Aloft& a, const Aloft& b) { return {a.y - b.y, a.z - b.z}; }
Aloft operator*(double by, const Aloft& a) { return {by * a.y, by * a.z}; }
double size(const Aloft& a) { return std::hypot(a.y, a.z); }
Aloft direction(const Aloft& from, const Aloft& to) {
  const double length = size(to - from);
  return length > 0 ? (1 / length) * (to - from) : Aloft{1, 0};
}

bool holds(const std::vector<SpanId>& spans, SpanId id) {
  return std::find(spans.begin(), spans.end(), id) != spans.end();
}

/// A share of the way from one to the other.
Aloft between(const Aloft& from, const Aloft& to, double share) {
  return from + share * (to - from);
}

}  // namespace

Pose::Pose(const pouch::Folded& folded, const Stack& stack, const PoseLook& look)
    : folded_(folded), stack_(stack), look_(look) {
  if (look_.turning) find_hinge();
  for (const Layer& layer : folded_.layers()) plates_.push_back(plate_of(layer));
}

/// They swing about the middle between what they are folded to and where they land.
void Pose::find_hinge() {
  double levels = 0;
  int count = 0;
  double side = 0;
  for (const StackedLayer& layer : stack_.layers) {
    if (!layer.id || !turns(*layer.id)) continue;
    side += (layer.heights.from + layer.heights.to - 2 * look_.turning->line).in_mm();
    for (const StackedLayer& other : stack_.layers) {
      if (!other.id || turns(*other.id) || other.id->panel != layer.id->panel) continue;
      if (other.id->span + 1 != layer.id->span && layer.id->span + 1 != other.id->span) continue;
      levels += static_cast<double>(layer.level + other.level) / 2;
      ++count;
    }
  }
  hinge_ = {look_.turning->line.in_mm(), count > 0 ? z(levels / count) : 0};
  turn_sign_ = (side < 0 ? -1 : 1) * (look_.turning->landing == pouch::Landing::on_top ? 1 : -1);
}

bool Pose::turns(SpanId id) const { return look_.turning && holds(look_.turning->spans, id); }

Aloft Pose::swung(const Aloft& at, double left_deg) const {
  const double angle = turn_sign_ * left_deg * std::numbers::pi / 180;
  const Aloft arm = at - hinge_;
  return hinge_ + Aloft{arm.y * std::cos(angle) - arm.z * std::sin(angle),
                        arm.y * std::sin(angle) + arm.z * std::cos(angle)};
}

double Pose::bow_of(SpanId id, Length height) const {
  if (!look_.mouth) return 0;
  if (holds(look_.mouth->floor, id)) return floor_bow(id, height);
  if (!holds(look_.mouth->spans, id)) return 0;
  Length highest;
  for (const SpanId one : look_.mouth->spans) {
    highest = std::max(highest, folded_.layer(one).heights.to);
  }
  if (highest <= Length()) return 0;
  // Steeper towards the lip, as cloth that is held at the bottom.
  const double share = std::clamp(height.in_mm() / highest.in_mm(), 0.0, 1.0);
  const double lifted = look_.mouth->floor.empty() ? 0 : look_.mouth->floor_gap;
  return lifted + (look_.mouth->gap - lifted) * share * share;
}

/// An opened floor rises evenly from the lower wall to the upper one.
double Pose::floor_bow(SpanId id, Length height) const {
  const std::vector<SpanId>& floor = look_.mouth->floor;
  const auto at = std::find(floor.begin(), floor.end(), id) - floor.begin();
  const Layer& layer = folded_.layer(id);
  double along = (height - layer.heights.from).in_mm() / layer.heights.size().in_mm();
  if (!layer.rising) along = 1 - along;
  if (id < look_.mouth->lower) along = 1 - along;
  return look_.mouth->floor_gap * (static_cast<double>(at) + along) /
         static_cast<double>(floor.size());
}

double Pose::bow_at(double x) const {
  if (!look_.mouth || !look_.mouth->sides_held) return 1;
  const double width = look_.mouth->right - look_.mouth->left;
  const double share = std::clamp((x - look_.mouth->left) / width, 0.0, 1.0);
  const double round = std::sin(share * std::numbers::pi);
  return look_.mouth->full ? std::pow(round, kFullness) : round;
}

Plate Pose::plate_of(const Layer& layer) const {
  const double level = z(static_cast<double>(stack_.of(layer.id).level));
  const Length first = layer.rising ? layer.heights.from : layer.heights.to;
  const Length last = layer.rising ? layer.heights.to : layer.heights.from;
  Plate made{.id = layer.id,
             .start = {first.in_mm(), level},
             .end = {last.in_mm(), level},
             .start_bow = bow_of(layer.id, first),
             .end_bow = bow_of(layer.id, last)};
  if (turns(layer.id)) {
    made.start = swung(made.start, look_.turning->left_deg);
    made.end = swung(made.end, look_.turning->left_deg);
  }
  return made;
}

const Plate* Pose::plate(SpanId id) const {
  const auto found =
      std::find_if(plates_.begin(), plates_.end(), [&](const Plate& one) { return one.id == id; });
  return found == plates_.end() ? nullptr : &*found;
}

void Pose::add_bend(PanelLine& line, const Plate& before, const Plate& after) const {
  const double way = size(after.start - before.end);
  const double handle = std::min(kHandle * way, kMostHandle * look_.pitch);
  const Aloft c1 = before.end + handle * direction(before.start, before.end);
  const Aloft c2 = after.start + handle * direction(after.end, after.start);
  for (int i = 1; i <= look_.bend_strips; ++i) {
    const double t = static_cast<double>(i) / look_.bend_strips;
    const double s = 1 - t;
    line.stretches.push_back({.id = before.id, .bend = true});
    line.nodes.push_back(
        {s * s * s * before.end + 3 * s * s * t * c1 + 3 * s * t * t * c2 + t * t * t * after.start,
         s * before.end_bow + t * after.start_bow});
  }
}

std::vector<PanelLine> Pose::lines() const {
  std::vector<PanelLine> lines;
  for (std::size_t panel = 0; panel < folded_.panels().size(); ++panel) {
    PanelLine line{.panel = panel};
    for (std::size_t span = 0; span < folded_.panels()[panel].spans.size(); ++span) {
      const Plate* one = plate({panel, span});
      if (one == nullptr) continue;
      if (line.nodes.empty()) line.nodes.push_back({one->start, one->start_bow});
      const Plate* before = span > 0 ? plate({panel, span - 1}) : nullptr;
      if (before != nullptr) {
        if (size(one->start - before->end) > kFlatJoint) {
          add_bend(line, *before, *one);
        } else {
          line.stretches.back().crease_after = true;
        }
      }
      line.stretches.push_back({.id = one->id});
      line.nodes.push_back({one->end, one->end_bow});
    }
    if (!line.stretches.empty()) lines.push_back(std::move(line));
  }
  return lines;
}

Point3 Pose::at(SpanId id, double x, Length height) const {
  const Plate* one = plate(id);
  const Layer& layer = folded_.layer(id);
  double share = layer.heights.size() > Length()
                     ? (height - layer.heights.from).in_mm() / layer.heights.size().in_mm()
                     : 0;
  if (!layer.rising) share = 1 - share;
  return lifted(x, between(one->start, one->end, share), bow_of(id, height));
}

Point3 Pose::beside(SpanId id, double x, Length height, double off) const {
  const Plate* one = plate(id);
  const Aloft way = direction(one->start, one->end);
  return at(id, x, height) + off * Point3{0, -way.z, way.y};
}

double Pose::over_cloth(SpanId id, double levels) const {
  const Layer& layer = folded_.layer(id);
  const bool film_in_front = layer.film_up == layer.rising;
  return (film_in_front ? -levels : levels) * look_.pitch;
}

std::optional<SpanId> Pose::top_span(double x, Length height) const {
  std::optional<SpanId> top;
  double highest = 0;
  for (const Layer& layer : folded_.layers()) {
    if (turns(layer.id) || height < layer.heights.from || height > layer.heights.to) continue;
    if (x < folded_.panels()[layer.id.panel].inset.in_mm()) continue;
    const double here = at(layer.id, x, height).z;
    if (top && here < highest) continue;
    top = layer.id;
    highest = here;
  }
  return top;
}

Point3 Pose::on_top(double x, Length height) const {
  const auto top = top_span(x, height);
  return top ? at(*top, x, height) : Point3{x, height.in_mm(), 0};
}

}  // namespace pouchwright::draw

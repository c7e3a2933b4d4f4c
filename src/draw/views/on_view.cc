#include "draw/views/on_view.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Interval;

/// A line across a bow has so many parts.
constexpr int kParts = 12;
/// mm² of paper.
constexpr double kOnEdge = 1e-9;

/// A stretch of heights and the span that is uppermost there.
struct TopStretch {
  pouch::SpanId id;
  Interval heights;
};

std::vector<TopStretch> tops(const View& view, Length x, const Interval& heights) {
  std::vector<Length> breaks{heights.from, heights.to};
  for (const Length at : view.pose.folded().breaks()) {
    if (at > heights.from && at < heights.to) breaks.push_back(at);
  }
  std::sort(breaks.begin(), breaks.end());
  std::vector<TopStretch> result;
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    const Interval part{breaks[i], breaks[i + 1]};
    const auto top = view.pose.top_span(x.in_mm(), pouch::middle(part));
    if (top) result.push_back({*top, part});
  }
  return result;
}

std::vector<Point> points_along(const View& view, Length x, const Interval& heights) {
  std::vector<Point> points;
  for (const TopStretch& one : tops(view, x, heights)) {
    for (const Length height : {one.heights.from, one.heights.to}) {
      const Point at = view.on_paper(one.id, x, height);
      if (points.empty() || points.back() != at) points.push_back(at);
    }
  }
  return points;
}

/// Does the ray from the eye through `at` meet a convex face, and how near to the eye?
std::optional<double> nearness(const Face3& face, const Projection& projection, Point at) {
  bool left = false;
  bool right = false;
  std::vector<Point> corners;
  for (const Point3& corner : face.corners) corners.push_back(projection.on_paper(corner));
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point& a = corners[i];
    const Point& b = corners[(i + 1) % corners.size()];
    const double side = (b.x - a.x) * (at.y - a.y) - (b.y - a.y) * (at.x - a.x);
    // On an edge it is in the faces to both of its sides.
    left = left || side > kOnEdge;
    right = right || side < -kOnEdge;
    if (left && right) return std::nullopt;
  }
  const Point3 across = area_vector(face.corners);
  const double facing = dot(across, projection.towards_eye());
  if (facing == 0) return std::nullopt;
  // From the point of the plane through the origin that is drawn there, along the ray to the face.
  return dot(across, face.corners.front() - projection.in_space(at)) / facing;
}

}  // namespace

Path along(const View& view, Length x, const Interval& heights) {
  // Where a layer ends the line goes on below it; a slight step is drawn over.
  constexpr double kStep = 2.5;
  std::vector<std::vector<Point>> lines;
  for (const TopStretch& one : tops(view, x, heights)) {
    const Point from = view.on_paper(one.id, x, one.heights.from);
    const Point to = view.on_paper(one.id, x, one.heights.to);
    const auto jumps = [&](const Point& last) {
      return std::hypot(from.x - last.x, from.y - last.y) > kStep;
    };
    if (lines.empty() || jumps(lines.back().back())) lines.emplace_back();
    if (lines.back().empty() || lines.back().back() != from) lines.back().push_back(from);
    lines.back().push_back(to);
  }
  Path path;
  for (const std::vector<Point>& one : lines) {
    append(path, polyline(one, Ends::open));
  }
  return path;
}

Path across(const View& view, const Interval& x, Length height) {
  if (!view.pose.look().mouth) {
    return line(view.on_top(x.from, height), view.on_top(x.to, height));
  }
  std::vector<Point> points;
  for (int i = 0; i <= kParts; ++i) {
    const Length at = x.from + Length::mm(x.size().in_mm() * i / kParts);
    points.push_back(view.on_top(at, height));
  }
  return polyline(points, Ends::open);
}

Path outline_on(const View& view, const Interval& x, const Interval& heights) {
  std::vector<Point> corners = points_along(view, x.from, heights);
  const std::vector<Point> back = points_along(view, x.to, heights);
  corners.insert(corners.end(), back.rbegin(), back.rend());
  return corners.size() < 3 ? Path() : polyline(corners, Ends::closed);
}

Path hatch_on(const View& view, const Interval& x, const Interval& heights, double spacing) {
  Path path;
  for (const TopStretch& one : tops(view, pouch::middle(x), heights)) {
    append(path, hatched({view.on_paper(one.id, x.from, one.heights.from),
                          view.on_paper(one.id, x.to, one.heights.from),
                          view.on_paper(one.id, x.to, one.heights.to),
                          view.on_paper(one.id, x.from, one.heights.to)},
                         spacing));
  }
  return path;
}

Path waves_on(const View& view, const Interval& x, Length height) {
  // Each wave so long and so high to either side, mm of paper.
  constexpr double kWave = 5;
  constexpr double kRise = 1.8;
  Path path{{Verb::move, view.on_top(x.from, height), {}, {}}};
  const double wide = x.size().in_mm();
  const int waves = std::max(1, static_cast<int>(wide * view.projection.scale() / kWave));
  Point from = path.front().to;
  for (int i = 1; i <= waves; ++i) {
    const Point to = view.on_top(x.from + Length::mm(wide * i / waves), height);
    const Point third{(to.x - from.x) / 3, (to.y - from.y) / 3};
    path.push_back({Verb::curve,
                    to,
                    {from.x + third.x, from.y + third.y - kRise},
                    {to.x - third.x, to.y - third.y + kRise}});
    from = to;
  }
  return path;
}

const ViewFace* seen_at(const View& view, Point at) {
  const ViewFace* seen = nullptr;
  double nearest = 0;
  for (const ViewFace& one : view.faces) {
    const auto here = nearness(one.face, view.projection, at);
    if (!here || (seen != nullptr && *here < nearest)) continue;
    seen = &one;
    nearest = *here;
  }
  return seen;
}

Box box_of(const View& view) {
  std::optional<Box> box;
  for (const ViewFace& one : view.faces) {
    for (const Point3& corner : one.face.corners) {
      const Point at = view.projection.on_paper(corner);
      const Box here{at.x, at.y, at.x, at.y};
      box = box ? united(*box, here) : here;
    }
  }
  return box.value_or(Box{});
}

}  // namespace pouchwright::draw

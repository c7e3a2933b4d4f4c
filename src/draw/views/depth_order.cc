#include "draw/views/depth_order.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

namespace pouchwright::draw {
namespace {

/// So many faces are tried for the next cutting plane; the one that cuts the fewest is taken.
constexpr std::size_t kTried = 6;
/// A cut face is as bad as so many that are more on one side than on the other.
constexpr std::size_t kCutWeight = 6;

/// A part of a face on its way through the tree.
struct Part {
  std::size_t face = 0;
  Plane plane;
  Face3 shape;
};
using Parts = std::vector<Part>;

std::optional<Plane> plane_of(const Face3& face) {
  const Point3 across = area_vector(face.corners);
  const double size = std::sqrt(dot(across, across));
  if (size < kFlat) return std::nullopt;
  const Point3 normal = (1 / size) * across;
  return Plane{normal, dot(normal, face.corners.front())};
}

enum class Side { in, above, below, both };

Side side_of(const Face3& face, const Plane& plane) {
  double highest = 0;
  double lowest = 0;
  for (const Point3& corner : face.corners) {
    const double above = plane.above(corner);
    highest = std::max(highest, above);
    lowest = std::min(lowest, above);
  }
  if (highest > kFlat && lowest < -kFlat) return Side::both;
  if (highest > kFlat) return Side::above;
  return lowest < -kFlat ? Side::below : Side::in;
}

/// The part whose plane is to cut the others.
std::size_t cutter(const Parts& parts) {
  if (parts.size() <= 2) return 0;
  const std::size_t step = std::max<std::size_t>(1, parts.size() / kTried);
  std::size_t best = 0;
  std::size_t least = parts.size() * (kCutWeight + 1);
  for (std::size_t one = 0; one < parts.size(); one += step) {
    std::size_t above = 0;
    std::size_t below = 0;
    std::size_t cut = 0;
    for (const Part& part : parts) {
      const Side side = side_of(part.shape, parts[one].plane);
      above += side == Side::above ? 1 : 0;
      below += side == Side::below ? 1 : 0;
      cut += side == Side::both ? 1 : 0;
    }
    const std::size_t cost = kCutWeight * cut + (above > below ? above - below : below - above);
    if (cost >= least) continue;
    least = cost;
    best = one;
  }
  return best;
}

/// Adds the parts to `order`, the farthest first.
void sort_into(Parts& order, Parts parts, const Point3& towards_eye) {
  if (parts.empty()) return;
  const Plane plane = parts[cutter(parts)].plane;
  Parts above;
  Parts below;
  Parts in;
  for (Part& part : parts) {
    const Side side = side_of(part.shape, plane);
    if (side == Side::both) {
      above.push_back({part.face, part.plane, half_of(part.shape, plane, 1)});
      below.push_back({part.face, part.plane, half_of(part.shape, plane, -1)});
    } else {
      (side == Side::in ? in : side == Side::above ? above : below).push_back(std::move(part));
    }
  }
  std::stable_sort(in.begin(), in.end(),
                   [](const Part& a, const Part& b) { return a.face < b.face; });
  const bool above_is_near = dot(plane.normal, towards_eye) > 0;
  sort_into(order, std::move(above_is_near ? below : above), towards_eye);
  for (Part& part : in) order.push_back(std::move(part));
  sort_into(order, std::move(above_is_near ? above : below), towards_eye);
}

Box box_of(const Face3& face, const Projection& view) {
  const Point first = view.on_paper(face.corners.front());
  Box box{first.x, first.y, first.x, first.y};
  for (const Point3& corner : face.corners) {
    const Point at = view.on_paper(corner);
    box = united(box, {at.x, at.y, at.x, at.y});
  }
  return box;
}

/// A convex polygon on paper.
struct OnPaper {
  std::vector<Point> corners;
  Box box;
};

OnPaper on_paper(const Face3& face, const Projection& view) {
  OnPaper made{.corners = {}, .box = box_of(face, view)};
  for (const Point3& corner : face.corners) made.corners.push_back(view.on_paper(corner));
  return made;
}

/// An edge belongs to it, so that no gap is between neighbours.
bool covers(const OnPaper& area, Point at) {
  constexpr double kOnEdge = 1e-9;
  const Box& box = area.box;
  if (at.x < box.x0 || at.x > box.x1 || at.y < box.y0 || at.y > box.y1) return false;
  bool left = false;
  bool right = false;
  for (std::size_t i = 0; i < area.corners.size(); ++i) {
    const Point& a = area.corners[i];
    const Point& b = area.corners[(i + 1) % area.corners.size()];
    const double side = (b.x - a.x) * (at.y - a.y) - (b.y - a.y) * (at.x - a.x);
    left = left || side > kOnEdge;
    right = right || side < -kOnEdge;
  }
  return !left || !right;
}

/// Points all over it: on rings around its middle.
std::vector<Point> points_of(const OnPaper& area) {
  constexpr std::array kRings = {0.97, 0.6, 0.25};
  constexpr int kPerEdge = 4;
  Point middle;
  const auto count = static_cast<double>(area.corners.size());
  for (const Point& one : area.corners) {
    middle = {middle.x + one.x / count, middle.y + one.y / count};
  }
  std::vector<Point> points{middle};
  for (std::size_t i = 0; i < area.corners.size(); ++i) {
    const Point& a = area.corners[i];
    const Point& b = area.corners[(i + 1) % area.corners.size()];
    for (int k = 0; k < kPerEdge; ++k) {
      const double share = static_cast<double>(k) / kPerEdge;
      const Point at{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
      for (const double ring : kRings) {
        points.push_back(
            {middle.x + ring * (at.x - middle.x), middle.y + ring * (at.y - middle.y)});
      }
    }
  }
  return points;
}

}  // namespace

Face3 half_of(const Face3& face, const Plane& plane, double sign) {
  Face3 half;
  const std::size_t count = face.corners.size();
  for (std::size_t i = 0; i < count; ++i) {
    const Point3& from = face.corners[i];
    const Point3& to = face.corners[(i + 1) % count];
    const double a = sign * plane.above(from);
    const double b = sign * plane.above(to);
    if (a >= 0) {
      half.corners.push_back(from);
      half.edges.push_back(a == 0 && b < 0 ? kCutEdge : face.edges[i]);
    }
    if ((a > 0 && b < 0) || (a < 0 && b > 0)) {
      half.corners.push_back(from + (a / (a - b)) * (to - from));
      half.edges.push_back(a > 0 ? kCutEdge : face.edges[i]);
    }
  }
  return half;
}

std::vector<Painted> back_to_front(const std::vector<Face3>& faces, const Projection& view) {
  Parts parts;
  for (std::size_t i = 0; i < faces.size(); ++i) {
    if (const auto plane = plane_of(faces[i])) parts.push_back({i, *plane, faces[i]});
  }
  Parts order;
  sort_into(order, std::move(parts), view.towards_eye());
  std::vector<Painted> painted;
  std::vector<Box> boxes;
  for (Part& part : order) {
    const Box box = box_of(part.shape, view);
    const auto first = std::find_if(painted.begin(), painted.end(),
                                    [&](const Painted& one) { return one.face == part.face; });
    if (first == painted.end()) {
      painted.push_back({part.face, faces[part.face]});
      boxes.push_back(box_of(faces[part.face], view));
      continue;
    }
    const auto since = boxes.begin() + (first - painted.begin()) + 1;
    if (std::any_of(since, boxes.end(), [&](const Box& one) { return overlap(one, box); })) {
      painted.push_back({part.face, std::move(part.shape)});
      boxes.push_back(box);
    }
  }
  return painted;
}

std::vector<Painted> only_seen(std::vector<Painted> painted, const Projection& view) {
  std::vector<OnPaper> areas;
  areas.reserve(painted.size());
  for (const Painted& one : painted) areas.push_back(on_paper(one.part, view));
  std::vector<Painted> seen;
  std::vector<const OnPaper*> over;
  for (std::size_t i = 0; i < painted.size(); ++i) {
    over.clear();
    for (std::size_t j = i + 1; j < areas.size(); ++j) {
      if (overlap(areas[i].box, areas[j].box)) over.push_back(&areas[j]);
    }
    const std::vector<Point> points = points_of(areas[i]);
    const bool is_seen = std::any_of(points.begin(), points.end(), [&](Point at) {
      return std::none_of(over.begin(), over.end(),
                          [&](const OnPaper* one) { return covers(*one, at); });
    });
    if (is_seen) seen.push_back(std::move(painted[i]));
  }
  return seen;
}

}  // namespace pouchwright::draw

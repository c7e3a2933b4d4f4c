/// Points in space and their parallel projection to paper, in mm. x runs across the panel to the
/// right, y away from the reader, z up from the table.
///
///     const Projection view(kViewAngles, 0.25);
///     const Point corner = view.on_paper({204, 150, 0});
///
/// Orthogonal axonometry after ISO 5456-3 (from memory): all lines that are parallel stay so, and
/// each direction has one scale. Nothing shrinks with the distance, so lengths can be compared.
#pragma once

#include <vector>

#include "draw/with_ink.h"

namespace pouchwright::draw {

struct Point3 {
  double x = 0;
  double y = 0;
  double z = 0;

  bool operator==(const Point3&) const = default;
};
[[nodiscard]] constexpr Point3 operator+(const Point3& a, const Point3& b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
[[nodiscard]] constexpr Point3 operator-(const Point3& a, const Point3& b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
[[nodiscard]] constexpr Point3 operator*(double by, const Point3& a) {
  return {by * a.x, by * a.y, by * a.z};
}
[[nodiscard]] constexpr double dot(const Point3& a, const Point3& b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
[[nodiscard]] constexpr Point3 cross(const Point3& a, const Point3& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
/// Across the polygon, as long as twice its area; towards whoever sees the corners run
/// counter-clockwise.
[[nodiscard]] Point3 area_vector(const std::vector<Point3>& corners);

/// How the things lie before the reader: turned about an upright axis, counter-clockwise as seen
/// from above, and seen from so high above the table.
struct ViewAngles {
  double turn_deg = 0;
  double height_deg = 90;

  bool operator==(const ViewAngles&) const = default;
};
/// From straight above: a plan.
inline constexpr ViewAngles kFromAbove{0, 90};
/// Every view of a packet has these, so that no picture asks for a new look (Agrawala et al. 2003,
/// "Designing effective step-by-step assembly instructions": one steady view). Widths come out at
/// cos 12° = 98 %, so nearly true; a right side edge and the layers along it are seen.
inline constexpr ViewAngles kViewAngles{-12, 50};
/// A pouch that is held upright, from the front and a little from above, into its mouth: what lies
/// up from the table then comes towards the reader. So it is where water is in it.
inline constexpr ViewAngles kUprightAngles{0, 114};

class Projection {
 public:
  /// `scale` is mm of paper for a mm of cloth. The origin comes to lie at 0, 0 of the paper.
  Projection(ViewAngles angles, double scale);

  [[nodiscard]] Point on_paper(const Point3& at) const;
  /// The point that is drawn there in the plane across the eye's direction, through the origin.
  [[nodiscard]] Point3 in_space(Point on_paper) const;
  /// The direction to the reader's eye, of length 1.
  [[nodiscard]] Point3 towards_eye() const { return towards_eye_; }
  [[nodiscard]] double scale() const { return scale_; }
  /// Paper mm that a mm straight up from the table takes.
  [[nodiscard]] double rise() const { return scale_ * up_.z; }

 private:
  double scale_;
  Point3 right_, up_, towards_eye_;
};

}  // namespace pouchwright::draw

#include "draw/views/space.h"

#include <cmath>
#include <numbers>

namespace pouchwright::draw {

Point3 area_vector(const std::vector<Point3>& corners) {
  Point3 sum;
  for (std::size_t i = 1; i + 1 < corners.size(); ++i) {
    sum = sum + cross(corners[i] - corners[0], corners[i + 1] - corners[0]);
  }
  return sum;
}

Projection::Projection(ViewAngles angles, double scale) : scale_(scale) {
  const double turn = angles.turn_deg * std::numbers::pi / 180;
  const double height = angles.height_deg * std::numbers::pi / 180;
  // At exactly a right angle the cosine is 0, not what is left of rounding.
  const double level = angles.height_deg == 90 ? 0 : std::cos(height);
  right_ = {std::cos(turn), -std::sin(turn), 0};
  const Point3 away{std::sin(turn), std::cos(turn), 0};
  up_ = {std::sin(height) * away.x, std::sin(height) * away.y, level};
  towards_eye_ = {-level * away.x, -level * away.y, std::sin(height)};
}

Point Projection::on_paper(const Point3& at) const {
  return {scale_ * dot(right_, at), -scale_ * dot(up_, at)};
}

Point3 Projection::in_space(Point on_paper) const {
  return (on_paper.x / scale_) * right_ + (-on_paper.y / scale_) * up_;
}

}  // namespace pouchwright::draw

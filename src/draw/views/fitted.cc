#include "draw/views/fitted.h"

#include <algorithm>
#include <cmath>

namespace pouchwright::draw {
namespace {

/// A picture that is to fill a room has a whole number of these for its scale: 2^-20.
constexpr double kSmallestScale = 1.0 / 1048576;
/// It fills the room where it misses it by less, mm.
constexpr double kMeets = 1e-9;
constexpr int kSecants = 20;

}  // namespace

Drawing fitted(Point room, const std::function<Drawing(double scale, Draft draft)>& at) {
  // By how many mm the picture is larger than the room and some white.
  const auto lacks = [&](double scale) {
    const Box box = at(scale, Draft::rough).extent;
    return std::max(box.width() - room.x, box.height() - room.y) + 2;
  };
  // A picture grows evenly with its scale but for names, so a few secants meet the room.
  double previous = 1;
  double scale = 0.5;
  double before = lacks(previous);
  double lack = lacks(scale);
  if (before <= 0) scale = previous;
  for (int round = 0; round < kSecants && before > 0 && std::abs(lack) > kMeets; ++round) {
    const double next = scale - lack * (scale - previous) / (lack - before);
    previous = scale;
    before = lack;
    scale = std::isfinite(next) ? std::clamp(next, kSmallestScale, 1.0) : kSmallestScale;
    lack = lacks(scale);
  }
  const double steps = std::floor(scale / kSmallestScale);
  Drawing drawing =
      at(std::clamp(steps, 1.0, 1 / kSmallestScale - 1) * kSmallestScale, Draft::whole);
  drawing.extent = grown(drawing.extent, 1);
  return from_top_left(std::move(drawing));
}

}  // namespace pouchwright::draw

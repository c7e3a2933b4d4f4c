#include "pouch/judge/fill.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "pouch/judge/water.h"

namespace pouchwright::pouch {

namespace {

// A closed flap keeps no water in: it only lies over the mouth, so the water must stay below the
// lip's weakest point, the water line. The surface stays level while the pouch tilts about the
// middle of its width w, so along one side it climbs by
//     (w / 2) tan(tilt),
// and that much must be free below the water line. Swinging front to back moves it less, since a
// pouch is far thinner than wide.
Length climb_when_tilted(Length width) {
  const double tilt = kCarryTiltDegrees * std::numbers::pi / 180;
  return Length::mm(width.in_mm() / 2 * std::tan(tilt));
}

Length not_below_zero(Length length) { return std::max(length, Length()); }

}  // namespace

Fill fill_of(const Pouch& pouch, base::LengthStyle style) {
  const Length width = pouch.sizes.inside_width;
  Fill fill;
  fill.test_level = not_below_zero(pouch.water_line() - kBelowWaterLine);
  fill.carry_level =
      std::min(fill.test_level, not_below_zero(pouch.water_line() - climb_when_tilted(width)));
  // A level is read off a ruler.
  fill.test_level = base::read_at_most(fill.test_level, style);
  fill.carry_level = base::read_at_most(fill.carry_level, style);
  const auto stands = [&](Length level) {
    return water_height(pouch.construction(), pouch.sizes, level);
  };
  fill.test_ml = open_bag_ml(width, stands(fill.test_level));
  fill.test_pressure_pa = water_pressure_pa(stands(fill.test_level));
  fill.carry_ml = open_bag_ml(width, stands(fill.carry_level));
  return fill;
}

}  // namespace pouchwright::pouch

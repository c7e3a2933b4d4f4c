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

Levels levels_of(const Pouch& pouch) {
  const Length test = not_below_zero(pouch.water_line() - kBelowWaterLine);
  const Length climb = climb_when_tilted(pouch.sizes.inside_width);
  return {test, std::min(test, not_below_zero(pouch.water_line() - climb))};
}

Fill fill_up_to(const Pouch& pouch, const Levels& levels) {
  const Length width = pouch.sizes.inside_width;
  const auto stands = [&](Length level) {
    return water_height(pouch.construction(), pouch.sizes, level);
  };
  Fill fill{.test_level = levels.test, .carry_level = levels.carry};
  fill.test_ml = open_bag_ml(width, stands(fill.test_level));
  fill.test_pressure_pa = water_pressure_pa(stands(fill.test_level));
  fill.carry_ml = open_bag_ml(width, stands(fill.carry_level));
  return fill;
}

}  // namespace pouchwright::pouch

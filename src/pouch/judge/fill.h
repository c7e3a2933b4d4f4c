/// Water in the finished pouch: how much a test takes, and how full is too full to carry.
///
///     Fill fill = fill_up_to(*pouch, levels_of(*pouch));
///     print(fill.test_ml, fill.carry_level);
///
/// Levels are measured along the cloth from the bottom, as the water line is. Volumes are those of
/// the open form in pouch.h, which is very rough: a level decides, millilitres only say how much
/// water to have at hand.
#pragma once

#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// How high water stands, exact: who says or marks it reads it off a ruler.
struct Levels {
  Length test;
  Length carry;  ///< 0 where the pouch can only be carried level
};

struct Fill {
  Length test_level;
  double test_ml = 0;
  double test_pressure_pa = 0;  ///< at the bottom
  Length carry_level;
  double carry_ml = 0;
};

/// A test fills up to this far below the water line, so that a hand's shake does not send water
/// over the lip (common practice, no source). Nothing that the pouch is to hold is left untested:
/// what is carried stays below it.
inline constexpr Length kBelowWaterLine = Length::whole_mm(5);
/// A pouch that is carried by its closed flap swings and tilts sideways by up to this (assumed).
inline constexpr int kCarryTiltDegrees = 30;

[[nodiscard]] Levels levels_of(const Pouch& pouch);
/// What water is up to these levels.
[[nodiscard]] Fill fill_up_to(const Pouch& pouch, const Levels& levels);

}  // namespace pouchwright::pouch

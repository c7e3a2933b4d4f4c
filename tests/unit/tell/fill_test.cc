#include "tell/fill.h"

#include "unit/draw/full_size_support.h"

using namespace pouchwright;
using namespace pouchwright::tell;
using namespace pouchwright::test;

TEST_CASE("a level is said as the printed ruler shows it, never above what it is") {
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  // By hand: tan 30 degrees = 1 / sqrt 3; half of 178 mm climbs by 51.4 mm, and 88.6 of 140 are left.
  const pouch::Levels exact = pouch::levels_of(pouch);
  REQUIRE(exact.carry > mm(88));
  REQUIRE(exact.carry < mm(89));
  CHECK(fill_read(pouch, own_words()).carry_level == mm(88));
  // 3 1/2 in are 88.9 mm, so an eighth less.
  const base::Voice inches(own_words(), base::default_style(base::Unit::inch));
  CHECK(fill_read(pouch, inches).carry_level == base::Length::inches(27, 8));
}

#include "pouch/judge/fill.h"

#include <doctest/doctest.h>

#include <cmath>

#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;
using namespace pouchwright::test;

namespace {

Pouch derived(const Request& request) {
  base::Diagnostics diagnostics;
  auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  return *std::move(pouch);
}

Fill fill_of(const Pouch& pouch) { return fill_up_to(pouch, levels_of(pouch)); }

}  // namespace

TEST_CASE("a test fills to just below the water line") {
  const Pouch pouch = derived(hand_worked(foldover()));
  REQUIRE(pouch.water_line() == mm(140));
  const Fill fill = fill_of(pouch);
  CHECK(fill.test_level == mm(135));
  CHECK(fill.test_ml < pouch.water_volume_ml);
  CHECK(fill.test_ml > 0.9 * pouch.water_volume_ml);
  // rho g h: 998.2 kg/m3 (handbook tables) x 9.80665 m/s2 (3rd CGPM, 1901) x 0.135 m.
  CHECK(fill.test_pressure_pa == doctest::Approx(998.2 * 9.80665 * 0.135));
}

TEST_CASE("a tilted pouch must keep its water below the water line") {
  const Pouch pouch = derived(hand_worked(foldover()));
  const Levels levels = levels_of(pouch);
  const Fill fill = fill_up_to(pouch, levels);
  // By hand: tan 30 degrees = 1 / sqrt 3; half of 178 mm climbs by 51.4 mm.
  CHECK(levels.carry.in_mm() == doctest::Approx(140 - 178 / 2 / std::sqrt(3)));
  CHECK(fill.carry_ml == doctest::Approx(open_bag_ml(mm(178), fill.carry_level)));
  CHECK(fill.carry_ml < fill.test_ml);
}

TEST_CASE("what is carried is never more than what was tested, in narrow, wide and leaking ones") {
  for (const std::int64_t width : {40, 60, 190, 600, 1200}) {
    for (const std::int64_t seal : {8, 13}) {
      Request request = hand_worked(foldover());
      request.sizes["width"].value = mm(width);
      request.sizes["seal_width"].value = mm(seal);  // 8 mm leave no clear seal: no water line
      const Fill fill = fill_of(derived(request));
      CAPTURE(width);
      CHECK(fill.carry_level <= fill.test_level);
      CHECK(fill.carry_level >= Length());
      CHECK(fill.carry_ml <= fill.test_ml);
      if (seal == 8) CHECK(fill.test_ml == 0);
      // 600 mm tilted by 30 degrees climb by 170 mm, more than the 140 mm there are.
      if (width >= 600) CHECK(fill.carry_level == Length());
    }
  }
}

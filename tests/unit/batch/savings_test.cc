#include "batch/savings.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "support/requests.h"

using namespace pouchwright;
using base::Length;
using batch::Change;

namespace {

Length mm(std::int64_t count) { return Length::whole_mm(count); }

/// The hand-worked pouch, cut 204 x 360 mm, from a cloth of 1 m: four lie across, 40 take 3084 mm.
pouch::Request on_a_metre() {
  pouch::Request request = test::hand_worked(test::foldover());
  request.laminate.width = mm(1000);
  return request;
}

const Change* change_of(const batch::Savings& savings, const std::map<std::string, Length>& set) {
  const auto found = std::find_if(savings.changes.begin(), savings.changes.end(),
                                  [&](const Change& change) { return change.set == set; });
  return found == savings.changes.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("a width at which one more panel lies across is found, with cloth before and after") {
  const auto found = batch::savings(on_a_metre(), 40, {}, mm(10));
  // Worked by hand: 186 + 2 * 7 = 200 mm, five across, eight rows of 360 mm: 1000 * 2880 / 40.
  const Change* change = change_of(found, {{"pouch.width", mm(186)}});
  REQUIRE(change != nullptr);
  CHECK(found.across_now == std::vector<int>{4});
  CHECK(change->across == std::vector<int>{5});
  CHECK(change->cut_width == mm(200));
  CHECK(change->cloth_mm2_per_pouch == doctest::Approx(72'000));
  CHECK(found.now_mm2_per_pouch == doctest::Approx(77'100));
  CHECK(change->saving_fraction == doctest::Approx(1 - 72'000.0 / 77'100));
  // One millimetre less brings nothing but the millimetre.
  CHECK(change_of(found, {{"pouch.width", mm(185)}}) == nullptr);
  CHECK(change_of(found, {{"pouch.width", mm(187)}}) == nullptr);
}

TEST_CASE("changes come by their saving and keep the water line in view") {
  const auto found = batch::savings(on_a_metre(), 40, {}, mm(10));
  REQUIRE(found.changes.size() > 1);
  for (std::size_t i = 1; i < found.changes.size(); ++i) {
    CHECK(found.changes[i - 1].saving_fraction >= found.changes[i].saving_fraction);
  }
  CHECK(found.water_line_now == mm(140));
  for (const Change& change : found.changes) {
    const bool shallower = change.set.contains("pouch.depth");
    CHECK((change.water_line < mm(140)) == shallower);
    CHECK(change.set.size() <= 2);
  }
}

TEST_CASE("nothing to gain gives an empty list") {
  CHECK(batch::savings(on_a_metre(), 40, {}, mm(3)).changes.empty());
  CHECK(batch::savings(on_a_metre(), 40, {}, Length()).changes.empty());
}

TEST_CASE("no change takes the room of the job's liners") {
  pouch::Request request = on_a_metre();
  pouch::Liners liners;
  liners.turn = pouch::LinerTurn::as_given;
  liners.count = {{3, {}}};
  liners.thickness = {mm(9), {}};
  // Worked by hand: one column of three, 110 + 27 + 10 = 147 mm, leaves 3 mm of the depth,
  // which no jump is near; across there is room.
  liners.width = {mm(100), {}};
  liners.length = {mm(110), {}};
  liners.columns = {{1, {}}};
  request.liners = liners;
  auto found = batch::savings(request, 40, {}, mm(10));
  REQUIRE(found.changes.size() == 1);
  CHECK(found.changes[0].set == std::map<std::string, Length>{{"pouch.width", mm(186)}});
  // Two columns of 75, two high, with ease are 178 mm, all of the inside: the width must stay, and
  // the shorter box lets the depth go.
  request.liners->width = {mm(75), {}};
  request.liners->columns = {{2, {}}};
  found = batch::savings(request, 40, {}, mm(10));
  REQUIRE_FALSE(found.changes.empty());
  for (const Change& change : found.changes) CHECK_FALSE(change.set.contains("pouch.width"));
}

TEST_CASE("a change that brings a warning is left out") {
  pouch::Request request = on_a_metre();
  // Clear seal 13 - 7 = 6, worst 1: any less is warned of, but the width does not touch it. A flap
  // as deep as the pouch is: a smaller depth alone would make it the longer one.
  request.sizes["flap"].value = mm(150);
  for (const Change& change : batch::savings(request, 40, {}, mm(10)).changes) {
    if (!change.set.contains("pouch.depth")) continue;
    CHECK(change.set.contains("pouch.flap"));
  }
}

TEST_CASE("a cut panel is changed by its own sizes") {
  pouch::Request request = on_a_metre();
  request.sizes.erase("width");
  request.sizes.erase("depth");
  request.panel = pouch::CutPanel{{mm(204), {}}, {mm(360), {}}, {}};
  const auto found = batch::savings(request, 40, {}, mm(10));
  const Change* change = change_of(found, {{"panel.width", mm(200)}});
  REQUIRE(change != nullptr);
  CHECK(change->cut_width == mm(200));
}

TEST_CASE("each change says what it does to the capacity") {
  pouch::Request request = on_a_metre();
  CHECK_FALSE(batch::savings(request, 40, {}, mm(10)).capacity_now);
  pouch::Liners liners;
  liners.turn = pouch::LinerTurn::as_given;
  liners.width = {mm(80), {}};
  liners.length = {mm(110), {}};
  liners.thickness = {mm(9), {}};
  liners.count = {{2, {}}};
  request.liners = liners;
  const auto found = batch::savings(request, 40, {}, mm(20));
  REQUIRE(found.capacity_now);
  // 110 + 27 + 10 = 147 of the depth of 150 mm: three, one more than the job's two.
  CHECK(found.capacity_now->liners == 3);
  REQUIRE_FALSE(found.changes.empty());
  bool fewer = false;
  for (const Change& change : found.changes) {
    REQUIRE(change.capacity);
    CHECK(change.capacity->liners >= 2);
    fewer = fewer || change.capacity->liners < 3;
  }
  CHECK(fewer);
}

TEST_CASE("cloth counts as it is bought, of every material and before the first wash") {
  pouch::Request request = on_a_metre();
  const double alone = batch::savings(request, 40, {}, Length()).now_mm2_per_pouch;
  // Cut = finished / (1 - s), a fraction of the length before washing (ISO 5077).
  request.outer = request.laminate;
  request.outer->kind = pouch::MaterialKind::outer;
  request.outer->shrink_length = 0.05;
  const double with_outer = batch::savings(request, 40, {}, Length()).now_mm2_per_pouch;
  CHECK(with_outer == doctest::Approx(alone + alone / 0.95));
}

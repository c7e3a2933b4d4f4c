#include "lay/spare.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace pouchwright;
using base::Length;
using lay::Area;
using lay::Cut;
using lay::Plies;

namespace {

Length mm(std::int64_t count) { return Length::whole_mm(count); }

lay::Request panels(Length width, Length across, Length along, int demand, base::Turn turn) {
  lay::Request request;
  request.cloth = {"cloth", width};
  request.kinds = {{"panel", across, along, demand, turn}};
  return request;
}

lay::Request inch_panels(int halves_of_width, int demand) {
  return panels(Length::inches(halves_of_width, 2), Length::inches(17, 2), Length::inches(15),
                demand, base::Turn::either);
}

bool overlap(const Area& a, const Area& b) {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.length && b.y < a.y + a.length;
}

int pieces_told(const lay::Lay& lay) {
  int told = 0;
  for (const lay::Step& step : lay.steps) {
    const int layers = lay::layers_under(lay, step);
    if (step.kind >= 0) told += step.count * layers;
    if (step.rest) told += step.rest->count * layers;
  }
  return told;
}

}  // namespace

TEST_CASE("strips come out of the waste alone, and only whole ones") {
  // By hand: 5 x 204 across 1080 leave 60 beside eight rows of 390: of 30 x 80, two and four in
  // each.
  const auto plan = lay::plan(panels(mm(1080), mm(204), mm(390), 40, base::Turn::along)).cloth;
  const auto all = lay::in_waste(plan, mm(30), mm(80), 100);
  CHECK(all.size() == 2 * 4 * 8);
  const auto strips = lay::in_waste(plan, mm(30), mm(80), 18);
  REQUIRE(strips.size() == 18);
  for (std::size_t i = 0; i < strips.size(); ++i) {
    CHECK(strips[i].x + strips[i].width <= mm(1080));
    CHECK(strips[i].y + strips[i].length <= plan.length);
    for (const lay::Placed& piece : plan.pieces) CHECK_FALSE(overlap(strips[i], piece.area));
    for (std::size_t k = 0; k < i; ++k) CHECK_FALSE(overlap(strips[i], strips[k]));
  }
  // 2 mm too wide for the strip that is left.
  CHECK(lay::in_waste(plan, mm(62), mm(80), 18).size() == 0);
  // The other way round 80 finds no room across, and 60 does.
  CHECK(lay::in_waste(plan, mm(80), mm(60), 100).size() == 6 * 8 / 2 + 8);
}

TEST_CASE("strips spare what is worth keeping as long as other waste yields them") {
  // By hand: seven of 204 across 1500 leave 72, and of the last row of five 480 x 390 is kept.
  const auto plan = lay::plan(panels(mm(1500), mm(204), mm(390), 40, base::Turn::along)).cloth;
  REQUIRE_FALSE(plan.kept.empty());
  const auto strips = lay::in_waste(plan, mm(30), mm(80), 18);
  REQUIRE(strips.size() == 18);
  for (const Area& strip : strips) {
    for (const Area& kept : plan.kept) CHECK_FALSE(overlap(strip, kept));
  }
}

TEST_CASE("four 15 in panels across a 60 in roll folded in four leave nothing to spare") {
  // Common practice, no source: sixty inches give four fifteens by folding in four.
  auto request = inch_panels(120, 20);
  request.plies = {Plies::Way::folded, 4};
  const auto plan = lay::plan(request).cloth;
  CHECK(plan.length == Length::inches(85, 2));
  CHECK(lay::spare_across(plan) == Length());
  CHECK(lay::in_waste(plan, Length::inches(5, 4), Length::inches(13, 4), 18).empty());
  // On a roll of 59 1/2 in only the width lies across the quarter: 5 x 15 in, and 45 in opened out
  // (worked at a table: five strips of 15 in against three).
  auto narrow = inch_panels(119, 20);
  narrow.plies = request.plies;
  const auto other = lay::plan(narrow).cloth;
  CHECK(other.cloth_length == Length::inches(75));
  CHECK(other.single_length == Length::inches(45));
}

TEST_CASE("what is to spare is the least width that no piece takes") {
  // By hand: two rows of five leave 1100 - 5 x 204.
  const auto plan = lay::plan(panels(mm(1100), mm(204), mm(390), 10, base::Turn::along)).cloth;
  CHECK(lay::spare_across(plan) == mm(80));
  auto stacked = panels(mm(1022), mm(204), mm(390), 10, base::Turn::along);
  stacked.plies = {Plies::Way::stacked, 2};
  CHECK(lay::spare_across(lay::plan(stacked).cloth) == mm(2));
  CHECK(mm(2) < lay::kLittleSpare);
}

TEST_CASE("every piece is counted by the cut that yields it, or as what is left") {
  auto folded = inch_panels(120, 20);
  folded.plies = {Plies::Way::folded, 4};
  auto stacked = panels(mm(1100), mm(204), mm(390), 20, base::Turn::along);
  stacked.plies = {Plies::Way::stacked, 4};
  auto mixed = panels(mm(1100), mm(204), mm(360), 13, base::Turn::either);
  mixed.kinds.push_back({"strap", mm(30), mm(600), 4});
  mixed.kinds.push_back({"tag", mm(25), mm(80), 20});
  auto free = panels(mm(1100), mm(204), mm(360), 13, base::Turn::either);
  free.cuts = lay::Cuts::free;
  for (const lay::Request& request :
       {inch_panels(84, 5), inch_panels(84, 20), inch_panels(120, 20), folded, stacked, mixed, free,
        panels(mm(1080), mm(204), mm(390), 40, base::Turn::along)}) {
    const lay::Lay plan = lay::plan(request).cloth;
    CAPTURE(plan.pieces.size());
    CHECK(pieces_told(plan) == static_cast<int>(plan.pieces.size()));
  }
}

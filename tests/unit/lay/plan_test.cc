#include <doctest/doctest.h>

#include <algorithm>

#include "lay/lay.h"
#include "support/lay_verifier.h"

using namespace pouchwright;
using base::Length;
using lay::Cut;
using lay::Fault;
using lay::Kind;
using lay::Plies;

namespace {

Length mm(std::int64_t count) { return Length::whole_mm(count); }

lay::Request request_for(Length width, std::vector<Kind> kinds) {
  lay::Request request;
  request.cloth = {"cloth", width};
  request.kinds = std::move(kinds);
  return request;
}

Kind inch_panel(int demand) { return {"panel", Length::inches(17, 2), Length::inches(15), demand}; }

lay::Plan verified(const lay::Request& request) {
  REQUIRE(lay::faults(request).empty());
  lay::Plan plan = lay::plan(request);
  for (const std::string& wrong : test::wrong_with(request, plan)) FAIL_CHECK(wrong);
  return plan;
}

int cuts_of(const lay::Lay& lay, Cut cut) {
  int lines = 0;
  for (const lay::Step& step : lay.steps) {
    if (step.cut == cut) lines += static_cast<int>(step.lines.size());
  }
  return lines;
}

}  // namespace

TEST_CASE("twenty panels take 68 in of 42 in cotton and 42 1/2 in of 60 in laminate") {
  // Common practice, no source: no selvedge taken off.
  const auto cotton = verified(request_for(Length::inches(42), {inch_panel(20)}));
  CHECK(cotton.cloth.length == Length::inches(68));
  CHECK(cotton.cloth.optimal);
  const auto laminate = verified(request_for(Length::inches(60), {inch_panel(20)}));
  CHECK(laminate.cloth.length == Length::inches(85, 2));
  CHECK(laminate.cloth.optimal);
}

TEST_CASE("no piece lies across where plain rows take no more cloth") {
  // Worked by hand: 7 across of 1428 mm, 3 lengths of 400 mm; 20 pieces have no less than 3 rows.
  const auto plan = verified(request_for(mm(1500), {{"panel", mm(204), mm(400), 20}}));
  CHECK(plan.cloth.length == mm(1200));
  CHECK(plan.cloth.optimal);
  CHECK(std::none_of(plan.cloth.pieces.begin(), plan.cloth.pieces.end(),
                     [](const lay::Placed& piece) { return piece.turned; }));
}

TEST_CASE("five panels come from 17 in of 42 in cotton, four one way and one the other") {
  // Common practice, no source; the 2 in strip over the fifth is kept for tags.
  auto request = request_for(Length::inches(42), {inch_panel(5)});
  request.keep = Length::inches(2);
  const auto plan = verified(request);
  CHECK(plan.cloth.length == Length::inches(17));
  const auto turned = std::count_if(plan.cloth.pieces.begin(), plan.cloth.pieces.end(),
                                    [](const lay::Placed& piece) { return piece.turned; });
  CHECK((turned == 4 || turned == 1));
  const bool strip =
      std::any_of(plan.cloth.kept.begin(), plan.cloth.kept.end(), [](const lay::Area& a) {
        return a.length == Length::inches(2) || a.width == Length::inches(2);
      });
  CHECK(strip);
}

TEST_CASE("60 in laminate folded in four gives four 15 in lengths, the folds slit afterwards") {
  // Common practice, no source.
  auto request = request_for(Length::inches(60), {inch_panel(20)});
  request.plies = {Plies::Way::folded, 4};
  const auto plan = verified(request);
  CHECK(plan.cloth.length == Length::inches(85, 2));
  CHECK(plan.cloth.optimal);
  CHECK(plan.cloth.pieces.size() == 20);
  CHECK(cuts_of(plan.cloth, Cut::strip) == 0);
  CHECK(cuts_of(plan.cloth, Cut::slit) >= 3);
  // Five lengths of 8 1/2 in through four plies; one single layer would need the strips as well.
  CHECK(cuts_of(plan.cloth, Cut::off) + cuts_of(plan.cloth, Cut::cross) == 5);
}

TEST_CASE("a remainder is cut single where that is shorter, else spare pieces come out") {
  // 1000 folded in two is 500: two 240s across make four pieces a row of 300.
  auto request = request_for(mm(1000), {{"panel", mm(240), mm(300), 9, lay::Turn::along}});
  request.plies = {Plies::Way::folded, 2};
  auto plan = verified(request);
  // Four positions in two rows, then one piece single in a row of its own, or a fifth position in a
  // row of its own: as long, so it goes through both plies and one piece is spare.
  CHECK(plan.cloth.length == mm(900));
  CHECK(plan.cloth.sections.size() == 1);
  CHECK(std::count_if(plan.cloth.pieces.begin(), plan.cloth.pieces.end(),
                      [](const lay::Placed& piece) { return piece.spare; }) == 1);
  // Stacked three deep, eleven make three positions and two single: a fourth position would take
  // three more rows, two single pieces side by side only one.
  request.plies = {Plies::Way::stacked, 3};
  request.cloth.width = mm(500);
  request.kinds.front().demand = 14;
  plan = verified(request);
  CHECK(plan.cloth.sections.size() == 2);
  CHECK(plan.cloth.layers == 3);
  CHECK(plan.cloth.length == mm(900));
  CHECK(plan.cloth.cloth_length == mm(3 * 600 + 300));
}

TEST_CASE("without plies the same pieces may take less: both lengths are told") {
  auto request = request_for(Length::inches(42), {inch_panel(20)});
  request.plies = {Plies::Way::folded, 2};
  const auto plan = verified(request);
  CHECK(plan.cloth.single_length == Length::inches(68));
  CHECK(plan.cloth.length >= plan.cloth.single_length);
}

TEST_CASE("the last length cut off tells how many more it would yield") {
  // Five 204s lie across 1100: 42 panels in rows of five would leave three places free.
  auto request = request_for(mm(1100), {{"panel", mm(204), mm(360), 42, lay::Turn::along}});
  const auto plan = verified(request);
  CHECK(plan.cloth.length == 9 * mm(360));
  CHECK(plan.cloth.spare == std::vector<int>{3});
}

TEST_CASE("rows of one pattern are one kind of cut-off with one set of orders") {
  auto request = request_for(mm(1100), {{"panel", mm(204), mm(360), 40, lay::Turn::along}});
  request.longest = mm(400);
  const auto plan = verified(request);
  CHECK(plan.cloth.cut_offs.size() == 8);
  for (const lay::CutOff& cut_off : plan.cloth.cut_offs) CHECK(cut_off.pattern == 0);
  REQUIRE(plan.cloth.steps.size() == 2);
  CHECK(plan.cloth.steps[0].cut == Cut::off);
  CHECK(plan.cloth.steps[0].at == mm(360));
  CHECK(plan.cloth.steps[0].lines.size() == 8);
  CHECK(plan.cloth.steps[1].cut == Cut::strip);
  CHECK(plan.cloth.steps[1].at == mm(204));
  CHECK(plan.cloth.steps[1].kind == 0);
  CHECK(plan.cloth.steps[1].lines.size() == 40);
}

TEST_CASE("remnants come first, and only the rest is cut from the roll") {
  auto request = request_for(mm(1100), {{"panel", mm(204), mm(360), 12, lay::Turn::along}});
  request.remnants = {{"left over", mm(700), mm(400)}, {"too small", mm(100), mm(100)}};
  const auto plan = verified(request);
  REQUIRE(plan.remnants.size() == 2);
  CHECK(plan.remnants[0].pieces.size() == 3);
  CHECK(plan.remnants[0].optimal);
  CHECK(plan.remnants[1].pieces.empty());
  CHECK(plan.cloth.pieces.size() == 9);
  CHECK(plan.cloth.length == mm(720));
}

TEST_CASE("a remnant gives the most valuable set of what is needed") {
  auto request =
      request_for(mm(1000), {{"large", mm(300), mm(300), 1}, {"small", mm(290), mm(150), 8}});
  request.remnants = {{"left over", mm(300), mm(300)}};
  auto plan = verified(request);
  REQUIRE(plan.remnants[0].pieces.size() == 1);
  CHECK(plan.remnants[0].pieces[0].kind == 0);
  request.kinds[1].value = 5;
  request.kinds[0].value = 9;
  plan = verified(request);
  CHECK(plan.remnants[0].pieces.size() == 2);
}

TEST_CASE("everything from remnants leaves the roll uncut") {
  auto request = request_for(mm(1100), {{"panel", mm(204), mm(360), 2}});
  request.remnants = {{"left over", mm(700), mm(400)}};
  const auto plan = verified(request);
  CHECK(plan.cloth.length == Length());
  CHECK(plan.cloth.optimal);
  CHECK(plan.cloth.pieces.empty());
}

TEST_CASE("by-products fill the waste and never lengthen the plan, the most valuable first") {
  auto request = request_for(mm(1100), {{"panel", mm(204), mm(360), 40, lay::Turn::along}});
  const auto bare = verified(request);
  request.by_products = {{"loop", mm(25), mm(80), 40}, {"strip", mm(70), mm(300), 3}};
  const auto plan = verified(request);
  CHECK(plan.cloth.length == bare.cloth.length);
  CHECK(plan.cloth.waste_fraction < bare.cloth.waste_fraction);
  CHECK(plan.by_products == std::vector<int>{40, 3});
  // Only 80 mm over beside the panels: one of the two must stand back.
  request = request_for(mm(284), {{"panel", mm(204), mm(360), 1, lay::Turn::along}});
  request.by_products = {{"loop", mm(80), mm(200), 5}, {"strip", mm(80), mm(300), 5}};
  CHECK(verified(request).by_products == std::vector<int>{0, 1});
  request.by_products[0].value = 7;
  request.by_products[1].value = 3;
  CHECK(verified(request).by_products == std::vector<int>{1, 0});
}

TEST_CASE("left-overs worth keeping are listed, small ones are not") {
  auto request = request_for(mm(1100), {{"panel", mm(400), mm(500), 2, lay::Turn::along}});
  const auto plan = verified(request);
  REQUIRE(plan.cloth.kept.size() == 1);
  CHECK(plan.cloth.kept[0] == lay::Area{mm(800), mm(0), mm(300), mm(500)});
  request.keep = mm(301);
  CHECK(verified(request).cloth.kept.empty());
}

TEST_CASE("free cuts go round a template where that saves cloth") {
  // A published instance: 23 pieces of 5 x 3 from 22 x 16, 22 by straight cuts (K. A. Dowsland
  // 1984).
  auto request = request_for(mm(160), {{"tag", mm(30), mm(50), 23}});
  const auto straight = verified(request);
  request.cuts = lay::Cuts::free;
  const auto free = verified(request);
  CHECK(free.cloth.length == mm(220));
  CHECK(free.cloth.optimal);
  CHECK(straight.cloth.length > mm(220));
  CHECK(cuts_of(free.cloth, Cut::around) > 0);
}

TEST_CASE("what cannot be planned is told, each fault by its kind") {
  using What = Fault::What;
  auto request = request_for(mm(1000), {{"panel", mm(1001), mm(1200), 1}});
  CHECK(lay::faults(request) == std::vector<Fault>{{What::too_large, 0}});
  request.kinds[0] = {"panel", mm(900), mm(1200), 1};
  CHECK(lay::faults(request).empty());
  request.longest = mm(1100);
  CHECK(lay::faults(request) == std::vector<Fault>{{What::too_long_for_table, 0}});
  request.longest.reset();
  request.plies = {Plies::Way::folded, 2};
  CHECK(lay::faults(request) == std::vector<Fault>{{What::too_wide_folded, 0}});
  request.plies = {Plies::Way::folded, 3};
  CHECK(lay::faults(request) == std::vector<Fault>{{What::bad_plies, 0}});
  request.plies = {};
  request.kinds[0].demand = 0;
  CHECK(lay::faults(request) == std::vector<Fault>{{What::bad_demand, 0}});
  request.kinds[0].demand = 1'000'000'000;
  CHECK(lay::faults(request) == std::vector<Fault>{{What::bad_demand, 0}});
  request.kinds.assign(21, {"panel", mm(100), mm(100), 1});
  CHECK(lay::faults(request) == std::vector<Fault>{{What::too_many_kinds, 0}});
  request.kinds.assign(3, {"panel", mm(100), mm(100), 700});
  CHECK(lay::faults(request) == std::vector<Fault>{{What::too_many_pieces, 0}});
  request.kinds.clear();
  CHECK(lay::faults(request) == std::vector<Fault>{{What::nothing_to_cut, 0}});
}

TEST_CASE("twenty kinds are planned with a bound") {
  std::vector<Kind> kinds;
  kinds.reserve(20);
  for (int k = 0; k < 20; ++k)
    kinds.push_back({"piece", mm(60 + 17 * k), mm(90 + 23 * k), 1 + k % 4});
  const auto plan = verified(request_for(mm(1480), kinds));
  CHECK(plan.cloth.bound <= plan.cloth.length);
  CHECK(plan.cloth.length.in_nm() / 100 * 92 <= plan.cloth.bound.in_nm());
}

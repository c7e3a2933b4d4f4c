#include "batch/supplies.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "support/requests.h"
#include "unit/batch/thread_support.h"

using namespace pouchwright;
using namespace pouchwright::batch;
using test::mm;

namespace {

pouch::Pouch hand_worked_pouch(pouch::CardUse cards) {
  pouch::Request request = test::hand_worked(test::with_sewn_sides(test::foldover()));
  request.cards = cards;
  base::Diagnostics diagnostics;
  const auto made = pouch::derive(request, diagnostics);
  REQUIRE(made.has_value());
  return *made;
}

SupplyData data() {
  SupplyData made;
  made.thread = test::thread_rules();
  made.card_sheets = {{"A4", mm(210), mm(297)}, {"A3", mm(297), mm(420)}};
  made.sundries = {{"clips", 12, 1, Counted::helper},
                   {"glue-stick", 1, 20, Counted::page},
                   {"rotary-blade", 1, 50, Counted::pouch}};
  return made;
}

Settings settings_of(int pouches) {
  Settings made;
  made.pouches.value = pouches;
  made.helpers.value = 4;
  return made;
}

Order order_of_laminate() {
  Order order;
  order.cloths = {{"laminate", "pul-150", mm(1500), mm(2600), 14.5, "m"}};
  order.pages = 7;
  return order;
}

/// The list, with the seams that the data's rules give.
Supplies listed(Order order, const pouch::Pouch& pouch, const SupplyData& known,
                const Settings& settings, const Prices& prices) {
  order.seams = seams_of(pouch, known.thread);
  return supplies(order, pouch, known, settings, prices);
}

const Supply& line_of(const Supplies& list, const std::string& name) {
  const auto found = std::find_if(list.lines.begin(), list.lines.end(),
                                  [&](const Supply& line) { return line.name == name; });
  REQUIRE(found != list.lines.end());
  return *found;
}

}  // namespace

TEST_CASE("amounts follow from the order, the pouch and rules of thumb") {
  Order order = order_of_laminate();
  order.attachments = {{pouch::AttachmentKind::snap, "snap", 2, {}, {}, "snap"}};
  const auto pouch = hand_worked_pouch(pouch::CardUse::both);
  const Supplies list = listed(order, pouch, data(), settings_of(40), {});
  CHECK(line_of(list, "laminate").amount == doctest::Approx(2.6));
  // Beside the forty, one first pouch and the job's 3 % of spoiled ones, 1.2: two snaps each.
  CHECK(line_of(list, "snap").amount == 84);
  CHECK(line_of(list, "page").amount == 7);
  // Common practice, no source: clips by helper, glue by page, blades by pouch.
  CHECK(line_of(list, "clips").amount == 48);
  CHECK(line_of(list, "clips").basis == Basis::assumed);
  CHECK(line_of(list, "glue-stick").amount == 1);
  CHECK(line_of(list, "rotary-blade").amount == 1);
  CHECK(listed(order, pouch, data(), settings_of(51), {}).lines.back().amount == 2);
  CHECK(line_of(list, "cone").amount == 3);
}

TEST_CASE("a snap's halves are bought as one, and tape by the length of both its halves") {
  pouch::Pouch pouch = hand_worked_pouch(pouch::CardUse::inside);
  const auto add = [&](const char* name, pouch::AttachmentKind kind,
                       std::optional<std::size_t> half_of = std::nullopt) {
    auto& rules = pouch.request.construction.attachments;
    pouch::Fixed fixed;
    fixed.attachment = rules.size();
    fixed.y = {mm(20), mm(40)};
    fixed.width = mm(60);
    fixed.x = {mm(102)};
    pouch.fixed.push_back(fixed);
    pouch::Attachment& rule = rules.emplace_back();
    rule.name = name;
    rule.kind = kind;
    rule.half_of = half_of;
  };
  using Kind = pouch::AttachmentKind;
  add("snap on the flap", Kind::snap);
  add("snap on the front", Kind::snap, 0);
  add("snap on the strap", Kind::snap);
  add("tape on the flap", Kind::hook_and_loop);
  add("tape on the front", Kind::hook_and_loop, 3);
  Order order;
  order.attachments = attachments_to_buy(pouch);
  REQUIRE(order.attachments.size() == 2);
  CHECK(order.attachments[0].per_pouch == 2);
  CHECK(order.attachments[1].tape_length == mm(60));
  for (Attachment& one : order.attachments) one.price_name = one.name;
  const Supplies list = listed(order, pouch, data(), settings_of(40), {});
  CHECK(line_of(list, "snap on the flap").amount == 84);
  // By hand: 40 pouches and two spare ones, 60 mm of each half.
  CHECK(line_of(list, "tape on the flap").amount == doctest::Approx(2.52));
  CHECK(line_of(list, "tape on the flap").unit == SupplyUnit::metre);
  order.attachments[1].tape_length = Length();
  CHECK_FALSE(line_of(listed(order, pouch, data(), settings_of(40), {}), "tape on the flap")
                  .amount.has_value());
}

TEST_CASE("two pockets that are pressed at once keep two slip cards, one after the other one") {
  pouch::Pouch pouch = hand_worked_pouch(pouch::CardUse::inside);
  const pouch::NamedCard slip = pouch.cards.front();
  REQUIRE(slip.use == pouch::NamedCard::Use::slip);
  pouch.cards.push_back(slip);
  REQUIRE(cards_of(pouch).size() == 1);
  CHECK(cards_of(pouch)[0].each == 2);
  ++pouch.cards.back().operation;  // another pressing
  CHECK(cards_of(pouch)[0].each == 1);
  pouch.cards.back().card.outline.back().x += mm(5);
  CHECK(cards_of(pouch).size() == 2);
  // One line for both, a sheet for each.
  const Supplies list = listed({}, pouch, data(), settings_of(40), {});
  CHECK(list.cards.size() == 2);
  CHECK(line_of(list, "card").amount == 2);
}

TEST_CASE("irons that nobody holds get no cards, and a pouch has a set at the least") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::both);
  Settings settings = settings_of(40);
  settings.irons.value = 9;
  CHECK(listed({}, pouch, data(), settings, {}).card_sets == 4);
  settings.irons.value = 0;
  CHECK(listed({}, pouch, data(), settings, {}).card_sets == 1);
}

TEST_CASE("card is counted by sheets into which the cards fit, a set for each iron") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::both);
  Settings settings = settings_of(40);
  settings.irons.value = 3;
  const Supplies list = listed({}, pouch, data(), settings, {});
  REQUIRE(list.cards.size() == 2);
  // Worked by hand: the slip card's crossbar is 190 + 2 x 7 wide, the shield's 10 more each side.
  CHECK(list.cards[0].width == mm(204));
  CHECK(list.cards[1].width == mm(224));
  REQUIRE(list.cards[0].sheet.has_value());
  CHECK(list.cards[0].sheets == 3);
  REQUIRE(list.cards[1].sheet.has_value());
  CHECK(list.cards[1].sheet->name == "A3");
  SupplyData small = data();
  small.card_sheets = {{"A6", mm(105), mm(148)}};
  const Supplies none = listed({}, pouch, small, settings, {});
  CHECK_FALSE(none.cards[0].sheet.has_value());
  CHECK_FALSE(line_of(none, "card").amount.has_value());
  CHECK(listed({}, hand_worked_pouch(pouch::CardUse::inside), data(), settings, {}).cards.size() ==
        1);
}

TEST_CASE("cost is amount times price, and what has no price is named") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::inside);
  const Prices prices = {{"cone", {5.0, {}}}, {"clips", {0.1, {}}}};
  const Supplies list = listed(order_of_laminate(), pouch, data(), settings_of(40), prices);
  // By hand: 2.6 m at 14.50, three cones at 5, 48 clips at 0.10.
  CHECK(list.known_cost == doctest::Approx(37.7 + 15 + 4.8));
  CHECK(list.known_cost_per_pouch() == doctest::Approx(57.5 / 40));
  CHECK(list.without ==
        std::vector<std::string>{"spool", "card", "page", "glue-stick", "rotary-blade"});
}

TEST_CASE("what the batch uses up is told apart from what is bought") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::inside);
  const Prices prices = {{"cone", {5.0, {}}}, {"clips", {0.1, {}}}, {"rotary-blade", {2.0, {}}}};
  const Supplies list = listed(order_of_laminate(), pouch, data(), settings_of(40), prices);
  const double share = list.thread.back().metres / (3 * 2500);
  // By hand: the cloth, the share of three cones that is sewn, and 40 of a blade's 50 pouches; the
  // clips stay.
  CHECK(list.known_cost == doctest::Approx(37.7 + 15 + 4.8 + 2));
  CHECK(list.known_used == doctest::Approx(37.7 + 15 * share + 1.6));
  CHECK(share < 0.2);
}

TEST_CASE(
    "what is there already is taken off, whole pieces at a time, and what it is worth is kept") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::both);
  const Prices prices = {{"clips", {0.1, {}}}, {"cone", {5.0, {}}}};
  Settings settings = settings_of(40);
  settings.stock = {{"clips", {20, {}}}, {"cone", {0.5, {}}}, {"card", {9, {}}}};
  const Supplies list = listed(order_of_laminate(), pouch, data(), settings, prices);
  // By hand: 48 clips less 20; three cones less half a one are three whole ones; cards enough.
  CHECK(line_of(list, "clips").amount == 28);
  CHECK(line_of(list, "clips").needed == 48);
  CHECK(line_of(list, "clips").in_stock == 20);
  CHECK(line_of(list, "clips").cost == doctest::Approx(2.8));
  CHECK(line_of(list, "cone").amount == 3);
  CHECK(line_of(list, "card").amount == 0);
  // The stock is used up no less than what is bought.
  const Supplies bought = listed(order_of_laminate(), pouch, data(), settings_of(40), prices);
  CHECK(list.known_used == doctest::Approx(bought.known_used));
  CHECK(list.known_cost == doctest::Approx(bought.known_cost - 2));
}

TEST_CASE("what a pouch uses up is told for all but tools, which are bought once") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::both);
  Order order = order_of_laminate();
  // Of 2.6 m in the shop's steps of 10 cm, 2.51 m are wanted.
  order.cloths.front().needed = Length::whole_mm(2510);
  const Supplies list = listed(order, pouch, data(), settings_of(40), {});
  CHECK(*line_of(list, "laminate").used_per_pouch(40) == doctest::Approx(2.51 / 40));
  // A blade cuts 50 pouches: common practice, no source.
  CHECK(*line_of(list, "rotary-blade").used_per_pouch(40) == doctest::Approx(0.02));
  for (const char* tool : {"clips", "card"}) {
    CHECK(line_of(list, tool).is_bought_once);
    CHECK_FALSE(line_of(list, tool).used_per_pouch(40).has_value());
  }
}

TEST_CASE("tape is sold in the shop's steps") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::inside);
  Order order;
  order.shop_step = Length::whole_mm(100);
  Attachment tape;
  tape.kind = pouch::AttachmentKind::hook_and_loop;
  tape.name = tape.price_name = "hook-and-loop";
  tape.tape_length = mm(60);
  order.attachments = {tape};
  Settings settings = settings_of(40);
  // By hand: 42 times 60 mm are 2.52 m; with 1.3 m there, 1.3 m more.
  CHECK(line_of(listed(order, pouch, data(), settings, {}), "hook-and-loop").amount ==
        doctest::Approx(2.6));
  settings.stock = {{"hook-and-loop", {1.35, {}}}};
  CHECK(line_of(listed(order, pouch, data(), settings, {}), "hook-and-loop").amount ==
        doctest::Approx(1.3));
}

TEST_CASE("tags that the waste does not yield are on the list") {
  pouch::Pouch pouch = hand_worked_pouch(pouch::CardUse::inside);
  pouch.request.tag = pouch::Tag{"tag", mm(25), mm(60), 40, {}};
  Order order = order_of_laminate();
  order.tags_cut = 28;
  CHECK(line_of(listed(order, pouch, data(), settings_of(40), {}), "tags").amount == 12);
  order.tags_cut = 40;
  const Supplies all = listed(order, pouch, data(), settings_of(40), {});
  CHECK(std::none_of(all.lines.begin(), all.lines.end(),
                     [](const Supply& line) { return line.name == "tags"; }));
}

TEST_CASE("spare pouches are the first of each who presses, and the job's share of spoiled ones") {
  const auto spares = [](int pouches, int irons, double share) {
    Settings settings = settings_of(pouches);
    settings.irons.value = irons;
    settings.spoiled = share;
    return spares_of(settings);
  };
  // By hand; common practice, no source: 3 in 100.
  CHECK(spares(100, 1, kSpoiled).spoiled == 3);
  CHECK(spares(100, 2, kSpoiled).first == 2);
  CHECK(spares(20, 1, kSpoiled).all() == 2);
  CHECK(spares(10, 1, kSpoiled).spoiled == 0);
  CHECK(spares(20, 1, 0).spoiled == 0);
  CHECK(spares(1, 1, 0.5).all() == 0);
}

TEST_CASE("clips are those that the work plan has in use, and one for each pouch's number") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::inside);
  SupplyData known = data();
  known.sundries = {{"clips", 1, 1, Counted::clip}};
  Order order = order_of_laminate();
  order.clips = {138, 23};
  CHECK(line_of(listed(order, pouch, known, settings_of(40), {}), "clips").amount == 138);
  order.clips = {30, 5};
  CHECK(line_of(listed(order, pouch, known, settings_of(40), {}), "clips").amount == 40);
}

TEST_CASE("card is of the paper's family, and of its unit for other papers") {
  // ISO 216; ASME Y14.1.
  const std::vector<CardFamily> families = {
      {base::Unit::mm, {"A4", "A3"}, {{"A4", mm(210), mm(297)}}},
      {base::Unit::inch, {"Letter", "Legal"}, {{"Letter", mm(216), mm(279)}}}};
  CHECK(card_sheets(families, "Letter", base::Unit::mm)[0].name == "Letter");
  CHECK(card_sheets(families, "A3", base::Unit::inch)[0].name == "A4");
  CHECK(card_sheets(families, "9 x 12 in", base::Unit::inch)[0].name == "Letter");
  CHECK(card_sheets({}, "A4", base::Unit::mm).empty());
}

TEST_CASE("yards are bought in eighths, and thread is told in yards, in jobs in inches") {
  Order order = order_of_laminate();
  order.cloths[0].price.reset();
  order.cloths[0].price_per.clear();
  order.unit = base::Unit::inch;
  const auto pouch = hand_worked_pouch(pouch::CardUse::inside);
  const Supplies list = listed(order, pouch, data(), settings_of(40), {});
  // By hand: 2.6 m are 2.843 yd, so 2 7/8; a cone of 2500 m holds 2734.03 yd.
  CHECK(line_of(list, "laminate").amount == doctest::Approx(2.875));
  CHECK(thread_amount(2500, base::Unit::inch).values[0].second ==
        base::Value(base::fixed(2735, 0)));
  CHECK(thread_amount(2500, base::Unit::inch).key == "supply-yards");
  CHECK(thread_amount(2500, base::Unit::mm).values[0].second == base::Value(base::fixed(2500, 0)));
}

TEST_CASE("pages that nobody counted leave their lines open") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::inside);
  const Supplies list = listed({}, pouch, data(), settings_of(40), {{"page", {0.05, {}}}});
  CHECK_FALSE(line_of(list, "page").amount.has_value());
  CHECK_FALSE(line_of(list, "glue-stick").amount.has_value());
  CHECK(list.known_cost == 0);
}

TEST_CASE("a price that no line asks for is told") {
  const auto pouch = hand_worked_pouch(pouch::CardUse::inside);
  const Prices prices = {{"thred", {5.0, {}}}, {"laminate", {9.0, {}}}};
  // The laminate's own price counts, so the second one is of no use.
  CHECK(listed(order_of_laminate(), pouch, data(), settings_of(1), prices).unused_prices ==
        std::vector<std::string>{"laminate", "thred"});
  Order unpriced = order_of_laminate();
  unpriced.cloths[0].price.reset();
  unpriced.cloths[0].price_per.clear();
  const Supplies list = listed(unpriced, pouch, data(), settings_of(1), prices);
  CHECK(list.unused_prices == std::vector<std::string>{"thred"});
  CHECK(list.known_cost == doctest::Approx(2.6 * 9));
}

TEST_CASE("cloth sold by the yard is counted in yards") {
  Order order = order_of_laminate();
  order.cloths[0].length = Length::nm(4'572'000'000);  // 5 yd: yard and pound agreement, 1959
  order.cloths[0].price_per = "yd";
  const auto pouch = hand_worked_pouch(pouch::CardUse::inside);
  const Supplies list = listed(order, pouch, data(), settings_of(1), {});
  CHECK(line_of(list, "laminate").amount == doctest::Approx(5));
  CHECK(line_of(list, "laminate").unit == SupplyUnit::yard);
  CHECK(line_of(list, "laminate").cost == doctest::Approx(72.5));
}

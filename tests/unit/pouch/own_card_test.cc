// A card that somebody cut once decides the seal: (cut width - card width) / 2, less 2 mm a side for
// a slip card. Worked by hand from those sums.
#include "pouch/judge/own_card.h"

#include <doctest/doctest.h>

#include "pouch/pouch.h"
#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;
using namespace pouchwright::test;

namespace {

Request with_card(CardKind kind, Length width, Length length) {
  Request request = hand_worked(foldover());
  request.sizes["seal_width"].stated.reset();
  request.sizes["width"].stated.emplace();
  request.card = OwnCard{kind, {width, {}}, {length, {}}, true, {}};
  request.cards = kind == CardKind::slip ? CardUse::inside : CardUse::on_top;
  return request;
}

std::string fault_of(Request request) {
  base::Diagnostics faults;
  fit_to_card(request, faults);
  const auto errors = faults.sorted(base::Severity::error);
  REQUIRE(errors.size() == 1);
  return errors.front().message.key;
}

Pouch fitted(Request request) {
  base::Diagnostics faults;
  fit_to_card(request, faults);
  auto pouch = derive(request, faults);
  REQUIRE(pouch);
  return *pouch;
}

}  // namespace

TEST_CASE("a shield of 7 1/4 in on a panel of 8 1/2 in seals 5/8 in (common practice, no source)") {
  Request request = with_card(CardKind::shield, Length::inches(29, 4), Length::inches(11, 2));
  request.panel = CutPanel{{Length::inches(17, 2), {}}, {Length::inches(15), {}}, {}, {}};
  for (const char* derived_size : {"width", "depth", "flap"}) request.sizes.erase(derived_size);
  base::Diagnostics faults;
  fit_to_card(request, faults);
  CHECK(!faults.has_errors());
  CHECK(request.sizes["seal_width"].value == Length::inches(5, 8));
}

TEST_CASE("a slip card lies loose: 2 mm a side are its play") {
  // Cut 190 + 2 x 7 = 204; (204 - 170 - 4) / 2 = 15.
  const Pouch pouch = fitted(with_card(CardKind::slip, mm(170), mm(145)));
  CHECK(pouch.sizes.seal_width == mm(15));
  CHECK(pouch.sizes.inside_width == mm(174));
}

TEST_CASE("without a width the panel is as wide as the card and two usual seals") {
  Request request = with_card(CardKind::shield, mm(171), mm(145));
  request.sizes["width"].stated.reset();
  // The seal of the pouch worked by hand is 13: 171 + 26 = 197, on a ruler of 5 mm 200.
  request.cut_step = mm(5);
  request.sizes["depth"].value = mm(150);
  const Pouch pouch = fitted(request);
  CHECK(pouch.sizes.cut_width == mm(200));
  CHECK(2 * pouch.sizes.seal_width == mm(29));
}

TEST_CASE("the top bar is the panel and 20 mm wide, 125 mm high, from 5 mm below the lip") {
  const Pouch pouch = fitted(with_card(CardKind::shield, mm(174), mm(135)));
  const Card& card = first_card(pouch.cards, CardKind::shield);
  CHECK(card.is_own);
  CHECK(card.bar_width == mm(224));
  CHECK(card.shoulder == mm(135));
  // The flap of 70 mm and the lip drop of 10 are bare up to 220 mm, which less than 125 mm cover.
  CHECK(card.top == mm(260));
  CHECK(card.stem_length == mm(135));
  CHECK(pouch.sizes.seal_width == mm(15));
}

TEST_CASE("without a top bar the film above the opening edge is told to be bare") {
  const auto told = [](bool top_bar) {
    Request request = with_card(CardKind::shield, mm(174), mm(140));
    request.card->top_bar = top_bar;
    base::Diagnostics faults;
    fit_to_card(request, faults);
    CHECK(derive(request, faults));
    int bare = 0;
    for (const auto& warning : faults.sorted(base::Severity::warning)) {
      bare += warning.message.key == "film-exposed" ? 1 : 0;
    }
    return bare;
  };
  CHECK(told(true) == 0);
  CHECK(told(false) == 1);
}

TEST_CASE("a card shorter than the front is an error inside and a warning on top") {
  for (const CardKind kind : {CardKind::slip, CardKind::shield}) {
    base::Diagnostics faults;
    Request request = with_card(kind, mm(170), mm(100));
    fit_to_card(request, faults);
    (void)derive(request, faults);
    const bool is_slip = kind == CardKind::slip;
    const auto told = faults.sorted(is_slip ? base::Severity::error : base::Severity::warning);
    const auto is_short = [](const auto& one) {
      return one.message.key == "card-shorter-than-front" ||
             one.message.key == "shield-shorter-than-front";
    };
    CHECK(std::count_if(told.begin(), told.end(), is_short) == 1);
    CHECK(faults.has_errors() == is_slip);
  }
}

TEST_CASE("cards that leave no seal are told of") {
  CHECK(fault_of(with_card(CardKind::shield, mm(204), mm(140))) == "card-over-panel");
  CHECK(fault_of(with_card(CardKind::shield, mm(190), mm(140))) == "card-leaves-no-seal");
  CHECK(fault_of(with_card(CardKind::slip, mm(186), mm(140))) == "card-leaves-no-seal");
  Request both = with_card(CardKind::shield, mm(174), mm(140));
  both.sizes["seal_width"].stated.emplace();
  CHECK(fault_of(both) == "card-and-seal");
}

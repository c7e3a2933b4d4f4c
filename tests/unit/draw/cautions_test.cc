#include "draw/sheets/cautions.h"

#include "draw/full_size/cards.h"
#include "unit/draw/full_size_support.h"
#include "unit/draw/icons_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

pouch::Request plain() { return hand_worked(foldover()); }

}  // namespace

TEST_CASE("the cautions speak of an outer only where there is one") {
  const EvenMeasure measure;
  const auto says = [&](const pouch::Request& request) {
    return has(all_words(cautions({request}, own_icons(), own_words(), measure, {128, 1000})),
               "outer");
  };
  CHECK_FALSE(says(plain()));
  CHECK(says(with_outer(plain())));
}

TEST_CASE("a hand holds the work only where a card of the pouch has a place for it") {
  const EvenMeasure measure;
  const batch::IronSole small{Length::mm(40), Length::mm(60)};
  int with = 0;
  int without = 0;
  for (const NamedRequest& one : all_requests()) {
    CAPTURE(one.name);
    const auto pouch = derived(one.request);
    for (const batch::IronSole& sole : {batch::IronSole{}, small}) {
      bool says_where = false;
      for (const Drawing& card :
           cards(pouch, pouch::CardKind::shield, sole, own_words(), measure)) {
        says_where = says_where || has(all_words({card}), "hold here");
      }
      const std::string words = all_words(
          cautions(cautions_of(pouch, sole), own_icons(), own_words(), measure, {128, 1000}));
      CHECK(has(words, "says “hold here”") == says_where);
      CHECK(has(words, "never by hand") != says_where);
      ++(says_where ? with : without);
    }
  }
  CHECK(with > 0);
  CHECK(without > 0);
}

TEST_CASE("the cautions are legible on every paper, also in longer words") {
  const EvenMeasure measure;
  for (const double longer : {0.0, 0.4}) {
    for (const NamedRoom& paper : rooms()) {
      CAPTURE(paper.name);
      check_pages(cautions({plain()}, own_icons(), own_words(longer), measure, paper.room),
                  paper.room);
    }
  }
}

TEST_CASE("the cautions hold what their sources say") {
  const EvenMeasure measure;
  const auto pages = cautions({plain()}, own_icons(), own_words(), measure, {128, 1000});
  const std::string words = all_words(pages);
  // ISO 3758: the sole plate at most 110, 150, 200 °C; no steam with one dot.
  for (const char* part : {"110 °C", "150 °C", "200 °C"}) CHECK(has(words, part));
  CHECK(has(words, "Never use steam with one dot"));
  // NHS, "Burns and scalds: treatment" (web page, from memory): cool or lukewarm running water for
  // 20 minutes, no ice, cling film laid on; help for burns larger than the person's hand.
  for (const char* part :
       {"lukewarm running water for 20 minutes", "No ice", "cling film", "larger than the hand"}) {
    CHECK(has(words, part));
  }
  // HSE, "Laundry treatments at high and low temperatures" (web page): 65 °C for 10 minutes or 71 °C for 3 minutes, in institutions.
  CHECK(has(words, "65 °C"));
  CHECK(has(words, "71 °C"));
  CHECK(has(words, "no medical device"));
}

TEST_CASE("every caution has its sign, and all stand on one page of A4 and Letter") {
  const EvenMeasure measure;
  for (const Point& room : {Point{190, 277}, Point{195.9, 259.4}}) {
    const auto pages = cautions({plain()}, own_icons(), own_words(), measure, room);
    CHECK(pages.size() == 1);
    CHECK(shapes_of(pages.front(), Group::label).size() > 21);  // entries, each of a stroke or more
  }
}

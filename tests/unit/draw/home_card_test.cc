#include "draw/sheets/home_card.h"

#include <algorithm>

#include "unit/draw/icons_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

int cards_in(const std::vector<Drawing>& pages) {
  int count = 0;
  for (const Drawing& page : pages) {
    for (const Text* text : texts_of(page)) count += has(text->words, "No medical device") ? 1 : 0;
  }
  return count;
}

}  // namespace

TEST_CASE("going-home cards are legible on every paper, also in longer words") {
  for (const double longer : {0.0, 0.4}) {
    for (const NamedRoom& paper : rooms()) {
      for (const NamedRequest& one : all_requests()) {
        CAPTURE(paper.name);
        CAPTURE(one.name);
        const auto pouch = derived(one.request);
        check_pages(
            home_cards({&pouch, 7}, own_icons(), own_words(longer), kMeasure, paper.room).pages,
            paper.room);
        const HomeCard many{&pouch, 2000, Repeats::printed};
        check_pages(home_cards(many, own_icons(), own_words(longer), kMeasure, paper.room).pages,
                    paper.room);
      }
    }
  }
}

TEST_CASE("there are as many cards as copies, several to a page") {
  const auto pouch = derived(hand_worked(foldover()));
  for (const NamedRoom& paper : rooms()) {
    CAPTURE(paper.name);
    for (const int copies : {1, 5, 40}) {
      const auto pages =
          home_cards({&pouch, copies}, own_icons(), own_words(), kMeasure, paper.room).pages;
      CHECK(cards_in(pages) == copies);
      const bool is_wide = paper.room.x >= 180;
      CHECK(static_cast<int>(pages.size()) <= (is_wide ? (copies + 1) / 2 : copies));
    }
  }
}

TEST_CASE("pages that would all be equal are one page, which says how often it is printed") {
  const auto pouch = derived(hand_worked(foldover()));
  for (const NamedRoom& paper : rooms()) {
    CAPTURE(paper.name);
    const auto made =
        home_cards({&pouch, 100, Repeats::printed}, own_icons(), own_words(), kMeasure, paper.room);
    REQUIRE(made.pages.size() == 1);
    const int on_page = cards_in(made.pages);
    CHECK(made.prints * on_page >= 100);
    CHECK((made.prints - 1) * on_page < 100);
    CHECK(has(all_words(made.pages),
              "Print this page " + std::to_string(made.prints) + " times for 100 pouches"));
    // What one page holds is that page, with as many cards as there are pouches.
    const auto few = home_cards({&pouch, on_page, Repeats::printed}, own_icons(), own_words(),
                                kMeasure, paper.room);
    CHECK(few.prints == 1);
    CHECK(cards_in(few.pages) == on_page);
    CHECK_FALSE(has(all_words(few.pages), "Print this page"));
  }
}

TEST_CASE("a card says how much water may be carried, and nothing of the tester's level") {
  auto pouch = derived(hand_worked(foldover()));
  const auto said = [&](const base::Voice& words) {
    return all_words(home_cards({&pouch, 1}, own_icons(), words, kMeasure, {190, 277}).pages);
  };
  const base::Voice in_mm = own_words();
  // By hand: the water line is the lip's, 150 - 10 mm, of which a test fills 5 less. Tilted by 30
  // degrees about the middle of 178 mm the surface climbs 178 / 2 * tan 30 = 51.4: 140 - 51.4 = 88.
  CHECK(has(said(in_mm), "no higher than 88 mm (about 530 ml)"));
  CHECK_FALSE(has(said(in_mm), "135 mm"));
  CHECK_FALSE(has(said(in_mm), "140 mm"));
  CHECK(has(said(in_mm), "not for liquids"));
  CHECK(has(said(in_mm), "Do not squeeze"));
  CHECK(has(said(in_mm), "No iron, bleach or softener"));
  CHECK(has(said(in_mm), "care label"));
  // The paper-bag problem's open form with 178 x 88 mm, worked outside the program:
  // 178^3 (88 / (178 pi) - 0.071 (1 - 10^(-176 / 178))) mm^3 = 529 ml, 2.24 cups of 236.59 ml, of
  // which a quarter more would be too much.
  CHECK(has(said(in_mm), "about 530 ml"));
  const base::Words& words = own_words();
  CHECK(has(said(base::Voice(words, {base::Unit::inch, mm(1)})), "about 2 cups"));
  pouch.compartments.front().water_line = mm(0);
  CHECK_FALSE(has(said(in_mm), "no higher than"));
  CHECK(has(said(in_mm), "local health guidance"));
}

TEST_CASE("the pouch that is carried shows the line up to which water may stand") {
  const auto pouch = derived(hand_worked(foldover()));
  const auto page =
      home_cards({&pouch, 1}, own_icons(), own_words(), kMeasure, {190, 277}).pages.front();
  int lines = 0;
  for (const Shape* shape : shapes_of(page, Group::label)) lines += shape->name == "carry line";
  CHECK(lines == 1);
}

TEST_CASE("all words of a card are 12 pt") {
  const auto pouch = derived(hand_worked(foldover()));
  const auto page =
      home_cards({&pouch, 1}, own_icons(), own_words(), kMeasure, {190, 277}).pages.front();
  for (const Text* text : texts_of(page)) CHECK(text->size >= 12 * 25.4 / 72 - 1e-9);
}

TEST_CASE("neighbouring cards share one cut line") {
  const auto pouch = derived(hand_worked(foldover()));
  const auto page =
      home_cards({&pouch, 2}, own_icons(), own_words(), kMeasure, {190, 277}).pages.front();
  const auto cuts = shapes_of(page, Group::cut);
  // Two cards side by side: three upright lines, two above, two below.
  CHECK(cuts.size() == 7);
}

TEST_CASE("a card tells how its pouch is shut") {
  pouchwright::pouch::Request request = hand_worked(foldover());
  const auto said = [&] {
    const auto pouch = derived(request);
    return all_words(home_cards({&pouch, 1}, own_icons(), own_words(), kMeasure, {190, 277}).pages);
  };
  CHECK(has(said(), "close the flap."));
  CHECK(has(said(), "Carry it closed"));
  request.construction.flap_law = pouchwright::pouch::FlapLaw::none;
  CHECK(has(said(), "keep it upright"));
  CHECK(has(said(), "Carry it upright"));
  CHECK_FALSE(has(said(), "closed"));
  CHECK_FALSE(has(said(), "flap"));
  // What is folded once the sides are sewn rolls the mouth down: here the one fold.
  request.construction.flap_law = pouchwright::pouch::FlapLaw::rolled;
  auto& operations = request.construction.operations;
  std::rotate(operations.begin() + 8, operations.begin() + 9, operations.end());
  CHECK(has(said(), "roll it down 1×"));
  CHECK_FALSE(has(said(), "flap"));
}

TEST_CASE("the pouch on a card is that of its construction, filled and shut") {
  const auto pictures = [](const pouchwright::pouch::Request& request) {
    const auto pouch = derived(request);
    return home_cards({&pouch, 1}, own_icons(), own_words(), kMeasure, {190, 277}).pages.front();
  };
  const auto count = [](const Drawing& page, std::string_view name) {
    const auto shapes = shapes_of(page, Group::label);
    return std::count_if(shapes.begin(), shapes.end(),
                         [&](const Shape* shape) { return shape->name == name; });
  };
  // Its mouth open, the flap's film is seen once; shut, the flap's other side is.
  const Drawing folded = pictures(hand_worked(foldover()));
  CHECK(count(folded, "seen film: flap") == 1);
  CHECK(count(folded, "seen knit: flap") == 1);
  CHECK(count(folded, "seen film: back") + count(folded, "seen knit: back") > 0);
  // Nothing of the pictures may be taken for a card's edge.
  for (const Shape* shape : shapes_of(folded, Group::cut)) CHECK(shape->name == "card");
  const Drawing outer = pictures(with_outer(hand_worked(foldover())));
  CHECK(count(outer, "seen outer: flap") == 1);
}

TEST_CASE("where the words of filling are long, their picture's column is wider") {
  // "Liners in, roll down 1x, close the snap of the straps." over four lines instead of five: four
  // cards a page of A4 for every pouch, also in these letters, which are wider than the fonts'.
  for (const NamedRequest& one : all_requests()) {
    CAPTURE(one.name);
    const auto pouch = derived(one.request);
    const HomeCard many{&pouch, 2000, Repeats::printed};
    const auto made = home_cards(many, own_icons(), own_words(), kMeasure, rooms().front().room);
    CHECK(cards_in(made.pages) == 4);
  }
}

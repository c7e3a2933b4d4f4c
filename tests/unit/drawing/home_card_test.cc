#include "drawing/home_card.h"

#include "unit/drawing/page_support.h"

using namespace pouchwright::drawing;
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
        check_pages(home_cards({&pouch, 7}, own_words(longer), kMeasure, paper.room), paper.room);
      }
    }
  }
}

TEST_CASE("there are as many cards as copies, several to a page") {
  const auto pouch = derived(hand_worked(foldover()));
  for (const NamedRoom& paper : rooms()) {
    CAPTURE(paper.name);
    for (const int copies : {1, 5, 40}) {
      const auto pages = home_cards({&pouch, copies}, own_words(0), kMeasure, paper.room);
      CHECK(cards_in(pages) == copies);
      CHECK(static_cast<int>(pages.size()) <= (copies + 1) / 2);
    }
  }
}

TEST_CASE("a card names its water line, and none where there is none") {
  auto pouch = derived(hand_worked(foldover()));
  const auto said = [&] {
    return all_words(home_cards({&pouch, 1}, own_words(0), kMeasure, {190, 277}));
  };
  CHECK(has(said(), "140 mm"));  // worked by hand, design section 3
  pouch.water_line = mm(0);
  CHECK_FALSE(has(said(), "Designed to hold water"));
  CHECK(has(said(), "local health guidance"));
}

TEST_CASE("neighbouring cards share one cut line") {
  const auto pouch = derived(hand_worked(foldover()));
  const auto page = home_cards({&pouch, 2}, own_words(0), kMeasure, {190, 277}).front();
  const auto cuts = shapes_of(page, Group::cut);
  // Two cards side by side: three upright lines, two above, two below.
  CHECK(cuts.size() == 7);
}

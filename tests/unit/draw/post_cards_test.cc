#include "draw/sheets/post_cards.h"

#include <algorithm>

#include "unit/draw/icons_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

tell::PostCardSaid card_of(std::size_t bundles, const std::string& how = "Edge on edge.") {
  tell::PostCardSaid card;
  card.who = "helper 1";
  card.title = "Sew both sides";
  card.first = "thread the machine";
  card.picture = 0;
  card.does = {{"First", how}, {"Second", how}, {"Third", how}};
  card.good = "the flap lies flat.";
  card.faults = {"The seam runs too far in.", "The flap is crooked."};
  card.bundles = bundles;
  return card;
}

std::vector<Drawing> pages_of(const std::vector<tell::PostCardSaid>& cards, Point room) {
  const auto pouch = derived(hand_worked(foldover()));
  return post_cards(pouch, cards, own_icons(), own_words(), kMeasure, room);
}

int lines_to_cut(const std::vector<Drawing>& pages) {
  int count = 0;
  for (const Drawing& page : pages) {
    for (const Item& item : page.items) {
      const auto* shape = std::get_if<Shape>(&item);
      if (shape != nullptr && shape->name == "cut line") ++count;
    }
  }
  return count;
}

std::string times(int count, const std::string& words) {
  std::string all;
  for (int i = 0; i < count; ++i) all += words;
  return all;
}

}  // namespace

TEST_CASE("station cards are legible and stand two to a page of A4 and Letter") {
  for (const NamedRoom& paper : rooms()) {
    CAPTURE(paper.name);
    const auto pages = pages_of(std::vector(5, card_of(20)), paper.room);
    check_pages(pages, paper.room);
    if (paper.room.x < 180) continue;
    CHECK(pages.size() == 3);
    CHECK(lines_to_cut(pages) == 2);
  }
}

TEST_CASE("each bundle has a box with its number, and what is done once has none") {
  const Point room = rooms().front().room;
  for (const std::size_t bundles : {std::size_t{1}, std::size_t{20}, std::size_t{45}}) {
    const auto page = pages_of({card_of(bundles)}, room).front();
    std::size_t numbers = 0;
    for (const Text* text : texts_of(page)) {
      const std::string& words = text->words;
      if (std::all_of(words.begin(), words.end(), [](char c) { return c >= '0' && c <= '9'; })) {
        ++numbers;
      }
    }
    CHECK(numbers == bundles);
  }
  CHECK_FALSE(has(all_words(pages_of({card_of(0)}, room)), "Tick each bundle"));
}

TEST_CASE("a card that is too high for half a page says less of how things are done, last first") {
  const Point room = rooms().front().room;
  const auto cards = std::vector(2, card_of(20, times(5, "Edge on edge. ") + "Unsaid."));
  const auto pages = pages_of(cards, room);
  check_pages(pages, room);
  CHECK(pages.size() == 1);
  const std::string words = all_words(pages);
  for (const char* head : {"First.", "Second.", "Third."}) CHECK(has(words, head));
  // A card that nothing of it brings on to half a page says it all, on a page of its own.
  auto high = card_of(20, "Unsaid.");
  high.good = times(60, "corners and sides are dry ");
  const auto own = pages_of({high, card_of(20)}, room);
  CHECK(own.size() == 2);
  CHECK(has(all_words({own.front()}), "Unsaid."));
}

TEST_CASE("a card that is alone between higher ones has its half filled by the next that fits") {
  const Point room = rooms().front().room;
  auto high = card_of(20);
  high.good = times(60, "corners and sides are dry ");
  const auto pages = pages_of({card_of(4), high, card_of(4)}, room);
  CHECK(pages.size() == 2);
  CHECK(lines_to_cut({pages.front()}) == 1);
}

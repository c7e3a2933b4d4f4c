#include "draw/sheets/first_pouch.h"

#include <algorithm>

#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

int shapes_called(const std::vector<Drawing>& pages, const std::string& name) {
  int count = 0;
  for (const Drawing& page : pages) {
    for (const Item& item : page.items) {
      const auto* shape = std::get_if<Shape>(&item);
      if (shape != nullptr && shape->name == name) ++count;
    }
  }
  return count;
}

}  // namespace

TEST_CASE("the first pouch's page is legible on every paper, also in longer words") {
  for (const double longer : {0.0, 0.4}) {
    for (const NamedRoom& paper : rooms()) {
      for (const NamedRequest& one : all_requests()) {
        CAPTURE(paper.name);
        CAPTURE(one.name);
        const auto pouch = derived(one.request);
        const auto pages = first_pouch_sheet(pouch, own_words(longer), kMeasure, paper.room);
        check_pages(pages, paper.room);
        if (paper.room.x >= 180 && longer == 0) CHECK(pages.size() == 1);
      }
    }
  }
}

TEST_CASE("each of the five faults is drawn once, in a ring") {
  const auto pouch = derived(hand_worked(foldover()));
  const auto pages = first_pouch_sheet(pouch, own_words(), kMeasure, rooms().front().room);
  for (const char* fault : {"gap", "cut", "hole", "crooked", "tail"}) {
    CAPTURE(fault);
    CHECK(shapes_called(pages, fault) == 1);
  }
  CHECK(shapes_called(pages, "ring") == 5);
}

TEST_CASE("one card is called one card") {
  auto pouch = derived(hand_worked(foldover()));
  REQUIRE(pouch.cards.size() == 2);
  const auto told = [&] {
    return all_words(first_pouch_sheet(pouch, own_words(), kMeasure, rooms().front().room));
  };
  CHECK(has(told(), "cards back"));
  pouch.cards.resize(1);
  CHECK(has(told(), "card back"));
  CHECK_FALSE(has(told(), "cards back"));
}

#include "job/report/construction.h"

#include "unit/draw/icons_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::ink;
using namespace pouchwright::job;
using namespace pouchwright::test;

TEST_CASE("a page stays in its room, with a second one where the words need it") {
  const EvenMeasure measure;
  const pouch::Pouch pouch = derived(hand_worked(gusset()));
  for (const Point room : {Point{190, 277}, Point{130, 180}}) {
    const auto pages = construction_pages(pouch, room, own_icons(), own_words(), measure);
    REQUIRE_FALSE(pages.empty());
    for (const Drawing& page : pages) {
      check_same(page.extent, {0, 0, room.x, room.y});
      for (const Item& item : page.items) {
        const Box ink = bounds(item, measure);
        CHECK(ink.x0 >= -0.5);
        CHECK(ink.y1 <= room.y + 0.5);
        if (const auto* text = std::get_if<Text>(&item)) CHECK(text->size >= kSmallestSize);
      }
    }
    CHECK(has(all_words(pages.back()), "test"));
  }
}

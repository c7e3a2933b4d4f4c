#include "draw/sheets/construction.h"

#include "tell/construction.h"
#include "unit/draw/fold_support.h"
#include "unit/draw/icons_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::tell;
using namespace pouchwright::test;

namespace {

std::string written(const Drawing& page) {
  std::string all;
  for (const Item& item : page.items) {
    if (const auto* text = std::get_if<Text>(&item)) all += text->words + "\n";
  }
  return all;
}

}  // namespace

TEST_CASE("a sum of sizes reads as a person writes it") {
  CHECK(formula({}).empty());
  CHECK(formula({{{"depth", 1, 1, {}}}}) == "depth");
  CHECK(formula({{{"depth", 1, 1, {}}, {"lip_drop", -2, 1, {}}}}) == "depth − 2 · lip_drop");
  CHECK(formula({{{"gusset", 2, 4, {}}, {"flap", 1, 1, {}}}}) == "1/2 · gusset + flap");
  CHECK(formula({{{"flap", -1, 1, {}}}}) == "−flap");
  CHECK(formula({{{"flap", 0, 1, {}}, {"depth", 1, 1, {}}}}) == "depth");
}

TEST_CASE("every operation has a row, in the order of the construction") {
  const pouch::Pouch pouch = derived(hand_worked(gusset()));
  const ConstructionWords told = construction_words(pouch, own_words());
  const auto& operations = pouch.construction().operations;
  REQUIRE(told.sections.back().rows.size() == operations.size());
  for (std::size_t i = 0; i < operations.size(); ++i) {
    CHECK(told.sections.back().rows[i].name == operations[i].id);
  }
}

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
    CHECK(written(pages.back()).find("test") != std::string::npos);
  }
}

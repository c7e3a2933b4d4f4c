#include "drawing/leak_sheet.h"

#include "unit/drawing/page_support.h"

using namespace pouchwright;
using namespace pouchwright::drawing;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

LeakSheet sheet_of(const pouch::Pouch& pouch, int pouches, std::optional<double> limit = {}) {
  LeakSheet sheet{.pouch = &pouch, .pouches = pouches, .helpers = 4, .plan = std::nullopt};
  if (limit) sheet.plan = std::get<batch::SamplingPlan>(batch::sampling_plan(pouches, *limit));
  return sheet;
}

std::string words_of(const LeakSheet& sheet) {
  return all_words(leak_sheet(sheet, own_words(0), kMeasure, {190, 277}));
}

/// Boxes to tick: two a pouch, 4 mm wide.
int boxes_of(const std::vector<Drawing>& pages) {
  int count = 0;
  for (const Drawing& page : pages) {
    for (const Shape* shape : shapes_of(page, Group::label)) {
      const Box box = bounds(shape->path);
      const bool is_box = shape->path.size() == 5 && box.width() < 4.01 && box.width() > 3.99;
      count += is_box ? 1 : 0;
    }
  }
  return count;
}

}  // namespace

TEST_CASE("the leak sheet is legible on every paper, for every pouch and in longer words") {
  for (const double longer : {0.0, 0.4}) {
    const diag::Words words = own_words(longer);
    for (const NamedRoom& paper : rooms()) {
      for (const NamedRequest& one : all_requests()) {
        CAPTURE(paper.name);
        CAPTURE(one.name);
        const auto pouch = derived(one.request);
        check_pages(leak_sheet(sheet_of(pouch, 70), words, kMeasure, paper.room), paper.room);
      }
    }
  }
}

TEST_CASE("there are two boxes for every pouch that is tested, on as many pages as it takes") {
  const auto pouch = derived(hand_worked(foldover()));
  for (const int pouches : {1, 7, 50}) {
    CAPTURE(pouches);
    CHECK(pouches_to_test(sheet_of(pouch, pouches)) == pouches);
    CHECK(boxes_of(leak_sheet(sheet_of(pouch, pouches), own_words(0), kMeasure, {190, 277})) ==
          2 * pouches);
  }
  // ISO 2859-1: 2000 pouches are letter K, 125; and the first of four helpers.
  const LeakSheet many = sheet_of(pouch, 2000);
  CHECK(pouches_to_test(many) == 129);
  const auto pages = leak_sheet(many, own_words(0), kMeasure, {128, 190});
  CHECK(pages.size() > 2);
  CHECK(boxes_of(pages) == 258);
}

TEST_CASE("the plan is told on request, with what it can miss") {
  const auto pouch = derived(hand_worked(foldover()));
  // ISO 2859-1: 100 at 1.5 are sampled by 32 with 1/2.
  const std::string words = words_of(sheet_of(pouch, 100, 1.5));
  CHECK(has(words, "letter G, take 32 at random"));
  CHECK(has(words, "With 2 or more, test all"));
  // 5 of 100 bad, 32 taken, at most 1: C(95,32)/C(100,32) + 5·C(95,31)/C(100,32) = 0.4846 (worked
  // with whole-number fractions outside the program).
  CHECK(has(words, "48 times in 100"));
  const std::string all = words_of(sheet_of(pouch, 13, 1.0));
  CHECK(has(all, "test all"));
  CHECK(pouches_to_test(sheet_of(pouch, 13, 1.0)) == 13);
  CHECK_FALSE(has(all, "can miss"));
}

TEST_CASE("the test fill is the size report's, to two figures") {
  auto pouch = derived(hand_worked(foldover()));
  // Worked by hand: water line 140 mm (design section 3), 5 mm less; the paper-bag problem's open
  // form with 178 x 135 mm: 178^3 (135 / (178 pi) - 0.071 (1 - 10^(-270 / 178))) mm^3 = 973 ml.
  CHECK(has(words_of(sheet_of(pouch, 10)), "135 mm above the bottom"));
  CHECK(has(words_of(sheet_of(pouch, 10)), "about 970 ml"));
  pouch.request.style.unit = units::Unit::inch;
  // 973 ml / 29.57353 ml (NIST SP 811 app. B, from memory) = 32.9.
  CHECK(has(words_of(sheet_of(pouch, 10)), "about 33 fl oz"));
}

TEST_CASE("a pouch without a water line is not tested") {
  auto pouch = derived(hand_worked(foldover()));
  pouch.water_line = mm(0);
  const auto pages = leak_sheet(sheet_of(pouch, 10), own_words(0), kMeasure, {190, 277});
  CHECK(boxes_of(pages) == 0);
  CHECK(has(all_words(pages), "not designed to hold water"));
}

TEST_CASE("corners are the bottom's, and those at the top of a pleat") {
  CHECK(corner_heights(derived(hand_worked(foldover()))) == std::vector<Length>{mm(0)});
  // Worked by hand (design section 3): contacts 0 to 25 in the pleat, 25 to 140 above it.
  CHECK(corner_heights(derived(hand_worked(gusset()))) == std::vector<Length>{mm(0), mm(25)});
}

TEST_CASE("the leak sheet promises no years and no washes") {
  const auto pouch = derived(hand_worked(foldover()));
  const std::string words = words_of(sheet_of(pouch, 60));
  CHECK(has(words, "at least 5 minutes"));  // common practice, no source
  for (const char* part : {"waterproof", "guarantee", "year"}) CHECK_FALSE(has(words, part));
}

TEST_CASE("whoever tests signs, and pouches are numbered where there are several") {
  const auto pouch = derived(hand_worked(foldover()));
  CHECK(has(words_of(sheet_of(pouch, 1)), "tested by"));
  CHECK_FALSE(has(words_of(sheet_of(pouch, 1)), "numbered slip"));
  CHECK(has(words_of(sheet_of(pouch, 7)), "numbered slip"));
}

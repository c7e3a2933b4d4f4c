#include "draw/sheets/leak_test.h"

#include <algorithm>

#include "draw/sheets/leak_picture.h"
#include "ink/labels.h"
#include "ink/sentences.h"
#include "pouch/questions.h"
#include "tell/fill.h"
#include "tell/leak_test.h"
#include "unit/draw/icons_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::tell;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

LeakSheet sheet_of(const pouch::Pouch& pouch, int pouches, std::optional<double> limit = {}) {
  LeakSheet sheet{.pouch = &pouch, .pouches = pouches, .helpers = 4, .plan = std::nullopt};
  if (limit) sheet.plan = std::get<batch::SamplingPlan>(batch::sampling_plan(pouches, *limit));
  return sheet;
}

std::string words_of(const LeakSheet& sheet) {
  return all_words(leak_sheet(sheet, own_icons(), own_words(), kMeasure, {190, 277}));
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

/// The fold-over pouch whose flap is turned only once it was tested.
pouch::Request free_flap() {
  pouch::Request request = hand_worked(foldover());
  request.construction.flap_law = pouch::FlapLaw::free;
  auto& operations = request.construction.operations;
  std::rotate(operations.begin() + 8, operations.begin() + 9, operations.end());
  return request;
}

std::vector<NamedRequest> free_and_all() {
  std::vector<NamedRequest> all = all_requests();
  all.push_back({"free flap", free_flap()});
  all.push_back({"two pieces", two_pieces()});
  return all;
}

std::vector<Box> boxes_named(const Frame& picture, std::string_view name) {
  std::vector<Box> boxes;
  for (const Item& item : picture.items) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape != nullptr && shape->name == name) boxes.push_back(bounds(shape->path));
  }
  return boxes;
}

Frame picture_of(const pouch::Pouch& pouch) {
  return leak_picture(pouch, {80, 60}, own_words(), kMeasure);
}

bool says(const Frame& picture, const std::string& words) {
  return std::any_of(picture.items.begin(), picture.items.end(), [&](const Item& item) {
    const auto* text = std::get_if<Text>(&item);
    return text != nullptr && text->words == words;
  });
}

}  // namespace

TEST_CASE("the leak sheet is legible on every paper, for every pouch and in longer words") {
  for (const double longer : {0.0, 0.4}) {
    const base::Words words = own_words(longer);
    for (const NamedRoom& paper : rooms()) {
      for (const NamedRequest& one : free_and_all()) {
        CAPTURE(paper.name);
        CAPTURE(one.name);
        const auto pouch = derived(one.request);
        check_pages(leak_sheet(sheet_of(pouch, 70), own_icons(), words, kMeasure, paper.room),
                    paper.room);
      }
    }
  }
}

TEST_CASE("there are two boxes for every pouch that is tested, on as many pages as it takes") {
  const auto pouch = derived(hand_worked(foldover()));
  for (const int pouches : {1, 7, 50}) {
    CAPTURE(pouches);
    CHECK(pouches_to_test(sheet_of(pouch, pouches)) == pouches);
    CHECK(boxes_of(leak_sheet(sheet_of(pouch, pouches), own_icons(), own_words(), kMeasure,
                              {190, 277})) == 2 * pouches);
  }
  // ISO 2859-1: 2000 pouches are letter K, 125; and the first of four helpers.
  const LeakSheet many = sheet_of(pouch, 2000);
  CHECK(pouches_to_test(many) == 129);
  const auto pages = leak_sheet(many, own_icons(), own_words(), kMeasure, {128, 190});
  CHECK(pages.size() > 2);
  CHECK(boxes_of(pages) == 258);
}

TEST_CASE("a pouch hangs by pegs only where 20 mm are left above the water") {
  // Common practice, no source. A test fills up to 5 mm below the water line.
  pouch::Pouch pouch = derived(hand_worked(foldover()));
  const auto words_at = [&](base::Length above_line) {
    pouch.compartments.front().water_line = pouch.lip_height - above_line;
    return words_of(sheet_of(pouch, 8));
  };
  CHECK(has(words_at(mm(15)), "two pegs"));
  CHECK_FALSE(has(words_at(mm(15)), "No pegs"));
  CHECK(has(words_at(mm(14)), "No pegs"));
  CHECK_FALSE(has(words_at(mm(14)), "two pegs"));
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
  // Worked by hand: the water line is the lip, 150 - 10 mm, 5 mm less; the paper-bag problem's open
  // form with 178 x 135 mm: 178^3 (135 / (178 pi) - 0.071 (1 - 10^(-270 / 178))) mm^3 = 973 ml.
  CHECK(has(words_of(sheet_of(pouch, 10)), "135 mm above the bottom"));
  CHECK(has(words_of(sheet_of(pouch, 10)), "about 970 ml"));
  const base::Words& words = own_words();
  // Inches, read off a ruler of millimetres: the level stays, and so does what is below it.
  const base::Voice in_inches(words, {base::Unit::inch, mm(1)});
  const LeakSheet sheet = sheet_of(pouch, 10);
  // 973 ml / 29.57353 ml (NIST SP 811 app. B, from memory) = 32.9.
  CHECK(has(all_words(leak_sheet(sheet, own_icons(), in_inches, kMeasure, {190, 277})),
            "about 33 fl oz"));
}

TEST_CASE("a pouch without a water line is not tested") {
  auto pouch = derived(hand_worked(foldover()));
  pouch.compartments.front().water_line = mm(0);
  const auto pages =
      leak_sheet(sheet_of(pouch, 10), own_icons(), own_words(), kMeasure, {190, 277});
  CHECK(boxes_of(pages) == 0);
  CHECK(has(all_words(pages), "not designed to hold water"));
}

TEST_CASE("corners are the bottom's, and those at the top of a pleat that water reaches") {
  CHECK(corner_heights(derived(hand_worked(foldover())), mm(135)) == std::vector<Length>{mm(0)});
  // Worked by hand: contacts 0 to 25 in the pleat, 25 to 140 above it.
  const auto pleated = derived(hand_worked(gusset()));
  CHECK(corner_heights(pleated, mm(135)) == std::vector<Length>{mm(0), mm(25)});
  CHECK(corner_heights(pleated, mm(25)) == std::vector<Length>{mm(0)});
}

TEST_CASE("the picture shows the level that the words tell, inside its frame") {
  for (const NamedRequest& one : free_and_all()) {
    CAPTURE(one.name);
    const auto pouch = derived(one.request);
    const Length level = fill_read(pouch, own_words()).test_level;
    const Frame picture = picture_of(pouch);
    const Box frame{0, 0, picture.box.x1, picture.box.y1};
    for (const Item& item : picture.items) {
      CHECK(lies_in(grown(bounds(item, kMeasure), -0.3), frame));
    }
    const auto bands = boxes_named(picture, "fused band");
    REQUIRE(bands.size() == 2);
    REQUIRE(boxes_named(picture, "water").size() == 1);
    // The level is dimensioned between two lines that stand out from the pouch's edge; widths come
    // out true, heights by the sine of 114 degrees.
    const auto sizes = boxes_named(picture, "size line");
    REQUIRE(sizes.size() == 3);
    const double between = bands[1].x0 - bands[0].x0;
    const Length apart = pouch.sizes.cut_width - 2 * pouch.sizes.seal_width;
    CHECK(sizes[2].height() / between ==
          doctest::Approx(level.in_mm() * 0.913545 / apart.in_mm()).epsilon(0.001));
    for (const Box& ring : boxes_named(picture, "corner")) {
      CHECK((ring.y0 + ring.y1) / 2 > sizes[2].y0);
    }
    CHECK(says(picture, kept_together(base::Voice(own_words()).text(level))));
  }
}

TEST_CASE("each line of the leak test's picture is named, with a line to it") {
  for (const NamedRequest& one : free_and_all()) {
    CAPTURE(one.name);
    const auto pouch = derived(one.request);
    const Frame picture = picture_of(pouch);
    std::size_t names = 3;
    for (const char* name : {"opening edge", "fill to here", "fused bands"}) {
      CHECK(says(picture, name));
    }
    if (pouch.construction().flap_span) {
      CHECK(says(picture, "flap"));
      ++names;
    }
    CHECK(boxes_named(picture, "name line").size() == names);
    CHECK(boxes_named(picture, "name dot").size() == names);
    CHECK(boxes_named(picture, "seam").empty());
  }
}

TEST_CASE("a flap is turned back in the picture, folded before the test or after") {
  for (const pouch::Request& request : {hand_worked(foldover()), free_flap()}) {
    const Frame picture = picture_of(derived(request));
    const auto flaps = boxes_named(picture, "seen film: flap");
    REQUIRE(flaps.size() == 1);
    const auto rings = boxes_named(picture, "corner");
    // By hand: depth 150, flap 70, of which what lies behind the opening edge is not seen; cut
    // width 190 + 2 x 7.
    const double width = middle(rings[1]).x - middle(rings[0]).x;
    CHECK(flaps[0].height() / width == doctest::Approx(70 * 0.913545 / 204).epsilon(0.02));
    CHECK(flaps[0].y1 < middle(rings[0]).y);
  }
}

TEST_CASE("looking, sewing, testing and folding stand in the construction's order") {
  const std::string caught =
      kept_words(leak_order(derived(hand_worked(foldover())), own_words()), own_words());
  CHECK(has(caught, "when it is pressed"));
  CHECK(has(words_of(sheet_of(derived(hand_worked(foldover())), 7)),
            "no stitch of a seam further than 7 mm from the raw edge"));
  CHECK(has(caught, "finished pouch"));
  const std::string free = kept_words(leak_order(derived(free_flap()), own_words()), own_words());
  CHECK(has(free, "Now it is tested with water. Only after that: fold the flap over"));
  CHECK_FALSE(has(free, "finished pouch"));
  for (const std::string& words : {caught, free}) {
    CHECK(words.find("fused bands") < words.find("no stitch"));
    CHECK(words.find("no stitch") < words.find("tested with water"));
  }
  // Where one looks only after sewing, both are looked at then.
  pouch::Request later = hand_worked(foldover());
  auto& operations = later.construction.operations;
  std::rotate(operations.begin() + 7, operations.begin() + 9, operations.begin() + 10);
  operations.erase(operations.begin() + 9);  // the flap
  const std::string sewn = kept_words(leak_order(derived(later), own_words()), own_words());
  CHECK(has(sewn, "when it is sewn"));
  CHECK_FALSE(has(sewn, "when it is pressed"));
}

// Common practice, no source.
TEST_CASE("a pouch that leaks is pressed again only where its cards can lie as they did") {
  CHECK(pouch::mending_of(derived(hand_worked(foldover()))) == pouch::Mending::never);
  CHECK(pouch::mending_of(derived(two_pieces())) == pouch::Mending::never);
  CHECK(pouch::mending_of(derived(free_flap())) == pouch::Mending::with_its_cards);
  const std::string caught = words_of(sheet_of(derived(hand_worked(foldover())), 7));
  CHECK(has(caught, "no card goes back in"));
  CHECK(has(caught, "unpick the seams"));
  CHECK_FALSE(has(caught, "leaks twice"));
  pouch::Request request = free_flap();
  const auto said = [&] { return words_of(sheet_of(derived(request), 7)); };
  request.cards = pouch::CardUse::inside;
  CHECK(has(said(), "Lay the slip card back inside first"));
  CHECK_FALSE(has(said(), "shield"));
  CHECK(has(said(), "from the knit side"));
  CHECK_FALSE(has(said(), "outer cloth"));
  CHECK(has(said(), "A hole further than 7 mm from the raw edge"));
  request.cards = pouch::CardUse::on_top;
  CHECK(has(said(), "Lay the shield back on top first"));
  CHECK_FALSE(has(said(), "slip card"));
  request.cards = pouch::CardUse::both;
  CHECK(has(said(), "the slip card back inside and the shield on top"));
  request = with_outer(request);
  CHECK(has(said(), "through the outer cloth"));
}

// As a practitioner does it, who keeps her card on top; common practice, no source.
TEST_CASE(
    "a finished pouch whose flap is caught is pressed again under a shield, where there is one") {
  pouch::Request request = hand_worked(foldover());
  for (const pouch::CardUse use : {pouch::CardUse::on_top, pouch::CardUse::both}) {
    request.cards = use;
    CHECK(pouch::mending_of(derived(request)) == pouch::Mending::under_shield);
    const std::string words = words_of(sheet_of(derived(request), 7));
    const bool both = use == pouch::CardUse::both;
    CHECK(has(words, both ? "the shield does on top" : "The shield goes on top"));
    CHECK(has(words, "slip card") == both);
    CHECK(has(words, "leaks twice"));
    CHECK(has(words, "mended, tested again: number"));
    CHECK_FALSE(has(words, "cannot be pressed again"));
  }
}

// Common practice, no source.
TEST_CASE("water is kept away from iron and machines") {
  CHECK(has(words_of(sheet_of(derived(hand_worked(foldover())), 7)),
            "Keep water away from irons and machines"));
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

TEST_CASE("where every pouch is tested its number tells the bundle, by the job's one number") {
  const auto pouch = derived(hand_worked(foldover()));
  LeakSheet sheet = sheet_of(pouch, 40);
  sheet.bundle = 8;
  CHECK(has(words_of(sheet), "Pouches 1 to 8 are bundle 1, 9 to 16 bundle 2"));
  sheet.pouches = 12;
  CHECK(has(words_of(sheet), "9 to 12 bundle 2"));
  // A sample is numbered apart; a single bundle needs no number.
  sheet.pouches = 100;
  CHECK_FALSE(has(words_of(sheet), "are bundle 1"));
  sheet.pouches = 8;
  CHECK_FALSE(has(words_of(sheet), "are bundle 1"));
}

#include "draw/sheets/overview.h"

#include "unit/draw/icons_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

OverviewSheet sheet_of(const pouch::Pouch& pouch, const std::string& page) {
  OverviewSheet sheet{
      .pouch = &pouch, .title = "Carry pouch", .pouches = 40, .helpers = 4, .tasks = {}};
  for (int i = 0; i < 10; ++i) {
    sheet.tasks.push_back({"Print the packet, measure a check square and join the template.",
                           "Slip card and shield, page " + page});
  }
  return sheet;
}

}  // namespace

TEST_CASE("the overview is legible on every paper, for every pouch and in longer words") {
  for (const double longer : {0.0, 0.4}) {
    const base::Words words = own_words(longer);
    for (const NamedRequest& one : all_requests()) {
      const auto pouch = derived(one.request);
      for (const NamedRoom& paper : rooms()) {
        CAPTURE(paper.name);
        check_pages(overview(sheet_of(pouch, "8"), words, kMeasure, paper.room).pages, paper.room);
      }
    }
  }
}

TEST_CASE("the overview tells the sizes that were worked by hand") {
  // 190 + 2 * 7 wide; the depth and the flap are the request's own.
  pouch::Request request = hand_worked(foldover());
  request.liners.emplace();
  request.liners->turn = pouch::LinerTurn::as_given;
  request.liners->width.value = mm(80);
  request.liners->length.value = mm(120);
  request.liners->thickness.value = mm(9);
  // Carried are two, since 120 + 18 + 10 of the depth of 150 leave no third; whatever is asked.
  request.liners->count = base::Placed<int>{3, {}};
  const auto pouch = derived(request);
  const std::string words =
      all_words(overview(sheet_of(pouch, "8"), own_words(), kMeasure, {190, 277}).pages);
  for (const char* part :
       {"204 mm", "190 mm", "150 mm", "70 mm", "10 mm", "≈ 1/4 in", "No stitch further in than",
        "40 pouches", "Carries 2 liners", "a third goes in"}) {
    CAPTURE(std::string(part));
    CHECK(has(words, part));
  }
}

TEST_CASE("how a liner is measured is told where there are liners, and lies on nothing") {
  pouch::Request request = hand_worked(foldover());
  request.liners.emplace();
  request.liners->width.value = mm(80);
  request.liners->length.value = mm(120);
  request.liners->thickness.value = mm(9);
  const auto pouch = derived(request);
  const auto plain = derived(hand_worked(foldover()));
  const base::Words words = own_words();
  const std::string how(*words.text("overview-measure-how"));
  for (const NamedRoom& paper : rooms()) {
    CAPTURE(paper.name);
    OverviewSheet sheet = sheet_of(pouch, "8");
    sheet.icons = &own_icons();
    const auto made = overview(sheet, words, kMeasure, paper.room).pages;
    check_pages(made, paper.room);
    CHECK(has(all_words(made), how));
    sheet.pouch = &plain;
    CHECK_FALSE(has(all_words(overview(sheet, words, kMeasure, paper.room).pages), how));
  }
}

TEST_CASE("the overview names every panel to cut, and a bottom that is fused") {
  // By hand: back 150 + 7 and flap 70; front 150 - 10 + 7.
  const auto pouch = derived(two_pieces());
  const std::string words =
      all_words(overview(sheet_of(pouch, "8"), own_words(), kMeasure, {190, 277}).pages);
  for (const char* part : {"front panel", "227 mm", "147 mm", "and bottom"}) {
    CAPTURE(std::string(part));
    CHECK(has(words, part));
  }
}

TEST_CASE("each size stands in the job's unit and in the other") {
  // 204 mm is 8 1/32 in, 390 mm 15 23/64 in (25.4 mm an inch), to an eighth 8 and 15 3/8.
  const auto pouch = derived(hand_worked(foldover()));
  const std::string words =
      all_words(overview(sheet_of(pouch, "8"), own_words(), kMeasure, {190, 277}).pages);
  CHECK(has(words, "204 mm"));
  CHECK(has(words, "≈ 8 in"));
}

TEST_CASE("each task says where on the pages its own page is to be named") {
  const auto pouch = derived(hand_worked(foldover()));
  for (const NamedRoom& paper : rooms()) {
    CAPTURE(paper.name);
    OverviewSheet sheet = sheet_of(pouch, "8");
    for (std::size_t i = 0; i < sheet.tasks.size(); ++i) {
      sheet.tasks[i].where = "Section " + std::to_string(i);
    }
    const Overview made = overview(sheet, own_words(0.4), kMeasure, paper.room);
    REQUIRE(made.where.size() == sheet.tasks.size());
    for (std::size_t i = 0; i < made.where.size(); ++i) {
      const Item& item = made.pages.at(made.where[i].page).items.at(made.where[i].item);
      CHECK(std::get<Text>(item).words == sheet.tasks[i].where);
    }
  }
}

#include "draw/sheets/overview.h"

#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

OverviewSheet sheet_of(const pouch::Pouch& pouch, const std::string& page) {
  OverviewSheet sheet{.pouch = &pouch,
                      .title = "Carry pouch",
                      .capacity = "3 liners in 1 column",
                      .pouches = 40,
                      .helpers = 4,
                      .tasks = {}};
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
        check_pages(overview(sheet_of(pouch, "8"), words, kMeasure, paper.room), paper.room);
      }
    }
  }
}

TEST_CASE("the overview tells the sizes that were worked by hand") {
  // 190 + 2 * 7 wide; the depth and the flap are the request's own.
  const auto pouch = derived(hand_worked(foldover()));
  const std::string words =
      all_words(overview(sheet_of(pouch, "8"), own_words(), kMeasure, {190, 277}));
  for (const char* part : {"204 mm", "190 mm", "150 mm", "70 mm", "lip lies 10 mm", "Sewn 7 mm",
                           "40 pouches", "3 liners"}) {
    CAPTURE(std::string(part));
    CHECK(has(words, part));
  }
}

TEST_CASE("the overview names every panel to cut, and a bottom that is fused") {
  // By hand: back 150 + 7 and flap 70; front 150 - 10 + 7.
  const auto pouch = derived(two_pieces());
  const std::string words =
      all_words(overview(sheet_of(pouch, "8"), own_words(), kMeasure, {190, 277}));
  for (const char* part : {"front panel", "227 mm", "147 mm", "the bottom"}) {
    CAPTURE(std::string(part));
    CHECK(has(words, part));
  }
}

TEST_CASE("how many pages the overview takes does not depend on the page numbers") {
  const auto pouch = derived(hand_worked(foldover()));
  const base::Words words = own_words(0.4);
  for (const NamedRoom& paper : rooms()) {
    CAPTURE(paper.name);
    CHECK(overview(sheet_of(pouch, "1"), words, kMeasure, paper.room).size() ==
          overview(sheet_of(pouch, "1234"), words, kMeasure, paper.room).size());
  }
}

#include "paper/pages.h"

#include <doctest/doctest.h>

#include "unit/paper/support.h"

namespace pouchwright::test {
namespace {

using paper::Pages;
using paper::PageSetup;
using paper::Placement;

/// The keys of all faults of one severity.
std::vector<std::string> keys_of(const base::Diagnostics& diagnostics, base::Severity severity) {
  std::vector<std::string> keys;
  for (const auto& fault : diagnostics.sorted(severity)) keys.push_back(fault.message.key);
  return keys;
}

struct Outcome {
  Pages pages;
  std::vector<base::Diagnostic> faults;
  std::vector<std::string> errors;
  std::vector<std::string> warnings;
};

Outcome outcome(const PageSetup& setup, std::vector<Drawing> drawings = {frame(100, 100)}) {
  base::Diagnostics diagnostics;
  Outcome result;
  result.pages = paged(Case{setup, {"test", "Test", std::move(drawings)}}, diagnostics);
  result.faults = diagnostics.sorted();
  result.errors = keys_of(diagnostics, base::Severity::error);
  result.warnings = keys_of(diagnostics, base::Severity::warning);
  return result;
}

PageSetup printed(std::int64_t across_um, std::int64_t down_um) {
  PageSetup setup = a4();
  setup.printed_across = Length::nm(across_um * 1'000);
  setup.printed_down = Length::nm(down_um * 1'000);
  setup.printed_square_place = {"job.toml", 7, 3, 9};
  return setup;
}

using Keys = std::vector<std::string>;

TEST_CASE("a window turned clockwise has its lower left corner at the top left") {
  const Placement placement{0, {10, 20, 110, 70}, 90, {5, 6}, "A1", 0, 0};
  CHECK(paper::on_paper(placement, {1, 1}, {10, 70}) == Point{5, 6});
  CHECK(paper::on_paper(placement, {1, 1}, {10, 20}) == Point{55, 6});
  CHECK(paper::on_paper(placement, {1, 1}, {110, 70}) == Point{5, 106});
}

TEST_CASE("the correction stretches a window about its corner on the paper") {
  Placement placement{0, {10, 20, 110, 70}, 0, {5, 6}, "A1", 0, 0};
  CHECK(paper::on_paper(placement, {2, 3}, {11, 21}) == Point{7, 9});
  placement.turn_deg = 90;
  CHECK(paper::on_paper(placement, {2, 3}, {11, 69}) == Point{7, 9});
}

TEST_CASE("a printer whose square measured 49.5 x 50.2 mm gets 50/49.5 across and 50/50.2 down") {
  const Outcome found = outcome(printed(49'500, 50'200));
  CHECK(found.pages.scale.x == doctest::Approx(50 / 49.5).epsilon(1e-12));
  CHECK(found.pages.scale.y == doctest::Approx(50 / 50.2).epsilon(1e-12));
  CHECK(found.errors.empty());
}

TEST_CASE("a correction is refused over 3 % and warned of from 1 % on") {
  struct Row {
    std::int64_t across, down;
    Keys errors, warnings;
  };
  const Keys none;
  const std::vector<Row> rows = {
      {50'000, 50'000, none, none},
      {49'501, 50'499, none, none},
      {49'500, 50'000, none, {"correction-large"}},
      {50'000, 50'500, none, {"correction-large"}},
      {48'500, 51'500, none, {"correction-large"}},
      {48'499, 50'000, {"correction-too-large"}, none},
      {50'000, 51'501, {"correction-too-large"}, none},
      {0, 50'000, {"correction-too-large"}, none},
  };
  for (const Row& row : rows) {
    INFO(row.across << " x " << row.down);
    const Outcome found = outcome(printed(row.across, row.down));
    CHECK(found.errors == row.errors);
    CHECK(found.warnings == row.warnings);
    CHECK(found.pages.pages.empty() == !row.errors.empty());
    if (!found.faults.empty()) {
      CHECK(found.faults[0].place == base::Place{"job.toml", 7, 3, 9});
      CHECK(found.faults[0].hints.size() == 1);
    }
  }
}

TEST_CASE("margins that leave no room are an error at the margin with the largest that works") {
  PageSetup setup = a4();
  const auto margin = Length::whole_mm(80);
  setup.margins = {margin, margin, margin, margin};
  setup.margin_place = {"job.toml", 3, 1, 2};
  const Outcome found = outcome(setup);
  REQUIRE(found.errors == Keys{"margins-leave-no-room"});
  CHECK(found.faults[0].place.line == 3);
  CHECK(found.pages.pages.empty());
  // (210 − 60 − 10) / 2
  const auto& values = found.faults[0].hints[0].values;
  CHECK(std::count(
            values.begin(), values.end(),
            std::pair<std::string, base::Value>{"margin", base::exact(Length::whole_mm(70))}) == 1);
  const auto works = Length::whole_mm(70);
  setup.margins = {works, works, works, works};
  CHECK(outcome(setup).errors.empty());
}

TEST_CASE("an overlap that leaves no room is an error at the overlap with the largest that works") {
  PageSetup setup = setup_of(formats()[0]);  // ISO 216: A6 is 105 x 148 mm
  setup.overlap = Length::whole_mm(26);
  setup.overlap_place = {"job.toml", 4, 1, 2};
  const Outcome found = outcome(setup);
  REQUIRE(found.errors == Keys{"overlap-leaves-no-room"});
  CHECK(found.faults[0].place.line == 4);
  const auto& values = found.faults[0].hints[0].values;
  CHECK(std::count(
            values.begin(), values.end(),
            std::pair<std::string, base::Value>{"most", base::exact(Length::whole_mm(25))}) == 1);
  setup.overlap = Length::whole_mm(25);
  CHECK(outcome(setup).errors.empty());
}

TEST_CASE("paper longer than 14,400 points is an error at the paper") {
  // ISO 32000-1, annex C: 14,400 units a side; at 72 to the inch 200 in = 5,080 mm.
  PageSetup setup = a4();
  setup.width = Length::whole_mm(914);
  setup.height = Length::inches(200);
  setup.place = {"job.toml", 2, 1, 2};
  CHECK(outcome(setup).errors.empty());
  setup.height += Length::nm(1);
  const Outcome found = outcome(setup);
  CHECK(found.errors == Keys{"paper-too-long"});
  CHECK(found.faults[0].place.line == 2);
}

TEST_CASE("more than 400 pages are an error, however large the drawing") {
  Drawing full = frame(4000, 4000);
  full.add(ruled(ink::hatch({3, 3, 3997, 3997}, 20)));
  CHECK(outcome(setup_of(formats()[0]), {full}).errors == Keys{"too-many-pages"});
  CHECK(outcome(a4(), {frame(100'000, 100'000)}).errors == Keys{"too-many-pages"});
}

TEST_CASE("pages of instructions count among the 400") {
  // As the design states the limit: no document has more pages. On A6 the instructions find no room
  // beside a hatched drawing and take pages of their own.
  PageSetup setup = a4();
  setup.name = "A6";
  setup.width = Length::whole_mm(105);
  setup.height = Length::whole_mm(148);
  // A6 less margins of 10 shows 85 x 128 a page, 75 and 118 more each: 20 x 20 are 400.
  const double across = 10 + 20 * 75;
  const double down = 10 + 20 * 118;
  for (const double less : {0.0, 118.0}) {
    Drawing full = frame(across, down - less);
    full.add(ruled(ink::hatch({1, 1, across - 1, down - less - 1}, 20)));
    const Outcome found = outcome(setup, {full});
    CAPTURE(less);
    CHECK(found.pages.pages.size() <= 400);
    CHECK(found.pages.pages.empty() == (found.errors == Keys{"too-many-pages"}));
    CHECK(found.pages.pages.empty() == (less == 0));
  }
}

TEST_CASE("a roll takes the whole drawing on one page") {
  const Outcome found = outcome(setup_of(formats().back()), {frame(800, 2500)});
  CHECK(found.pages.pages.size() == 1);
  CHECK(found.pages.dropped.empty());
}

TEST_CASE("the same document gives the same pages twice") {
  const Case made = random_case(7);
  base::Diagnostics diagnostics;
  const Pages a = paged(made, diagnostics);
  const Pages b = paged(made, diagnostics);
  REQUIRE(a.pages.size() == b.pages.size());
  for (std::size_t k = 0; k < a.pages.size(); ++k) {
    CHECK(a.pages[k].check_square == b.pages[k].check_square);
    CHECK(texts_of(a.pages[k]) == texts_of(b.pages[k]));
  }
}

}  // namespace
}  // namespace pouchwright::test

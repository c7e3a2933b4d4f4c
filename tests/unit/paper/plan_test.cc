#include "paper/plan.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>

#include "unit/paper/support.h"

namespace pouchwright::test {
namespace {

using paper::Pages;
using paper::Placement;

constexpr int kSeeds = 60;

std::vector<Placement> placements_of(const Pages& pages) {
  std::vector<Placement> result;
  for (const auto& page : pages.pages) {
    result.insert(result.end(), page.placements.begin(), page.placements.end());
  }
  return result;
}

std::vector<Placement> with_dropped(const Pages& pages) {
  std::vector<Placement> result = placements_of(pages);
  result.insert(result.end(), pages.dropped.begin(), pages.dropped.end());
  return result;
}

using Place = std::tuple<std::size_t, int, int>;  // drawing, column, row
std::map<Place, Placement> by_place(const std::vector<Placement>& placements) {
  std::map<Place, Placement> result;
  for (const Placement& it : placements) result[{it.drawing, it.column, it.row}] = it;
  return result;
}

TEST_CASE("windows and dropped windows together tile each drawing's extent") {
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    REQUIRE(!pages.pages.empty());
    const double overlap = made.setup.overlap.in_mm();
    const auto cells = by_place(with_dropped(pages));
    CHECK(cells.size() == with_dropped(pages).size());
    for (const auto& [place, cell] : cells) {
      const auto& [drawing, column, row] = place;
      const Box& extent = made.document.drawings[drawing].extent;
      const auto right = cells.find({drawing, column + 1, row});
      const auto below = cells.find({drawing, column, row + 1});
      if (column == 0) CHECK(cell.window.x0 == extent.x0);
      if (row == 0) CHECK(cell.window.y0 == extent.y0);
      if (right == cells.end()) {
        CHECK(cell.window.x1 == extent.x1);
      } else {
        CHECK(std::abs(cell.window.x1 - right->second.window.x0 - overlap) < 1e-9);
      }
      if (below == cells.end()) {
        CHECK(cell.window.y1 == extent.y1);
      } else {
        CHECK(std::abs(cell.window.y1 - below->second.window.y0 - overlap) < 1e-9);
      }
    }
  }
}

TEST_CASE("no more pages are used than a plain grid takes, worked out anew here") {
  int saved = 0;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    const Box room{
        0, 0,
        (made.setup.width - made.setup.margins.left - made.setup.margins.right).in_mm() /
            pages.scale.x,
        (made.setup.height - made.setup.margins.top - made.setup.margins.bottom).in_mm() /
            pages.scale.y};
    const double overlap = made.setup.overlap.in_mm();
    int plain = 0;
    for (const Drawing& drawing : made.document.drawings) {
      int columns = 1;
      while (columns * (room.width() - overlap) + overlap < drawing.extent.width() - 1e-6)
        ++columns;
      int rows = 1;
      while (rows * (room.height() - overlap) + overlap < drawing.extent.height() - 1e-6) ++rows;
      plain += columns * rows;
    }
    const auto is_guide = [](const paper::Page& page) { return page.placements.empty(); };
    const auto guides = std::count_if(pages.pages.begin(), pages.pages.end(), is_guide);
    const int drawn = static_cast<int>(pages.pages.size()) - static_cast<int>(guides);
    CHECK(drawn <= plain);
    CHECK(pages.plain_grid_pages == plain + guides);
    saved += plain - drawn;
  }
  CHECK(saved > 0);
}

TEST_CASE("a panel of 213 x 369 mm takes two sideways pages of A4 where a plain grid takes four") {
  // ISO 216: A4 is 210 x 297 mm; 190 x 277 mm inside margins of 10 mm.
  const Pages pages = paged({frame(213, 368.7)}, a4());
  CHECK(pages.pages.size() == 2);
  CHECK(pages.plain_grid_pages == 4);
  CHECK(pages.width == 297);
  CHECK(pages.height == 210);
  CHECK(pages.pages[0].placements[0].turn_deg == 0);
}

TEST_CASE("a drawing is turned where that saves a page and the sheet cannot be") {
  // One drawing needs the sheet upright, the other one lying: one of them is turned.
  const Pages pages = paged({frame(180, 270, "tall"), frame(270, 180, "wide")}, a4());
  REQUIRE(pages.pages.size() == 2);
  CHECK(pages.pages[0].placements[0].turn_deg + pages.pages[1].placements[0].turn_deg == 90);
  CHECK(pages.plain_grid_pages == 3);
}

TEST_CASE("small drawings share a page, at least 5 mm apart") {
  const Pages pages = paged({frame(80, 60, "a"), frame(85, 60, "b"), frame(60, 80, "c")}, a4());
  REQUIRE(pages.pages.size() == 1);
  CHECK(pages.plain_grid_pages == 3);
  const auto& placed = pages.pages[0].placements;
  REQUIRE(placed.size() == 3);
  CHECK(placed[0].cell == "A1");
  CHECK(placed[1].cell == "B1");
  CHECK(placed[2].cell == "C1");
}

TEST_CASE("windows on one page stay apart and inside the printable area") {
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    for (const auto& page : pages.pages) {
      for (std::size_t k = 0; k < page.placements.size(); ++k) {
        const Box box = on_paper(pages, page.placements[k]);
        CHECK(contains(printable(pages, made.setup), box));
        for (std::size_t m = 0; m < k; ++m) {
          const Box other = on_paper(pages, page.placements[m]);
          CHECK_FALSE(ink::overlap(ink::grown(box, paper::kApart - 1e-5), other));
        }
      }
    }
  }
}

TEST_CASE("cells are unique in a document and columns go on from drawing to drawing") {
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    std::set<std::string> cells;
    std::set<std::string> labels;
    const Pages pages = paged(made, diagnostics);
    for (const Placement& it : with_dropped(pages)) CHECK(cells.insert(it.cell).second);
    for (const auto& page : pages.pages) CHECK(labels.insert(page.label).second);
  }
}

TEST_CASE("a column after Z is called AA") {
  // 30 columns on A6, printable 85 mm: 29 · 75 + 85 = 2,260 mm.
  const Pages pages = paged({frame(2255, 50)}, setup_of(formats()[0]));
  std::set<std::string> cells;
  for (const Placement& it : with_dropped(pages)) cells.insert(it.cell);
  const bool columns_run_across = cells.contains("B1");
  CHECK(columns_run_across);
  CHECK(cells.contains("A1"));
  CHECK(cells.size() >= 18);
}

TEST_CASE("a window without ink gets no page and is told of") {
  // A frame of more than three pages each way: its middle is empty.
  const Pages pages = paged({frame(600, 850)}, a4());
  CHECK(!pages.dropped.empty());
  const EvenMeasure measure;
  const paper::Ink ink = paper::ink_of(pages.drawings[0].items, measure);
  for (const Placement& dropped : pages.dropped) CHECK_FALSE(touches(ink, dropped.window));
  for (const Placement& kept : placements_of(pages)) CHECK(touches(ink, kept.window));
  bool told = false;
  for (const auto& page : pages.pages) {
    std::string words;  // which may be broken into lines
    for (const std::string& line : texts_of(page)) words += line + ' ';
    told = told || words.find(own_text("map-dropped")) != std::string::npos;
  }
  CHECK(told);
}

TEST_CASE("a join goes beside a label rather than through it where the grid can be moved") {
  // Two windows of A4 sideways lie anywhere from 120 to 190 mm; the label stands where the plain
  // grid's join, at 185 mm, would run.
  Drawing drawing = frame(270, 310);
  drawing.add(ruled(ink::rectangle({20, 181, 250, 189}), 0.35, Group::label));
  const Pages pages = paged({drawing}, a4());
  const auto placed = placements_of(pages);
  REQUIRE(placed.size() == 2);
  const double join = (placed[0].window.y1 + placed[1].window.y0) / 2;
  CHECK((join < 181 || join > 189));
}

TEST_CASE("pages come in the order of their names") {
  // As one lays them out: down a column, then the next one (common practice, no source).
  const Pages pages = paged({frame(350, 500, "large"), frame(60, 40, "small")}, a4());
  std::vector<std::string> firsts;
  for (const auto& page : pages.pages) {
    if (!page.placements.empty()) firsts.push_back(page.placements.front().cell);
  }
  REQUIRE(firsts.size() >= 4);
  CHECK(std::is_sorted(firsts.begin(), firsts.end()));
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    base::Diagnostics diagnostics;
    std::vector<Place> names;  // the first on each page
    for (const auto& page : paged(random_case(seed), diagnostics).pages) {
      std::vector<Place> own;
      for (const Placement& it : page.placements) own.emplace_back(it.drawing, it.column, it.row);
      if (!own.empty()) names.push_back(*std::min_element(own.begin(), own.end()));
    }
    CHECK(std::is_sorted(names.begin(), names.end()));
  }
}

TEST_CASE("drawings on one page stand from the top down in the order of their names") {
  // By hand, 190 x 277 mm inside the margins: the first leaves 65 mm beside it, where the third has
  // room and the second has none; below the second there is room too.
  const Pages pages = paged({frame(120, 90, "a"), frame(180, 100, "b"), frame(60, 50, "c")}, a4());
  REQUIRE(pages.pages.size() == 1);
  const auto& placed = pages.pages[0].placements;
  REQUIRE(placed.size() == 3);
  std::map<std::string, double> top;
  for (const Placement& it : placed) top[it.cell] = it.at.y;
  CHECK(top.at("A1") <= top.at("B1"));
  CHECK(top.at("B1") <= top.at("C1"));
}

TEST_CASE("no page shows what the next one shows whole, where that costs no page") {
  // Of the plain grid's two windows, 0 to 190 and 180 to 310 mm, both would have this label.
  const Box label{20, 187.3, 250, 189.8};
  Drawing drawing = frame(270, 310);
  drawing.add(ruled(ink::rectangle(label), 0.35, Group::label));
  const auto placed = placements_of(paged({drawing}, a4()));
  REQUIRE(placed.size() == 2);
  const bool is_on_both = placed[0].window.y1 > label.y0 && placed[1].window.y0 < label.y1;
  CHECK_FALSE(is_on_both);
}

TEST_CASE(
    "an arrow that a join runs through is counted, shaft and heads, and a centre line is not") {
  Drawing drawing = frame(150, 400);
  const auto pages_with = [&](double from, double to) {
    Drawing with = drawing;
    with.add(ruled(ink::line({75, from}, {75, to}), 0.35, Group::grain));
    for (const double end : {from, to}) {
      with.add(Shape{.group = Group::grain,
                     .path = ink::rectangle({73, end - 2, 77, end + 2}),
                     .stroke = std::nullopt,
                     .fill = ink::Fill::solid});
    }
    return paged({with}, a4());
  };
  const Pages plain = paged({drawing}, a4());
  REQUIRE(plain.pages.size() == 2);
  REQUIRE(paper::joins_of(plain, 0).size() == 1);
  CHECK(paper::arrows_cut(plain) == 0);
  // Two windows of at most 277 mm have their join between 123 and 277 mm.
  CHECK(paper::arrows_cut(pages_with(30, 370)) == 1);
  CHECK(paper::arrows_cut(pages_with(30, 90)) == 0);
  Drawing centre = drawing;
  centre.add(Shape{.group = Group::grain,
                   .path = ink::line({75, 2}, {75, 398}),
                   .stroke = ink::Stroke{ink::LinePattern::long_dash_dot, 0.18}});
  CHECK(paper::arrows_cut(paged({centre}, a4())) == 0);
}

TEST_CASE("a point where two pages meet comes from both pages to within a millionth of a mm") {
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    // Lays the page back: the inverse of on_paper, worked out here by hand.
    const auto back = [&pages](const Placement& it, Point p) {
      const double x = (p.x - it.at.x) / pages.scale.x;
      const double y = (p.y - it.at.y) / pages.scale.y;
      return it.turn_deg == 0 ? Point{it.window.x0 + x, it.window.y0 + y}
                              : Point{it.window.x0 + y, it.window.y1 - x};
    };
    const auto cells = by_place(placements_of(pages));
    for (const auto& [place, cell] : cells) {
      const auto& [drawing, column, row] = place;
      for (const Place& other :
           {Place{drawing, column + 1, row}, Place{drawing, column, row + 1}}) {
        const auto found = cells.find(other);
        if (found == cells.end()) continue;
        const Box& a = cell.window;
        const Box& b = found->second.window;
        const Point shared{(std::max(a.x0, b.x0) + std::min(a.x1, b.x1)) / 2,
                           (std::max(a.y0, b.y0) + std::min(a.y1, b.y1)) / 2};
        for (const Placement& it : {cell, found->second}) {
          const Point on = paper::on_paper(it, pages.scale, shared);
          CHECK(contains(on_paper(pages, it), {on.x, on.y, on.x, on.y}));
          const Point again = back(it, on);
          CHECK(std::abs(again.x - shared.x) < 1e-6);
          CHECK(std::abs(again.y - shared.y) < 1e-6);
        }
      }
    }
  }
}

}  // namespace
}  // namespace pouchwright::test

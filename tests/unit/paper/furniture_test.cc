#include "paper/furniture.h"

#include <doctest/doctest.h>

#include <map>

#include "paper/notes.h"
#include "paper/squares.h"
#include "unit/paper/support.h"

namespace pouchwright::test {
namespace {

using paper::Page;
using paper::Pages;
using paper::Placement;

constexpr int kSeeds = 60;

/// From a point to a line along an axis.
double distance(Point p, const Box& line) {
  return std::hypot(std::max({line.x0 - p.x, 0.0, p.x - line.x1}),
                    std::max({line.y0 - p.y, 0.0, p.y - line.y1}));
}

std::vector<Box> sides_of(const Box& square) {
  return {{square.x0, square.y0, square.x1, square.y0},
          {square.x0, square.y1, square.x1, square.y1},
          {square.x0, square.y0, square.x0, square.y1},
          {square.x1, square.y0, square.x1, square.y1}};
}

bool is_inside(const Box& box, Point p) {
  return p.x >= box.x0 && p.x <= box.x1 && p.y >= box.y0 && p.y <= box.y1;
}

/// Points no more than 0.1 mm apart along the middle and both edges of all strokes of `items`, and
/// on lines across text boxes.
std::vector<Point> ink_points(const std::vector<Item>& items) {
  const EvenMeasure measure;
  const paper::Ink ink = paper::ink_of(items, measure);
  std::vector<Point> result;
  const auto add_line = [&result](Point a, Point b, double half) {
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    const Point side = length == 0
                           ? Point{0, half}
                           : Point{-(b.y - a.y) / length * half, (b.x - a.x) / length * half};
    const int count = 1 + static_cast<int>(length / 0.1);
    for (int k = 0; k <= count; ++k) {
      const double t = static_cast<double>(k) / count;
      const Point p{a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
      result.push_back(p);
      result.push_back({p.x + side.x, p.y + side.y});
      result.push_back({p.x - side.x, p.y - side.y});
    }
  };
  for (const auto& streak : ink.streaks) add_line(streak.from, streak.to, streak.half);
  for (const Box& box : ink.texts) {
    for (double y = box.y0; y < box.y1; y += 0.5) add_line({box.x0, y}, {box.x1, y}, 0);
    add_line({box.x0, box.y1}, {box.x1, box.y1}, 0);
  }
  return result;
}

/// The least clearance from the outer edges of `lines` of `figure` to any other ink of the page.
double clearance(const Pages& pages, const Page& page, const std::string& figure,
                 const std::vector<Box>& lines) {
  double least = 1e9;
  const auto look = [&](Point p) {
    for (const Box& line : lines) {
      least = std::min(least, distance(p, line) - paper::kCheckStroke / 2);
    }
  };
  std::vector<Item> others;
  for (const Item& item : page.furniture) {
    if (name_of(item) != figure) others.push_back(item);
  }
  for (const Point& p : ink_points(others)) look(p);
  for (const Placement& placement : page.placements) {
    for (const Point& p : ink_points(pages.drawings[placement.drawing].items)) {
      if (!is_inside(ink::grown(placement.window, 1e-9), p)) continue;
      const Point on = paper::on_paper(placement, pages.scale, p);
      const auto left_out = [&on](const Box& gap) { return is_inside(gap, on); };
      if (std::any_of(page.gaps.begin(), page.gaps.end(), left_out)) continue;
      look(on);
    }
  }
  return least;
}

const Item* find(const Page& page, const std::string& name) {
  for (const Item& item : page.furniture) {
    if (name_of(item) == name) return &item;
  }
  return nullptr;
}

TEST_CASE("each page's check square is 50 mm on its printer, where the page says it is") {
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    for (const Page& page : pages.pages) {
      INFO(page.label);
      const Item* item = find(page, "check-square");
      REQUIRE(item != nullptr);
      const Box box = ink::bounds(std::get<Shape>(*item).path);
      CHECK(page.check_square.width() == doctest::Approx(50));
      CHECK(page.check_square.height() == doctest::Approx(50));
      CHECK(box.x0 == doctest::Approx(page.check_square.x0));
      CHECK(box.y0 == doctest::Approx(page.check_square.y0));
      CHECK(box.width() == doctest::Approx(50 * pages.scale.x));
      CHECK(box.height() == doctest::Approx(50 * pages.scale.y));
    }
  }
}

TEST_CASE("what is written on a finished page lies inside its margins and on no other furniture") {
  const EvenMeasure measure;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    Pages pages = paged(made, diagnostics);
    const paper::Margins& margins = made.setup.margins;
    const Box printable{margins.left.in_mm(), margins.top.in_mm(),
                        pages.width - margins.right.in_mm(), pages.height - margins.bottom.in_mm()};
    paper::Notes notes(pages, printable, measure);
    for (std::size_t i = 0; i < pages.pages.size(); ++i) {
      Page& page = pages.pages[i];
      INFO(page.label);
      std::vector<Box> before;
      for (const Item& item : page.furniture) {
        if (std::holds_alternative<Text>(item)) before.push_back(ink::bounds(item, measure));
      }
      const std::size_t count = page.furniture.size();
      notes.add(i, "packet page 3 of 19", {printable.x1, printable.y1});
      notes.add(i, "Cards, full size: measure the square", {printable.x0, printable.y1});
      REQUIRE(page.furniture.size() >= count + 2);
      for (std::size_t k = count; k < page.furniture.size(); ++k) {
        const Box box = ink::bounds(page.furniture[k], measure);
        CHECK(box.x0 >= printable.x0 - 1e-6);
        CHECK(box.y0 >= printable.y0 - 1e-6);
        CHECK(box.x1 <= printable.x1 + 1e-6);
        CHECK(box.y1 <= printable.y1 + 1e-6);
        for (const Box& other : before) CHECK_FALSE(ink::overlap(box, other));
      }
      const Box square = ink::bounds(std::get<Shape>(*find(page, "check-square")).path);
      CHECK(clearance(pages, page, "check-square", sides_of(square)) >= 1);
    }
  }
}

TEST_CASE("no other ink comes within 1 mm of the lines of a check square") {
  int interrupted = 0;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    for (const Page& page : pages.pages) {
      INFO(page.label);
      const Box square = ink::bounds(std::get<Shape>(*find(page, "check-square")).path);
      CHECK(clearance(pages, page, "check-square", sides_of(square)) >= 1);
      interrupted += page.gaps.empty() ? 0 : 1;
      CHECK(find(page, "check-inch") == nullptr);
    }
  }
  MESSAGE("pages on which the drawing is interrupted: " << interrupted);
}

TEST_CASE("a job in inches has a bar of 2 in beside its square, which names both units") {
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const EvenMeasure measure;
    const Pages pages =
        paper::paged(made.document, made.setup,
                     base::Voice(own_words(), {.unit = base::Unit::inch}), measure, diagnostics);
    for (const Page& page : pages.pages) {
      INFO(page.label);
      CHECK(has_text(page, "50 mm, 1 31/32 in"));  // 50 / 25.4 = 1.9685; 31/32 is 0.96875
      const Item* bar = find(page, "check-inch");
      if (bar == nullptr) {
        CHECK_MESSAGE(page.placements.empty(), "no bar of 2 in");
        continue;
      }
      const Box box = ink::bounds(std::get<Shape>(*bar).path);
      const double length = std::max(box.width() / pages.scale.x, box.height() / pages.scale.y);
      CHECK(length == doctest::Approx(50.8));  // 25.4 mm each (international yard, 1959)
      CHECK(std::min(box.width(), box.height()) < 10);
      CHECK(clearance(pages, page, "check-inch", {box}) >= 1);
    }
  }
}

TEST_CASE("all furniture lies inside the printable area and no words touch other words") {
  const EvenMeasure measure;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    for (const Page& page : pages.pages) {
      INFO(page.label);
      std::vector<Box> words;
      for (const Item& item : page.furniture) {
        // Half a mark ends square at the edge, with nothing of its line's width beyond it.
        const Box box = name_of(item) == "mark-half" ? ink::bounds(std::get<Shape>(item).path)
                                                     : ink::bounds(item, measure);
        const auto* text = std::get_if<Text>(&item);
        INFO((text != nullptr ? text->words : name_of(item)));
        CHECK(contains(printable(pages, made.setup), box));
        if (text == nullptr) continue;
        CHECK(text->size >= ink::kSmallestSize);
        for (const Box& other : words) {
          CHECK_FALSE(ink::overlap(ink::grown(box, -0.05), other));
        }
        words.push_back(box);
      }
    }
  }
}

/// The centres of the marks on a page, in the drawing's mm, with the cell they belong to.
std::vector<Point> marks_on(const Pages& pages, const Page& page, const Placement& placement) {
  std::vector<Point> result;
  for (const Item& item : page.furniture) {
    Point on;
    if (name_of(item) == "mark") {
      const Box box = ink::bounds(std::get<Shape>(item).path);
      on = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    } else if (name_of(item) == "mark-half") {
      on = std::get<Shape>(item).path[3].to;  // where its spoke begins
    } else {
      continue;
    }
    if (!is_inside(ink::grown(on_paper(pages, placement), 1e-6), on)) continue;
    const double x = (on.x - placement.at.x) / pages.scale.x;
    const double y = (on.y - placement.at.y) / pages.scale.y;
    result.push_back(placement.turn_deg == 0
                         ? Point{placement.window.x0 + x, placement.window.y0 + y}
                         : Point{placement.window.x0 + y, placement.window.y1 - x});
  }
  return result;
}

TEST_CASE("neighbours have at least two marks in common, in the middle of what they share") {
  int joins = 0;
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    std::map<std::tuple<std::size_t, int, int>, std::pair<const Page*, Placement>> cells;
    for (const Page& page : pages.pages) {
      for (const Placement& it : page.placements)
        cells[{it.drawing, it.column, it.row}] = {&page, it};
    }
    for (const auto& entry : cells) {
      const auto& [drawing, column, row] = entry.first;
      const auto& cell = entry.second;
      for (const bool across : {true, false}) {
        const auto next = cells.find({drawing, column + (across ? 1 : 0), row + (across ? 0 : 1)});
        if (next == cells.end()) continue;
        INFO(cell.second.cell << " and " << next->second.second.cell);
        const Box& a = cell.second.window;
        const Box& b = next->second.second.window;
        const double line = across ? (a.x1 + b.x0) / 2 : (a.y1 + b.y0) / 2;
        const auto of_join = [&](const std::pair<const Page*, Placement>& side) {
          std::vector<Point> result;
          for (const Point& p : marks_on(pages, *side.first, side.second)) {
            if (std::abs((across ? p.x : p.y) - line) < 1e-6) result.push_back(p);
          }
          return result;
        };
        const auto here = of_join(cell);
        const auto there = of_join(next->second);
        CHECK(here.size() >= 2);
        REQUIRE(here.size() == there.size());
        for (std::size_t k = 0; k < here.size(); ++k) {
          CHECK(std::abs(here[k].x - there[k].x) < 1e-6);
          CHECK(std::abs(here[k].y - there[k].y) < 1e-6);
        }
        CHECK(has_text(*cell.first, "to " + next->second.second.cell));
        CHECK(has_text(*next->second.first, "to " + cell.second.cell));
        ++joins;
      }
    }
  }
  CHECK(joins > 20);
}

TEST_CASE("whole marks stay inside what the pages share") {
  for (const int overlap : {3, 5, 10, 15}) {
    paper::PageSetup setup = a4();
    setup.overlap = Length::whole_mm(overlap);
    const Pages pages = paged({frame(213, 350)}, setup);
    REQUIRE(pages.pages.size() == 2);
    const Box shared = on_paper(pages, pages.pages[0].placements[0]);
    int marks = 0;
    for (const Item& item : pages.pages[0].furniture) {
      if (name_of(item) != "mark-cross") continue;
      const Box box = ink::bounds(std::get<Shape>(item).path);
      CHECK(box.y1 <= shared.y1);
      CHECK(box.y0 >= shared.y1 - overlap);
      ++marks;
    }
    CHECK(marks == 2);
  }
}

TEST_CASE("pages that only meet show half a mark each") {
  paper::PageSetup setup = a4();
  setup.overlap = {};
  const Pages pages = paged({frame(213, 368)}, setup);
  REQUIRE(pages.pages.size() == 2);
  for (const Page& page : pages.pages) CHECK(find(page, "mark-half") != nullptr);
}

TEST_CASE("a page is trimmed on its right and lower side only, and only where it is joined") {
  const Pages pages = paged({frame(500, 400)}, a4());
  for (const Page& page : pages.pages) {
    for (const Placement& it : page.placements) {
      const Box window = on_paper(pages, it);
      for (const Item& item : page.furniture) {
        if (name_of(item) != "trim-line") continue;
        const Box line = ink::bounds(std::get<Shape>(item).path);
        const bool right = std::abs(line.x0 - (window.x1 - 5)) < 1e-6 && line.width() < 1e-9;
        const bool below = std::abs(line.y0 - (window.y1 - 5)) < 1e-6 && line.height() < 1e-9;
        CHECK((right || below));
      }
    }
  }
  const Pages alone = paged({frame(100, 100)}, a4());
  CHECK(find(alone.pages[0], "trim-line") == nullptr);
}

TEST_CASE("a trim line has teeth on the side that is cut off, and nothing else has any") {
  const Pages pages = paged({frame(500, 400)}, a4());
  int lines = 0;
  for (const Page& page : pages.pages) {
    std::vector<Box> trims;
    std::vector<Box> teeth;
    for (const Item& item : page.furniture) {
      if (name_of(item) == "trim-line") trims.push_back(ink::bounds(std::get<Shape>(item).path));
      if (name_of(item) == "trim-teeth") teeth.push_back(ink::bounds(std::get<Shape>(item).path));
    }
    REQUIRE(trims.size() == teeth.size());
    for (std::size_t k = 0; k < trims.size(); ++k) {
      const bool upright = trims[k].width() < trims[k].height();
      CHECK((upright ? teeth[k].x0 : teeth[k].y0) ==
            doctest::Approx(upright ? trims[k].x0 : trims[k].y0));
      CHECK((upright ? teeth[k].width() : teeth[k].height()) == doctest::Approx(1.5));
      ++lines;
    }
  }
  CHECK(lines > 2);
}

TEST_CASE("the instructions speak of the joins that there are, and of no others") {
  const auto told = [](double width, double height) {
    const Pages pages = paged({frame(width, height)}, a4());
    std::string all;
    for (const Item& item : pages.pages[0].furniture) {
      if (const auto* text = std::get_if<Text>(&item)) all += text->words + " ";
    }
    return all;
  };
  // On A4 with margins of 10 mm: one page, a column, a row, a grid.
  CHECK(told(100, 100).find("teeth") == std::string::npos);
  CHECK(told(150, 400).find("teeth, below.") != std::string::npos);
  CHECK(told(150, 400).find("First the pages of a row") == std::string::npos);
  CHECK(told(500, 400).find("teeth, on the right or below.") != std::string::npos);
  CHECK(told(500, 400).find("First the pages of a row") != std::string::npos);
}

TEST_CASE("every page names its cell, its number and the document; the first tells how to print") {
  for (int seed = 1; seed <= kSeeds; ++seed) {
    INFO("seed " << seed);
    const Case made = random_case(seed);
    base::Diagnostics diagnostics;
    const Pages pages = paged(made, diagnostics);
    const std::string of = " of " + std::to_string(pages.pages.size());
    for (std::size_t k = 0; k < pages.pages.size(); ++k) {
      const Page& page = pages.pages[k];
      INFO(page.label);
      CHECK(has_text(page, "page " + std::to_string(k + 1) + of));
      for (const Placement& it : page.placements) CHECK(has_text(page, it.cell));
    }
    CHECK(has_text(pages.pages[0], "Print at 100 %"));
    bool map = false;
    for (const Page& page : pages.pages) map = map || has_text(page, "The pages");
    CHECK(map);
  }
}

TEST_CASE("a page full of lines is interrupted around the check square instead of growing") {
  Drawing full = frame(185, 270);
  full.add(ruled(ink::hatch({2, 2, 183, 268}, 3), 0.13, Group::seal));
  const Pages pages = paged({full}, a4());
  const auto drawn = std::find_if(pages.pages.begin(), pages.pages.end(),
                                  [](const Page& page) { return !page.placements.empty(); });
  REQUIRE(drawn != pages.pages.end());
  CHECK(!drawn->gaps.empty());
  CHECK(pages.pages.size() == 2);  // and one for the instructions
  CHECK(pages.plain_grid_pages == 2);
}

/// A card: a bar above a narrower strip, as wide and high as a common pouch's shield.
Drawing card() {
  Drawing drawing{.name = "card", .title = "Card", .extent = {-14, -4, 218, 279}};
  drawing.add(ruled(ink::polyline(
      {{15, 275}, {189, 275}, {189, 125}, {214, 125}, {214, 0}, {-10, 0}, {-10, 125}, {15, 125}},
      ink::Ends::closed)));
  return ink::from_top_left(drawing);
}

TEST_CASE("the inside of an outline is sliced at its corners") {
  const EvenMeasure measure;
  const auto enclosed = paper::ink_of(card().items, measure).enclosed;
  REQUIRE(enclosed.size() == 2);
  CHECK(enclosed[0] == Box{4, 4, 228, 129});
  CHECK(enclosed[1] == Box{29, 129, 203, 279});
}

TEST_CASE("no check square stands inside a card that is traced, whatever the paper and the units") {
  const EvenMeasure measure;
  for (const Format& format : formats()) {
    for (const base::Unit unit : {base::Unit::mm, base::Unit::inch}) {
      CAPTURE(format.name);
      const base::Voice words(own_words(), base::default_style(unit));
      paper::Document document{"mask", "Cards", {card()}};
      document.outlines = paper::Outlines::traced;
      base::Diagnostics diagnostics;
      const Pages pages = paper::paged(document, setup_of(format), words, measure, diagnostics);
      REQUIRE_FALSE(pages.pages.empty());
      for (const Page& page : pages.pages) {
        for (const Placement& placement : page.placements) {
          for (const Box& part : {Box{4, 4, 228, 129}, Box{29, 129, 203, 279}}) {
            const Box& window = placement.window;
            const Box seen{std::max(part.x0, window.x0), std::max(part.y0, window.y0),
                           std::min(part.x1, window.x1), std::min(part.y1, window.y1)};
            if (seen.x0 >= seen.x1 || seen.y0 >= seen.y1) continue;
            const Point a = paper::on_paper(placement, pages.scale, {seen.x0, seen.y0});
            const Point b = paper::on_paper(placement, pages.scale, {seen.x1, seen.y1});
            const Box box{std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x),
                          std::max(a.y, b.y)};
            CHECK_FALSE(ink::overlap(box, page.check_square));
          }
        }
      }
    }
  }
}

}  // namespace
}  // namespace pouchwright::test

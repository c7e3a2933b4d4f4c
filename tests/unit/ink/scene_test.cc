#include "ink/scene.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace pouchwright::ink;

namespace {

/// Every letter half an em wide; 0.8 em above the baseline and 0.2 below.
class HalfEm final : public TextMeasure {
 public:
  [[nodiscard]] TextSize measure(std::string_view words, double size, Weight) const override {
    return {static_cast<double>(words.size()) * size / 2, 0.8 * size, 0.2 * size};
  }
};

Text text_at(Point at, Anchor anchor, int turn_deg) {
  return {.group = Group::label,
          .words = "abcd",
          .at = at,
          .size = 10,
          .anchor = anchor,
          .weight = Weight::regular,
          .turn_deg = turn_deg};
}

void check_same(const Box& a, const Box& b) {
  CHECK(a.x0 == doctest::Approx(b.x0));
  CHECK(a.y0 == doctest::Approx(b.y0));
  CHECK(a.x1 == doctest::Approx(b.x1));
  CHECK(a.y1 == doctest::Approx(b.y1));
}

}  // namespace

TEST_CASE("dashes follow the line types of ISO 128-20") {
  // ISO 128-20:1996, tables 1 and 3 (from memory): line elements in line widths d: dot at most
  // 0.5 d, gap 3 d, dash 12 d, long dash 24 d; types 01, 02, 04, 05, 07.
  CHECK(dashes_of(LinePattern::continuous, 0.5).empty());
  CHECK(dashes_of(LinePattern::dashed, 0.5) == std::vector<double>{6, 1.5});
  CHECK(dashes_of(LinePattern::long_dash_dot, 0.5) == std::vector<double>{12, 1.5, 0.25, 1.5});
  CHECK(dashes_of(LinePattern::long_dash_double_dot, 1.0) ==
        std::vector<double>{24, 3, 0.5, 3, 0.5, 3});
  CHECK(dashes_of(LinePattern::dotted, 1.0) == std::vector<double>{0.5, 3});
}

TEST_CASE("specks of a tint are no line type") {
  // ISO 128-20 (from memory): the elements of a line stand 3 d apart; these further, so that none
  // is read as a line. The shares are common practice, no source.
  for (const LinePattern pattern : {LinePattern::specks, LinePattern::far_specks}) {
    const std::vector<double> dashes = dashes_of(pattern, 1.0);
    REQUIRE(dashes.size() == 2);
    CHECK(dashes[0] <= 1);
    CHECK(dashes[0] / (dashes[0] + dashes[1]) < 0.17);
    CHECK(dashes[1] > 4);
  }
}

TEST_CASE("every group has its own id, as the design lists them") {
  const std::vector<std::string_view> expected = {
      "cut", "fold", "seam", "seal", "notch", "grain", "label", "registration", "scale-check"};
  std::vector<std::string_view> ids;
  ids.reserve(kGroups.size());
  for (const Group group : kGroups) ids.push_back(id_of(group));
  CHECK(ids == expected);
}

TEST_CASE("a rectangle is closed and runs clockwise as seen from its top left corner") {
  const Path path = rectangle({1, 2, 5, 8});
  REQUIRE(path.size() == 5);
  CHECK(path[0] == Step{Verb::move, {1, 2}, {}, {}});
  CHECK(path[1].to == Point{5, 2});
  CHECK(path[2].to == Point{5, 8});
  CHECK(path[3].to == Point{1, 8});
  CHECK(path[4] == Step{Verb::close, {1, 2}, {}, {}});
}

TEST_CASE("an open polyline ends at its last corner") {
  const Path path = polyline({{0, 0}, {3, 0}, {3, 4}}, Ends::open);
  REQUIRE(path.size() == 3);
  CHECK(path.back() == Step{Verb::line, {3, 4}, {}, {}});
  CHECK(polyline({}, Ends::closed).empty());
}

TEST_CASE("a circle of four arcs stays within 0.03 % of its radius") {
  // x² + y² = r², along each cubic by its definition.
  const Path path = circle({10, -5}, 100);
  REQUIRE(path.size() == 6);
  double worst = 0;
  Point from = path[0].to;
  for (std::size_t k = 1; k <= 4; ++k) {
    for (double t = 0; t <= 1; t += 0.01) {
      const double u = 1 - t;
      const auto mix = [&](double a, double b, double c, double d) {
        return u * u * u * a + 3 * u * u * t * b + 3 * u * t * t * c + t * t * t * d;
      };
      const double x = mix(from.x, path[k].c1.x, path[k].c2.x, path[k].to.x) - 10;
      const double y = mix(from.y, path[k].c1.y, path[k].c2.y, path[k].to.y) + 5;
      worst = std::max(worst, std::abs(std::hypot(x, y) - 100));
    }
    from = path[k].to;
  }
  CHECK(worst < 0.03);
  CHECK(worst > 0.001);  // a cubic is no circle: were it exact, this case would measure nothing
  check_same(bounds(path), {-90, -105, 110, 95});
}

TEST_CASE("hatch lines keep their spacing, their slope and their box") {
  const Box box{3, 4, 23, 34};
  const Path path = hatch(box, 2);
  REQUIRE(path.size() % 2 == 0);
  REQUIRE(path.size() >= 4);
  for (std::size_t k = 0; k < path.size(); k += 2) {
    const Point a = path[k].to;
    const Point b = path[k + 1].to;
    CHECK(a.x + a.y == doctest::Approx(b.x + b.y));
    for (const Point p : {a, b}) {
      CHECK(p.x >= box.x0 - 1e-9);
      CHECK(p.x <= box.x1 + 1e-9);
      CHECK(p.y >= box.y0 - 1e-9);
      CHECK(p.y <= box.y1 + 1e-9);
    }
    if (k > 0) {
      const Point before = path[k - 2].to;
      const double across = (a.x + a.y - before.x - before.y) / std::sqrt(2.0);
      CHECK(across == doctest::Approx(2));
    }
  }
}

TEST_CASE("hatches of neighbouring boxes run on") {
  const Path left = hatch({0, 0, 10, 10}, 3);
  const Path right = hatch({10, 0, 20, 10}, 3);
  int met = 0;
  for (const Step& a : left) {
    if (std::abs(a.to.x - 10) > 1e-9 || a.to.y > 10 - 1e-9) continue;
    for (const Step& b : right) met += std::hypot(a.to.x - b.to.x, a.to.y - b.to.y) < 1e-9;
  }
  CHECK(met >= 2);
}

TEST_CASE("a hatch without spacing has no lines") { CHECK(hatch({0, 0, 10, 10}, 0).empty()); }

TEST_CASE("boxes that only touch do not overlap") {
  CHECK(overlap({0, 0, 2, 2}, {1, 1, 3, 3}));
  CHECK_FALSE(overlap({0, 0, 2, 2}, {2, 0, 4, 2}));
  CHECK(united({0, 0, 1, 1}, {3, -2, 4, 0}) == Box{0, -2, 4, 1});
  CHECK(grown({0, 0, 2, 2}, 1) == Box{-1, -1, 3, 3});
}

TEST_CASE("a text's box follows its anchor and its turn") {
  const HalfEm measure;  // "abcd" at 10 is 20 wide, 8 above, 2 below
  check_same(bounds(text_at({100, 50}, Anchor::start, 0), measure), {100, 42, 120, 52});
  check_same(bounds(text_at({100, 50}, Anchor::middle, 0), measure), {90, 42, 110, 52});
  check_same(bounds(text_at({100, 50}, Anchor::end, 0), measure), {80, 42, 100, 52});
  // Clockwise by a quarter the words run down the page and their tops look right.
  check_same(bounds(text_at({100, 50}, Anchor::start, 90), measure), {98, 50, 108, 70});
  check_same(bounds(text_at({100, 50}, Anchor::start, 180), measure), {80, 48, 100, 58});
  check_same(bounds(text_at({100, 50}, Anchor::start, 270), measure), {92, 30, 102, 50});
}

TEST_CASE("an item's box holds half its line width") {
  const HalfEm measure;
  Shape shape{.group = Group::cut,
              .path = rectangle({0, 0, 10, 10}),
              .stroke = Stroke{LinePattern::continuous, 0.7},
              .fill = Fill::none,
              .name = {}};
  check_same(bounds(Item(shape), measure), {-0.35, -0.35, 10.35, 10.35});
  shape.stroke.reset();
  check_same(bounds(Item(shape), measure), {0, 0, 10, 10});
  shape.path.clear();
  check_same(bounds(Item(shape), measure), {0, 0, 0, 0});
}

TEST_CASE("words break at blanks, and a long word stands alone") {
  const HalfEm measure;  // at size 2 a letter is 1 mm wide
  using Lines = std::vector<std::string>;
  const auto broken = [&](std::string_view words) {
    return broken_into_lines(words, 9, 2, Weight::regular, measure);
  };
  CHECK(broken("fold the card once") == Lines{"fold the", "card once"});
  CHECK(broken("a needlessly b") == Lines{"a", "needlessly", "b"});
  CHECK(broken("  two   blanks ") == Lines{"two", "blanks"});
  CHECK(broken("").empty());
}

TEST_CASE("a number stays with its unit, and about with its number") {
  const HalfEm measure;  // at size 2 a letter is 1 mm wide
  using Lines = std::vector<std::string>;
  const auto broken = [&](std::string_view words) {
    return broken_into_lines(words, 9, 2, Weight::regular, measure);
  };
  CHECK(broken("press at 16 mm.") == Lines{"press at", "16 mm."});
  CHECK(broken("a strip 7 in wide") == Lines{"a strip", "7 in wide"});
  CHECK(broken("sew it in") == Lines{"sew it in"});
  CHECK(broken("go to it in a line") == Lines{"go to it", "in a line"});
}

TEST_CASE("cut lines inside come before those around them, and only the groups asked for stay") {
  Drawing drawing{.name = "card"};
  const auto cut = [](const Box& box, const char* name) {
    return Shape{.group = Group::cut, .path = rectangle(box), .stroke = Stroke{}, .name = name};
  };
  drawing.add(cut({0, 0, 100, 100}, "outline"));
  drawing.add(Shape{
      .group = Group::fold, .path = line({0, 50}, {100, 50}), .stroke = Stroke{}, .name = "fold"});
  drawing.add(cut({40, 40, 60, 60}, "window"));
  drawing.add(Text{.group = Group::label, .words = "x", .at = {1, 1}, .size = 4});
  const Drawing lines = in_cutting_order(only(drawing, {Group::cut, Group::fold}));
  REQUIRE(lines.items.size() == 3);
  CHECK(std::get<Shape>(lines.items[0]).name == "window");
  CHECK(std::get<Shape>(lines.items[1]).name == "fold");
  CHECK(std::get<Shape>(lines.items[2]).name == "outline");
}

TEST_CASE("a drawing moved to its top left corner keeps its size and its shape") {
  Drawing drawing{.name = "card", .extent = {-4, -6, 10, 20}};
  drawing.add(Shape{.group = Group::cut, .path = rectangle({0, 0, 5, 5}), .stroke = Stroke{}});
  drawing.add(Text{.group = Group::label, .words = "x", .at = {1, 2}, .size = 4});
  const Drawing moved = from_top_left(drawing);
  CHECK(moved.extent == Box{0, 0, 14, 26});
  CHECK(bounds(std::get<Shape>(moved.items[0]).path) == Box{4, 6, 9, 11});
  CHECK(std::get<Text>(moved.items[1]).at == Point{5, 8});
}

#include "draw/full_size/nested.h"

#include <set>

#include "unit/draw/full_size_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

/// Pouches for 1 to `count` liners of this thickness in one column.
std::vector<pouch::Pouch> sized_for(const pouch::Construction& construction, int count,
                                    Length thickness) {
  std::vector<pouch::Pouch> made;
  for (int liners = 1; liners <= count; ++liners) {
    pouch::Request request = hand_worked(construction);
    for (const char* open : {"width", "depth", "flap", "gusset"}) request.sizes.erase(open);
    request.liners.emplace();
    request.liners->count = base::Placed<int>{liners, {}};
    request.liners->columns = base::Placed<int>{1, {}};
    request.liners->width.value = mm(80);
    request.liners->length.value = mm(120);
    request.liners->thickness.value = thickness;
    made.push_back(derived(request));
  }
  return made;
}

Drawing nested(const std::vector<pouch::Pouch>& pouches) {
  std::vector<NestedSize> sizes;
  sizes.reserve(pouches.size());
  int liners = 0;
  for (const pouch::Pouch& pouch : pouches) sizes.push_back({++liners, &pouch});
  const EvenMeasure measure;
  return nested_template(sizes, own_words(), measure);
}

std::vector<const Shape*> named(const Drawing& sheet, Group group, std::string_view name) {
  std::vector<const Shape*> found;
  for (const Shape* shape : shapes_of(sheet, group)) {
    if (shape->name == name) found.push_back(shape);
  }
  return found;
}

}  // namespace

TEST_CASE("every size keeps its true outline about the common lip and centre line") {
  const auto pouches = sized_for(foldover(), 3, mm(9));
  const Drawing sheet = nested(pouches);
  for (std::size_t i = 0; i < pouches.size(); ++i) {
    const double half = pouches[i].sizes.cut_width.in_mm() / 2;
    const double length = pouches[i].sizes.cut_length.in_mm();
    const std::string name = std::to_string(i + 1) + (i == 0 ? " liner" : " liners");
    CAPTURE(name);
    const auto sides = named(sheet, Group::cut, "side: " + name);
    REQUIRE(sides.size() == 2);
    // The start lies at 0, at the lower edge.
    check_same(bounds(sides[0]->path), {-half, -length, -half, 0});
    check_same(bounds(sides[1]->path), {half, -length, half, 0});
    const auto ends = named(sheet, Group::cut, "end: " + name);
    REQUIRE(ends.size() == 1);
    check_same(bounds(ends[0]->path), {-half, -length, half, -length});
    CHECK(named(sheet, Group::fold, "fold: " + name).size() == 2);
  }
}

TEST_CASE("no two sizes share the pattern and the width of their lines") {
  const auto pouches = sized_for(foldover(), static_cast<int>(kMostNested), mm(9));
  const Drawing sheet = nested(pouches);
  std::set<std::pair<int, double>> seen;
  for (std::size_t i = 1; i <= kMostNested; ++i) {
    const std::string name = std::to_string(i) + (i == 1 ? " liner" : " liners");
    const auto end = named(sheet, Group::cut, "end: " + name);
    REQUIRE(end.size() == 1);
    const Stroke stroke = *end[0]->stroke;
    CHECK(seen.emplace(static_cast<int>(stroke.pattern), stroke.width).second);
  }
}

TEST_CASE("words on nested sizes are legible, near together and far apart") {
  for (const auto& construction : {foldover(), gusset()}) {
    for (const Length thickness : {mm(1), mm(3), mm(9), mm(25)}) {
      CAPTURE(thickness.in_mm());
      check_legible(nested(sized_for(construction, 4, thickness)));
    }
  }
  check_legible(nested(sized_for(gusset(), static_cast<int>(kMostNested), mm(3))));
}

TEST_CASE("every line says whose it is") {
  const std::string words = all_words(nested(sized_for(foldover(), 3, mm(9))));
  for (const char* label :
       {"1 liner: end", "2 liners: end", "3 liners: end", "1 liner: Bottom fold: front / back",
        "2 liners: Flap fold: back / flap", "3 liners: Bottom fold: front / back"}) {
    CAPTURE(label);
    CHECK(words.find(label) != std::string::npos);
  }
}

TEST_CASE("sizes with one panel are one line, named after both") {
  auto pouches = sized_for(foldover(), 2, mm(9));
  pouches[1] = pouches[0];
  const Drawing sheet = nested(pouches);
  CHECK(named(sheet, Group::cut, "end: 1 and 2 liners").size() == 1);
  CHECK(all_words(sheet).find("1 and 2 liners: end") != std::string::npos);
}

TEST_CASE("sides that lie on each other are drawn once, as long as the longest") {
  std::vector<pouch::Pouch> pouches;
  for (const std::int64_t depth : {150, 170}) {
    pouches.push_back(derived(sized(mm(190), mm(depth), mm(60))));
  }
  const Drawing sheet = nested(pouches);
  CHECK(named(sheet, Group::cut, "side: 1 liner").empty());
  const auto sides = named(sheet, Group::cut, "side: 2 liners");
  REQUIRE(sides.size() == 2);
  CHECK(bounds(sides[0]->path).height() == doctest::Approx(160 + 170 + 60));
  CHECK(all_words(sheet).find("1 and 2 liners") != std::string::npos);
}

TEST_CASE("counts are listed as a person says them") {
  const base::Words& words = own_words();
  CHECK(liners_named({1}, words) == "1 liner");
  CHECK(liners_named({4}, words) == "4 liners");
  CHECK(liners_named({1, 2}, words) == "1 and 2 liners");
  CHECK(liners_named({1, 2, 5}, words) == "1, 2 and 5 liners");
}

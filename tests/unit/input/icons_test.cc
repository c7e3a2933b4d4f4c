// The small pictures of shared/icons.toml.
#include "input/icons.h"

#include <algorithm>

#include "draw/sheets/scenes.h"
#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using test::Lines;
using test::told;

namespace {

Lines faults(const std::string& text) {
  base::Diagnostics diagnostics;
  (void)read_icons({"icons.toml", text}, {"pin"}, diagnostics);
  return told(diagnostics, "icons.toml");
}

ink::Icons own() {
  base::Diagnostics diagnostics;
  ink::Icons icons =
      read_icons(test::source_file("shared/icons.toml"), draw::icon_names(), diagnostics);
  CHECK(told(diagnostics) == Lines{});
  return icons;
}

}  // namespace

TEST_CASE("every icon has a name of its own, and the file a picture for each and no other") {
  const ink::Icons icons = own();
  for (int i = 0; i <= static_cast<int>(ink::Icon::turn); ++i) {
    CAPTURE(i);
    const auto of_it = [&](const auto& named) { return static_cast<int>(named.first) == i; };
    CHECK(std::count_if(ink::kIconNames.begin(), ink::kIconNames.end(), of_it) == 1);
  }
  for (const auto& [icon, name] : ink::kIconNames) {
    CAPTURE(name);
    REQUIRE(icons.contains(name));
    CHECK_FALSE(icons.find(name)->second.empty());
    // Within its square, half the line's width apart.
    for (const ink::Shape& shape : ink::icon(icons, icon, {10, 20, 20, 30})) {
      const ink::Box box = ink::bounds(shape.path);
      CHECK(box.x0 >= 10);
      CHECK(box.y0 >= 20);
      CHECK(box.x1 <= 20.6);
      CHECK(box.y1 <= 30);
    }
  }
  // read_icons() would have told of one that no name asks for.
  CHECK(icons.size() == draw::icon_names().size());
}

TEST_CASE("every scene is drawn within its room") {
  using namespace draw;
  const ink::Icons icons = own();
  for (const Scene scene :
       {Scene::hold, Scene::no_shaking, Scene::rinse, Scene::wash, Scene::dry}) {
    const Frame picture = scene_picture(icons, scene);
    CHECK(picture.items.size() >= 5);
    for (const ink::Item& item : picture.items) {
      const ink::Box box = ink::bounds(std::get<ink::Shape>(item).path);
      CHECK(box.x0 >= 0);
      CHECK(box.y0 >= 0);
      CHECK(box.x1 <= kSceneWidth);
      CHECK(box.y1 <= kSceneHeight);
    }
  }
}

TEST_CASE("an icon keeps its lines' widths at every size") {
  const ink::Icons icons = own();
  for (const double size : {5.0, 10.0}) {
    const auto shapes = ink::icon(icons, ink::Icon::clip, {0, 0, size, size});
    REQUIRE(shapes.size() == 3);
    CHECK(shapes[0].stroke == ink::Stroke{ink::LinePattern::continuous, 0.25});
    CHECK(ink::bounds(shapes[0].path).width() == doctest::Approx(0.92 * size));
    CHECK_FALSE(shapes[1].stroke);
    CHECK(shapes[1].fill == ink::Fill::solid);
  }
}

TEST_CASE("film is as grey in icons as in pictures of the pouch") {
  const ink::Icons icons = own();
  for (const ink::Icon icon : {ink::Icon::film_up, ink::Icon::hot_film}) {
    const auto shapes = ink::icon(icons, icon, {0, 0, 10, 10});
    CHECK(std::any_of(shapes.begin(), shapes.end(),
                      [](const ink::Shape& one) { return one.fill == ink::Fill::grey; }));
  }
}

TEST_CASE("a hand is white, and one from the right is the mirror image of one from the left") {
  const ink::Icons icons = own();
  const auto left = ink::icon(icons, ink::Icon::hand, {0, 0, 10, 10}, ink::Facing::right);
  const auto right = ink::icon(icons, ink::Icon::hand, {0, 0, 10, 10}, ink::Facing::left);
  REQUIRE(left.size() == right.size());
  for (std::size_t i = 0; i < left.size(); ++i) {
    CHECK(left[i].fill == ink::Fill::paper);
    CHECK(left[i].stroke);
    const ink::Box a = ink::bounds(left[i].path);
    const ink::Box b = ink::bounds(right[i].path);
    CHECK(a.x0 == doctest::Approx(10 - b.x1));
    CHECK(a.y0 == doctest::Approx(b.y0));
    CHECK(a.y1 == doctest::Approx(b.y1));
  }
  // The fingers come to the side that it faces.
  CHECK(ink::bounds(left.front().path).x1 > 9);
}

TEST_CASE("what must not be done stands within a ring with a stroke across") {
  const ink::Icons icons = own();
  const auto shapes = ink::forbidden(icons, ink::Icon::pin, {0, 0, 10, 10});
  const auto pin = ink::icon(icons, ink::Icon::pin, {0, 0, 10, 10});
  REQUIRE(shapes.size() == pin.size() + 2);
  const ink::Box ring = ink::bounds(shapes[pin.size()].path);
  for (std::size_t i = 0; i < pin.size(); ++i) {
    const ink::Box box = ink::bounds(shapes[i].path);
    CHECK(ink::united(box, ring) == ring);
  }
}

TEST_CASE("a stroke has path data, and a line's width unless it is filled") {
  CHECK(faults("pin = [{ d = \"M0 0H1\", width = 0.5, pattern = \"dotted\" }]") == Lines{});
  CHECK(faults("pin = [{ d = \"M0 0H1V1Z\", fill = true }]") == Lines{});
  CHECK(faults("pin = [{ d = \"M0 0 Q1 2 3 4\", width = 0.5 }]") ==
        Lines{"1:14 not-a-path key=pin.d text=M0 0 Q1 2 3 4"});
}

TEST_CASE("a picture that is missing, or that nobody draws, is told") {
  CHECK(faults("pin = []\nneedle = []").size() == 1);
  CHECK(faults("").size() == 1);
}

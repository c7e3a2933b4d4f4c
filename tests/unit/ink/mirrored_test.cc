// Sheets that are read from the right, worked by hand on one that is 100 mm wide.
#include "ink/mirrored.h"

#include <doctest/doctest.h>

#include <memory>

#include "ink/labels.h"
#include "unit/draw/full_size_support.h"

using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

Drawing sheet(std::vector<Item> items) {
  Drawing made{.name = "steps", .title = "", .extent = {0, 0, 100, 50}, .items = {}};
  for (Item& item : items) made.add(std::move(item));
  return made;
}

Shape box_at(double x, FigureWords figure = {}, std::string name = "") {
  return {.group = Group::label,
          .path = rectangle({x, 0, x + 10, 5}),
          .stroke = {},
          .fill = Fill::grey,
          .name = std::move(name),
          .figure = std::move(figure)};
}

double left_of(const Item& item) { return bounds(std::get<Shape>(item).path).x0; }

}  // namespace

TEST_CASE("lines and boxes change sides") {
  const Drawing turned = mirrored(sheet({box_at(5), box_at(60)}), kMeasure);
  CHECK(left_of(turned.items[0]) == doctest::Approx(85));
  CHECK(left_of(turned.items[1]) == doctest::Approx(30));
}

TEST_CASE("a figure changes its place and is not turned over") {
  const auto figure = std::make_shared<const std::string>("a pouch");
  // From 10 to 40, with its smaller part on the left: so it is from 60 to 90.
  const Drawing turned =
      mirrored(sheet({box_at(10, figure), box_at(30, figure), box_at(0)}), kMeasure);
  CHECK(left_of(turned.items[0]) == doctest::Approx(60));
  CHECK(left_of(turned.items[1]) == doctest::Approx(80));
  CHECK(left_of(turned.items[2]) == doctest::Approx(90));
}

TEST_CASE("icons side by side change places, each as it is") {
  const Drawing turned = mirrored(
      sheet({box_at(0, {}, "icon"), box_at(5, {}, "icon"), box_at(40, {}, "icon")}), kMeasure);
  CHECK(left_of(turned.items[0]) == doctest::Approx(85));
  CHECK(left_of(turned.items[1]) == doctest::Approx(90));
  CHECK(left_of(turned.items[2]) == doctest::Approx(50));
}

TEST_CASE("words end where they began, and are marked where their letters ask for it") {
  const Text words{.words = "ab", .at = {10, 20}, .size = 4};
  const double width = bounds(words, kMeasure).width();
  Text arabic = words;
  arabic.words = "قص";
  const Drawing turned = mirrored(sheet({words, arabic}), kMeasure);
  CHECK(std::get<Text>(turned.items[0]).words == "ab");
  CHECK(bounds(std::get<Text>(turned.items[0]), kMeasure).x1 == doctest::Approx(90));
  CHECK(bounds(std::get<Text>(turned.items[0]), kMeasure).width() == doctest::Approx(width));
  CHECK(std::get<Text>(turned.items[1]).words == "\u200Fقص");
}

#include "ink/labels.h"

#include "unit/draw/full_size_support.h"

using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

Text word(std::string words, double size) {
  return {.group = Group::label,
          .words = std::move(words),
          .at = {},
          .size = size,
          .anchor = Anchor::start,
          .weight = Weight::regular,
          .turn_deg = 0};
}

}  // namespace

TEST_CASE("text is moved so that its box is where it is wanted") {
  Text text = word("abc", 10);
  for (const int turn : {0, 90, 180, 270}) {
    text.turn_deg = turn;
    const Box centred = bounds(centred_on(text, {50, 60}, kMeasure), kMeasure);
    CHECK((centred.x0 + centred.x1) / 2 == doctest::Approx(50));
    CHECK((centred.y0 + centred.y1) / 2 == doctest::Approx(60));
    const Box cornered = bounds(with_top_left(text, {5, 6}, kMeasure), kMeasure);
    CHECK(cornered.x0 == doctest::Approx(5));
    CHECK(cornered.y0 == doctest::Approx(6));
  }
}

TEST_CASE("a label takes the first place that is free") {
  LabelPlacer placer(kMeasure);
  placer.take({0, 0, 20, 20});
  const auto placed = placer.put(word("abc", 4), {{10, 10}, {30, 10}});
  REQUIRE(placed.has_value());
  CHECK(bounds(*placed, kMeasure).x0 == doctest::Approx(30));
  CHECK(placed->size == doctest::Approx(4));
}

TEST_CASE("a label shrinks to 9 pt before it is given up") {
  LabelPlacer placer(kMeasure);
  // Free up to x = 6: three characters of 4 mm take 7.2 mm, of 9 pt 5.72 mm.
  placer.take({6, 0, 100, 100});
  const auto placed = placer.put(word("abc", 4), {{0, 10}});
  REQUIRE(placed.has_value());
  CHECK(placed->size == doctest::Approx(9 * 25.4 / 72));
  CHECK_FALSE(placer.put(word("abc", 4), {{0, 10}}).has_value());
}

TEST_CASE("the first free place is the highest, then the leftmost") {
  LabelPlacer placer(kMeasure);
  placer.take({0, 0, 60, 10});
  placer.take({0, 10, 30, 20});
  const auto beside = placer.first_free({0, 0, 100, 100}, 40, 5);
  REQUIRE(beside.has_value());
  CHECK(*beside == Point{60, 0});
  const auto below = placer.first_free({0, 0, 70, 100}, 40, 5);
  REQUIRE(below.has_value());
  CHECK(*below == Point{30, 10});
  CHECK_FALSE(placer.first_free({0, 0, 70, 12}, 40, 5).has_value());
}

TEST_CASE("a line keeps words off along its whole length") {
  LabelPlacer placer(kMeasure);
  placer.take(line({0, 50}, {100, 50}), 0.5);
  CHECK(placer.is_free({40, 40, 60, 48.9}));
  CHECK_FALSE(placer.is_free({40, 40, 60, 49.2}));
  placer.take(rectangle({200, 0, 300, 100}), 0.5);
  CHECK(placer.is_free({220, 20, 280, 80}));
  CHECK_FALSE(placer.is_free({190, 20, 210, 80}));
  CHECK_FALSE(placer.is_free({190, 40, 210, 45}));
}

TEST_CASE("a block breaks its lines, indents and keeps together what belongs together") {
  const Block block{{.words = "one two three " + kept_together("7 1/2 in"), .size = 4}};
  // 0.6 em a character: 20 characters of 4 mm take 48 mm.
  const Frame placed = laid_out(block, 46, 1.0, kMeasure);
  REQUIRE(placed.items.size() == 2);
  CHECK(std::get<Text>(placed.items[0]).words == "one two three");
  CHECK(std::get<Text>(placed.items[1]).words == "7 1/2 in");
  CHECK(placed.box.y0 == doctest::Approx(0));
  for (const Item& item : placed.items) CHECK(lies_in(bounds(item, kMeasure), placed.box));
}

TEST_CASE("a block is never scaled below 9 pt") {
  const Frame placed = laid_out({{.words = "abc", .size = 3}}, 50, 0.5, kMeasure);
  CHECK(std::get<Text>(placed.items.front()).size == doctest::Approx(9 * 25.4 / 72));
}

TEST_CASE("a block goes where it has room, else beside") {
  LabelPlacer placer(kMeasure);
  const Block block{{.words = "abcdefghijk", .size = 4}};  // 26.4 x 4.8 mm, scaled 21.6 mm wide
  const std::vector<Box> regions = {{0, 0, 20, 20}, {0, 30, 40, 40}};
  const Box beside{100, 0, 200, 1000};
  const auto first = placer.put(block, regions, beside);
  REQUIRE(first.has_value());
  CHECK(first->box.x0 == doctest::Approx(0));
  CHECK(first->box.y0 == doctest::Approx(30));
  const auto second = placer.put(block, regions, beside);
  REQUIRE(second.has_value());
  CHECK(second->box.x0 == doctest::Approx(100));
  const auto third = placer.put(block, regions, beside);
  REQUIRE(third.has_value());
  CHECK(third->box.y0 >= second->box.y1 + kBlockGap - 1e-9);
  CHECK_FALSE(placer.put(block, regions, std::nullopt).has_value());
}

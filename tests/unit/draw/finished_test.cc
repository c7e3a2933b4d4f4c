#include "draw/views/finished.h"

#include <algorithm>

#include "pouch/judge/content.h"
#include "unit/draw/fold_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

bool says(const Drawing& drawing, std::string_view words) {
  const auto texts = texts_of(drawing);
  return std::any_of(texts.begin(), texts.end(),
                     [&](const Text* text) { return text->words == words; });
}

}  // namespace

TEST_CASE("views of the finished pouch fit their room, and their sizes can be read") {
  const EvenMeasure measure;
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    for (const Point room : {Point{90, 70}, Point{60, 90}}) {
      for (const auto& view : {closed_view, open_view, filled_view}) {
        for (const bool sizes : {false, true}) {
          const Drawing drawing = view(pouch, {room, sizes}, own_words(), measure);
          INFO(drawing.name);
          CHECK(drawing.extent.width() <= room.x + 1e-6);
          CHECK(drawing.extent.height() <= room.y + 1e-6);
          CHECK(drawing.extent.x0 == 0);
          check_legible(drawing);
        }
      }
    }
  }
}

TEST_CASE("the closed view says width, depth and flap; the filled one its level") {
  // 190 wide, 150 deep, a flap of 70; the hand-worked pouch holds water up to its lip at
  // 140, and is filled up to 5 below (kBelowWaterLine).
  const EvenMeasure measure;
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const FinishedLook look{{120, 90}, true};
  const Drawing closed = closed_view(pouch, look, own_words(), measure);
  for (const char* size : {"190 mm", "150 mm", "70 mm"}) {
    CHECK(says(closed, std::string(size).replace(std::string(size).find(' '), 1, "\u00a0")));
  }
  CHECK(texts_of(closed_view(pouch, {{120, 90}, false}, own_words(), measure)).empty());
  const Drawing filled = filled_view(pouch, look, own_words(), measure);
  CHECK(says(filled, "135\u00a0mm"));
  CHECK(named_shapes(filled, "water").size() == 1);
}

TEST_CASE("the open view shows the liners of a job that has some, and the film in any case") {
  const EvenMeasure measure;
  for (const pouch::Construction& construction : {foldover(), gusset()}) {
    pouch::Request request = hand_worked(construction);
    const auto open = [&] {
      const Drawing drawing = open_view(derived(request), {}, own_words(), measure);
      CHECK_FALSE(shapes_beginning(drawing, "seen film: ").empty());
      return drawing;
    };
    CHECK(shapes_beginning(open(), "seen liner: ").empty());
    request.liners.emplace();
    request.liners->count = base::Placed<int>{2, {}};
    request.liners->width.value = mm(80);
    request.liners->length.value = mm(120);
    request.liners->thickness.value = mm(7);
    REQUIRE(pouch::packed(derived(request)));
    CHECK_FALSE(shapes_beginning(open(), "seen liner: ").empty());
  }
}

TEST_CASE("a shut roll is drawn in few shapes, without what lies inside it") {
  const EvenMeasure measure;
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const Drawing closed = closed_view(derived(one.request), {}, own_words(), measure);
    std::size_t steps = 0;
    for (const Item& item : closed.items) {
      if (const auto* shape = std::get_if<Shape>(&item)) steps += shape->path.size();
    }
    // A step is a dozen letters of an SVG file: 100 kB at the most.
    CHECK(closed.items.size() < 600);
    CHECK(steps < 8000);
  }
}

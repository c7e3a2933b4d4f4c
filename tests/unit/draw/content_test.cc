#include "draw/sheets/content.h"

#include "unit/draw/full_size_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

pouch::Pouch with_liners(pouch::Construction construction, int count, int columns,
                         Length thickness) {
  pouch::Request request = hand_worked(std::move(construction));
  for (const char* open : {"width", "depth", "flap", "gusset"}) request.sizes.erase(open);
  request.title = "Carry pouch";
  request.laminate.width = mm(5000);
  request.liners.emplace();
  request.liners->count = base::Placed<int>{count, {}};
  request.liners->columns = base::Placed<int>{columns, {}};
  request.liners->width.value = mm(80);
  request.liners->length.value = mm(120);
  request.liners->thickness.value = thickness;
  return derived(request);
}

Drawing drawn(const pouch::Pouch& pouch, Point room = {190, 120}) {
  const EvenMeasure measure;
  const auto pictures = content_picture(pouch, own_words(), measure, room);
  REQUIRE(pictures.size() == 1);
  return pictures.front();
}

std::vector<Box> liners_of(const Drawing& sheet, std::string_view name) {
  std::vector<Box> boxes;
  for (const Shape* shape : shapes_of(sheet, Group::grain)) {
    if (shape->name == name) boxes.push_back(bounds(shape->path));
  }
  return boxes;
}

}  // namespace

TEST_CASE("without liners there is nothing to draw") {
  const EvenMeasure measure;
  CHECK(
      content_picture(derived(hand_worked(foldover())), own_words(), measure, {190, 120}).empty());
}

TEST_CASE("both views show the liners to one scale") {
  // Six in two columns: 160 x 120 x 27 mm.
  const Drawing sheet = drawn(with_liners(foldover(), 6, 2, mm(9)));
  const auto front = liners_of(sheet, "liners");
  const auto section = liners_of(sheet, "liner");
  REQUIRE(front.size() == 2);
  REQUIRE(section.size() == 3);
  const double scale = front[0].height() / 120;
  CHECK(front[0].width() == doctest::Approx(80 * scale));
  CHECK(section[0].height() == doctest::Approx(120 * scale));
  CHECK(section[2].x1 - section[0].x0 == doctest::Approx(27 * scale));
  CHECK(section[0].y1 == doctest::Approx(front[0].y1));
}

TEST_CASE("the liners lie inside the pouch and below its lip") {
  for (const auto& construction : {foldover(), gusset()}) {
    const Drawing sheet = drawn(with_liners(construction, 4, 2, mm(12)));
    Box pouch;
    double lip = 0;
    for (const Item& item : sheet.items) {
      const auto* shape = std::get_if<Shape>(&item);
      if (shape != nullptr && shape->name == "pouch") pouch = bounds(shape->path);
      if (shape != nullptr && shape->name == "content-lip") lip = bounds(shape->path).y0;
    }
    for (const Box& box : liners_of(sheet, "liners")) {
      CHECK(lies_in(box, pouch));
      CHECK(box.y0 > lip);
    }
  }
}

TEST_CASE("pictures of contents are legible and keep to their room") {
  pouch::Construction free = foldover();
  free.flap_law = pouch::FlapLaw::free;
  for (const auto& construction : {foldover(), gusset(), free}) {
    for (const int count : {1, 3, 12}) {
      for (const int columns : {1, 3}) {
        for (const Point room : {kLeastPictureRoom, Point{190, 120}, Point{190, 277}}) {
          CAPTURE(count);
          CAPTURE(columns);
          CAPTURE(room.x);
          const Drawing sheet = drawn(with_liners(construction, count, columns, mm(9)), room);
          check_legible(sheet);
          CHECK(sheet.extent.width() <= room.x + 1e-6);
          CHECK(sheet.extent.height() <= room.y + 1e-6);
        }
      }
    }
  }
}

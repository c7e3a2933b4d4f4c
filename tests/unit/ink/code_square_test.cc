// A code's picture. Source: ISO/IEC 18004 for its quiet zone.
#include "ink/code_square.h"

#include <doctest/doctest.h>

using namespace pouchwright::ink;

TEST_CASE("a code's picture has its quiet zone, and dark modules side by side are one rectangle") {
  const CodeSquare square{3, {true, true, false, false, false, false, true, false, true}};
  const Frame frame = code_frame(square, 0.5);
  CHECK(frame.box == Box{0, 0, (3 + 8) * 0.5, (3 + 8) * 0.5});
  REQUIRE(frame.items.size() == 1);
  const auto& shape = std::get<Shape>(frame.items.front());
  CHECK(shape.fill == Fill::solid);
  CHECK_FALSE(shape.stroke);
  Path expected = rectangle({2, 2, 3, 2.5});
  append(expected, rectangle({2, 3, 2.5, 3.5}));
  append(expected, rectangle({3, 3, 3.5, 3.5}));
  CHECK(shape.path == expected);
}

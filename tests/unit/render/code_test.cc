// Codes. Sources: ISO/IEC 18004 for sizes, capacities (table 7, from memory), finder and timing
// patterns; what they say is read back by another library in tests/output/job_code_test.py.
#include "render/code.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <string>

using namespace pouchwright;
using render::code_of;
using render::kLargestVersion;

namespace {

ink::CodeSquare made(const std::string& text, int largest = kLargestVersion) {
  const auto square = code_of(text, largest);
  REQUIRE(square);
  return *square;
}

/// A dark square of 7 with a light ring in it, and light around it.
bool has_finder(const ink::CodeSquare& square, int left, int top) {
  for (int y = -1; y <= 7; ++y) {
    for (int x = -1; x <= 7; ++x) {
      const int at_x = left + x;
      const int at_y = top + y;
      if (at_x < 0 || at_y < 0 || at_x >= square.modules || at_y >= square.modules) continue;
      const int from_middle = std::max(std::abs(x - 3), std::abs(y - 3));
      const bool dark = from_middle != 2 && from_middle != 4;
      if (square.is_dark(at_x, at_y) != dark) return false;
    }
  }
  return true;
}

}  // namespace

TEST_CASE("a code is as large as its text needs, and no larger") {
  // Bytes that a version holds at level M.
  struct Row {
    int version;
    std::size_t bytes;
  };
  for (const auto& [version, bytes] :
       {Row{1, 14}, Row{2, 26}, Row{10, 213}, Row{25, 997}, Row{30, 1370}, Row{40, 2331}}) {
    CAPTURE(version);
    CHECK(made(std::string(bytes, 'a'), version).modules == 17 + 4 * version);
    CHECK_FALSE(code_of(std::string(bytes + 1, 'a'), version));
  }
  CHECK_FALSE(code_of(std::string(65536, 'a'), kLargestVersion));
}

TEST_CASE("a code has its finders in three corners, and timing between them") {
  const ink::CodeSquare square = made("title = \"Carry pouch\"");
  const int far = square.modules - 7;
  CHECK(has_finder(square, 0, 0));
  CHECK(has_finder(square, far, 0));
  CHECK(has_finder(square, 0, far));
  CHECK_FALSE(has_finder(square, far, far));
  for (int i = 8; i < far - 1; ++i) {
    CHECK(square.is_dark(i, 6) == (i % 2 == 0));
    CHECK(square.is_dark(6, i) == (i % 2 == 0));
  }
}

TEST_CASE("the same text gives the same code, another one another") {
  CHECK(made("one") == made("one"));
  CHECK_FALSE(made("one") == made("two"));
}

TEST_CASE("what is not ASCII says how it is to be read, which takes room") {
  // 12 letters and one of two bytes would fill version 1 but for the mark.
  CHECK(made(std::string(14, 'a')).modules == 21);
  CHECK(made(std::string(12, 'a') + "ö").modules == 25);
}

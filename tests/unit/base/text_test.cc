#include "base/text.h"

#include <doctest/doctest.h>

#include <array>

using namespace pouchwright::base;

namespace {

using Letters = std::vector<std::string_view>;

}  // namespace

// The sequences are those of RFC 3629, section 7, byte for byte.
TEST_CASE("letters are code points of one to four bytes") {
  CHECK(letters("\x41\xE2\x89\xA2\xCE\x91\x2E") ==
        Letters{"\x41", "\xE2\x89\xA2", "\xCE\x91", "\x2E"});
  CHECK(letters("\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4") ==
        Letters{"\xED\x95\x9C", "\xEA\xB5\xAD", "\xEC\x96\xB4"});
  CHECK(letters("\xE6\x97\xA5\xE6\x9C\xAC\xE8\xAA\x9E") ==
        Letters{"\xE6\x97\xA5", "\xE6\x9C\xAC", "\xE8\xAA\x9E"});
  CHECK(letters("\xEF\xBB\xBF\xF0\xA3\x8E\xB4") == Letters{"\xEF\xBB\xBF", "\xF0\xA3\x8E\xB4"});
  CHECK(letters("").empty());
}

// RFC 3629, section 4: a second byte after E0, ED, F0 and F4 is not free; section 10 has C0 80 and
// 2F C0 AE 2E 2F as attacks.
TEST_CASE("bytes that begin no letter stand alone, and the text goes on behind them") {
  CHECK(letters("\xC0\x80") == Letters{"\xC0", "\x80"});
  CHECK(letters("\x2F\xC0\xAE\x2E\x2F") == Letters{"\x2F", "\xC0", "\xAE", "\x2E", "\x2F"});
  CHECK(letters("\xED\xA0\x80z") == Letters{"\xED", "\xA0", "\x80", "z"});
  CHECK(letters("\xF4\x90\x80\x80") == Letters{"\xF4", "\x90", "\x80", "\x80"});
  CHECK(letters("\xE6\x97\xE6\x9C\xAC") == Letters{"\xE6", "\x97", "\xE6\x9C\xAC"});
  CHECK(letters("a\xF0\xA3\x8E") == Letters{"a", "\xF0", "\xA3", "\x8E"});
}

TEST_CASE("letters are counted, and found by their number") {
  CHECK(letter_count("½ in") == 4);
  CHECK(letter_count("\xFFx") == 2);
  CHECK(byte_of("a½b", 0) == 0);
  CHECK(byte_of("a½b", 1) == 1);
  CHECK(byte_of("a½b", 2) == 3);
  CHECK(byte_of("a½b", 3) == 4);
  CHECK(byte_of("a½b", 9) == 4);
  CHECK(byte_of("", 0) == 0);
}

TEST_CASE("where a text stops being UTF-8 is known") {
  CHECK(utf8_bytes("Größe") == 7);
  CHECK(utf8_bytes("Gr\xF6\xDF"
                   "e") == 2);
  CHECK(utf8_bytes("a\xED\xA0\x80") == 1);
  CHECK(utf8_bytes("水\xE6\xB0") == 3);
}

TEST_CASE("what is no UTF-8 or no character cannot be drawn") {
  for (const char* fine : {"", "Größe", "水", "\U0001F9F5", "\uFDCF\uFDF0\uFFFD", "a\tb"}) {
    CHECK(is_drawable(fine));
  }
  // Overlong, a surrogate, beyond U+10FFFF, cut short (RFC 3629), and noncharacters of
  // Unicode 23.7.
  for (const char* wrong : {"\xff", "a\xc0\x80", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xe6\xb0",
                            "\uFDD0", "\uFDEF", "\uFFFE", "\uFFFF", "\U0001FFFE", "\U0010FFFF"}) {
    CHECK_FALSE(is_drawable(wrong));
  }
}

TEST_CASE("blanks at the ends go, those within stay") {
  CHECK(trimmed(" \twet front\r") == "wet front");
  CHECK(trimmed("front") == "front");
  CHECK(trimmed(" \t ").empty());
  CHECK(trimmed("").empty());
}

TEST_CASE("a list is told with commas, or with what is asked for") {
  CHECK(list_text(std::vector<std::string>{"front", "back"}) == "front, back");
  CHECK(list_text(std::vector<std::string>{}).empty());
  CHECK(list_text(std::array{"", "back"}, "; ") == "; back");
  CHECK(list_text(std::array{1, 2}, "-", [](int n) { return std::to_string(n); }) == "1-2");
}

TEST_CASE("a plain name has letters, digits and hyphens only") {
  CHECK(slug("pouch.lip_drop") == "pouch-lip-drop");
  CHECK(slug("wet front 2") == "wet-front-2");
  CHECK(slug("½") == "--");
}

// RFC 4180, section 2.7: "aaa","b""bb","ccc".
TEST_CASE("a cell of comma-separated values stands in quotes, and doubles its own") {
  CHECK(csv_cell("b\"bb") == "\"b\"\"bb\"");
  CHECK(csv_cell("a,b\n") == "\"a,b\n\"");
  CHECK(csv_cell("") == "\"\"");
}

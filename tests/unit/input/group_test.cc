// [group]. Source: RFC 3986 for what an address is made of (sections 2 and 3).
#include "input/group.h"

#include <doctest/doctest.h>

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;

namespace {

GroupSettings read(const std::string& text, base::Diagnostics& diagnostics) {
  const auto root = parsed({"job.toml", text}, diagnostics);
  REQUIRE(root);
  TableReader reader(*root, "", {diagnostics});
  return read_group(reader);
}

}  // namespace

TEST_CASE("addresses of pages are told from what is none") {
  for (const char* text :
       {"https://example.org", "http://example.org/pouches/", "HTTPS://example.org/a%20b?c=d",
        "https://example.org:8443/~x", "http://127.0.0.1:8123/", "http://[::1]/"}) {
    CAPTURE(text);
    CHECK(is_page_address(text));
  }
  for (const char* text : {"", "example.org", "https://", "https:///a", "https:example.org",
                           "ftp://example.org", "javascript:alert(1)", "https://example.org/#a",
                           "https://example.org/a b", "https://b\xc3\xbc.example/",
                           "https://name@example.org/", "https://example.org/\"", "https://?a"}) {
    CAPTURE(text);
    CHECK_FALSE(is_page_address(text));
  }
}

TEST_CASE("a group's page has its place; what is none is told there") {
  base::Diagnostics diagnostics;
  const auto made = read("[group]\npage = \"https://example.org/\"\n", diagnostics);
  CHECK(made.page.value == "https://example.org/");
  CHECK(made.page.place.line == 2);
  CHECK(test::told(diagnostics).empty());
  CHECK(read("title = \"a\"\n", diagnostics).page.value.empty());
  CHECK(read("[group]\npage = \"example.org\"\n", diagnostics).page.value.empty());
  CHECK(test::told(diagnostics) == test::Lines{"2:8 not-page-address text=example.org"});
}

TEST_CASE("an empty address, and what else a group has, are faults too") {
  base::Diagnostics diagnostics;
  CHECK(read("[group]\npage = \"\"\npagee = 1\n", diagnostics).page.value.empty());
  CHECK(test::told(diagnostics).size() == 2);
}

#include "desk/target.h"

#include <doctest/doctest.h>

using namespace pouchwright::desk;

// Form encoding: WHATWG URL Standard, application/x-www-form-urlencoded; percent: RFC 3986, 2.1.

TEST_CASE("a target is a path and its query, in order") {
  const auto target = read_target("/api/size?units=in&set=pouch.width%3D7+1%2F2+in&set");
  REQUIRE(target);
  CHECK(target->path == "/api/size");
  CHECK(target->query == Fields{{"units", "in"}, {"set", "pouch.width=7 1/2 in"}, {"set", ""}});
}

TEST_CASE("a plus is a blank in a form and a plus in a path") {
  CHECK(read_target("/a+b?c=d+e")->path == "/a+b");
  CHECK(read_target("/a+b?c=d+e")->query == Fields{{"c", "d e"}});
}

TEST_CASE("a percent sign without two hexadecimal digits is refused") {
  CHECK_FALSE(read_target("/a%4"));
  CHECK_FALSE(read_target("/a?b=%zz"));
  CHECK_FALSE(read_form("a=%"));
  CHECK_FALSE(read_form("%g0=1"));
  CHECK(read_form("a=%4a%4A") == Fields{{"a", "JJ"}});
}

TEST_CASE("a target that does not start with a slash is refused") {
  CHECK_FALSE(read_target(""));
  CHECK_FALSE(read_target("*"));
  CHECK_FALSE(read_target("http://127.0.0.1/"));
}

TEST_CASE("empty parts of a form are left out, equals signs after the first belong to the value") {
  CHECK(read_form("") == Fields{});
  CHECK(read_form("&&a=b=c&") == Fields{{"a", "b=c"}});
}

TEST_CASE("text for HTML cannot open a tag, a reference or an attribute") {
  CHECK(html_text("<b title='a' id=\"b\">&amp;") ==
        "&lt;b title=&#39;a&#39; id=&quot;b&quot;&gt;&amp;amp;");
  CHECK(html_text("7½ in × 3") == "7½ in × 3");
}

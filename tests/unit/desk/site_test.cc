#include "desk/site.h"

#include <doctest/doctest.h>

using namespace pouchwright;

namespace {

const desk::Site& site() {
  static const job::Data kData(POUCHWRIGHT_SOURCE);
  static const desk::Site kSite(kData);
  return kSite;
}

const std::string& page() { return site().find("/")->body; }

bool has(const std::string& text) { return page().find(text) != std::string::npos; }

}  // namespace

TEST_CASE("page, style, script and a picture of every construction are there") {
  for (const char* path : {"/", "/desk.css", "/desk.mjs", "/numbers.mjs", "/words.mjs", "/icon.svg",
                           "/picture/foldover.svg", "/picture/gusset.svg"}) {
    CAPTURE(path);
    REQUIRE(site().find(path) != nullptr);
    CHECK(site().find(path)->status == 200);
    CHECK(site().find(path)->body.size() > 100);
  }
  CHECK(site().find("/nothing") == nullptr);
}

TEST_CASE("every hole of the page is filled, and every word is there") {
  CHECK_FALSE(has("{{"));
  CHECK_FALSE(has("}}"));
  CHECK_FALSE(has("[desk-"));
}

TEST_CASE("what there is to choose from comes from the data") {
  CHECK(has("name=\"construction\" value=\"gusset\""));
  CHECK(has("id=\"pouch.gusset\""));
  CHECK(has("<option value=\"pul-150\">"));
  CHECK(has("<option value=\"Letter\">"));
}

TEST_CASE("the page names nothing on other machines") {
  for (const char* path : {"/", "/desk.css", "/desk.mjs", "/numbers.mjs", "/words.mjs"}) {
    const std::string& text = site().find(path)->body;
    CAPTURE(path);
    CHECK(text.find("https://") == std::string::npos);
    CHECK(text.find("http://") == std::string::npos);
    CHECK(text.find("@import") == std::string::npos);
  }
}

TEST_CASE("the page has no script and no style of its own, as its content policy asks") {
  CHECK_FALSE(has(" style=\""));
  CHECK_FALSE(has("<style"));
  CHECK_FALSE(has(" onclick="));
  CHECK_FALSE(has("<script>"));
}

#include "desk/site.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "desk/assets.h"

using namespace pouchwright;

namespace {

const desk::Site& site() {
  static const job::Data kData(POUCHWRIGHT_SOURCE);
  static const desk::Site kSite(kData);
  return kSite;
}

const std::string& page() { return site().find("/")->body; }

bool has(const std::string& text) { return page().find(text) != std::string::npos; }

/// All that is served as it is, and the page.
std::vector<std::string> parts() {
  std::vector<std::string> all{"/"};
  for (const std::string& name : desk::asset_names()) {
    if (name != "desk.html") all.push_back("/" + name);
  }
  return all;
}

}  // namespace

TEST_CASE("page, style, scripts and a picture of every construction are there") {
  std::vector<std::string> paths = parts();
  for (const char* path :
       {"/main.mjs", "/desk.css", "/picture/foldover.svg", "/picture/gusset.svg"}) {
    paths.emplace_back(path);
  }
  for (const std::string& path : paths) {
    CAPTURE(path);
    REQUIRE(site().find(path) != nullptr);
    CHECK(site().find(path)->status == 200);
    CHECK(site().find(path)->body.size() > 10);
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
  CHECK(has("<option value=\"hook-and-loop\">"));
  CHECK(has("<option value=\"pul-150\">"));
  CHECK(has("<option value=\"Letter\">"));
}

TEST_CASE("the page names nothing on other machines") {
  // The name of a language, which is nowhere fetched from.
  const std::string svg = "http://www.w3.org/2000/svg";
  for (const std::string& path : parts()) {
    std::string text = site().find(path)->body;
    for (std::size_t at = text.find(svg); at != std::string::npos; at = text.find(svg)) {
      text.erase(at, svg.size());
    }
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

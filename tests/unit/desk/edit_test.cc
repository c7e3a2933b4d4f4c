// What the page is told after a change, beside the report of `check` (the outside source: the
// command itself, as tests/desk/answers_test.py runs it) and NIST SP 811 for inches.
#include "desk/edit.h"

#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>

using namespace pouchwright;
using namespace pouchwright::desk;
using Json = nlohmann::ordered_json;

namespace {

const std::string kJob =
    "construction = \"foldover\"  # how it is folded\n[pouch]\nwidth = \"190 mm\"\n"
    "depth = \"165 mm\"\nflap = \"70 mm\"\nseal_width = \"15 mm\"\n";

const job::Data& data() {
  static const job::Data kData{std::filesystem::path(POUCHWRIGHT_SOURCE)};
  return kData;
}

Json told(const Fields& changes, const std::string& text, int status = 200) {
  const Answer answer = edited_job(changes, text, data(), {});
  CHECK(answer.status == status);
  if (status != 200) return Json::parse(answer.body);
  // The first part of a form: RFC 7578, and RFC 2046 for what ends a part.
  const std::string boundary = "\r\n--" + answer.type.substr(answer.type.find('=') + 1);
  const std::size_t from = answer.body.find("\r\n\r\n") + 4;
  return Json::parse(answer.body.substr(from, answer.body.find(boundary, from) - from));
}

std::string number(const Json& all, const std::string& name) {
  for (const Json& row : all["numbers"]) {
    if (row[0].get<std::string>().starts_with(name)) return row[1];
  }
  return "";
}

}  // namespace

TEST_CASE("changes stand in the text in their order, and the report is that of the new text") {
  const Json all = told({{"pouch.width", "200 mm"}, {"title", "12"}, {"pouch.flap", ""}}, kJob);
  const std::string text = all["job"];
  CHECK(text ==
        "construction = \"foldover\"  # how it is folded\ntitle = \"12\"\n[pouch]\nwidth = "
        "\"200 mm\"\ndepth = \"165 mm\"\nseal_width = \"15 mm\"\n");
  CHECK(all["report"] == Json::parse(worked({"POST", "/api/check", text}, data()).body));
  CHECK(all["values"]["pouch.width"]["typed"] == "200 mm");
  CHECK(all["values"]["pouch.width"]["first"] == 4);
  CHECK(all["tables"] == Json{"pouch"});
}

TEST_CASE(
    "lengths are said in the job's units, as on its ruler, what must not be passed rounded down") {
  Json all = told({}, kJob);
  CHECK(number(all, "Finished") == "190 mm × 165 mm");
  CHECK(all["usual"]["pouch.flap"] == "70 mm");
  all = told({{"units", "in"}}, kJob);
  // 190 mm and two allowances of 1/4 in are 202.7 mm, cut 8 in, so 7 1/2 in finished.
  CHECK(number(all, "Finished").starts_with("7 1/2 in × "));
  // 165 mm less a lip drop of 1/2 in are 5.996 in: nearer to 6, but never more than it is.
  CHECK(all["report"]["water_line_mm"] == 152.3);
  CHECK(number(all, "Designed") == "≈ 5 7/8 in");
}

TEST_CASE("a wrong job is told with its text, and one that is no TOML is left alone") {
  Json all = told({{"pouch.width", "19x"}}, kJob, 422);
  CHECK(all["job"].get<std::string>().find("width = \"19x\"") != std::string::npos);
  CHECK(all["report"]["errors"].size() == 1);
  CHECK_FALSE(all.contains("numbers"));
  all = told({{"pouch.width", "200"}}, "construction = \"foldover", 422);
  CHECK(all["job"] == "construction = \"foldover");
  CHECK_FALSE(all.contains("values"));
}

TEST_CASE("a path that is none changes nothing") {
  for (const char* path : {"", ".", "a..b", "a b", "[x"}) {
    CHECK(told({{path, "1"}}, kJob)["job"] == kJob);
  }
}

// What the page is told after a change, beside the report of `check` (the outside source: the
// command itself, as tests/desk/answers_test.py runs it) and NIST SP 811 for inches.
#include "desk/edit.h"

#include <doctest/doctest.h>

#include <cmath>
#include <map>
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
  const Answer answer = edited_job({changes}, text, data(), {});
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

TEST_CASE("the picture has each size where it is, and so long as it says") {
  const Json pouch = told({}, kJob)["pouch"];
  // Width, depth, flap, seam, seal, gap, and the water line, which is told.
  REQUIRE(pouch["dimensions"].size() == 7);
  for (const Json& one : pouch["dimensions"]) {
    CAPTURE(one.dump());
    const double across = one["to"][0].get<double>() - one["from"][0].get<double>();
    const double down = one["to"][1].get<double>() - one["from"][1].get<double>();
    // Its own scale, the picture's length by Pythagoras, is the size within what rounding takes.
    CHECK(std::hypot(across, down) * one["mm_for_each"].get<double>() ==
          doctest::Approx(one["mm"].get<double>()).epsilon(0.002));
    const Json& out = one["out"];
    CHECK(std::hypot(out[0].get<double>(), out[1].get<double>()) ==
          doctest::Approx(1).epsilon(0.01));
    for (const char* end : {"from", "to"}) {
      CHECK(one[end][0] >= 0);
      CHECK(one[end][0] <= pouch["width"]);
      CHECK(one[end][1] >= 0);
      CHECK(one[end][1] <= pouch["height"]);
    }
  }
  CHECK(pouch["dimensions"][0]["path"] == "pouch.width");
  CHECK(pouch["dimensions"][0]["mm"] == 190.0);
  CHECK(pouch["dimensions"][6]["path"].is_null());
  CHECK(pouch["dimensions"][6]["about"] == "pouch.lip_drop");
  CHECK(pouch["alt"] == "The finished pouch, 190 mm wide and 165 mm deep");
}

TEST_CASE("the parts of the picture name the fields that they are about") {
  const Json made = told({{"liners.width", "80 mm"},
                          {"liners.length", "120 mm"},
                          {"liners.thickness", "9 mm"},
                          {"pouch.width", ""},
                          {"pouch.depth", ""},
                          {"liners.count", "3"}},
                         kJob);
  std::map<std::string, Json> parts;
  for (const Json& one : made["pouch"]["parts"]) parts[one["name"]] = one;
  for (const char* name : {"front", "seal", "seam", "flap", "opening", "liners", "water"}) {
    CAPTURE(name);
    REQUIRE(parts.count(name) == 1);
    CHECK(parts[name]["paths"].is_array());
    for (const Json& outline : parts[name]["outlines"]) CHECK(outline.size() >= 3);
  }
  CHECK(parts["seal"]["outlines"].size() == 2);
  CHECK(made["answer"][0]["words"] == "Carries 3 liners");
}

TEST_CASE("a panel's folds are typed with commas between them, and read back so") {
  const std::string job =
      "construction = \"foldover\"\n[panel]\nwidth = \"204 mm\"\nlength = \"390 mm\"\n";
  const Json all = told({{"panel.fold_at", "155 mm, 320 mm"}}, job);
  CHECK(all["job"] == job + "fold_at = [\"155 mm\", \"320 mm\"]\n");
  CHECK(all["values"]["panel.fold_at"]["typed"] == "155 mm, 320 mm");
  // The depth is 320 - 155.
  CHECK(number(all, "Finished") == "190 mm × 165 mm");
}

// The table of a job's fields, held to the reader and to the words.
#include "input/fields.h"

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using test::fine;
using test::set;

namespace {

/// A job that has every table, so that one more value makes none of them incomplete.
const std::string kWhole = R"(construction = "foldover"
[liners]
width = "80 mm"
length = "120 mm"
thickness = "9 mm"
[pouch]
width = "190 mm"
depth = "165 mm"
flap = "70 mm"
seal_width = "15 mm"
[materials.laminate]
width = "150 cm"
[materials.outer]
width = "110 cm"
[iron]
dots = 2
)";

/// A panel and a card stand instead of sizes.
const std::string kOfPanel = R"(construction = "foldover"
[panel]
width = "204 mm"
length = "360 mm"
[card]
kind = "shield"
width = "172 mm"
length = "150 mm"
)";

const std::string& job_with(const FieldFacts& field) {
  return field.table == "panel" || field.table == "card" ? kOfPanel : kWhole;
}

}  // namespace

TEST_CASE("every field takes what holds without it, and each of its choices") {
  int taken = 0;
  for (const FieldFacts& field : job_fields()) {
    // Only constructions with closures take it, and the job here has none.
    if (field.path() == "pouch.closure_through") continue;
    std::vector<std::string> values = field.choices;
    if (!field.usual.empty()) values.push_back(field.usual);
    for (const std::string& value : values) {
      CAPTURE(field.path());
      CAPTURE(value);
      (void)fine(job_with(field), {set(field.path(), value)});
      ++taken;
    }
  }
  CHECK(taken > 50);
}

TEST_CASE("what a field shows as usual is what holds without it") {
  CHECK(field_at("liners.ease").usual == "\"10 mm\"");
  CHECK(field_at("liners.overlap").usual == "\"30 mm\"");
  CHECK(field_at("pouch.cards").usual == "\"inside\"");
  CHECK(field_at("tolerance.place").usual == "\"2 mm\"");
  CHECK(field_at("lay.cuts").usual == "\"straight\"");
  CHECK(field_at("lay.plies").usual == "1");
  CHECK(field_at("paper.margin").usual == "\"10 mm\"");
  CHECK(field_at("batch.overedge_machines").usual == "0");
}

TEST_CASE("every field that is asked for has its word, and no two have one path") {
  base::Diagnostics diagnostics;
  const base::Words words = read_words(test::source_file("shared/words/en.toml"), diagnostics);
  std::vector<std::string> paths;
  for (const FieldFacts& field : job_fields()) {
    CAPTURE(field.path());
    CHECK(std::find(paths.begin(), paths.end(), field.path()) == paths.end());
    paths.push_back(field.path());
    if (field.is_on_page() || field.is_in_starter()) CHECK(words.has(field.word));
    CHECK(words.has("called-" + base::slug(field.path())));
  }
}

TEST_CASE("a job in inches has defaults in inches") {
  const auto field = [](const char* path) { return field_at(path).usual_of(base::Unit::inch); };
  CHECK(field("tolerance.cut") == "\"1/32 in\"");
  CHECK(field("tolerance.sew") == "\"1/16 in\"");
  CHECK(field("liners.ease") == "\"3/8 in\"");
  CHECK(field("liners.overlap") == "\"1 1/4 in\"");
  CHECK(field("paper.margin") == "\"3/8 in\"");
  CHECK(field("lay.shop_step") == "\"4 1/2 in\"");
  CHECK(field_at("liners.ease").usual_of(base::Unit::mm) == "\"10 mm\"");
}

TEST_CASE("a table is read by its fields, each with its place, and what is needed is missed") {
  base::Diagnostics diagnostics;
  const auto root = parsed({"job.toml", "cut = \"3 mm\"\nsew = -1\n"}, diagnostics);
  TableReader reader(*root, "tolerance", {diagnostics});
  pouch::Tolerances tolerance;
  CHECK(read_fields(kToleranceFields, reader, tolerance));
  CHECK(tolerance.cut == Placed<Length>{Length::whole_mm(3), {"job.toml", 1, 7, 13}});
  CHECK(tolerance.sew == pouch::Tolerances().sew);
  CHECK(test::told(diagnostics) == test::Lines{"2:7 length-negative key=tolerance.sew text=-1"});
  pouch::CutPanel panel;
  CHECK_FALSE(read_fields(kPanelFields, reader, panel));
}

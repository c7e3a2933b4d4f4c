// Lengths that are hardly meant. What is likely: common practice, no source.
#include "input/likely.h"

#include "input/fields.h"
#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Unit;
using test::Lines;

namespace {

std::string meant(const std::string& path, const std::string& typed, Unit bare = Unit::mm) {
  const auto likely = likely_lengths(path);
  REQUIRE(likely);
  const auto length = base::read_length(typed, bare);
  REQUIRE(std::holds_alternative<Length>(length));
  CHECK_FALSE(likely->has(std::get<Length>(length)));
  return likely_meant(typed, std::get<Length>(length), bare, *likely).value_or("");
}

}  // namespace

TEST_CASE("a number in the wrong unit is told with the right one") {
  CHECK(meant("liners.width", "8 mm") == "8 cm");
  CHECK(meant("liners.width", "8") == "8 cm");
  CHECK(meant("liners.width", "80 cm") == "80 mm");
  CHECK(meant("liners.thickness", "9 cm") == "9 mm");
  CHECK(meant("materials.laminate.width", "150 mm") == "150 cm");
  CHECK(meant("tolerance.cut", "2 cm") == "2 mm");
  CHECK(meant("pouch.width", "190 in") == "190 mm");
  CHECK(meant("pouch.width", "190", Unit::inch) == "190 mm");
  CHECK(meant("pouch.width", "7 1/2'") == "7 1/2 in");
  CHECK(meant("pouch.width", "19 m") == "19 cm");
}

TEST_CASE("so is a point at the wrong place") {
  CHECK(meant("pouch.seam_allowance", "60 mm") == "6 mm");
  CHECK(meant("pouch.width", "4.8 m") == "480 mm");
}

TEST_CASE("where nothing makes it likely nothing is offered") {
  CHECK(meant("liners.thickness", "9 yd").empty());
  CHECK(meant("pouch.width", "9 ft 2 in").empty());
}

TEST_CASE("a length that is hardly meant is a warning, and the job is read") {
  const auto read = test::job(
      "construction = \"foldover\"\n[liners]\nwidth = \"8 mm\"\n"
      "length = \"120 mm\"\nthickness = \"9 mm\"\n");
  REQUIRE(read.settings);
  CHECK(test::told(read.diagnostics) ==
        Lines{"3:9 length-unlikely-small key=liners.width length=8 mm"});
  const auto found = read.diagnostics.sorted().front();
  CHECK(found.severity == base::Severity::warning);
  REQUIRE(found.remedy);
  CHECK(found.remedy->path == "liners.width");
  CHECK(base::typed(*found.remedy, base::Voice(base::Words())) == "8 cm");
}

TEST_CASE("nothing of a thing is no small thing") {
  (void)test::fine("construction = \"foldover\"\n[pouch]\nlip_drop = 0\n[tolerance]\ncut = 0\n");
}

TEST_CASE("what is usual is likely, of every construction and every field") {
  int seen = 0;
  for (const FieldFacts& field : job_fields()) {
    const auto likely = likely_lengths(field.path());
    if (!likely) continue;
    for (const Unit unit : {Unit::mm, Unit::inch}) {
      std::string usual = field.usual_of(unit);
      if (usual.size() < 3) continue;
      usual = usual.substr(1, usual.size() - 2);
      CAPTURE(field.path());
      CAPTURE(usual);
      const auto length = base::read_length(usual, unit);
      REQUIRE(std::holds_alternative<Length>(length));
      const bool is_likely =
          std::get<Length>(length) == Length() || likely->has(std::get<Length>(length));
      CHECK(is_likely);
      ++seen;
    }
  }
  CHECK(seen > 20);
  for (const char* name : {"foldover", "gusset", "rolltop"}) {
    base::Diagnostics faults;
    const auto read = read_construction(
        test::source_file("patterns/" + std::string(name) + ".toml"), name, faults);
    REQUIRE(read);
    for (const pouch::SizeRule& rule : read->construction.sizes) {
      const auto likely = likely_lengths("pouch." + rule.name);
      for (const Unit unit : {Unit::mm, Unit::inch}) {
        const auto usual = rule.usual(unit);
        CAPTURE(rule.name);
        if (likely && usual) CHECK((*usual == Length() || likely->has(*usual)));
      }
    }
  }
}

#include "unit/job/run_support.h"

using namespace pouchwright;
using namespace pouchwright::job;
using namespace pouchwright::test;

namespace {

/// Four pieces of 400 x 300 mm that may be turned, on a cloth of 1 m.
JobOptions four_pieces() {
  JobOptions options;
  options.quick.cloth = "1000 mm";
  options.quick.pieces = {"flag = 400 x 300 mm * 4"};
  options.writing = Writing::kept;
  return options;
}

}  // namespace

TEST_CASE("a cut plan's report has the numbers of a plan worked by hand") {
  const JobOptions options = four_pieces();
  Run run(options, own_data());
  const Made made = made_by(quick_lay, run);
  const Json lay = json(made.report.fields, run.words())["lays"][0];
  // By hand: below 600 mm no two pieces lie one behind the other, and four side by side take 1200 of
  // 1000 mm; two and two take 600. They cover 0.48 of 0.6 m².
  CHECK(lay["length_mm"] == 600.0);
  CHECK(lay["optimal"] == true);
  CHECK(lay["waste_fraction"].get<double>() == doctest::Approx(0.2));
  CHECK(lay["pieces_per_metre"].get<double>() == doctest::Approx(4 / 0.6));
  CHECK(lay["to_buy_mm"] == 600.0);
  REQUIRE(lay["pieces"].size() == 4);
  for (std::size_t i = 1; i < 4; ++i)
    CHECK(lay["pieces"][i - 1]["y_mm"] <= lay["pieces"][i]["y_mm"]);
  CHECK_FALSE(lay["pieces"][0].contains("layer"));
  CHECK_FALSE(lay["pieces"][0].contains("material"));
  const std::string table = text(made.report.blocks, run.words());
  CHECK(table.starts_with("cloth, 1000 mm usable\n  length: 600 mm ("));
  CHECK(count_of(table, "  4 flag, 400 mm x 300 mm\n") == 1);
}

TEST_CASE("the file of a cut plan is what its ending says") {
  for (const std::string ending : {"csv", "json", "svg", "pdf"}) {
    JobOptions options = four_pieces();
    options.out = "plan." + ending;
    Run run(options, own_data());
    const Made made = made_by(quick_lay, run);
    const auto files = made.files.made();
    REQUIRE(files.size() == 1);
    const std::string& bytes = files[0].bytes;
    CAPTURE(ending);
    if (ending == "json") CHECK(bytes == json_text(made.report.fields, run.words()));
    if (ending == "svg") CHECK(bytes.starts_with("<?xml"));
    if (ending == "pdf") CHECK(bytes.starts_with("%PDF"));
    if (ending != "csv") continue;
    CHECK(bytes.starts_with("material,kind,x_mm,y_mm,width_mm,height_mm,turned,layer\n"));
    CHECK(count_of(bytes, "\ncloth,\"flag\",") == 4);
  }
}

TEST_CASE("two remnants' lays come before the cloth's, each under its own heading") {
  const JobOptions options = options_of(
      "construction = \"foldover\"\n"
      "[pouch]\nwidth = \"190 mm\"\ndepth = \"150 mm\"\nflap = \"70 mm\"\n"
      "seam_allowance = \"7 mm\"\n"
      "[batch]\npouches = 5\n"
      "[[lay.remnant]]\nmaterial = \"laminate\"\nwidth = \"250 mm\"\nlength = \"400 mm\"\n");
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const Made made = made_by(job::lay, run);
  const Json lays = json(made.report.fields, run.words())["lays"];
  REQUIRE(lays.size() == 2);
  // By hand: 204 x 360 mm fits 250 x 400 mm once, so four are cut from the roll.
  CHECK(lays[0]["remnant"] == true);
  CHECK(lays[0]["pieces"].size() == 1);
  CHECK_FALSE(lays[0].contains("to_buy_mm"));
  CHECK(lays[1]["remnant"] == false);
  CHECK(lays[1]["pieces"].size() == 4);
  CHECK(made.report.blocks.size() == 2);
  // The roll's pieces alone are rows for a spreadsheet.
  CHECK(made.report.table.rows.size() == 4);
}

TEST_CASE("savings ask whether every panel can be cut before they look for better ones") {
  const JobOptions options = options_of(
      "construction = \"foldover\"\n"
      "[pouch]\nwidth = \"190 mm\"\ndepth = \"150 mm\"\nflap = \"70 mm\"\n"
      "seam_allowance = \"7 mm\"\n"
      "[lay]\ntable_length = \"100 mm\"\n");
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const Answer answer = savings(run);
  REQUIRE(std::holds_alternative<Outcome>(answer));
  CHECK(std::get<Outcome>(answer).status == Status::job_wrong);
}

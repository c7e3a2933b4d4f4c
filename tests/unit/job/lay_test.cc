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
  CHECK(count_of(table, "  You get 4 × flag, 400 mm wide and 300 mm long.\n") == 1);
}

TEST_CASE("the file of a cut plan is what its ending says") {
  for (const std::string ending : {"csv", "json", "svg", "pdf"}) {
    JobOptions options = four_pieces();
    options.out = "plan." + ending;
    Run run(options, own_data());
    const Made made = made_by(quick_lay, run);
    const auto files = files_of(run, made);
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

TEST_CASE("nothing is drawn for a file that nobody wants") {
  JobOptions options = four_pieces();
  options.out = "plan.svg";
  Run run(options, own_data());
  Made made = made_by(quick_lay, run);
  int drawn = 0;
  made.sheets->drawn = [&drawn, draw = made.sheets->drawn](ink::Breaks breaks) {
    ++drawn;
    return draw(breaks);
  };
  add_file_of_sheets(run, made);
  CHECK(made.files.made([](const auto&) { return false; }).empty());
  CHECK(drawn == 0);
  CHECK(made.files.made().size() == 1);
  CHECK(drawn == 1);
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

namespace {

/// A job of twenty panels of 8 1/2 x 15 in, cotton over the laminate, the laminate folded in four.
std::string practitioner(const std::string& laminate, const std::string& batch = "") {
  return "construction = \"foldover\"\nunits = \"in\"\n"
         "[panel]\nwidth = \"8 1/2 in\"\nlength = \"15 in\"\n"
         "[pouch]\nseam_allowance = \"1/4 in\"\n"
         "start_finish = \"overedge\"\nend_finish = \"overedge\"\n"
         "[materials]\nlaminate = { width = \"" +
         laminate +
         "\" }\nouter = \"cotton-107\"\n"
         "[lay]\nplies = { laminate = \"folded 4\", outer = 1 }\n"
         "[batch]\npouches = 20\n" +
         batch;
}

Json lays_of(const std::string& job) {
  const JobOptions options = options_of(job);
  Run run(options, own_data());
  REQUIRE(run.read_job());
  return json(made_by(job::lay, run).report.fields, run.words())["lays"];
}

double extra_of(const Json& lay, const std::string& what) {
  for (const Json& one : lay["extra"]) {
    if (one["what"] == what) return one["length_mm"];
  }
  return 0;
}

constexpr double kInch = 25.4;

}  // namespace

TEST_CASE("each cloth is folded as the job says, and cotton is planned as it is after the wash") {
  const Json lays = lays_of(practitioner("60 in"));
  REQUIRE(lays.size() == 2);
  // Common practice, no source: sixty inches give four fifteens by folding in four, so five strips
  // of 8 1/2 in; 42 in cotton gives five panels from 17 in, opened out, also when it has lost 2 %.
  CHECK(lays[0]["length_mm"] == 42.5 * kInch);
  CHECK(lays[0]["spare_across_mm"] == 0.0);
  CHECK(lays[1]["length_mm"] == doctest::Approx(68 * kInch));
  CHECK(lays[1]["buy_width_mm"] == 42 * kInch);
  CHECK(lays[1]["width_mm"].get<double>() == doctest::Approx(42 * kInch * 0.98));
  CHECK(lays[1]["usable_width_mm"] == lays[1]["width_mm"]);
  // ISO 5077: what is lost counts from the length before the wash.
  CHECK(lays[1]["buy_length_mm"].get<double>() == doctest::Approx(68 * kInch / 0.96));
  CHECK(lays[0]["buy_length_mm"] == lays[0]["length_mm"]);
  for (const Json& lay : lays) CHECK(lay["pieces"].size() == 20);
  // Worked at a table: on 59 1/2 in the fold costs 30 in.
  const Json narrow = lays_of(practitioner("59 1/2 in"));
  CHECK(narrow[0]["length_mm"] == 75 * kInch);
  CHECK(narrow[0]["single_length_mm"] == 45 * kInch);
}

TEST_CASE("trial strips come out of the waste, else off more cloth; both ends are squared") {
  const Json lays = lays_of(practitioner("60 in"));
  // By hand: no waste in the laminate; a row of strips 1 1/4 in wide is 3 1/4 in long, and 18 fit
  // in it. The cotton leaves 2 x 17 in of every 17 in, and more at its edge.
  CHECK(lays[0]["trial_strips"].empty());
  CHECK(extra_of(lays[0], "trial") == 3.25 * kInch);
  CHECK(lays[1]["trial_strips"].size() == 18);
  CHECK(extra_of(lays[1], "trial") == 0);
  for (const Json& strip : lays[1]["trial_strips"]) {
    const double x = strip["x_mm"];
    const double y = strip["y_mm"];
    for (const Json& piece : lays[1]["pieces"]) {
      const bool apart =
          x >= piece["x_mm"].get<double>() + piece["width_mm"].get<double>() - 1e-6 ||
          piece["x_mm"].get<double>() >= x + strip["width_mm"].get<double>() - 1e-6 ||
          y >= piece["y_mm"].get<double>() + piece["height_mm"].get<double>() - 1e-6 ||
          piece["y_mm"].get<double>() >= y + strip["height_mm"].get<double>() - 1e-6;
      CHECK(apart);
    }
  }
  for (const Json& lay : lays) CHECK(extra_of(lay, "squaring") == 2 * kInch);
}

TEST_CASE("spare pieces lengthen what is bought, never the plan") {
  // By hand: the laminate goes on by strips of 8 1/2 in for four; one first pouch and one spoiled
  // one take one strip more.
  const Json twenty = lays_of(practitioner("60 in"));
  CHECK(extra_of(twenty[0], "first_pouches") + extra_of(twenty[0], "spoiled") ==
        doctest::Approx(8.5 * kInch));
  const Json half = lays_of(practitioner("60 in", "spoiled = 0.5\n"));
  // Ten spoiled ones and the first: three strips.
  CHECK(extra_of(half[0], "first_pouches") + extra_of(half[0], "spoiled") ==
        doctest::Approx(25.5 * kInch));
  CHECK(half[0]["length_mm"] == twenty[0]["length_mm"]);
}

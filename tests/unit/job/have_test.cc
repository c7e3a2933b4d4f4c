// How many pouches the cloth yields that is there. Bounds from outside the solver: no more than the
// area has room for, no fewer than rows of pieces side by side; small cases worked by hand.
#include "job/commands/have.h"

#include "unit/job/run_support.h"

using namespace pouchwright;
using namespace pouchwright::job;
using namespace pouchwright::test;

namespace {

/// A panel of 8 1/2 x 15 in: a practitioner's.
constexpr const char* kPanel =
    "construction = \"foldover\"\nunits = \"in\"\n"
    "[panel]\nwidth = \"8 1/2 in\"\nlength = \"15 in\"\nfold_at = [\"6 in\", \"12 in\"]\n";

Json given(const std::string& job, std::vector<std::string> have) {
  JobOptions options = options_of(job);
  options.have = std::move(have);
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const Made made = made_by(job::lay, run);
  return json(made.report.fields, run.words());
}

std::string fault_of(std::vector<std::string> have) {
  JobOptions options = options_of(kPanel);
  options.have = std::move(have);
  Run run(options, own_data());
  REQUIRE(run.read_job());
  (void)job::lay(run);
  const auto errors = run.diagnostics().sorted(base::Severity::error);
  REQUIRE(errors.size() == 1);
  return errors.front().message.key;
}

}  // namespace

TEST_CASE("ten yards of 60 in give as many panels as their area has room for") {
  // 60 x 360 / (8.5 x 15) = 169.4.
  const Json made = given(kPanel, {"laminate = 60 in x 10 yd"});
  CHECK(made["have"]["pouches"] == 169);
  CHECK(made["have"]["ends_first"] == "laminate");
  REQUIRE(made["lays"].size() == 1);
  CHECK(made["lays"][0]["pieces"].size() == 169);
  CHECK(made["lays"][0]["length_mm"].get<double>() <= 9144);
  CHECK(made["lays"][0]["to_buy_mm"] == 0.0);
}

TEST_CASE("23 x 17 in gives two, and 6 x 15 in is left beside them") {
  // By hand: one strip of 15 in holds two of 8 1/2, 23 - 17 = 6 are left of it, 17 - 15 = 2 of the length.
  const Json made = given(kPanel, {"laminate = 23 x 17 in"})["have"];
  CHECK(made["pouches"] == 2);
  REQUIRE(made["left"].size() == 2);
  CHECK(made["left"][0]["length_mm"].get<double>() == doctest::Approx(2 * 25.4));
  CHECK(made["left"][1]["width_mm"].get<double>() == doctest::Approx(6 * 25.4));
  CHECK(made["left"][1]["length_mm"].get<double>() == doctest::Approx(15 * 25.4));
}

TEST_CASE("pieces of one cloth are counted together, whole rows at least and the area at most") {
  for (const auto& [width, length, second] :
       {std::tuple(60, 45, 30), std::tuple(54, 31, 70), std::tuple(44, 108, 20)}) {
    const auto text = [](int across, int along) {
      return "laminate = " + std::to_string(across) + " x " + std::to_string(along) + " in";
    };
    const Json made = given(kPanel, {text(width, length), text(second, 20)})["have"];
    const int rows = std::max(width / 15 * (2 * length / 17), 2 * width / 17 * (length / 15)) +
                     std::max(second / 15 * 2, 2 * second / 17);
    const double room = (width * length + second * 20) / (8.5 * 15);
    CHECK(made["pouches"].get<int>() >= rows);
    CHECK(made["pouches"].get<int>() <= room);
  }
}

TEST_CASE("the cloth that yields fewest ends first, and one that is not named has no end") {
  const std::string job = std::string(kPanel) +
                          "[materials]\nouter = { width = \"42 in\", selvedge = \"0 in\", "
                          "thickness = \"1/64 in\", turn = \"along\", frays = false }\n";
  // A row of 42 in holds four 8 1/2 in side by side, along the cloth: 30 in long, two rows.
  const Json both = given(job, {"laminate = 60 in x 10 yd", "outer = 42 x 30 in"})["have"];
  CHECK(both["pouches"] == 8);
  CHECK(both["ends_first"] == "outer");
  const Json laminate = given(job, {"laminate = 60 in x 10 yd"})["have"];
  CHECK(laminate["ends_first"] == "laminate");
  CHECK(laminate["pouches"] == 169);
}

TEST_CASE(
    "cloth that is not washed counts what the wash leaves; a roll is as wide as its material") {
  const auto yielded = [](const std::string& stock) {
    const std::string job =
        std::string(kPanel) +
        "[materials]\nouter = { width = \"36 in\", selvedge = \"1/2 in\", thickness = \"1/64 in\", "
        "turn = \"along\", frays = false, shrink_length = 0.05, shrink_width = 0.04 }\n" +
        stock;
    return given(job, {"outer = 1 in x 1 in"})["have"]["pouches"].get<int>();
  };
  // 30 in lose 1 1/2: one row of 15 in; washed, two. 34 1/2 in lose 1.38: three of 8 1/2; washed, four.
  const std::string piece =
      "[[stock.cloth]]\nmaterial = \"outer\"\nwidth = \"34 1/2 in\"\nlength = \"30 in\"\n";
  CHECK(yielded(piece) == 3);
  CHECK(yielded(piece + "washed = true\n") == 8);
  CHECK(yielded(piece + "washed = true\ncount = 2\n") == 16);
  // A roll: 36 in lose 1.44, less two selvedges leaves 33.56, three side by side; 32 in lose 1.6.
  CHECK(yielded("[[stock.cloth]]\nmaterial = \"outer\"\nlength = \"32 in\"\n") == 6);
  CHECK(yielded("[[lay.remnant]]\nmaterial = \"outer\"\nlength = \"32 in\"\n") == 6);
}

TEST_CASE("what cannot be there is told of") {
  CHECK(fault_of({"outer = 1 yd"}) == "have-no-such-cloth");
  CHECK(fault_of({"laminate = 0 yd"}) == "have-out-of-range");
  CHECK(fault_of({"laminate = 1000000000 yd"}) == "have-too-long");
  CHECK(fault_of({"laminate = 60 in x 1000000000 yd"}) == "have-too-long");
  CHECK(fault_of({"laminate = 60 in x 0 yd"}) == "have-out-of-range");
  for (const std::string text : {"laminate = 5", "laminate =", "laminate = 60 x 10", "ten yards"}) {
    CHECK_THROWS_AS(fault_of({text}), UsageFault);
  }
}

TEST_CASE("a remnant yields so many of the job's pouches, then the best one in proportion") {
  JobOptions options = options_of(kPanel);
  options.remnant = "23 x 17 in";
  const Outcome outcome = run_job(
      [&] {
        options.command = Command::size;
        options.form = Form::json;
        return options;
      }(),
      own_data());
  REQUIRE(outcome.status == Status::done);
  const Json made = Json::parse(outcome.out);
  CHECK(made["yield"]["pouches"] == 2);
  const double width = made["finished"]["width_mm"].get<double>();
  const double depth = made["finished"]["depth_mm"].get<double>();
  CHECK(depth <= 2 * width);
  CHECK(width <= 2 * depth);
}

#include <map>

#include "job/report/reports.h"
#include "support/words.h"
#include "unit/draw/full_size_support.h"
#include "unit/job/run_support.h"

using namespace pouchwright;
using namespace pouchwright::job;
using namespace pouchwright::test;

namespace {

std::string job_text(const std::string& more) {
  return "construction = \"foldover\"\n"
         "[pouch]\n"
         "width = \"190 mm\"\ndepth = \"150 mm\"\nflap = \"70 mm\"\nlip_drop = \"10 mm\"\n"
         "seam_allowance = \"7 mm\"\nneedle_reach = \"7 mm\"\nseal_width = \"13 mm\"\n" +
         more;
}

}  // namespace

TEST_CASE("the size report has a hand-worked pouch's numbers") {
  const Report report = size_report(derived(hand_worked(foldover())), own_words());
  const Json fields = json(report.fields, own_words());
  // By hand: 190 + 2 · 7 across; 150 - 10, 150 and 70 along.
  CHECK(fields["cut"] == Json({{"width_mm", 204.0}, {"length_mm", 360.0}}));
  CHECK(fields["spans"][1] == Json({{"name", "back"}, {"from_mm", 140.0}, {"to_mm", 290.0}}));
  CHECK(fields["folds"][0] == Json({{"at_mm", 140.0}, {"between", {"front", "back"}}}));
  // By hand: the seal takes 13, the needle 7; between the seals 204 - 2 · 13.
  CHECK(fields["clear_seal_mm"] == 6.0);
  CHECK(fields["inside_width_mm"] == 178.0);
  CHECK(fields["capacity"].is_null());
  const std::string table = text(report.blocks, own_words());
  CHECK(table.find("  cut ") != std::string::npos);
  CHECK(table.find("204 mm (≈ 8 in) x 360 mm (≈ 14 1/8 in)\n") != std::string::npos);
  CHECK(count_of(table, "  178 mm (≈ 7 in)\n") == 1);
}

TEST_CASE("another liner's capacity is a field and a row of its own") {
  JobOptions options = options_of(
      job_text("[liners]\nwidth = \"80 mm\"\nlength = \"120 mm\"\nthickness = \"9 mm\"\n"));
  options.other_liners = {"small = 40 x 60 x 5 mm"};
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const Made made = made_by(size, run);
  const Json fields = json(made.report.fields, run.words());
  CHECK(fields["other_liners"][0]["name"] == "small");
  CHECK(fields["other_liners"][0]["thickness_mm"] == 5.0);
  CHECK(fields["other_liners"][0]["capacity"]["liners"] >= fields["capacity"]["liners"]);
  CHECK(text(made.report.blocks, run.words()).find("\n\nOther liners\n  small  ") !=
        std::string::npos);
  CHECK(made.files.paths().empty());
}

TEST_CASE("the report goes into a file where one is asked for") {
  JobOptions options = options_of(job_text(""));
  options.out = "sizes.json";
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const Made made = made_by(size, run);
  const auto files = files_of(run, made);
  REQUIRE(files.size() == 1);
  CHECK(files[0].path == "sizes.json");
  CHECK(files[0].bytes == json_text(made.report.fields, run.words()));
}

TEST_CASE("a check says one line, and nothing where it is to be quiet") {
  for (const Talk talk : {Talk::normal, Talk::quiet}) {
    JobOptions options =
        options_of("construction = \"foldover\"\n[pouch]\nseal_width = \"16 mm\"\n");
    options.talk = talk;
    Run run(options, own_data());
    REQUIRE(run.read_job());
    const std::string said = text(made_by(check, run).report.blocks, run.words());
    CHECK(said.empty() == (talk == Talk::quiet));
    CHECK(count_of(said, "\n") == (talk == Talk::quiet ? 0 : 1));
  }
}

TEST_CASE("a check tells a job once which of its defaults have changed, and from what") {
  const auto checked = [](const std::string& tables) {
    Run run(options_of("construction = \"foldover\"\n" + tables), own_data());
    REQUIRE(run.read_job());
    const Report report = made_by(check, run).report;
    return std::pair(text(report.blocks, run.words()), json(report.fields, run.words()));
  };
  // Its seal was 13 mm wide until the default was 16.
  const auto [said, fields] = checked("");
  CHECK(fields["changed"] ==
        Json({{{"value", "pouch.seal_width"}, {"now_mm", 16.0}, {"was_mm", 13.0}}}));
  CHECK(said.find("pouch.seal_width  16 mm, before 13 mm") != std::string::npos);
  CHECK(count_of(said, "before") == 1);
  // A cut panel's folds have moved; one that states its seal has no changed default.
  const auto [of_panel, none] = checked(
      "[pouch]\nseal_width = \"16 mm\"\n[panel]\nwidth = \"210 mm\"\nlength = \"380 mm\"\n");
  CHECK(none["changed"].empty());
  CHECK(of_panel.find("folds of the cut panel") != std::string::npos);
  // Liners that decide a flap: a third of 157 mm, where 40 covered the lip.
  const auto [of_liners, flap] = checked(
      "[pouch]\nseal_width = \"16 mm\"\n[liners]\ncount = 3\nwidth = \"80 mm\"\n"
      "length = \"120 mm\"\nthickness = \"9 mm\"\n");
  CHECK(flap["changed"] == Json({{{"value", "pouch.flap"}, {"now_mm", 53.0}, {"was_mm", 40.0}}}));
}

TEST_CASE("a check advises a wider seal where little is left for many hands") {
  // The worked seal of 13 mm leaves 1 mm in the worst case; 7 + 5 + 3 make 15.
  Run run(options_of(job_text("")), own_data());
  REQUIRE(run.read_job());
  const Report report = made_by(check, run).report;
  CHECK(json(report.fields, run.words())["seal_advice_mm"] == 15.0);
  CHECK(text(report.blocks, run.words()).find("a seal 15 mm wide leaves that") !=
        std::string::npos);
  CHECK(run.diagnostics().sorted().empty());
}

TEST_CASE("paper without room for the template is told by a check") {
  const JobOptions options = options_of(job_text("[paper]\nmargin = \"100 mm\"\n"));
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const Answer answer = check(run);
  REQUIRE(std::holds_alternative<Outcome>(answer));
  CHECK(std::get<Outcome>(answer).status == Status::job_wrong);
}

TEST_CASE("check --explain tells where each value comes from") {
  JobOptions options = options_of(
      "construction = \"foldover\"\n"
      "[panel]\nwidth = \"204 mm\"\nlength = \"360 mm\"\nfold_at = [\"140 mm\", \"290 mm\"]\n"
      "[card]\nkind = \"shield\"\nwidth = \"172 mm\"\nlength = \"150 mm\"\n"
      "[liners]\nwidth = \"80 mm\"\nlength = \"110 mm\"\nthickness = \"9 mm\"\n");
  options.explain = true;
  options.sets = {"tolerance.sew=1mm"};
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const Made made = made_by(job::check, run);
  std::map<std::string, Json> told;
  const Json report = json(made.report.fields, run.words());
  for (const Json& one : report["explained"]) {
    told[one["value"].get<std::string>()] = one;
  }
  const auto from = [&](const char* path) { return told[path]["from"].get<std::string>(); };
  CHECK(from("panel.width") == "job");
  CHECK(told["panel.width"]["line"] == 3);
  CHECK(from("tolerance.sew") == "option");
  CHECK(from("tolerance.cut") == "program");
  CHECK(from("pouch.depth") == "derived");
  CHECK(told["pouch.depth"]["is"] == "150 mm");
  CHECK(from("pouch.lip_drop") == "derived");
  CHECK(told["pouch.lip_drop"]["is"] == "10 mm");
  CHECK(from("pouch.seal_width") == "derived");
  CHECK(told["pouch.seal_width"]["is"] == "16 mm");
  CHECK(from("pouch.cards") == "derived");
  CHECK(from("pouch.seam_allowance") == "construction");
  CHECK(from("pouch.needle_reach") == "derived");
  CHECK(from("pouch.min_clear_seal") == "program");
  // No liner is counted, so none decides; a table that the job leaves out has nothing to tell.
  CHECK_FALSE(told.contains("liners.columns"));
  CHECK_FALSE(told.contains("materials.outer.width"));
}

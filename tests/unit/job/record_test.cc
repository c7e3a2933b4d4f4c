// Records beside their job. That the group's own table plans what was recorded is the check of `--out
// work.toml`: it is read again by the reader of work tables and planned with.
#include "job/commands/record.h"

#include "input/record.h"
#include "input/work.h"
#include "unit/job/run_support.h"

using namespace pouchwright;
using namespace pouchwright::job;
using namespace pouchwright::test;

namespace {

std::string sample_record() {
  std::ifstream file(std::string(POUCHWRIGHT_SOURCE) + "/patterns/heron-quay-record.csv");
  std::ostringstream text;
  text << file.rdbuf();
  REQUIRE_FALSE(text.str().empty());
  return text.str();
}

JobOptions options_with(const std::string& record) {
  JobOptions options = options_of(starter("heron-quay"));
  options.command = Command::record;
  options.record_texts = {record};
  return options;
}

Json report_of(const std::string& record) {
  Run run(options_with(record), own_data());
  REQUIRE(run.read_job());
  const Made made = made_by(job::record, run);
  return json(made.report.fields, run.words());
}

}  // namespace

TEST_CASE("the sample's record is read whole and tells what its rows say") {
  const Json made = report_of(sample_record());
  // Counted by hand in the file: eight bundles of five, leaks in the second and the sixth.
  CHECK(made["tested"] == 40);
  CHECK(made["leaked"] == 2);
  CHECK(made["rows_left_out"].empty());
  CHECK(made["by_bundle"].size() == 8);
  CHECK(made["by_place"][0]["place"] == "left bottom corner");
  CHECK(made["setting"]["dots"] == 2);
  CHECK(made["clear_seal"]["measured"] == 8);
  CHECK(made["clear_seal"]["capability"].is_null());
  CHECK(made["cannot_tell"].size() == 2);
}

TEST_CASE("a head without rows tells that nothing is tested") {
  const Json made = report_of(input::record_head() + "\n");
  CHECK(made["tested"] == 0);
  CHECK(made["share"].is_null());
}

TEST_CASE("the group's own work table takes the minutes that were recorded") {
  const std::string record =
      "bundle,operation,minutes,pouches\n1,press-sides,20,5\n1,sew-sides,1,5\n";
  JobOptions options = options_with(record);
  options.out = "own.toml";
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const auto files = made_by(job::record, run).files.made();
  REQUIRE(files.size() == 1);
  base::Diagnostics told;
  const auto own = input::read_work({"own.toml", files[0].bytes}, told);
  REQUIRE(own);
  // Pressing took seven times as long as planned, which no rating holds; sewing a third.
  const Json before = report_of(record);
  const auto planned_as = [&](const char* operation) {
    for (const Json& one : before["minutes"]) {
      if (one["operation"] == operation) return one["planned"].get<double>();
    }
    return 0.0;
  };
  base::Diagnostics faults;
  const auto usual = input::read_work(own_data().file("shared/work.toml"), faults);
  REQUIRE(usual);
  const auto pace = [](const batch::WorkTable& table, const char* kind) {
    const batch::WorkKind* found = table.kind(kind);
    return found->rating * (100 + found->allowance);
  };
  const double slower = pace(*own, "press") / pace(*usual, "press");
  const double faster = pace(*own, "sew") / pace(*usual, "sew");
  CHECK(slower * planned_as("press-sides") == doctest::Approx(4).epsilon(0.2));
  CHECK(faster * planned_as("sew-sides") == doctest::Approx(0.2).epsilon(0.001));
}

TEST_CASE("the setting that held goes into a copy of the job, which is right") {
  JobOptions options = options_with(sample_record());
  options.applies_record = true;
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const auto files = made_by(job::record, run).files.made();
  REQUIRE(files.size() == 1);
  CHECK(files[0].path == "pouch-recorded.toml");
  Run copy(options_of(files[0].bytes), own_data());
  REQUIRE(copy.read_job());
  REQUIRE(copy.settings().iron);
  CHECK(copy.settings().iron->dots == 2);
  CHECK(copy.settings().iron->seconds == 8);
}

TEST_CASE("seals that stray give the job's tolerances their own size") {
  std::string record = "bundle,operation,clear_seal\n";
  for (int i = 1; i <= 20; ++i) {
    record += std::to_string(i) + ",press-sides," + (i % 2 == 0 ? "6 mm" : "8 mm") + "\n";
  }
  JobOptions options = options_with(record);
  options.applies_record = true;
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const auto files = made_by(job::record, run).files.made();
  Run copy(options_of(files[0].bytes), own_data());
  REQUIRE(copy.read_job());
  // By hand: 16 - 8 = 8 mm are to stay clear; mean 7, s = sqrt(20/19): 8 - (7 - 3 s) = 4.078 mm, which
  // 1 + 2 + 2 make up in their proportion, each rounded up to a tenth.
  CHECK(run.pouch().clear_seal.in_mm() == doctest::Approx(8));
  CHECK(copy.pouch().request.tolerance.cut.value.in_mm() == doctest::Approx(0.9));
  CHECK(copy.pouch().request.tolerance.place.value.in_mm() == doctest::Approx(1.7));
  CHECK(copy.pouch().request.tolerance.sew.value.in_mm() == doctest::Approx(1.7));
}

TEST_CASE("the charts have no letters below 9 pt and stay on their page") {
  Run run(options_with(sample_record()), own_data());
  REQUIRE(run.read_job());
  Made made = made_by(job::record, run);
  REQUIRE(made.sheets);
  for (const ink::Drawing& page : made.sheets->drawn(ink::Breaks::pages)) {
    CHECK(page.extent.width() <= kSheetRoom.x);
    for (const ink::Item& item : page.items) {
      const auto* text = std::get_if<ink::Text>(&item);
      if (text != nullptr) CHECK(text->size >= ink::kSmallestSize);
    }
  }
}

// A day's file: what its makes lay over their jobs, and what lies under them. Its rules are the
// program's own; there is nothing outside to hold them to.
#include "input/day.h"

#include <string>

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Length;
using test::Lines;
using test::told;

namespace {

const std::string kJob =
    "construction = \"foldover\"\n[pouch]\nwidth = \"150 mm\"\ndepth = \"140 mm\"\n"
    "[batch]\npouches = 7\nhelpers = 2\n";

DayFile fine(const std::string& text) {
  base::Diagnostics diagnostics;
  auto day = read_day({"day.toml", text}, {}, diagnostics);
  CHECK(told(diagnostics, "day.toml") == Lines{});
  REQUIRE(day);
  return *std::move(day);
}

Lines faults(const std::string& text) {
  base::Diagnostics diagnostics;
  (void)read_day({"day.toml", text}, {}, diagnostics);
  CHECK(diagnostics.has_errors());
  return told(diagnostics, "day.toml");
}

JobSettings job_of(const Make& make, const std::string& job = kJob,
                   const std::vector<LoadedFile>& files = {}) {
  Library library = test::library(files);
  library.make = &make;
  auto read = test::job(job, {}, std::nullopt, library);
  CHECK(told(read.diagnostics) == Lines{});
  REQUIRE(read.settings);
  return *std::move(read.settings);
}

}  // namespace

TEST_CASE("a file is a day by its makes alone") {
  CHECK(is_day({"day.toml", "[[make]]\njob = \"a.toml\"\n"}));
  CHECK_FALSE(is_day({"job.toml", "# make it\n" + kJob}));
  CHECK_FALSE(is_day({"job.toml", "[[make\n"}));
}

TEST_CASE("a make lies over its job, the day's tables under it") {
  const DayFile day = fine(
      "[[make]]\njob = \"a.toml\"\npouches = 30\ntitle = \"Large\"\n"
      "set = { \"pouch.width\" = \"200 mm\", pouch = { flap = \"60 mm\" } }\n"
      "materials = { outer = { cloth = \"cotton-110\", print = \"reeds\" } }\n"
      "[paper]\nsize = \"Letter\"\n[batch]\nhelpers = 5\npouches = 99\n");
  const JobSettings job = job_of(day.makes.front());
  CHECK(job.request.title == "Large");
  CHECK(job.batch.pouches.value == 30);
  CHECK(job.request.sizes.at("width").value == Length::whole_mm(200));
  CHECK(job.request.sizes.at("flap").value == Length::whole_mm(60));
  CHECK(job.request.sizes.at("depth").value == Length::whole_mm(140));
  REQUIRE(job.request.outer);
  CHECK(job.request.outer->name == "cotton-110");
  CHECK(job.request.outer->print == "reeds");
  CHECK(job.paper.name == "Letter");
  // Who comes is the day's to say; of all else the job's own value wins.
  CHECK(job.batch.helpers.value == 5);
  CHECK(job_of(fine("[[make]]\njob = \"a.toml\"\n[batch]\npouches = 99\n").makes.front())
            .batch.pouches.value == 7);
}

TEST_CASE("a fault of what a make says stands in the day's file") {
  const DayFile day = fine("[[make]]\njob = \"a.toml\"\nset = { \"pouch.width\" = \"19x\" }\n");
  Library library = test::library();
  library.make = &day.makes.front();
  const auto read = test::job(kJob, {}, std::nullopt, library);
  const Lines faults = told(read.diagnostics);
  REQUIRE(faults.size() == 1);
  CHECK(faults.front().starts_with("day.toml:3:"));
}

TEST_CASE("paths of the day's file lead from its own folder") {
  const DayFile day =
      fine("[[make]]\njob = \"jobs/small/a.toml\"\n[materials]\nlaminate = \"./ours.toml\"\n");
  const Node* laminate = day.makes.front().shared.find("materials")->find("laminate");
  CHECK(laminate->text == "../.././ours.toml");
  const DayFile beside =
      fine("[[make]]\njob = \"a.toml\"\n[materials]\nlaminate = \"./ours.toml\"\n");
  CHECK(beside.makes.front().shared.find("materials")->find("laminate")->text == "./ours.toml");
}

TEST_CASE("a job that is named again, alike, is added") {
  const DayFile day = fine(
      "[[make]]\njob = \"a.toml\"\npouches = 3\n[[make]]\njob = \"a.toml\"\npouches = 4\n"
      "[[make]]\njob = \"a.toml\"\ntitle = \"Others\"\npouches = 5\n");
  REQUIRE(day.makes.size() == 2);
  CHECK(job_of(day.makes[0]).batch.pouches.value == 7);
  CHECK(job_of(day.makes[1]).batch.pouches.value == 5);
}

TEST_CASE("what is no day is told at its place") {
  CHECK(faults("make = []\n") == Lines{"1:8 day-no-make"});
  CHECK(faults("[[make]]\npouches = 0\n") ==
        Lines{"1:1 key-missing key=make.job",
              "2:11 out-of-range key=make.pouches text=0 least=1 most=2000"});
  CHECK(faults("pouch = 3\n[[make]]\njob = \"a.toml\"\n") == Lines{"1:1 not-of-day key=pouch"});
  CHECK(faults("[[make]]\njob = \"a.toml\"\npouches = 2000\n[[make]]\njob = \"b.toml\"\npouches = "
               "1\n") == Lines{"6:11 day-too-many sum=2001 most=2000"});
}

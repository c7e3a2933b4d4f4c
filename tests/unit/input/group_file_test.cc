// A group's file under a job: whose value holds, in which units, and what no group has. Its rules are
// the program's own; there is nothing outside to hold them to.
#include "input/group_file.h"

#include <algorithm>
#include <string>
#include <vector>

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Length;
using base::Unit;
using test::Lines;
using test::told;

namespace {

const std::string kJob = "construction = \"foldover\"\ngroup = \"./our/group.toml\"\n";

test::ReadJob with_group(const std::string& group, const std::string& more = "",
                         const std::vector<LoadedFile>& files = {}) {
  std::vector<LoadedFile> all = files;
  all.push_back({"./our/group.toml", group});
  return test::job(kJob + more, {}, std::nullopt, test::library(all));
}

JobSettings fine(const std::string& group, const std::string& more = "",
                 const std::vector<LoadedFile>& files = {}) {
  auto read = with_group(group, more, files);
  CHECK(told(read.diagnostics) == Lines{});
  REQUIRE(read.settings);
  return *std::move(read.settings);
}

std::vector<std::string> paths(const JobSettings& settings) {
  std::vector<std::string> all;
  for (const GroupValue& one : settings.of_group) all.push_back(one.path);
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

TEST_CASE("a job has from its group what it does not say itself") {
  const JobSettings job = fine("[batch]\nhelpers = 5\npouches = 12\n[paper]\nsize = \"Letter\"\n",
                               "[batch]\npouches = 30\n");
  CHECK(job.batch.helpers.value == 5);
  CHECK(job.batch.pouches.value == 30);
  CHECK(job.paper.name == "Letter");
  CHECK(paths(job) == std::vector<std::string>{"batch.helpers", "paper.size"});
  CHECK(job.of_group.front().place.file == "./our/group.toml");
}

TEST_CASE("an option wins over the group") {
  const auto read = test::job(kJob, {test::set("batch.helpers", "3")}, std::nullopt,
                              test::library({{"./our/group.toml", "[batch]\nhelpers = 5\n"}}));
  REQUIRE(read.settings);
  CHECK(read.settings->batch.helpers.value == 3);
}

TEST_CASE("lengths without a unit are in the units of the file that they stand in") {
  const JobSettings job = fine("units = \"in\"\n[paper]\nmargin = 0.5\noverlap = \"1/2\"\n",
                               "units = \"mm\"\n[tolerance]\nsew = 2\n");
  CHECK(job.request.units == Unit::mm);
  CHECK(job.paper.margins.left == Length::inches(1, 2));
  CHECK(job.paper.overlap == Length::inches(1, 2));
  CHECK(job.request.tolerance.sew.value == Length::whole_mm(2));
  // A job without units has the group's.
  CHECK(fine("units = \"in\"\n").request.units == Unit::inch);
  // A group without units writes in millimetres.
  CHECK(fine("[paper]\nmargin = 12\n", "units = \"in\"\n").paper.margins.top ==
        Length::whole_mm(12));
}

TEST_CASE("lists and cloths are taken as a whole, or not at all") {
  const std::string group =
      "[[stock.cloth]]\nmaterial = \"laminate\"\nwidth = \"60 cm\"\nlength = \"1 m\"\n"
      "[materials.laminate]\nwidth = \"140 cm\"\n"
      "[prices]\nthread = 3\n";
  const JobSettings of_group = fine(group);
  CHECK(of_group.lay.remnants.size() == 1);
  CHECK(of_group.request.laminate.width == Length::whole_mm(1400));
  const JobSettings own = fine(group,
                               "[[stock.cloth]]\nmaterial = \"laminate\"\nlength = \"3 m\"\n"
                               "[[stock.cloth]]\nmaterial = \"laminate\"\nlength = \"2 m\"\n"
                               "[materials]\nlaminate = \"pul-150\"\n");
  CHECK(own.lay.remnants.size() == 2);
  CHECK(own.request.laminate.width == Length::whole_mm(1500));
  CHECK(paths(own) == std::vector<std::string>{"prices.thread"});
}

TEST_CASE("the iron's setting is of one trial, and its sole of one iron") {
  const std::string group =
      "[iron]\ndots = 3\nsteam = true\nseconds = 12\nsole = \"220 x 115 mm\"\n";
  const JobSettings own = fine(group, "[iron]\ndots = 2\n");
  REQUIRE(own.iron);
  CHECK(own.iron->dots == 2);
  CHECK_FALSE(own.iron->steam);
  CHECK(own.sole.width == Length::whole_mm(220));
  const JobSettings sole = fine(group, "[iron]\nsole = \"200 x 100 mm\"\n");
  REQUIRE(sole.iron);
  CHECK(sole.iron->dots == 3);
  CHECK(sole.sole.width == Length::whole_mm(200));
}

TEST_CASE("paths of a group lead from its own folder") {
  const JobSettings job = fine("[materials]\nlaminate = \"./film.toml\"\n", "",
                               {{"./our/./film.toml", "kind = \"laminate\"\nwidth = \"93 cm\"\n"}});
  CHECK(job.request.laminate.width == Length::whole_mm(930));
}

TEST_CASE("a job that names no group has the library's") {
  Library library = test::library();
  library.group = [] { return LoadedFile{"/our/group.toml", "[batch]\nhelpers = 7\n"}; };
  const std::string plain = "construction = \"foldover\"\n";
  CHECK(test::job(plain, {}, std::nullopt, library).settings->batch.helpers.value == 7);
  // The table [group] names no file; one that is named counts alone.
  const std::string page = plain + "[group]\npage = \"https://example.org/\"\n";
  const auto with_page = test::job(page, {}, std::nullopt, library);
  CHECK(with_page.settings->batch.helpers.value == 7);
  CHECK(with_page.settings->group.page.value == "https://example.org/");
  Library both = test::library({{"./our/group.toml", "[batch]\nirons = 2\n"}});
  both.group = library.group;
  const auto own = test::job(kJob, {}, std::nullopt, both);
  CHECK(own.settings->batch.irons.value == 2);
  CHECK(own.settings->batch.helpers.value != 7);
}

TEST_CASE("the group's page holds for its jobs") {
  CHECK(fine("[group]\npage = \"https://example.org/\"\n").group.page.value ==
        "https://example.org/");
}

TEST_CASE("what is wrong with a group is told where it stands") {
  CHECK(told(test::job(kJob).diagnostics) == Lines{"2:9 group-unknown text=./our/group.toml"});
  CHECK(told(test::job("construction = \"foldover\"\ngroup = \"group.toml\"\n").diagnostics) ==
        Lines{"2:9 group-unknown text=group.toml"});
  CHECK(told(with_group("title = \"x\"\n[pouch]\nwidth = 10\n").diagnostics) ==
        Lines{"./our/group.toml:1:1 not-of-group key=title",
              "./our/group.toml:2:2 not-of-group key=pouch"});
  CHECK(told(with_group("group = \"./our/group.toml\"\n").diagnostics) ==
        Lines{"./our/group.toml:1:1 group-in-group"});
  CHECK(told(with_group("[batch]\nhelpers = 0\n").diagnostics)
            .front()
            .starts_with("./our/group.toml:2:11 "));
  CHECK_FALSE(told(with_group("[batch\n").diagnostics).empty());
  CHECK_FALSE(with_group("[batch\n").settings);
}

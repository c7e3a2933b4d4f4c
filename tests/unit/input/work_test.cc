// The work table: shared/work.toml, and files of a group's own.
#include "input/work.h"

#include <algorithm>

#include "pouch/construction.h"
#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Length;
using batch::Station;
using batch::WorkKind;
using test::Lines;
using test::told;

namespace {

struct Read {
  std::optional<batch::WorkTable> table;
  Lines told;
};

Read work(const std::string& text) {
  base::Diagnostics diagnostics;
  Read read;
  read.table = read_work({"work.toml", text}, diagnostics);
  read.told = told(diagnostics, "work.toml");
  return read;
}

batch::WorkTable own_table() {
  base::Diagnostics diagnostics;
  auto table = read_work(test::source_file("shared/work.toml"), diagnostics);
  CHECK(told(diagnostics) == Lines{});
  REQUIRE(table);
  return *table;
}

double minutes(const batch::WorkTable& table, const char* kind, const batch::Amount& amount) {
  const WorkKind* found = table.kind(kind);
  REQUIRE(found != nullptr);
  WorkKind plain = *found;
  plain.allowance = 0;
  return minutes_a_piece(plain, amount);
}

}  // namespace

TEST_CASE("the program's own table has every action that a construction can ask for") {
  const batch::WorkTable table = own_table();
  for (const std::string& action : words_of(pouch::kActionWords)) {
    CAPTURE(action);
    CHECK(table.kind(action) != nullptr);
  }
  CHECK(table.kind(batch::kCutting) != nullptr);
}

// Operation lists of clothing factories, for trained people at rating 100, as quoted in the
// project's check values: overedge a short edge 0.25-0.33, press a small part 0.38-0.54, clip
// 0.22-0.29.
TEST_CASE("a short end, a small part under the iron and a clip take what is published") {
  const batch::WorkTable table = own_table();
  const Length end = Length::whole_mm(204);
  const double overedged = minutes(table, "finish", {{end}, 1, 1});
  CHECK(overedged >= 0.25);
  CHECK(overedged <= 0.33);
  const Length side = Length::whole_mm(140);
  const double pressed = minutes(table, "press", {{side, side}, 2, 1});
  CHECK(pressed >= 0.38);
  CHECK(pressed <= 0.54);
  const double clipped = minutes(table, "snip apart", {{end}, 1, 1});
  CHECK(clipped >= 0.22);
  CHECK(clipped <= 0.29);
}

// Kanawaty (ed.), Introduction to Work Study, ILO, as quoted: personal 5, basic fatigue 4,
// standing 2 per cent.
TEST_CASE("those who stand are allowed more rest than those who sit") {
  const batch::WorkTable table = own_table();
  CHECK(table.kind("sew")->allowance == 5 + 4);
  CHECK(table.kind("press")->allowance == 5 + 4 + 2);
  CHECK(table.kind("cut")->allowance == 5 + 4 + 2);
}

TEST_CASE("every key of a kind is read") {
  const Read read = work(
      "bundle = 3\ntables = 2\nrating = 90\nallowance = 12\n[work.cut]\nstation = \"table\"\n"
      "[work.sew]\nstation = \"machine\"\nminutes = 1\nminutes_each = 2\nminutes_per_metre = 3\n"
      "minutes_per_bundle = 4\nwaits = 5\nstitch = \"2.5 mm\"\nstitches_per_minute = 600\n"
      "hold_seconds = 7\nhold_every = \"20 cm\"\nrating = 80\ngoes_on = true\nthen = \"cut\"\n");
  CHECK(read.told == Lines{});
  REQUIRE(read.table);
  CHECK(read.table->bundle == 3);
  CHECK(read.table->tables == 2);
  CHECK(read.table->kind("cut")->rating == 90);
  const WorkKind& sew = *read.table->kind("sew");
  CHECK(sew.station == Station::machine);
  CHECK(sew.minutes == 1);
  CHECK(sew.minutes_each == 2);
  CHECK(sew.minutes_per_metre == 3);
  CHECK(sew.minutes_per_bundle == 4);
  CHECK(sew.waits == 5);
  CHECK(sew.stitch == Length::nm(2'500'000));
  CHECK(sew.stitches_per_minute == 600);
  CHECK(sew.hold_seconds == 7);
  CHECK(sew.hold_every == Length::whole_mm(200));
  CHECK(sew.rating == 80);
  CHECK(sew.allowance == 12);
  CHECK(sew.goes_on);
  CHECK(sew.then == "cut");
}

TEST_CASE("minutes below zero and figures that say nothing alone are refused at their place") {
  CHECK(work("[work.cut]\nminutes = -1\n").told ==
        Lines{"2:11 out-of-range key=work.cut.minutes text=-1 least=0 most=600"});
  CHECK(work("[work.cut]\nrating = 0\nallowance = -5\n").told ==
        Lines{"2:10 out-of-range key=work.cut.rating text=0 least=10 most=200",
              "3:13 out-of-range key=work.cut.allowance text=-5 least=0 most=200"});
  CHECK(work("[work.cut]\nstitch = \"2 mm\"\n").told ==
        Lines{"1:1 key-missing key=work.cut.stitches_per_minute"});
  CHECK(work("[work.cut]\nhold_seconds = 8\n").told ==
        Lines{"1:1 key-missing key=work.cut.hold_every"});
  CHECK(work("bundle = 0\n[work.cut]\n").told ==
        Lines{"1:10 out-of-range key=bundle text=0 least=1 most=2000"});
}

TEST_CASE("what follows a kind must be a kind, and nothing follows that") {
  CHECK(work("[work.cut]\nthen = \"clop\"\n[work.clip]\n").told ==
        Lines{"2:8 work-then-unknown text=clop"});
  CHECK(work("[work.cut]\nthen = \"clip\"\n[work.clip]\nthen = \"cut\"\n").told ==
        Lines{"2:8 work-then-goes-on name=clip", "4:8 work-then-goes-on name=cut"});
}

TEST_CASE("a table without cutting, with unknown keys or of another kind is refused") {
  CHECK(work("[work.sew]\n").told == Lines{"1:2 key-missing key=work.cut"});
  CHECK(work("").told == Lines{"0:0 key-missing key=work"});
  CHECK(work("[work.cut]\nminute = 3\n").told == Lines{"2:1 key-unknown key=work.cut.minute"});
  CHECK(work("[work]\ncut = 3\n").told == Lines{"2:7 wrong-kind-table key=work.cut"});
  CHECK(work("[work.cut]\nstation = \"bench\"\n").told ==
        Lines{"2:11 not-a-choice key=work.cut.station text=bench"});
}

TEST_CASE("a job can bring minutes of its own") {
  const LoadedFile own{"own/work.toml", "[work.cut]\nminutes_each = 0.5\n"};
  const auto read = test::job("construction = \"foldover\"\n[batch]\nwork = \"own/work.toml\"\n",
                              {}, std::nullopt, test::library({own}));
  CHECK(told(read.diagnostics) == Lines{});
  REQUIRE(read.settings);
  REQUIRE(read.settings->work);
  CHECK(read.settings->work->kind("cut")->minutes_each == 0.5);
  CHECK_FALSE(test::fine("construction = \"foldover\"\n").work);
}

TEST_CASE("a work file at fault is told there, and then the job that names it") {
  const LoadedFile own{"own/work.toml", "[work.cut]\nminutes = -1\n"};
  const auto read = test::job("construction = \"foldover\"\n[batch]\nwork = \"own/work.toml\"\n",
                              {}, std::nullopt, test::library({own}));
  CHECK_FALSE(read.settings);
  CHECK(told(read.diagnostics) ==
        Lines{"3:8 work-unusable text=own/work.toml",
              "own/work.toml:2:11 out-of-range key=work.cut.minutes text=-1 least=0 most=600"});
  CHECK(test::faults("[batch]\nwork = \"work\"\n") == Lines{"3:8 work-unknown text=work"});
}

TEST_CASE("a table may stand ready with no machine and no iron, but nobody works it alone") {
  const auto job = test::fine(
      "construction = \"foldover\"\n[batch]\nmachines = 0\nirons = 0\noveredge_machines = 1\n");
  CHECK(job.batch.machines.value == 0);
  CHECK(job.batch.irons.value == 0);
  CHECK(job.batch.overedge_machines.value == 1);
  CHECK(test::fine("construction = \"foldover\"\n").batch.overedge_machines.value == 0);
  CHECK(test::faults("[batch]\nhelpers = 0\n") ==
        Lines{"3:11 out-of-range key=batch.helpers text=0 least=1 most=100"});
}

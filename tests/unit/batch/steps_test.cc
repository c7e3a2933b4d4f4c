#include "batch/work/steps.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <tuple>

#include "support/requests.h"
#include "unit/batch/thread_support.h"

using namespace pouchwright;
using namespace pouchwright::batch;
using base::Length;

namespace {

using test::mm;

WorkKind kind(const std::string& name, Station station, double minutes) {
  WorkKind made;
  made.name = name;
  made.station = station;
  made.minutes = minutes;
  return made;
}

/// One minute for everything, so that what is counted shows.
WorkTable table() {
  WorkTable made;
  made.bundle = 5;
  for (const std::string& action : words_of(pouch::kActionWords)) {
    made.kinds.push_back(kind(action, Station::hands, 1));
  }
  const auto set = [&](const char* name, auto change) {
    for (WorkKind& one : made.kinds) {
      if (one.name == name) change(one);
    }
  };
  set("press", [](WorkKind& one) {
    one.station = Station::iron;
    one.goes_on = true;
  });
  set("lay card", [](WorkKind& one) { one.goes_on = true; });
  set("fold", [](WorkKind& one) { one.goes_on = true; });
  set("take card", [](WorkKind& one) { one.goes_on = true; });
  set("finish", [](WorkKind& one) {
    one.station = Station::overedge;
    one.then = "snip apart";
  });
  set("sew", [](WorkKind& one) {
    one.station = Station::machine;
    one.then = "snip apart";
  });
  made.kinds.push_back(kind("snip apart", Station::hands, 1));
  made.kinds.push_back(kind("cut", Station::table, 0));
  made.kinds.back().minutes_each = 1;
  return made;
}

pouch::Pouch derived(const pouch::Request& request) {
  base::Diagnostics diagnostics;
  auto pouch = pouch::derive(request, diagnostics);
  REQUIRE(pouch);
  return *pouch;
}

pouch::Request finished_foldover() {
  pouch::Request request = test::hand_worked(test::foldover());
  request.start_finish = {pouch::FinishKind::overedge, Length(), mm(5), {}};
  request.end_finish = request.start_finish;
  request.outer = pouch::Material{.name = "outer", .kind = pouch::MaterialKind::outer};
  request.outer->width = mm(1100);
  return request;
}

Settings twenty() {
  Settings settings;
  settings.pouches.value = 20;
  return settings;
}

struct Made {
  std::vector<Step> steps;
  std::vector<std::string> told;
};

Made made(const pouch::Request& request, const Settings& settings, const WorkTable& work,
          const std::vector<ClothCuts>& cloths = {{"laminate", std::nullopt}},
          const std::optional<IronTrial>& iron = std::nullopt) {
  base::Diagnostics diagnostics;
  Made result;
  const pouch::Pouch pouch = derived(request);
  ThreadRules rules = test::thread_rules();
  use(settings.stitches, rules);
  const std::vector<Seam> seams = seams_of(pouch, rules);
  result.steps = steps({&pouch, &settings, &cloths, &iron, &seams}, work, diagnostics);
  for (const auto& fault : diagnostics.sorted()) {
    std::string text = fault.message.key;
    const base::Words none;
    for (const auto& [name, value] : fault.message.values) {
      text += " " + name + "=" + base::Voice(none).text(value);
    }
    result.told.push_back(text);
  }
  return result;
}

/// `pair`, or `fold-front+press-sides @iron <2 4`: ids, station, needs.
std::vector<std::string> shown(const std::vector<Step>& steps) {
  std::vector<std::string> lines;
  for (const Step& step : steps) {
    std::string line;
    for (const StepOperation& operation : step.operations) {
      line += (line.empty() ? "" : "+") + operation.id;
    }
    if (step.station != Station::hands)
      line += std::string(" @") + word_of(kStationWords, step.station);
    for (const std::size_t need : step.needs) line += " <" + std::to_string(need);
    lines.push_back(line);
  }
  return lines;
}

const StepOperation& operation(const std::vector<Step>& steps, const std::string& id) {
  for (const Step& step : steps) {
    for (const StepOperation& one : step.operations) {
      if (one.id == id) return one;
    }
  }
  FAIL("no operation " << id);
  return steps.front().operations.front();
}

}  // namespace

// Course notes in garment engineering: 50 in at 10 stitches an inch and 2000 a minute are 15 s.
TEST_CASE("machine minutes are length by stitch length and speed") {
  CHECK(machine_minutes(Length::inches(50), Length::inches(1, 10), 2000) ==
        doctest::Approx(15.0 / 60));
}

// The same: 0.60 min observed at a rating of 80 are 0.48 min; with 10 % + 20 % they are 0.624.
TEST_CASE("basic minutes follow the rating, planned ones the allowance") {
  CHECK(basic_minutes(0.60, 80) == doctest::Approx(0.48));
  CHECK(standard_minutes(0.48, 10 + 20) == doctest::Approx(0.624));
  WorkKind work = kind("fold", Station::hands, 0.60);
  work.rating = 80;
  work.allowance = 30;
  CHECK(minutes_a_piece(work, {}) == doctest::Approx(0.624));
}

TEST_CASE("every part of a kind counts by what it is about") {
  WorkKind work = kind("sew", Station::machine, 0.5);
  work.minutes_each = 0.25;
  work.minutes_per_metre = 2;
  work.stitch = mm(2);
  work.stitches_per_minute = 500;  // one metre a minute
  work.hold_seconds = 6;
  work.hold_every = mm(200);
  Amount amount{{mm(500), mm(200)}, 2, 1};
  // 0.5 + 2 * 0.25 + 0.7 m * 2 + 0.7 + (3 + 1 holds) * 0.1
  CHECK(minutes_a_piece(work, amount) == doctest::Approx(0.5 + 0.5 + 1.4 + 0.7 + 0.4));
  amount.sides = 2;  // all but the piece itself and the seam twice
  CHECK(minutes_a_piece(work, amount) == doctest::Approx(0.5 + 1.0 + 2.8 + 0.7 + 0.8));
}

TEST_CASE("steps come from the construction, its actions and the table, in the engine's order") {
  const Made all = made(finished_foldover(), twenty(), table(),
                        {{"laminate", std::nullopt}, {"outer", std::nullopt}});
  CHECK(all.told == std::vector<std::string>{});
  CHECK(shown(all.steps) ==
        std::vector<std::string>{
            "cut-laminate @table", "cut-outer @table", "pair <0 <1", "finish-start @machine <2",
            "finish-start-snip-apart <3", "finish-end @machine <4", "finish-end-snip-apart <5",
            "card-in+fold-front+press-sides+card-out+look @iron <6",
            "fold-flap+sew-sides @machine <7", "sew-sides-snip-apart <8", "tails <9", "test <10"});
}

TEST_CASE("what the job skips makes no step, and what needs it waits for what came before") {
  pouch::Request request = test::hand_worked(test::foldover());
  request.cards = pouch::CardUse::on_top;
  const Made plain = made(request, twenty(), table());
  CHECK(shown(plain.steps) ==
        std::vector<std::string>{"cut-laminate @table", "fold-front+press-sides+look @iron <0",
                                 "fold-flap+sew-sides @machine <1", "sew-sides-snip-apart <2",
                                 "tails <3", "test <4"});
}

TEST_CASE("a pleat's folds stay in the same hands until it is pressed") {
  const Made pleated = made(test::hand_worked(test::gusset()), twenty(), table());
  CHECK(shown(pleated.steps).at(1) ==
        "fold-bottom+fold-pleat+card-in+fold-front+press-sides+card-out+look @iron <0");
}

TEST_CASE("ends are overedged on a machine for that where the job has one") {
  Settings settings = twenty();
  settings.overedge_machines.value = 1;
  const Made all = made(finished_foldover(), settings, table());
  CHECK(shown(all.steps).at(2) == "finish-start @overedge <1");
}

// ISO 4915: class 500 are the overedges; 301 is a lockstitch.
TEST_CASE("a seam is sewn where its stitch can be, whatever machine the table names") {
  Settings settings = twenty();
  settings.overedge_machines.value = 1;
  const auto station = [](const Made& all, const std::string& id) {
    for (const Step& step : all.steps) {
      for (const StepOperation& one : step.operations) {
        if (one.id == id) return step.station;
      }
    }
    FAIL("no operation " << id);
    return Station::hands;
  };
  pouch::Request request = finished_foldover();
  CHECK(station(made(request, settings, table()), "sew-sides") == Station::overedge);
  request.end_finish.kind = pouch::FinishKind::turned;
  request.end_finish.takes = mm(10);
  request.end_finish.needle_reach = mm(18);
  const Made hemmed = made(request, settings, table());
  CHECK(station(hemmed, "finish-start") == Station::overedge);
  CHECK(station(hemmed, "finish-end") == Station::machine);
  settings.stitches.sides = base::Placed<std::string>{"straight", {}};
  CHECK(station(made(request, settings, table()), "sew-sides") == Station::machine);
  // An overedge machine alone does for a pouch that is only overedged.
  Settings alone = twenty();
  alone.overedge_machines.value = 1;
  alone.machines.value = 0;
  CHECK(made(finished_foldover(), alone, table()).told.empty());
  CHECK(made(request, alone, table()).told ==
        std::vector<std::string>{"schedule-none-machine operation=finish-end"});
}

TEST_CASE("sides that are sewn in two passes are worked on twice, each where its stitch is sewn") {
  Settings settings = twenty();
  settings.overedge_machines.value = 1;
  pouch::Request request = test::hand_worked(test::foldover());
  request.passes.resize(2);
  request.passes[0].stitch.value = "overedge";
  request.passes[1].stitch.value = "zigzag";
  const auto lines = shown(made(request, settings, table()).steps);
  REQUIRE(lines.size() >= 6);
  CHECK(lines[2] == "fold-flap+sew-sides @overedge <1");
  CHECK(lines[3] == "sew-sides-snip-apart <2");
  CHECK(lines[4] == "sew-sides-pass-2 @machine <3");
  CHECK(lines[5] == "tails <4");  // a zigzag has no chain to snip
}

// ISO 4915: 504 is an overedge, whose threads run on as a chain; a zigzag (304) and a lockstitch (301)
// are sewn back and forth (common practice, no source).
TEST_CASE("only what ends in a thread chain is snipped apart") {
  Settings settings = twenty();
  const auto has = [&](const pouch::Request& request, const char* id) {
    const auto lines = shown(made(request, settings, table()).steps);
    return std::any_of(lines.begin(), lines.end(),
                       [&](const std::string& line) { return line.find(id) != std::string::npos; });
  };
  CHECK(has(finished_foldover(), "sew-sides-snip-apart"));
  CHECK(has(finished_foldover(), "finish-end-snip-apart"));
  settings.stitches.sides = base::Placed<std::string>{"301", {}};
  CHECK_FALSE(has(finished_foldover(), "sew-sides-snip-apart"));
  CHECK(has(finished_foldover(), "finish-end-snip-apart"));
  settings.stitches.ends = base::Placed<std::string>{"304", {}};
  CHECK_FALSE(has(finished_foldover(), "snip-apart"));
}

TEST_CASE("tails are secured at the machine that sews them") {
  WorkTable work = table();
  for (WorkKind& one : work.kinds) {
    if (one.name == "secure tails") one.station = Station::machine;
  }
  Settings settings = twenty();
  settings.overedge_machines.value = 1;
  // The sides are overedged, the tails zigzagged (ISO 4915: 504, 304).
  const Made all = made(test::hand_worked(test::foldover()), settings, work);
  CHECK(shown(all.steps).at(2) == "fold-flap+sew-sides @overedge <1");
  CHECK(shown(all.steps).at(4) == "tails @machine <3");
  // A job without chains has no such step at all.
  pouch::Request request = test::hand_worked(test::foldover());
  request.chains = false;
  for (const std::string& line : shown(made(request, settings, work).steps)) {
    CHECK(line.find("tails") == std::string::npos);
  }
}

TEST_CASE("the first pouch of each who presses is filled before anything is sewn") {
  pouch::Request request = test::hand_worked(test::foldover());
  auto& operations = request.construction.operations;
  const auto look = std::find_if(operations.begin(), operations.end(),
                                 [](const auto& one) { return one.id == "look"; });
  operations.insert(look + 1, {"fill-first", {}, pouch::does::FillFirst{}});
  Settings settings = twenty();
  settings.helpers.value = 4;
  const Made one = made(request, settings, table());
  CHECK(shown(one.steps).at(2) == "fill-first <1");
  CHECK(shown(one.steps).at(3) == "fold-flap+sew-sides @machine <2");
  CHECK(one.steps[2].firsts == 1);  // one iron, so one who presses
  CHECK_FALSE(one.steps[3].firsts);
  CHECK(one.steps[2].pieces_of(0, 5) == 1);
  CHECK(one.steps[2].pieces_of(1, 5) == 0);
  CHECK(one.steps[2].takes(one.steps[2].pieces_of(1, 5)) == Time());
  settings.irons.value = 3;
  CHECK(made(request, settings, table()).steps[2].firsts == 3);
  settings.helpers.value = 2;
  CHECK(made(request, settings, table()).steps[2].firsts == 2);
  settings.first_pouch = FirstPouch::one;
  CHECK(made(request, settings, table()).steps[2].firsts == 1);
  request.fills_first = false;
  CHECK(shown(made(request, settings, table()).steps).at(2) == "fold-flap+sew-sides @machine <1");
}

// Sewers fold and stitch straps and box-stitch them down by machine: common practice, no source.
TEST_CASE("straps are sewn on at a machine, each for itself, where the table knows such work") {
  pouch::Request request = test::hand_worked(test::foldover());
  pouch::Construction& construction = request.construction;
  pouch::Attachment strap;
  strap.name = "strap";
  strap.kind = pouch::AttachmentKind::strap;
  strap.span = *construction.flap_span;
  strap.distance = {{{"lip_drop", 2, 1}}};
  strap.extent = {{{"lip_drop", 1, 1}}};
  strap.width = {{{"lip_drop", 2, 1}}};
  strap.across = pouch::Across::sides;
  strap.from_side = {{{"lip_drop", 3, 1}}};
  construction.attachments = {strap};
  construction.operations.insert(construction.operations.begin(),
                                 {"strap-on", {}, pouch::does::Attach{0, {}}});
  for (pouch::Operation& one : construction.operations) {
    for (std::size_t& need : one.needs) ++need;
  }
  const auto strap_step = [&](const WorkTable& known) {
    const std::vector<Step> all = made(request, twenty(), known).steps;
    return *std::find_if(all.begin(), all.end(),
                         [](const Step& step) { return step.operations.front().id == "strap-on"; });
  };
  CHECK(strap_step(table()).station == Station::hands);
  WorkTable knows = table();
  knows.kinds.push_back(kind("sew on", Station::machine, 0));
  knows.kinds.back().minutes_each = 1;
  const Step sewn = strap_step(knows);
  CHECK(sewn.station == Station::machine);
  CHECK(sewn.operations.size() == 1);
  // One minute for each of the two.
  CHECK(sewn.takes(1) == base::Time::minutes(2));
}

TEST_CASE("a step is not put together over two stations") {
  WorkTable work = table();
  for (WorkKind& one : work.kinds) {
    if (one.name == "look inside") one.goes_on = true;
  }
  // Folding goes on from looking, at the iron; sewing is at the machine.
  const Made all = made(test::hand_worked(test::foldover()), twenty(), work);
  CHECK(shown(all.steps).at(1) ==
        "card-in+fold-front+press-sides+card-out+look+fold-flap @iron <0");
  CHECK(shown(all.steps).at(2) == "sew-sides @machine <1");
}

TEST_CASE(
    "lengths are those of the pouch: the cut width for ends, what is fused or sewn for sides") {
  WorkTable work = table();
  for (WorkKind& one : work.kinds) {
    one.minutes = 0;
    one.minutes_per_metre = 1;
  }
  pouch::Request request = finished_foldover();
  request.construction = test::with_sewn_sides(std::move(request.construction));
  const auto all = made(request, twenty(), work).steps;
  // Worked by hand: cut 190 + 2 x 7 wide; with overedged ends pressed from 5 to 140 mm
  // less the needles of the front's end (here the film contacts: 0 to 140), sewn from 0 to 150.
  CHECK(operation(all, "finish-start").each == Time::minutes(0.204));
  CHECK(operation(all, "press-sides").each == Time::minutes(2 * 0.140));
  CHECK(operation(all, "sew-sides").each == Time::minutes(2 * 0.150));
}

TEST_CASE("seconds of the trial with the iron hold where the job gives them") {
  WorkTable work = table();
  for (WorkKind& one : work.kinds) {
    if (one.name != "press") continue;
    one.hold_seconds = 30;
    one.hold_every = mm(100);
  }
  const pouch::Request request = test::hand_worked(test::foldover());
  // 140 mm are two holds, on either side.
  const auto usual = made(request, twenty(), work).steps;
  CHECK(operation(usual, "press-sides").each == Time::minutes(1 + 4 * 0.5));
  IronTrial trial;
  trial.seconds = 12;
  const auto tried = made(request, twenty(), work, {{"laminate", std::nullopt}}, trial).steps;
  CHECK(operation(tried, "press-sides").each == Time::minutes(1 + 4 * 0.2));
}

TEST_CASE("cutting is counted by the lay's cuts, or by panel where there is no lay") {
  const pouch::Request request = test::hand_worked(test::foldover());
  CHECK(operation(made(request, twenty(), table()).steps, "cut-laminate").each == Time::minutes(2));
  const auto laid = made(request, twenty(), table(), {{"laminate", 30}}).steps;
  CHECK(operation(laid, "cut-laminate").each == Time::minutes(1.5));
}

TEST_CASE("what a day holds besides is done once before, as far as the table knows it") {
  WorkTable work = table();
  for (const auto& [name, station, minutes] : {std::tuple("open cloth", Station::table, 5.0),
                                               std::tuple("thread machine", Station::machine, 3.0),
                                               std::tuple("warm iron", Station::iron, 1.0),
                                               std::tuple("trace cards", Station::hands, 6.0)}) {
    work.kinds.push_back(kind(name, station, 0));
    work.kinds.back().minutes_each = minutes;
  }
  work.kinds.push_back(kind("iron trial", Station::iron, 12));
  work.kinds.push_back(kind("mark", Station::hands, 1));
  const pouch::Request request = test::hand_worked(test::foldover());
  const Made all = made(request, twenty(), work);
  CHECK(all.told == std::vector<std::string>{});
  CHECK(shown(all.steps) ==
        std::vector<std::string>{"open-laminate @table", "thread-machine @machine", "trace-cards",
                                 "warm-iron @iron", "iron-trial @iron <0 <3",
                                 "cut-laminate @table <0", "mark <5",
                                 "card-in+fold-front+press-sides+card-out+look @iron <2 <4 <6",
                                 "fold-flap+sew-sides @machine <1 <7", "sew-sides-snip-apart <8",
                                 "tails <9", "test <10"});
  for (std::size_t i = 0; i < all.steps.size(); ++i) {
    CHECK(all.steps[i].once == (i < 5));
    if (i < 5) CHECK(all.steps[i].pieces_of(0, 5) == 1);
  }
  // A slip card and a shield.
  CHECK(operation(all.steps, "trace-cards").each == Time::minutes(2 * 6));
  // What the trial showed is known: it is not made again.
  IronTrial trial;
  for (const std::string& line :
       shown(made(request, twenty(), work, {{"laminate", std::nullopt}}, trial).steps)) {
    CHECK(line.find("iron-trial") == std::string::npos);
  }
}

TEST_CASE("whoever comes to a step from other work sets up for the longest of its kinds") {
  WorkTable work = table();
  for (WorkKind& one : work.kinds) one.set_up = one.name == "press" ? 2 : 0.5;
  const Made all = made(test::hand_worked(test::foldover()), twenty(), work);
  CHECK(all.steps[0].set_up == Time::minutes(0.5));
  CHECK(all.steps[1].set_up == Time::minutes(2));
}

TEST_CASE("packing is for all pouches, and for no table that does not know it") {
  WorkTable work = table();
  CHECK(packing_time(twenty(), work) == Time());
  work.kinds.push_back(kind("pack", Station::hands, 0.5));
  CHECK(packing_time(twenty(), work) == Time::minutes(10));
}

TEST_CASE("what a job has none of, and what the table lacks, is told once each") {
  Settings settings = twenty();
  settings.irons = {0, {"job.toml", 7, 9, 10}};
  settings.machines = {0, {"job.toml", 6, 12, 13}};
  CHECK(made(finished_foldover(), settings, table()).told ==
        std::vector<std::string>{"schedule-none-machine operation=finish-start",
                                 "schedule-none-iron operation=press-sides"});
  WorkTable work = table();
  std::erase_if(work.kinds, [](const WorkKind& one) { return one.name == "secure tails"; });
  CHECK(made(test::hand_worked(test::foldover()), twenty(), work).told ==
        std::vector<std::string>{"work-kind-missing kind=secure tails operation=tails"});
}

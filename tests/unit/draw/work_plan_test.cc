#include "draw/sheets/work_plan.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <variant>

#include "batch/work/stretches.h"
#include "full_size_support.h"
#include "tell/work.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::tell;
using batch::Station;

namespace {

using test::EvenMeasure;

constexpr Point kRoom{190, 277};

/// What has the name of no operation is a cloth that is cut.
std::optional<std::size_t> about_of(const std::string& about) {
  const auto made = test::foldover();
  const std::size_t index = test::index_of(made, about);
  return index < made.operations.size() ? std::optional(index) : std::nullopt;
}

batch::Step step(const std::string& kind, const std::string& about, int minutes, Station station,
                 std::vector<std::size_t> needs) {
  batch::Step made;
  made.operations = {
      {about, kind, about_of(about), 1, base::Time::whole_minutes(minutes), {}, about}};
  made.station = station;
  made.needs = std::move(needs);
  return made;
}

struct Planned {
  batch::Line line;
  batch::Schedule plan;
};

Planned planned(int bundles, int helpers) {
  Planned made;
  made.line.steps = {step("cut", "laminate", 1, Station::table, {}),
                     step("press", "press-sides", 6, Station::iron, {0}),
                     step("sew", "sew-sides", 3, Station::machine, {1}),
                     step("finish", "finish-end", 2, Station::overedge, {2}),
                     step("test", "test", 2, Station::hands, {3})};
  made.line.bundles.assign(static_cast<std::size_t>(bundles), 1);
  made.line.helpers = helpers;
  made.line.stations = {0, helpers, helpers, helpers, helpers};
  made.line.work = 1'000;
  made.plan = batch::planned(made.line);
  return made;
}

std::vector<Drawing> charts(const Planned& made, Breaks breaks = Breaks::pages) {
  const EvenMeasure measure;
  const std::vector<std::string> names = {"cut the laminate", "fuse both sides (step 6)",
                                          "sew both sides (step 9)",
                                          "overedge the end of the flap (step 3)", "test"};
  return schedule_charts({&made.line, &made.plan, "Work plan", {"Finished soon."}, names},
                         test::own_words(), measure, kRoom, breaks);
}

std::vector<Text> texts(const Drawing& drawing) {
  std::vector<Text> all;
  for (const Item& item : drawing.items) {
    if (const auto* text = std::get_if<Text>(&item)) all.push_back(*text);
  }
  return all;
}

std::size_t count_named(const std::vector<Drawing>& drawings, const std::string& name) {
  std::size_t count = 0;
  for (const Drawing& drawing : drawings) {
    for (const Item& item : drawing.items) {
      const auto* shape = std::get_if<Shape>(&item);
      if (shape && shape->name == name) ++count;
    }
  }
  return count;
}

/// What every chart owes its reader.
void check_sound(const std::vector<Drawing>& drawings) {
  const EvenMeasure measure;
  for (const Drawing& drawing : drawings) {
    std::vector<Box> boxes;
    for (const Item& item : drawing.items) {
      const Box box = bounds(item, measure);
      CHECK(box.x0 >= -0.001);
      CHECK(box.y0 >= -0.001);
      CHECK(box.x1 <= drawing.extent.x1 + 0.001);
      CHECK(box.y1 <= drawing.extent.y1 + 0.001);
    }
    for (const Text& text : texts(drawing)) {
      CHECK(text.size >= kSmallestSize);
      const Box box = bounds(text, measure);
      INFO(text.words);
      // Lines of one paragraph touch.
      for (const Box& other : boxes) CHECK_FALSE(overlap(grown(box, -1e-6), other));
      boxes.push_back(box);
    }
  }
}

}  // namespace

TEST_CASE("steps have letters, as many as it takes") {
  // Sheets begin with A; O would read as a nought.
  CHECK(tell::step_letter(0) == "K");
  CHECK(tell::step_letter(3) == "N");
  CHECK(tell::step_letter(4) == "P");
  CHECK(tell::step_letter(14) == "Z");
  CHECK(tell::step_letter(15) == "2K");
  CHECK(tell::step_letter(16) == "2L");
  CHECK(tell::step_letter(30) == "3K");
}

TEST_CASE("bundles done one after the other by one person are one bar") {
  const Planned made = planned(6, 1);
  std::size_t tasks = 0;
  const auto own = batch::stretches(made.plan);
  for (const batch::Stretch& one : own.front()) {
    tasks += 1 + one.between.size();
    CHECK(one.last_bundle - one.first.bundle == one.between.size());
  }
  CHECK(tasks == made.plan.tasks.size());
}

TEST_CASE("every stretch of work is a bar, and each helper who works has a row in every band") {
  const Planned made = planned(8, 3);
  const auto drawn = charts(made);
  std::size_t bars = 0;
  for (const auto& own : batch::stretches(made.plan)) bars += own.size();
  const std::size_t drawn_bars = count_named(drawn, "bar");
  CHECK(drawn_bars >= bars);  // those that go on in another band are drawn in both
  std::size_t first = 0;
  std::size_t third = 0;
  for (const Text& text : texts(drawn.front())) {
    if (text.words == "helper 1") ++first;
    if (text.words == "helper 3") ++third;
  }
  CHECK(first >= 1);
  CHECK(first == third);
}

TEST_CASE("charts keep to their page, and no words lie on others") {
  check_sound(charts(planned(1, 1)));
  check_sound(charts(planned(8, 3)));
  check_sound(charts(planned(60, 5)));
  check_sound(charts(planned(200, 70)));
  check_sound(charts(planned(60, 5), Breaks::none));
}

TEST_CASE("a page is as large as the room, and many helpers take more pages") {
  for (const Drawing& one : charts(planned(60, 5))) {
    CHECK(one.extent == Box{0, 0, kRoom.x, kRoom.y});
  }
  CHECK(charts(planned(200, 70)).size() > 1);
  CHECK(charts(planned(200, 70), Breaks::none).size() == 1);
  // A long day is not more pages, but longer bands.
  CHECK(charts(planned(2'000, 3)).size() <= 8);
}

TEST_CASE("hands, table, machine, overedge machine and iron look different") {
  const auto drawn = charts(planned(4, 2));
  std::set<std::size_t> kinds;
  const auto samples = count_named(drawn, "sample");
  CHECK(samples == 5);
  // Solid black only for irons; strokes for the others but hands.
  CHECK(count_named(drawn, "iron") >= 1);
  CHECK(count_named(drawn, "station") >= 3);
}

TEST_CASE("times are hours and minutes") {
  CHECK(tell::clock_time(base::Time::whole_minutes(0), test::own_words()) == "0:00");
  CHECK(tell::clock_time(base::Time::whole_minutes(65), test::own_words()) == "1:05");
  CHECK(tell::clock_time(base::Time::seconds(119), test::own_words()) == "0:01");
  CHECK(tell::clock_time(base::Time::whole_minutes(1800), test::own_words()) == "30:00");
}

#include "batch/work/clips.h"

#include <doctest/doctest.h>

using namespace pouchwright;
using namespace pouchwright::batch;

namespace {

Time minutes(int count) { return base::Time::whole_minutes(count); }

Step step(const char* kind, Station station, std::vector<std::size_t> needs) {
  Step made;
  made.operations = {{kind, kind, std::nullopt, 1, minutes(1), Time(), ""}};
  made.station = station;
  made.needs = std::move(needs);
  return made;
}

/// Six clips a pouch when it is paired, two more when a panel is laid on; pressing takes them off.
WorkTable table() {
  WorkTable made;
  for (const char* name : {"pair", "lay panel", "press", "sew"}) made.kinds.push_back({name});
  made.kinds[0].clips = 6;
  made.kinds[1].clips = 2;
  made.kinds[2].takes_clips_off = true;
  return made;
}

Line line() {
  Line made;
  made.steps = {step("pair", Station::hands, {}), step("lay panel", Station::hands, {0}),
                step("press", Station::iron, {1}), step("sew", Station::machine, {2})};
  made.bundles = {5, 5, 5};
  made.helpers = 2;
  made.stations = {0, 1, 1, 1, 1};
  return made;
}

Task task(std::size_t step, std::size_t bundle, int from, int to) {
  return {step, bundle, minutes(from), minutes(to), 0, 0};
}

}  // namespace

TEST_CASE("clips in use are those of the pouches between pairing and pressing") {
  Schedule plan;
  // By hand: at 20 all three bundles are paired and laid on, 15 x 8; the first is pressed from 20
  // to 25, so its clips are free at 25. At 10 to 15 it is 15 x 6 and five more pairs.
  plan.tasks = {task(0, 0, 0, 5),   task(0, 1, 5, 10),  task(0, 2, 10, 15), task(1, 0, 15, 16),
                task(1, 1, 16, 17), task(1, 2, 17, 20), task(2, 0, 20, 25), task(2, 1, 25, 30),
                task(2, 2, 30, 35), task(3, 0, 25, 30)};
  const ClipNeed need = clips_in_use(line(), plan, table());
  CHECK(need.clips == 120);
  CHECK(need.pouches == 15);
}

TEST_CASE("clips that come off a bundle hold the next one") {
  Schedule plan;
  plan.tasks = {task(0, 0, 0, 5),   task(1, 0, 5, 6),   task(2, 0, 6, 10),
                task(0, 1, 10, 15), task(1, 1, 15, 16), task(2, 1, 16, 20)};
  const ClipNeed need = clips_in_use(line(), plan, table());
  // By hand: five pouches at a time, 6 + 2 clips each.
  CHECK(need.clips == 40);
  CHECK(need.pouches == 5);
}

TEST_CASE("a plan of its own never asks for more clips than all pouches wear") {
  const Line own = line();
  const ClipNeed need = clips_in_use(own, planned(own), table());
  const ClipNeed all = clips_of_all(own.steps, 15, table());
  CHECK(all.clips == 120);
  CHECK(all.pouches == 15);
  CHECK(need.clips <= all.clips);
  CHECK(need.clips >= 40);
  CHECK(clips_of_all({own.steps.back()}, 15, table()).clips == 0);
}

#include "batch/work/skills.h"

#include <doctest/doctest.h>

using namespace pouchwright;
using namespace pouchwright::batch;

namespace {

Time minutes(int count) { return base::Time::whole_minutes(count); }

WorkTable table() {
  WorkTable made;
  for (const auto& [name, station] :
       {std::pair("cut", Station::table), std::pair("fold", Station::hands),
        std::pair("press", Station::iron), std::pair("warm iron", Station::iron)}) {
    WorkKind kind;
    kind.name = name;
    kind.station = station;
    made.kinds.push_back(kind);
  }
  return made;
}

StepOperation operation(const char* id, const char* kind) {
  return {id, kind, std::nullopt, 1, minutes(1), Time(), ""};
}

/// Warm the iron; cut; fold and press in one go.
std::vector<Step> steps() {
  std::vector<Step> made(3);
  made[0].operations = {operation("warm-iron", "warm iron")};
  made[0].station = Station::iron;
  made[0].firsts = 1;
  made[0].once = true;
  made[1].operations = {operation("cut-laminate", "cut")};
  made[1].station = Station::table;
  made[2].operations = {operation("fold-front", "fold"), operation("press-sides", "press")};
  made[2].station = Station::iron;
  made[2].needs = {0, 1};
  return made;
}

base::Placed<std::string> word(const char* text) { return {text, {"job.toml", 9, 8, 12}}; }

Settings two(std::vector<base::Placed<std::string>> can) {
  Settings settings;
  settings.helpers.value = 2;
  settings.people.push_back({"Ada", std::move(can), 0.5, {"job.toml", 8, 1, 18}});
  return settings;
}

std::vector<std::string> told(const base::Diagnostics& diagnostics) {
  std::vector<std::string> keys;
  for (const auto& one : diagnostics.sorted()) keys.push_back(one.message.key);
  return keys;
}

}  // namespace

TEST_CASE("who can work at the iron can make it ready, and who can fold cannot for that press") {
  base::Diagnostics diagnostics;
  const auto people = people_of(two({word("press")}), steps(), table(), diagnostics);
  REQUIRE(people.size() == 2);
  CHECK(people[0].name == "Ada");
  CHECK(people[0].speed == 0.5);
  CHECK(people[0].can == std::vector<bool>{true, false, true});
  CHECK(people[1].can.empty());
  CHECK(people_of(two({word("iron")}), steps(), table(), diagnostics)[0].can == people[0].can);
  CHECK(people_of(two({word("cut-laminate")}), steps(), table(), diagnostics)[0].can ==
        std::vector<bool>{false, true, false});
  CHECK(told(diagnostics).empty());
  (void)people_of(two({word("fold")}), steps(), table(), diagnostics);
  CHECK(told(diagnostics) == std::vector<std::string>{"helper-can-nothing"});
}

TEST_CASE("whoever is given some steps can do these and nothing else that is done to bundles") {
  // By hand: a kind that another step has as well tells nothing of which.
  std::vector<Step> line(4);
  line[0].once = true;
  line[0].operations = {operation("warm-iron", "warm iron")};
  line[1].operations = {operation("finish-start", "finish")};
  line[2].operations = {operation("press-sides", "press"), operation("press-bottom", "press")};
  line[3].operations = {operation("finish-end", "finish")};
  using Words = std::vector<std::string>;
  CHECK(words_for({0, 2}, line) == Words{"press"});
  CHECK(words_for({1}, line) == Words{"finish-start"});
  CHECK(words_for({1, 2, 3}, line) == Words{"finish", "press"});
  CHECK(words_for({0}, line).empty());
}

TEST_CASE("nobody is told of, so nobody is different") {
  base::Diagnostics diagnostics;
  Settings settings;
  settings.helpers.value = 3;
  CHECK(people_of(settings, steps(), table(), diagnostics).empty());
}

TEST_CASE("unknown words and steps that nobody can do are told") {
  base::Diagnostics diagnostics;
  Settings settings = two({word("cut"), word("ironing")});
  settings.helpers.value = 1;
  (void)people_of(settings, steps(), table(), diagnostics);
  CHECK(told(diagnostics) == std::vector<std::string>{"helpers-none-can", "helper-can-unknown"});
  base::Diagnostics in_words;
  (void)people_of(settings, steps(), table(), in_words, {"warm it", "cut it", "fuse it"});
  CHECK(std::get<std::string>(in_words.sorted().front().message.values.front().second.held()) ==
        "fuse it");
}

TEST_CASE("breaks that a task does not fit between are told, those that nobody stated give way") {
  Line line;
  line.steps = steps();
  line.bundles = {10};
  Settings settings;
  settings.break_every.value = 15;
  base::Diagnostics diagnostics;
  take_breaks(settings, line, diagnostics);
  CHECK_FALSE(line.breaks.any());
  CHECK(told(diagnostics).empty());
  settings.break_every.place = {"job.toml", 5, 1, 9};
  take_breaks(settings, line, diagnostics);
  CHECK(told(diagnostics) == std::vector<std::string>{"breaks-too-near"});
  settings.break_every.value = 20;
  base::Diagnostics fine;
  take_breaks(settings, line, fine);
  CHECK(line.breaks == Breaks{minutes(20), minutes(10)});
  CHECK(told(fine).empty());
}

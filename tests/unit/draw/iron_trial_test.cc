#include "draw/sheets/iron_trial.h"

#include <algorithm>

#include "draw/sheets/scenes.h"
#include "unit/draw/icons_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;
const batch::IronTrial kFound{2, true, 8, {}};

std::string words_of(const IronTrialSheet& sheet) {
  return all_words(iron_trial(sheet, own_icons(), own_words(), kMeasure, {190, 277}));
}

int dots_in(const Frame& picture) {
  int count = 0;
  for (const Item& item : picture.items) {
    const auto* shape = std::get_if<Shape>(&item);
    count += shape != nullptr && shape->fill == Fill::solid ? 1 : 0;
  }
  return count;
}

}  // namespace

TEST_CASE("the iron trial is legible on every paper, also in longer words") {
  for (const double longer : {0.0, 0.4}) {
    for (const NamedRoom& paper : rooms()) {
      for (const NamedRequest& one : all_requests()) {
        CAPTURE(paper.name);
        CAPTURE(one.name);
        for (const auto& result : {std::optional<batch::IronTrial>(), std::optional(kFound)}) {
          const auto sheet = iron_trial_of(derived(one.request), result);
          check_pages(iron_trial(sheet, own_icons(), own_words(longer), kMeasure, paper.room),
                      paper.room);
        }
      }
    }
  }
}

TEST_CASE("no setting has one dot and steam, and each dot has its temperature") {
  for (const IronSetting& setting : kIronSettings) {
    CHECK_FALSE((setting.dots == 1 && setting.steam));  // ISO 3758
  }
  // ISO 3758.
  CHECK(sole_temperature(1) == 110);
  CHECK(sole_temperature(2) == 150);
  CHECK(sole_temperature(3) == 200);
  for (const int dots : {1, 2, 3})
    CHECK(dots_in(iron_picture(own_icons(), dots, Steam::unsaid)) == dots);
}

TEST_CASE(
    "the trial begins cool, goes on longer before hotter, and ends with the first that holds") {
  const auto sheet = iron_trial_of(derived(hand_worked(foldover())), std::nullopt);
  const std::string words = words_of(sheet);
  CHECK(has(words, "in the top row of the table. Never go above what the care label"));
  CHECK(kIronSettings.front().dots == 1);
  // Two strips a pair.
  CHECK(has(words, "Cut 6 strips"));
  CHECK(has(words, "120 mm away from the iron"));
  CHECK(has(words, "for longer, one column to the right. Only when the longest peels too"));
  CHECK(has(words, "The trial ends: fill in the label"));
  CHECK(std::is_sorted(kTrialSeconds.begin(), kTrialSeconds.end()));
  // From row to row never cooler: one row down is the only way to more heat.
  for (std::size_t i = 1; i < kIronSettings.size(); ++i) {
    CHECK(kIronSettings[i].dots >= kIronSettings[i - 1].dots);
  }
  CHECK_FALSE(has(words, "outer cloth"));
  const auto with = iron_trial_of(derived(with_outer(hand_worked(foldover()))), std::nullopt);
  CHECK(has(words_of(with), "care labels of laminate and outer cloth: never go above the cooler"));
}

TEST_CASE("what limits the iron is read before the first step") {
  const std::string words = words_of(iron_trial_of(derived(hand_worked(foldover())), std::nullopt));
  const std::size_t first = words.find("Begin with");
  REQUIRE(first != std::string::npos);
  for (const char* rule : {"Open a window", "Three dots only", "Steam only"}) {
    CAPTURE(std::string(rule));
    CHECK(words.find(rule) < first);
  }
}

TEST_CASE("the result is a label to fill in by hand, with no word of the job's file") {
  const std::string words = words_of(iron_trial_of(derived(hand_worked(foldover())), std::nullopt));
  for (const char* word : {"OUR IRON", "dial word", "steam: ", "pressing cloth: "}) {
    CAPTURE(std::string(word));
    CHECK(has(words, word));
  }
  for (const char* word : {"[", "=", "true"}) {
    CAPTURE(std::string(word));
    CHECK_FALSE(has(words, word));
  }
}

TEST_CASE("a known result is printed, an unknown one is asked for") {
  auto sheet = iron_trial_of(derived(hand_worked(foldover())), kFound);
  CHECK(has(words_of(sheet), "The setting found"));
  CHECK(has(words_of(sheet), "8 seconds"));
  sheet.result->seconds = 0;
  CHECK(has(words_of(sheet), "How many seconds was not noted"));
  sheet.result.reset();
  CHECK_FALSE(has(words_of(sheet), "The setting found"));
}

#include "draw/sheets/iron_trial.h"

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

TEST_CASE("there is a pair of strips for every box of the grid, and for those that make sure") {
  const auto sheet = iron_trial_of(derived(hand_worked(foldover())), std::nullopt);
  const std::string words = words_of(sheet);
  // Two for each of 5 settings by 3 times, and for 3 pairs more.
  CHECK(has(words, "Cut 36 strips"));
  CHECK(has(words, "15 pairs for the table, 3 to make sure"));
  CHECK(has(words, "120 mm away from the iron"));
  CHECK_FALSE(has(words, "outer cloth"));
  const auto with = iron_trial_of(derived(with_outer(hand_worked(foldover()))), std::nullopt);
  CHECK(has(words_of(with), "outer cloth"));
}

TEST_CASE("a known result is printed, an unknown one is asked for") {
  auto sheet = iron_trial_of(derived(hand_worked(foldover())), kFound);
  CHECK(has(words_of(sheet), "The setting found"));
  CHECK(has(words_of(sheet), "8 seconds"));
  sheet.result->seconds = 0;
  CHECK(has(words_of(sheet), "does not say how many seconds"));
  sheet.result.reset();
  CHECK_FALSE(has(words_of(sheet), "The setting found"));
  CHECK(has(words_of(sheet), "[iron]"));
}

#include "draw/sheets/steps.h"

#include <tuple>

#include "draw/folds/step_icons.h"
#include "ink/icons.h"
#include "tell/step_list.h"
#include "tell/steps.h"
#include "unit/draw/fold_support.h"
#include "unit/draw/icons_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::tell;
using namespace pouchwright::test;

namespace {

constexpr Point kA4Room{190, 277};          // ISO 216 less 10 mm a side
constexpr Point kLetterRoom{195.9, 259.4};  // 8.5 x 11 in (ANSI Y14.1) less 10 mm a side

pouch::Pouch busy(const pouch::Construction& construction) {
  const pouch::EndFinish overedge{pouch::FinishKind::overedge, {}, mm(5), {}};
  pouch::Request request = with_outer(with_ends(hand_worked(construction), overedge));
  request.cards = pouch::CardUse::both;
  request.title = "Carry pouch";
  return derived(request);
}

std::vector<Drawing> sheet_of(const pouch::Pouch& pouch, const StepsLook& look,
                              const base::Words& words = own_words()) {
  const EvenMeasure measure;
  return steps_sheet(pouch, look, own_icons(), words, measure);
}

std::vector<std::vector<std::string>> operations_of(const pouch::Pouch& pouch) {
  std::vector<std::vector<std::string>> result;
  for (const tell::StepText& step : steps_in_words(pouch, {}, own_words())) {
    result.emplace_back();
    for (const std::size_t one : step.operations) {
      result.back().push_back(pouch.operation(one).id);
    }
  }
  return result;
}

/// Words by the id of a step's first operation; "" is where the folds are marked.
std::map<std::string, std::string> said_of(const pouch::Pouch& pouch, const StepFacts& facts = {}) {
  std::map<std::string, std::string> said;
  for (const tell::StepText& step : steps_in_words(pouch, facts, own_words())) {
    said[step.operations.empty() ? "" : pouch.operation(step.operations.front()).id] = step.words;
  }
  return said;
}

void check_sheet(const std::vector<Drawing>& pages, Point room) {
  const EvenMeasure measure;
  for (const Drawing& page : pages) {
    CHECK(page.extent.x0 == 0);
    CHECK(page.extent.y0 == 0);
    CHECK(page.extent.x1 <= room.x + 1e-6);
    CHECK(page.extent.y1 <= room.y + 1e-6);
    for (const Item& item : page.items) {
      CHECK(lies_in(grown(bounds(item, measure), -0.5), page.extent));
    }
    check_legible(page);
  }
}

}  // namespace

TEST_CASE("operations that go on with one another share a step") {
  CHECK(operations_of(busy(foldover())) ==
        std::vector<std::vector<std::string>>{{},
                                              {"pair"},
                                              {"finish-start", "finish-end"},
                                              {"card-in"},
                                              {"fold-front"},
                                              {"press-sides"},
                                              {"card-out", "look"},
                                              {"fold-flap"},
                                              {"sew-sides", "tails"},
                                              {"test"}});
}

TEST_CASE("every operation that takes part is in one step, in order") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    std::vector<std::string> all;
    for (const auto& step : operations_of(pouch)) all.insert(all.end(), step.begin(), step.end());
    std::vector<std::string> expected;
    for (const pouch::Stage& stage : pouch.stages) {
      expected.push_back(pouch.construction().operations[stage.operation].id);
    }
    CHECK(all == expected);
  }
}

TEST_CASE("what matters is said where it matters") {
  const auto said =
      said_of(busy(foldover()), {.iron = std::nullopt, .stitches = {}, .chain = mm(30)});
  const auto says = [&](const char* step, const char* words) {
    INFO(step, ": ", said.at(step));
    CHECK(said.at(step).find(words) != std::string::npos);
  };
  // What sewers tell each other; no source.
  says("", "snip no deeper than 3 mm");
  says("", "Film side (the shiny, plastic-like side) up, all the same way round");
  says("", "towards you, as on the template");
  // Worked by hand: the front is 150 - 10 long, the back 150 more.
  says("", "140 mm, 290 mm from that end");
  says("pair", "No pins: every pinhole leaks");
  says("finish-start", "a thread chain of 30 mm");
  says("finish-start", "front, flap");
  says("press-sides", "press the bands beside it");
  says("press-sides", "never on bare film");
  says("press-sides", "no other setting, and no steam, without a trial");
  says("card-out", "put both cards back as before and press again");
  says("sew-sides", "7 mm from the raw edges, through all layers, and no stitch further in");
  says("sew-sides", "Keep the flap down when you sew the second side");
  says("sew-sides", "before they unravel");
  says("test", "5 minutes");
  // The water line is the front's, 140, less the needle reach of 5; 5 less are filled, as on the
  // leak test's sheet.
  says("test", "130 mm above the bottom");
  CHECK(said.at("press-sides").find('\xC2') == std::string::npos);
}

TEST_CASE("a card that is not used is in no step, and a step names the one that is") {
  pouch::Request request = hand_worked(foldover());
  for (const auto& [cards, own, other] :
       {std::tuple{pouch::CardUse::on_top, "the shield", "slip card"},
        std::tuple{pouch::CardUse::inside, "the slip card", "hield"}}) {
    request.cards = cards;
    const auto said = said_of(derived(request));
    std::string all;
    for (const auto& [step, words] : said) all += words;
    CAPTURE(all);
    CHECK(all.find(other) == std::string::npos);
    CHECK(all.find("put " + std::string(own) + " back as before and press again") !=
          std::string::npos);
  }
}

TEST_CASE("needle, stitches, feed and knife are told at the machine") {
  // Makers of laminate and sewers: ball-point or stretch needles, long stitches, a foot to which film
  // does not stick; common practice, no source.
  const auto has = [](const std::string& text, const char* words) {
    INFO(text);
    return text.find(words) != std::string::npos;
  };
  StepFacts facts;
  facts.stitch_length = mm(3);
  auto said = said_of(busy(foldover()), facts);
  CHECK(has(said.at("finish-start"), "ball-point or stretch, 70/10 to 80/12"));
  CHECK(has(said.at("finish-start"), "Film sticks to the presser foot"));
  CHECK(has(said.at("sew-sides"), "Stitches 3 mm long"));
  CHECK_FALSE(has(said.at("sew-sides"), "ball-point"));  // told once
  CHECK(has(said.at("sew-sides"), "only skims the edge"));
  // Nothing is finished: the sides are the first that come under the needle.
  CHECK(has(said_of(derived(hand_worked(foldover()))).at("sew-sides"), "ball-point"));
  pouch::Request request = hand_worked(foldover());
  request.knife.value = mm(2);
  said = said_of(derived(request));
  CHECK(has(said.at("sew-sides"),
            "The needle runs 7 mm from the edge as cut, of which the knife takes 2 mm"));
  CHECK_FALSE(has(said.at("sew-sides"), "skims"));
  // A straight stitch has no knife, and its end no overedge.
  facts.stitches = {{index_of(foldover(), "sew-sides"), {.code = "301", .source = ""}},
                    {index_of(foldover(), "finish-start"), {.code = "304", .source = ""}}};
  said = said_of(busy(foldover()), facts);
  CHECK_FALSE(has(said.at("sew-sides"), "knife"));
  CHECK(has(said.at("finish-start"), "Finish the short ends"));
  CHECK_FALSE(has(said.at("finish-start"), "serge"));
}

TEST_CASE("tails are told of only where a seam ends in a chain") {
  pouch::Request request = hand_worked(foldover());
  CHECK(said_of(derived(request)).at("sew-sides").find("Secure the tails") != std::string::npos);
  request.chains = false;
  for (const auto& [step, words] : said_of(derived(request))) {
    INFO(step);
    CHECK(words.find("tails") == std::string::npos);
  }
}

TEST_CASE("the first pouch has a step of its own, with its water and its drying") {
  pouch::Construction construction = foldover();
  auto& all = construction.operations;
  const auto look =
      std::find_if(all.begin(), all.end(), [](auto& one) { return one.id == "look"; });
  all.insert(look + 1, operation("fill", does::FillFirst{}));
  StepFacts facts;
  facts.dry_minutes = 30;
  auto said = said_of(busy(construction), facts).at("fill");
  INFO(said);
  CHECK(said.find("first pouch of each person who presses") != std::string::npos);
  CHECK(said.find("130 mm above the bottom") != std::string::npos);  // as in the test, above
  CHECK(said.find("After 2 minutes") != std::string::npos);
  CHECK(
      said.find("about 30 minutes, until no spot of it feels cool or damp, before it is pressed") !=
      std::string::npos);
  CHECK(said.find("Dry your hands") != std::string::npos);
  facts.every_presser = false;
  said = said_of(busy(construction), facts).at("fill");
  CHECK(said.find("first pouch of the day") != std::string::npos);
  CHECK(said.find("each person") == std::string::npos);
}

TEST_CASE("a flap that is not caught need not be kept down") {
  pouch::Construction construction = foldover();
  construction.flap_law = pouch::FlapLaw::free;
  for (const auto& [step, words] : said_of(derived(hand_worked(construction)))) {
    INFO(step);
    CHECK(words.find("Keep the flap down") == std::string::npos);
  }
}

TEST_CASE("a seam that is sewn before the flap is turned does not catch it") {
  const auto said = said_of(derived(two_pieces()));
  CHECK(said.at("sew-bottom").find("Keep the flap down") == std::string::npos);
  CHECK(said.at("sew-sides").find("Keep the flap down") != std::string::npos);
}

TEST_CASE("where the bottom is a seam, the slip card stands above it") {
  const auto said = said_of(derived(two_pieces()));
  CHECK(said.at("card-in").find("just above the bottom band") != std::string::npos);
  CHECK(said.at("card-in").find("bottom fold") == std::string::npos);
  CHECK(said_of(derived(hand_worked(foldover()))).at("card-in").find("bottom fold") !=
        std::string::npos);
}

TEST_CASE("a stitched hem leaves no chain of thread, an overedged end does") {
  const pouch::EndFinish turned{pouch::FinishKind::turned, mm(10), mm(18), {}};
  const pouch::Pouch pouch = derived(with_ends(hand_worked(foldover()), turned));
  const auto said = said_of(pouch);
  CHECK(said.at("finish-start").find("thread chain") == std::string::npos);
  CHECK(said.at("finish-start").find("back and forth") != std::string::npos);
  for (const AssemblyStep& step : assembly_steps(pouch)) {
    if (step.moment.operations.empty()) continue;
    const auto& first = pouch.construction().operations[step.moment.operations.front()];
    if (first.action() != pouch::Action::finish) continue;
    for (const draw::StepIcon& one : step_icons(pouch, step)) CHECK(one.icon != Icon::chain);
  }
}

TEST_CASE("the stitch and the iron's setting are said where they are known") {
  const batch::Stitch lockstitch{.code = "301", .source = "", .ends = batch::SeamEnds::back_tack};
  const batch::Stitch unnamed{.code = "605", .source = ""};
  StepFacts facts{.iron = batch::IronTrial{2, true, 8, {}},
                  .stitches = {{index_of(foldover(), "sew-sides"), lockstitch},
                               {index_of(foldover(), "finish-start"), unnamed}}};
  auto said = said_of(busy(foldover()), facts);
  CHECK(said.at("sew-sides").find("Stitch: lockstitch.") != std::string::npos);
  CHECK(said.at("sew-sides").find("back and forth") != std::string::npos);
  CHECK(said.at("sew-sides").find("thread chain") == std::string::npos);
  CHECK(said.at("finish-start").find("Stitch 605.") != std::string::npos);
  CHECK(said.at("press-sides").find("dots 2, with steam, 8 s") != std::string::npos);
  facts.iron = batch::IronTrial{1, false, 0, {}};
  said = said_of(busy(foldover()), facts);
  CHECK(said.at("press-sides").find("dots 1, never steam.") != std::string::npos);
}

TEST_CASE(
    "six steps take a page, one page more with all that a job can ask for, two in long words") {
  for (const pouch::Construction& construction : {foldover(), gusset()}) {
    const pouch::Pouch pouch = busy(construction);
    const std::size_t planned = (tell::assembly_steps(pouch).size() + 5) / 6;
    for (const Point room : {kA4Room, kLetterRoom}) {
      for (const base::Words& words : {own_words(), stretched_words()}) {
        INFO(construction.name, " ", room.x, " ", words.table() != own_words().table());
        const auto pages = sheet_of(pouch, {.room = room}, words);
        CHECK(pages.size() <= planned + (words.table() == own_words().table() ? 1 : 2));
        check_sheet(pages, room);
        const auto wordless = sheet_of(pouch, {.room = room, .wording = Wording::wordless}, words);
        CHECK(wordless.size() <= planned);
        check_sheet(wordless, room);
      }
    }
  }
}

TEST_CASE("every pouch has a legible sheet") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    check_sheet(sheet_of(derived(one.request), {.room = kA4Room}), kA4Room);
  }
}

TEST_CASE("a sheet in a small room takes more pages, and is legible still") {
  const Point room{85, 128};  // A6 less 10 mm a side
  const auto pages = sheet_of(busy(foldover()), {.room = room});
  CHECK(pages.size() > 2);
  check_sheet(pages, room);
}

TEST_CASE("the wordless sheet has no text but numbers, one for each step") {
  const pouch::Pouch pouch = busy(gusset());
  std::vector<std::string> numbers;
  for (const Drawing& page : sheet_of(pouch, {.room = kA4Room, .wording = Wording::wordless})) {
    for (const Text* text : texts_of(page)) {
      CHECK(text->words.find_first_not_of("0123456789") == std::string::npos);
      numbers.push_back(text->words);
    }
  }
  std::vector<std::string> expected;
  for (std::size_t i = 1; i <= assembly_steps(pouch).size(); ++i) {
    expected.push_back(std::to_string(i));
  }
  CHECK(numbers == expected);
}

TEST_CASE("a wordless step has an icon for what must not be done") {
  const pouch::Pouch pouch = busy(foldover());
  const auto has = [&](std::size_t step, ink::Icon which, bool never) {
    for (const draw::StepIcon& one : step_icons(pouch, assembly_steps(pouch)[step])) {
      if (one.icon == which && one.never == never) return true;
    }
    return false;
  };
  CHECK(has(1, ink::Icon::pin, true));
  CHECK(has(1, ink::Icon::clip, false));
  CHECK(has(5, ink::Icon::hot_film, true));
  CHECK(has(8, ink::Icon::flap_down, false));
}

#include "tell/cut_plan.h"

#include <doctest/doctest.h>

#include "lay/spare.h"
#include "unit/draw/full_size_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::tell;
using namespace pouchwright::test;
using base::Length;

namespace {

/// What is said of one cloth, in one text.
class Said {
 public:
  explicit Said(lay::Request request, base::LengthStyle style = {})
      : request_(std::move(request)),
        plan_(lay::plan(request_)),
        own_words_(own_words()),
        words_(own_words_, style) {
    said.lay = &plan_.cloth;
    said.kinds = &request_.kinds;
    said.by_products = &request_.by_products;
    said.material = "laminate";
  }

  [[nodiscard]] std::string facts() const {
    std::string all;
    for (const base::Message& one : lay_facts(said, words_)) all += words_.say(one) + "\n";
    return all;
  }
  [[nodiscard]] std::string steps() const {
    std::string all;
    for (const lay::Step& step : plan_.cloth.steps) {
      all += words_.say(step_gives(said, step, words_)) + "\n";
    }
    return all;
  }

  LaySaid said;

 private:
  lay::Request request_;
  lay::Plan plan_;
  base::Words own_words_;
  base::Voice words_;
};

lay::Request panels(Length cloth, Length width, Length length, int demand, base::Turn turn) {
  lay::Request request;
  request.cloth = {"cloth", cloth};
  request.kinds = {{"panel", width, length, demand, turn}};
  return request;
}

lay::Request forty() { return panels(mm(1080), mm(204), mm(390), 40, base::Turn::along); }

lay::Request inch_panels(int halves_of_width, int demand) {
  return panels(Length::inches(halves_of_width, 2), Length::inches(17, 2), Length::inches(15),
                demand, base::Turn::either);
}

}  // namespace

TEST_CASE("a plan tells how many pieces there are, and no number of cuts") {
  const Said forty_panels(forty());
  CHECK(has(forty_panels.facts(), "You get 40 × panel, 204 mm wide and 390 mm long."));
  // By hand: eight lengths of 390 mm, five panels from each with a strip of waste beside them.
  CHECK(has(forty_panels.steps(), "8 lengths\n"));
  CHECK(has(forty_panels.steps(), "40 × panel\n"));
  CHECK_FALSE(has(forty_panels.steps(), "times"));
}

TEST_CASE("pieces that lie both ways are told by the grain, and to be kept apart") {
  // Common practice, no source: of five panels from 17 in of 42 in cotton four lie one way.
  const Said five(inch_panels(84, 5), base::default_style(base::Unit::inch));
  CHECK((has(five.facts(), "1 lie on the lengthwise grain and 4 on the crosswise grain") ||
         has(five.facts(), "4 lie on the lengthwise grain and 1 on the crosswise grain")));
  CHECK(has(five.facts(), "keep the two apart"));
  CHECK_FALSE(has(Said(forty()).facts(), "crosswise"));
}

TEST_CASE("bundles of pieces that lie both ways keep the grains apart") {
  // Common practice, no source: the two grains stretch differently and must not be paired.
  Said five(inch_panels(84, 5), base::default_style(base::Unit::inch));
  five.said.bundle = 5;
  CHECK(has(five.facts(), "bundles of 5"));
  CHECK(has(five.facts(), "in a bundle the crosswise pieces lie last"));
  Said one_way(forty());
  one_way.said.bundle = 5;
  CHECK(has(one_way.facts(), "bundles of 5"));
  CHECK_FALSE(has(one_way.facts(), "crosswise"));
}

TEST_CASE("a folded plan tells what the same pieces take opened out") {
  auto request = inch_panels(119, 20);
  request.plies = {lay::Plies::Way::folded, 4};
  // By hand: five strips of 15 in folded, three opened out.
  const Said narrow(request, base::default_style(base::Unit::inch));
  CHECK(has(narrow.facts(), "through 4 layers; it takes 75 in of cloth"));
  CHECK(has(narrow.facts(), "the same pieces take 45 in: 30 in less"));
  auto full = inch_panels(120, 20);
  full.plies = request.plies;
  const Said wide(full, base::default_style(base::Unit::inch));
  CHECK(has(wide.facts(), "take 42 1/2 in: the layers cost no cloth"));
  // Common practice, no source: rolls are narrower than their label.
  CHECK(has(wide.facts(), "The plan needs 60 in between the selvedges."));
  CHECK(has(wide.facts(), "Of that width nothing is to spare"));
  CHECK_FALSE(has(Said(forty()).facts(), "to spare"));
  CHECK_FALSE(has(Said(forty()).facts(), "Opened out"));
}

TEST_CASE("pieces beyond those wanted are told, with the reason") {
  auto request = panels(mm(1100), mm(204), mm(390), 30, base::Turn::along);
  request.plies = {lay::Plies::Way::stacked, 4};
  // By hand: five side by side in four layers are 20 a length; ten more take a row of three: 12.
  const Said plan(request);
  CHECK(has(plan.facts(), "You get 32 × panel"));
  CHECK(has(plan.facts(), "2 more than wanted"));
  CHECK_FALSE(has(Said(forty()).facts(), "more than wanted"));
}

TEST_CASE("cloth that shrinks is washed first, and its width is that after the wash") {
  Said washed(forty());
  washed.said.washed = WashedWidth{mm(1120), mm(1100)};
  CHECK(has(washed.facts(), "Wash, dry and press this cloth before you cut it: 1120 mm wide"));
  CHECK(has(washed.facts(), "it is 1100 mm then"));
  washed.said.washed = WashedWidth{mm(1100), mm(1100)};
  CHECK(has(washed.facts(), "it loses length"));
  CHECK_FALSE(has(Said(forty()).facts(), "Wash"));
}

TEST_CASE("trial strips come out of the waste, or off the cloth, and it is said which") {
  Said plan(forty());
  TrialStrips trial{batch::trial_strip(base::Unit::mm), 18, {}, {}};
  trial.found = lay::in_waste(*plan.said.lay, trial.strip.width, trial.strip.length, 18);
  plan.said.trial = trial;
  CHECK(has(plan.facts(), "30 mm x 80 mm: 18 come out of the waste"));
  CHECK_FALSE(has(plan.facts(), "nothing for the iron trial"));
  plan.said.trial->found.clear();
  plan.said.trial->bought = mm(80);
  CHECK(has(plan.facts(),
            "leaves nothing for the iron trial: before all else cut 80 mm off the squared end"));
  plan.said.trial->found = {{mm(1020), mm(0), mm(30), mm(80)}};
  CHECK(has(plan.facts(), "too few for the iron trial (18)"));
}

TEST_CASE("how pieces are stacked hangs on the cloth, and a bundle is the job's") {
  Said plan(forty());
  plan.said.bundle = 8;
  CHECK(has(plan.facts(), "shiny side (film side) up, all in one direction"));
  CHECK(has(plan.facts(), "bundles of 8"));
  plan.said.material = "outer";
  CHECK(has(plan.facts(), "right side up, their print the same way up"));
  plan.said.material = "cloth";
  CHECK(has(plan.facts(), "the same side up"));
  plan.said.to_square = mm(50);
  CHECK(has(plan.facts(), "Square one end first"));
  CHECK(has(plan.facts(), "50 mm for a crooked cut"));
}

TEST_CASE("left-overs of one size are one line") {
  // By hand: 1500 - 7 x 204 leaves 72; on 1250, 6 x 204 leave 26; on 1150, 5 x 204 leave 130 x 390.
  const Said plan(panels(mm(1150), mm(204), mm(390), 40, base::Turn::along));
  CHECK(has(plan.facts(), "Worth keeping: 8 times 130 mm x 390 mm."));
  // By hand: 4 x 4 strips of 30 x 80 come out of each, so two of them are no longer whole.
  Said tried(panels(mm(1150), mm(204), mm(390), 40, base::Turn::along));
  TrialStrips trial{batch::trial_strip(base::Unit::mm), 18, {}, {}};
  trial.found = lay::in_waste(*tried.said.lay, trial.strip.width, trial.strip.length, 18);
  tried.said.trial = trial;
  CHECK(has(tried.facts(), "Worth keeping: 6 times 130 mm x 390 mm."));
}

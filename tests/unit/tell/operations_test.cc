#include "tell/operations.h"

#include <set>

#include "tell/steps.h"
#include "tell/work.h"
#include "unit/draw/fold_support.h"
#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::tell;
using namespace pouchwright::test;

namespace {

pouch::Pouch overedged(const pouch::Construction& construction) {
  const pouch::EndFinish overedge{pouch::FinishKind::overedge, {}, mm(5), {}};
  return derived(with_outer(with_ends(hand_worked(with_sewn_sides(construction)), overedge)));
}

batch::StepOperation work(const std::string& id, const std::string& kind,
                          const std::string& about) {
  return {id, kind, index_of(foldover(), about), 1, batch::Time(), batch::Time(), ""};
}

batch::Step step_of(std::vector<batch::StepOperation> operations) {
  batch::Step step;
  step.operations = std::move(operations);
  return step;
}

}  // namespace

TEST_CASE("every operation has words of its own, and they are not its id") {
  for (const pouch::Construction& construction : {foldover(), gusset()}) {
    const pouch::Pouch pouch = overedged(construction);
    const base::Words& words = own_words();
    const OperationWords said(pouch, words);
    std::set<std::string> names;
    for (std::size_t i = 0; i < pouch.construction().operations.size(); ++i) {
      const std::string name = said.name(i);
      CAPTURE(name);
      CHECK(name.find('[') == std::string::npos);  // a key without words shows as [key]
      CHECK(name != pouch.operation(i).id);
      CHECK(names.insert(name).second);
    }
  }
}

TEST_CASE("an end is named after its span, and by how it is finished") {
  const base::Words& words = own_words();
  const pouch::Pouch pouch = overedged(foldover());
  CHECK(OperationWords(pouch, words).name(index_of(foldover(), "finish-start")) ==
        "serge the end of the front");
  CHECK(OperationWords(pouch, words).name(index_of(foldover(), "finish-end")) ==
        "serge the end of the flap");
  const pouch::EndFinish turned{pouch::FinishKind::turned, mm(10), mm(18), {}};
  const pouch::Pouch hemmed = derived(with_ends(hand_worked(foldover()), turned));
  CHECK(OperationWords(hemmed, words).name(index_of(foldover(), "finish-end")) ==
        "hem the end of the flap");
}

TEST_CASE("an operation's step is where the steps pages say it") {
  const base::Words& words = own_words();
  for (const pouch::Construction& construction : {foldover(), gusset()}) {
    const pouch::Pouch pouch = overedged(construction);
    const OperationWords said(pouch, words);
    const auto steps = tell::steps_in_words(pouch, {}, words);
    for (std::size_t i = 0; i < steps.size(); ++i) {
      for (const std::size_t one : steps[i].operations) CHECK(said.step(one) == i + 1);
    }
  }
  const pouch::Pouch bare = derived(hand_worked(foldover()));
  CHECK_FALSE(OperationWords(bare, words).step(index_of(foldover(), "pair")));  // no outer
}

TEST_CASE("what shares a step with its neighbour is told it once, and what has none is not") {
  const base::Words& words = own_words();
  CHECK(with_steps({{"cut", std::nullopt}, {"pull", 7}, {"look", 7}, {"fold", 8}}, words) ==
        "cut, pull, look (step 7), fold (step 8)");
}

TEST_CASE("a work plan's letters are named by what is done, with the pictures that show it") {
  const pouch::Pouch pouch = overedged(foldover());
  const auto names = work_names(
      {step_of({{"cut-laminate", "cut", std::nullopt, 1, {}, {}, "laminate"}}),
       step_of({work("finish-end", "finish", "finish-end"),
                work("finish-end-snip-apart", "snip apart", "finish-end")}),
       step_of({work("sew-sides-snip-apart", "snip apart", "sew-sides")}),
       step_of({work("test-own-kind", "own kind", "test")}),
       step_of({work("card-in", "lay card", "card-in"), work("fold-front", "fold", "fold-front")})},
      pouch, own_words());
  batch::StepOperation again = work("sew-sides-pass-2", "sew", "sew-sides");
  again.pass = 2;
  CHECK(work_names({step_of({again})}, pouch, own_words()).front().with_steps ==
        "sew both sides, pass 2 (step 9)");
  REQUIRE(names.size() == 5);
  CHECK(names[0].with_steps == "cut the laminate");
  CHECK(names[0].steps.empty());
  CHECK(names[1].with_steps ==
        "serge the end of the flap, snip apart after you serge the end of the flap (step 3)");
  CHECK(names[2].name == "snip apart after you sew both sides");
  CHECK(names[2].steps == "step 9");
  CHECK(names[3].name == "own kind");  // of a job's own table, and the only one of its kind
  CHECK(names[4].with_steps == "lay the slip card in (step 4), fold the front over (step 5)");
  CHECK(names[4].steps == "steps 4-5");
}

#include "pouch/construction.h"

#include <doctest/doctest.h>

#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;

namespace {

std::vector<base::Diagnostic> faults(const Construction& construction) {
  base::Diagnostics diagnostics;
  CHECK_FALSE(check(construction, diagnostics));
  return diagnostics.sorted();
}

}  // namespace

TEST_CASE("both constructions pass") {
  base::Diagnostics diagnostics;
  CHECK(check(test::foldover(), diagnostics));
  CHECK(check(test::gusset(), diagnostics));
}

TEST_CASE("a fold between spans that do not touch is told") {
  auto construction = test::gusset();
  for (auto& operation : construction.operations) {
    if (operation.id == "fold-front") operation.between_b = "back";
  }
  const auto found = faults(construction);
  REQUIRE(found.size() == 1);
  CHECK(found[0].message.key == "spans-do-not-touch");
}

TEST_CASE("an operation before what it needs is told at its own place") {
  auto construction = test::foldover();
  construction.operations[4].needs = {{"press-sides", {}}};
  construction.operations[4].place = {"x.toml", 12, 1, 2};
  const auto found = faults(construction);
  REQUIRE(found.size() == 1);
  CHECK(found[0].message.key == "operation-out-of-order");
  CHECK(found[0].place.line == 12);
}

TEST_CASE("operations that need each other in a circle are told once") {
  auto construction = test::foldover();
  construction.operations[4].needs = {{"look", {}}};
  construction.operations[5].needs = {{"fold-front", {}}};
  construction.operations[7].needs = {{"press-sides", {}}};
  const auto found = faults(construction);
  REQUIRE(found.size() == 1);
  CHECK(found[0].message.key == "operations-in-a-circle");
  CHECK(found[0].message.values[0].second == "fold-front, look, press-sides, fold-front");
}

TEST_CASE("unknown names are answered with the nearest known one") {
  auto construction = test::foldover();
  construction.operations[4].needs = {{"card-inn", {}}};
  construction.panels[0].spans[0].length.terms[0].size = "dept";
  const auto found = faults(construction);
  REQUIRE(found.size() == 2);
  CHECK(found[0].hints[0] == base::Message("did-you-mean", {{"word", "depth"}}));
  CHECK(found[1].hints[0] == base::Message("did-you-mean", {{"word", "card-in"}}));
}

TEST_CASE("the same line cannot be folded twice, nor a fold turn a third span") {
  auto construction = test::foldover();
  construction.operations.push_back(test::fold("again", "back", "front", "front"));
  construction.operations[8].turn = "front";
  const auto found = faults(construction);
  REQUIRE(found.size() == 2);
  CHECK(found[0].message.key == "turns-another");
  CHECK(found[1].message.key == "folded-twice");
}

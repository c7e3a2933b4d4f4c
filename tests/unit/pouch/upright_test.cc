// Which way up a print stands, found by folding.
#include "pouch/judge/upright.h"

#include <doctest/doctest.h>

#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;

namespace {

std::vector<std::string> names_of(const Pouch& pouch, const std::vector<SpanId>& spans) {
  std::vector<std::string> names;
  for (const SpanId span : spans) names.push_back(pouch.sizes.span(span).name);
  return names;
}

Pouch derived_of(Request request) {
  base::Diagnostics diagnostics;
  auto made = derive(request, diagnostics);
  REQUIRE(made.has_value());
  return *std::move(made);
}

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("a sheet that goes round the bottom shows its print upright on one side only") {
  // Fold a sheet of paper with an arrow in two: the arrow points up on one side, down on the other.
  // Folded over, the flap points as the front does.
  const Pouch pouch = derived_of(test::hand_worked(test::foldover()));
  const auto standing = standing_of(pouch);
  REQUIRE(standing.size() == 1);
  CHECK(standing[0].top == Edge::start);
  CHECK(names_of(pouch, standing[0].upright) == Names{"front", "flap"});
  CHECK(names_of(pouch, standing[0].on_head) == Names{"back"});
  CHECK(standing[0].walls_differ);
  CHECK_FALSE(takes_upright_print(pouch));
}

TEST_CASE("panels of their own stand upright on both sides, whatever their flap does") {
  const Pouch pouch = derived_of(test::two_pieces());
  const auto standing = standing_of(pouch);
  REQUIRE(standing.size() == 2);
  CHECK(names_of(pouch, standing[0].upright) == Names{"back"});
  CHECK(names_of(pouch, standing[0].on_head) == Names{"flap"});
  CHECK(names_of(pouch, standing[1].upright) == Names{"front"});
  CHECK(takes_upright_print(pouch));
}

TEST_CASE("the print that counts is that of the cloth which is seen") {
  Request request = test::hand_worked(test::foldover());
  request.laminate.upright = true;
  CHECK(has_upright_print(request));
  request.outer = Material{};
  CHECK_FALSE(has_upright_print(request));
}

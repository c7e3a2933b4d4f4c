#include "tell/construction.h"

#include "unit/draw/full_size_support.h"

using namespace pouchwright;
using namespace pouchwright::tell;
using namespace pouchwright::test;

TEST_CASE("a sum of sizes reads as a person writes it") {
  CHECK(formula({}).empty());
  CHECK(formula({{{"depth", 1, 1}}}) == "depth");
  CHECK(formula({{{"depth", 1, 1}, {"lip_drop", -2, 1}}}) == "depth − 2 · lip_drop");
  CHECK(formula({{{"gusset", 2, 4}, {"flap", 1, 1}}}) == "1/2 · gusset + flap");
  CHECK(formula({{{"flap", -1, 1}}}) == "−flap");
  CHECK(formula({{{"flap", 0, 1}, {"depth", 1, 1}}}) == "depth");
}

TEST_CASE("every operation has a row, in the order of the construction") {
  const pouch::Pouch pouch = derived(hand_worked(gusset()));
  const Section last = construction_sections(pouch).back();
  const auto& operations = pouch.construction().operations;
  REQUIRE(last.rows.size() == operations.size());
  for (std::size_t i = 0; i < operations.size(); ++i) {
    CHECK(last.rows[i].front() == base::Value(operations[i].id));
  }
}

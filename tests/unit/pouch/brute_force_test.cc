// The engine's water line against the model of points in brute_water.h, on seeded constructions.
// Many more: tests/proofs/water_stress.
#include "support/brute_water.h"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

#include "input/data.h"
#include "support/random_pouch.h"

using namespace pouchwright;

namespace {

constexpr int kFoldings = 4000;
constexpr int kSizesEach = 200;

pouch::Construction pattern(const std::string& name) {
  std::ifstream file(std::string(POUCHWRIGHT_SOURCE "/patterns/") + name + ".toml");
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  base::Diagnostics diagnostics;
  auto made = input::read_construction({name + ".toml", text}, name, diagnostics);
  REQUIRE(made);
  return made->construction;
}

/// Does an outer stay behind its laminate somewhere?
bool has_bare_rim(const pouch::Request& request) {
  return request.outer && request.sizes.contains("bare");
}

}  // namespace

TEST_CASE("random foldings hold as much water in the model of points") {
  int accepted = 0;
  int below_lip = 0;
  int lined = 0;
  int with_two_panels = 0;
  int with_inset = 0;
  for (std::uint64_t seed = 1; accepted < kFoldings; ++seed) {
    const pouch::Request request = test::random_folding(seed);
    const test::Compared one = test::compare_water(request);
    INFO("seed " << seed);
    CHECK(one.wrong == "");
    accepted += one.accepted ? 1 : 0;
    below_lip += one.below_lip ? 1 : 0;
    REQUIRE(seed < 4 * kFoldings);  // else the seeds are no longer worth their time
    if (!one.accepted) continue;
    lined += request.lining ? 1 : 0;
    with_two_panels += request.construction.panels.back().name == "second" ||
                               (request.construction.panels.size() > 1 &&
                                request.construction.panels[1].name == "second")
                           ? 1
                           : 0;
    with_inset += has_bare_rim(request) ? 1 : 0;
  }
  CHECK(lined > kFoldings / 10);
  CHECK(with_two_panels > kFoldings / 10);
  CHECK(with_inset > kFoldings / 20);
  // Else the comparison would not see much: every other pouch that holds leaks below its lip.
  CHECK(below_lip > kFoldings / 4);
}

TEST_CASE("the constructions in patterns/ hold as much water in the model of points") {
  for (const char* name :
       {"foldover", "gusset", "sleeve", "twopiece", "freeflap", "double", "rolltop"}) {
    const pouch::Construction construction = pattern(name);
    int accepted = 0;
    for (std::uint64_t seed = 1; accepted < kSizesEach; ++seed) {
      const test::Compared one = test::compare_water(test::random_sizes(construction, seed));
      INFO(name << ", seed " << seed);
      CHECK(one.wrong == "");
      accepted += one.accepted ? 1 : 0;
      REQUIRE(seed < 4 * kSizesEach);
    }
  }
}

#include <doctest/doctest.h>

#include "support/lay_cases.h"
#include "support/lay_verifier.h"

using namespace pouchwright;

TEST_CASE("a thousand seeded plans stand the verifier") {
  for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
    const lay::Request request = test::seeded_request(seed);
    const auto wrong = test::wrong_with(request, lay::plan(request));
    INFO("seed " << seed);
    CHECK_MESSAGE(wrong.empty(), (wrong.empty() ? "" : wrong.front()));
  }
}

TEST_CASE("the same request gives the same plan") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const lay::Request request = test::seeded_request(seed);
    const lay::Plan once = lay::plan(request);
    const lay::Plan again = lay::plan(request);
    CHECK(once.cloth.pieces == again.cloth.pieces);
    CHECK(once.cloth.steps == again.cloth.steps);
  }
}

TEST_CASE("the verifier sees what is wrong") {
  lay::Request request;
  request.cloth = {"cloth", base::Length::whole_mm(1000)};
  request.kinds = {{"panel", base::Length::whole_mm(200), base::Length::whole_mm(300), 6}};
  const lay::Plan good = lay::plan(request);
  REQUIRE(test::wrong_with(request, good).empty());
  SUBCASE("a piece too few") {
    lay::Plan bad = good;
    bad.cloth.pieces.pop_back();
    CHECK_FALSE(test::wrong_with(request, bad).empty());
  }
  SUBCASE("two pieces that overlap") {
    lay::Plan bad = good;
    bad.cloth.pieces[1].area.x = bad.cloth.pieces[0].area.x;
    bad.cloth.pieces[1].area.y = bad.cloth.pieces[0].area.y;
    CHECK_FALSE(test::wrong_with(request, bad).empty());
  }
  SUBCASE("a piece turned that may not be") {
    request.kinds.front().turn = lay::Turn::along;
    lay::Plan bad = lay::plan(request);
    bad.cloth.pieces.front().turned = true;
    CHECK_FALSE(test::wrong_with(request, bad).empty());
  }
  SUBCASE("a cut left out of the orders") {
    lay::Plan bad = good;
    bad.cloth.steps.pop_back();
    CHECK_FALSE(test::wrong_with(request, bad).empty());
  }
  SUBCASE("a pinwheel, which no straight cut parts") {
    request.kinds = {{"panel", base::Length::whole_mm(300), base::Length::whole_mm(700), 4}};
    lay::Plan bad = lay::plan(request);
    const auto area = [](int x, int y, int w, int l) {
      return lay::Area{base::Length::whole_mm(x), base::Length::whole_mm(y),
                       base::Length::whole_mm(w), base::Length::whole_mm(l)};
    };
    bad.cloth.pieces.clear();
    bad.cloth.length = bad.cloth.cloth_length = bad.cloth.bound = base::Length::whole_mm(1000);
    for (const auto& [at, turned] : {std::pair{area(0, 0, 700, 300), true},
                                     {area(700, 0, 300, 700), false},
                                     {area(300, 700, 700, 300), true},
                                     {area(0, 300, 300, 700), false}}) {
      lay::Placed piece;
      piece.area = at;
      piece.turned = turned;
      bad.cloth.pieces.push_back(piece);
    }
    bool seen = false;
    for (const std::string& wrong : test::wrong_with(request, bad)) {
      seen = seen || wrong.find("edge-to-edge") != std::string::npos;
    }
    CHECK(seen);
  }
}

TEST_CASE("the length alone is that of the plan, also where its work ends") {
  int ended = 0;
  for (std::uint64_t seed = 1; seed <= 250; ++seed) {
    lay::Request request = test::seeded_request(seed);
    request.remnants.clear();
    request.by_products.clear();
    if (!lay::faults(request).empty()) continue;
    for (const std::int64_t work : {std::int64_t{250'000}, std::int64_t{400}}) {
      request.work = work;
      CAPTURE(seed);
      CAPTURE(work);
      const lay::Lay planned = lay::plan(request).cloth;
      const lay::LengthFound found = lay::least_length(request);
      CHECK(found.length == planned.length);
      CHECK(found.bound == planned.bound);
      CHECK(found.cloth_length == planned.cloth_length);
      CHECK(found.optimal == planned.optimal);
      if (planned.work_ended) ++ended;
    }
  }
  CHECK(ended > 20);
}

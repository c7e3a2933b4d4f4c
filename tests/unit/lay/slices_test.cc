#include "lay/solve/slices.h"

#include <doctest/doctest.h>

#include "support/lay_cases.h"

using namespace pouchwright;
using lay::RollQuestion;
using lay::Shape;
using lay::SlicesBound;
using lay::Whole;
using lay::Wide;
using lay::Work;

namespace {

SlicesBound bound_of(const RollQuestion& question) {
  Work work(lay::kWork);
  return lay::slices_bound(question, work);
}

}  // namespace

TEST_CASE("slices know that no two widths fill the cloth together") {
  // Worked by hand. Across 10 lie two of 4 or one of 6 and one of 4, never three of 4: with three
  // pieces 6 x 10 and three 4 x 10 every length of 10 holds one of each, so 30; by area as well.
  CHECK(bound_of({10, lay::kNever, {{6, 10, 3, true, false}, {4, 10, 3, true, false}}}).length ==
        30);
  // Eight of 4 and two of 6: two lengths of 10 hold one of each, three hold two of 4. Areas give 44.
  CHECK(bound_of({10, lay::kNever, {{6, 10, 2, true, false}, {4, 10, 8, true, false}}}).length ==
        50);
}

TEST_CASE("where pieces may be turned, slices take the better way") {
  // 3 x 5 across 10: three by their widths (9 of 10), two by their lengths (all of it). Ten pieces
  // turned: five rows of 3; the area is 15 as well.
  CHECK(bound_of({10, lay::kNever, {{3, 5, 10, true, true}}}).length == 15);
  CHECK(bound_of({10, lay::kNever, {{3, 5, 10, true, false}}}).length == 17);
}

TEST_CASE("no set of slices holds more than its cloth, whatever the pieces") {
  // What a piece is reckoned to take is proved by the widths: rows of any mix, up to the cloth.
  test::Chance chance(5);
  for (int i = 0; i < 100; ++i) {
    RollQuestion question;
    question.width = chance.from_to(20, 60);
    for (int k = 0; k < 4; ++k) {
      question.shapes.push_back({chance.from_to(3, 20), chance.from_to(3, 20),
                                 static_cast<int>(chance.from_to(1, 9)), true, false});
    }
    const SlicesBound bound = bound_of(question);
    Wide all = 0;
    for (std::size_t k = 0; k < 4; ++k) all += bound.shares[k] * question.shapes[k].demand;
    CHECK(all <= Wide{bound.length} * question.width);
    // Every mix across, by brute force: a piece takes its share over its own length.
    const auto& s = question.shapes;
    bool overfull = false;
    for (Whole a = 0; a * s[0].width <= question.width; ++a) {
      for (Whole b = 0; a * s[0].width + b * s[1].width <= question.width; ++b) {
        for (Whole c = 0; a * s[0].width + b * s[1].width + c * s[2].width <= question.width; ++c) {
          const Whole rest = question.width - a * s[0].width - b * s[1].width - c * s[2].width;
          const Whole counts[] = {a, b, c, rest / s[3].width};
          Wide taken = 0;  // of a slice as long as all lengths' product
          const Wide product = Wide{s[0].length} * s[1].length * s[2].length * s[3].length;
          for (std::size_t k = 0; k < 4; ++k) {
            taken += bound.shares[k] * counts[k] * (product / s[k].length);
          }
          overfull = overfull || taken > product * question.width;
        }
      }
    }
    CHECK_FALSE(overfull);
  }
}

TEST_CASE("the bound by slices is at least that of areas, and no more than a plan") {
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    const lay::Request request = test::seeded_day(seed);
    RollQuestion question{request.cloth.width.in_nm(), lay::kNever, {}};
    Wide area = 0;
    for (const lay::Kind& kind : request.kinds) {
      question.shapes.push_back({kind.width.in_nm(), kind.length.in_nm(), kind.demand,
                                 kind.turn != lay::Turn::across, kind.turn != lay::Turn::along});
      area += question.shapes.back().area() * kind.demand;
    }
    const Whole bound = bound_of(question).length;
    // The prices are rounded: a millionth may be missing.
    CHECK(Wide{bound} * question.width * 1'000'001 >= area * 1'000'000);
    Work work(5'000'000);
    CHECK(bound <= lay::several_kinds(question, work).length);
  }
}

TEST_CASE("kinds of which nothing is wanted bound nothing") {
  CHECK(bound_of({10, lay::kNever, {{3, 5, 0, true, false}}}).length == 0);
}

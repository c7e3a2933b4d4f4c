#include "lay/solve/generation.h"

#include <doctest/doctest.h>

#include "lay/solve/columns.h"

using namespace pouchwright;
using lay::Columns;
using lay::Generation;
using lay::Part;
using lay::RollQuestion;
using lay::Whole;
using lay::Work;

TEST_CASE("columns are filled with rows of like pieces and laid side by side") {
  // Across 10, a length of 12: columns of 4 with three 4 x 4 each, and of 2 with two 2 x 6: by
  // areas all of it, 2 * 48 + 24.
  const std::vector<lay::Shape> shapes = {{4, 4, 9, true, false, 16}, {2, 6, 9, true, false, 12}};
  Work work(1'000'000);
  const Columns columns({0, 2, 4, 6, 8, 10}, {0, 4, 6, 8, 12}, shapes, work);
  CHECK(columns.value(4) == 120);
  const Part part = columns.part(4);
  CHECK(part.width == 10);
  CHECK(part.length == 12);
  // Five columns of 2 are worth as much, or rows of two across 4: the area decides.
  const auto counts = lay::count_pieces(part, 2);
  CHECK(16 * counts[0] + 12 * counts[1] == 120);
  CHECK(columns.value(1) == 32);
}

TEST_CASE("the mix finds the length that fills the cloth, and has it whole") {
  // Cut up from a rectangle of 100 x 60, eight times: 60 x 60, and two of 40 x 30 behind each other.
  const RollQuestion question{
      100, lay::kNever, {{60, 60, 8, true, false}, {40, 30, 16, true, false}}};
  Generation generation(question);
  Work work(50'000'000);
  generation.run(20, work);
  // Nothing is wasted, so a piece takes its area.
  const auto shares = generation.shares();
  CHECK(shares[0] * 8 + shares[1] * 16 <= lay::Wide{8} * 6000);
  CHECK((shares[0] * 8 + shares[1] * 16) * 1000 >= lay::Wide{8} * 6000 * 995);
  const auto begun = generation.whole_ones();
  Whole length = 0;
  for (const Part& part : begun.cut_offs) length += part.length;
  CHECK(length <= 480);
  CHECK(begun.left.size() == 2);
}

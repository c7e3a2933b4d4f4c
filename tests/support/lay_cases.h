/// Seeded requests for cut plans, and small helpers of the tests of `lay`.
#pragma once

#include <cstdint>

#include "lay/lay.h"

namespace pouchwright::test {

/// Whole numbers from a seed; the same on every machine.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : state_(seed) {}
  /// From `least` to `most`, both included.
  std::int64_t from_to(std::int64_t least, std::int64_t most);
  /// True once in `times`.
  bool once_in(std::int64_t times) { return from_to(1, times) == 1; }

 private:
  std::uint64_t state_;
};

/// A request of one to six kinds: metric, inch and odd sizes, all turns, plies, tables, remnants
/// and by-products, never with a fault. The work limit is small.
[[nodiscard]] lay::Request seeded_request(std::uint64_t seed);

/// A sewing day's cloth: 900 to 1500 mm wide; two to five makes, each with a panel of 150 to 350 by
/// 250 to 700 mm and often a strap or a smaller panel; 10 to 60 of each, a hundred pieces or more.
/// On some days nothing may be turned, on others a make or two may not. Straight cuts, single, with
/// the work limit of the program.
[[nodiscard]] lay::Request seeded_day(std::uint64_t seed);

/// A day of the same makes with one to eight of each, sometimes with plies or a table; the work
/// limit is small.
[[nodiscard]] lay::Request seeded_small_day(std::uint64_t seed);

}  // namespace pouchwright::test

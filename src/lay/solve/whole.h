/// Whole-number tools of the solvers: wide products, common divisors, sums of sides, work limits.
/// Lengths are plain nanometres here (or grid steps), so that the solvers can do arithmetic.
///
/// Inside `lay` only.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace pouchwright::lay {

using Whole = std::int64_t;
/// Areas overflow 64 bits above 9 m².
__extension__ using Wide = __int128;

inline constexpr Whole kNever = std::numeric_limits<Whole>::max() / 4;

/// The steps that a search may still take. Deterministic: counts, never a clock.
class Work {
 public:
  explicit Work(std::int64_t steps) : left_(steps) {}
  /// Takes `steps`; false once the limit has been passed.
  bool spend(std::int64_t steps) {
    left_ -= steps;
    return left_ > 0;
  }
  [[nodiscard]] bool ended() const { return left_ <= 0; }
  [[nodiscard]] std::int64_t left() const { return left_ > 0 ? left_ : 0; }

 private:
  std::int64_t left_;
};

/// The smallest whole number not below a / b. Requires: a >= 0, b > 0.
[[nodiscard]] Whole divided_up(Wide a, Wide b);

/// All sums of any number of `sides` that are at most `most`, ascending, from 0. Empty optional
/// where there are more than `limit`. Requires: every side > 0.
[[nodiscard]] std::optional<std::vector<Whole>> sums_of(const std::vector<Whole>& sides, Whole most,
                                                        std::size_t limit);

/// At most `limit` of those sums: 0, the multiples of single sides and what they leave of `most`
/// come first, then sums of two sides' multiples, then an even choice.
[[nodiscard]] std::vector<Whole> some_sums_of(const std::vector<Whole>& sides, Whole most,
                                              std::size_t limit);

/// The index of the greatest entry not above `value`. Requires: ascending, first entry <= value.
[[nodiscard]] std::size_t last_not_above(const std::vector<Whole>& ascending, Whole value);

/// The most pieces of a x b, turned or not, that area and F. W. Barnes's bound (Discrete
/// Mathematics 26, 1979) allow in p x q, after dividing by the common divisor. With `turns` false
/// only the product of the whole quotients, which is exact. Requires: all > 0.
[[nodiscard]] Whole most_pieces(Whole p, Whole q, Whole a, Whole b, bool turns);

}  // namespace pouchwright::lay

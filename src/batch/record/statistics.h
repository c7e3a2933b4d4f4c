/// What counts of leaks can and cannot tell: exact, since a group tests tens of pouches and few of
/// them leak.
///
///     const Interval share = clopper_pearson(20, 1);     // 0.0013 to 0.2487
///     const double p = fisher_one_sided({3, 4}, {1, 4});  // 17/70
///
/// Pouches are taken to leak independently of each other.
#pragma once

#include <optional>
#include <vector>

namespace pouchwright::batch {

/// So many of those tested leaked. 0 <= leaked <= tested.
struct Tested {
  int leaked = 0;
  int tested = 0;

  [[nodiscard]] double share() const {
    return tested > 0 ? static_cast<double>(leaked) / tested : 0;
  }
  Tested& operator+=(const Tested& other) {
    leaked += other.leaked;
    tested += other.tested;
    return *this;
  }
  bool operator==(const Tested&) const = default;
};

struct Interval {
  double low = 0;
  double high = 1;
};

/// The exact 95 % interval of the true share (Clopper and Pearson, 1934). 0 to 1 where none was
/// tested.
[[nodiscard]] Interval clopper_pearson(const Tested& of);

/// The upper tail beyond which a count lies outside the limits: what three standard deviations leave
/// of a normal distribution on one side.
inline constexpr double kOutsideLimits = 0.00135;
/// The chance of so many leaks or more among those tested, where `share` of all leak.
[[nodiscard]] double chance_of_as_many(const Tested& of, double share);
/// Does the count lie above what chance leaves with the given share?
[[nodiscard]] bool is_outside_limits(const Tested& of, double share);
/// The most leaks that lie within the limits. Requires: tested >= 0, 0 <= share <= 1.
[[nodiscard]] int most_within_limits(int tested, double share);

/// Fisher's exact test, one-sided: the chance of so many leaks or more among the first, where as many
/// leak in all and it is chance alone who has them. 1 where either has none tested.
[[nodiscard]] double fisher_one_sided(const Tested& first, const Tested& others);

/// Each chance corrected for so many being looked at (Holm, 1979), in the order given, at most 1.
[[nodiscard]] std::vector<double> holm(const std::vector<double>& chances);

/// What counts as more than chance, once corrected.
inline constexpr double kSuspicious = 0.05;
/// How often a true difference is to show for it to count as one that would have.
inline constexpr double kWouldShow = 0.8;
/// The least share of leaks among `tested` that would have shown in kWouldShow of all cases beside
/// `others`, where a chance below `least` shows. Absent: none would, not even if all leaked.
[[nodiscard]] std::optional<double> least_share_shown(int tested, const Tested& others,
                                                      double least);

}  // namespace pouchwright::batch

#include "batch/record/statistics.h"

#include <algorithm>
#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/hypergeometric.hpp>
#include <boost/math/special_functions/beta.hpp>
#include <numeric>

namespace pouchwright::batch {

namespace {

using boost::math::binomial;
using boost::math::complement;

constexpr double kHalfOf95 = 0.025;

/// P(X >= leaked) of a binomial: as the incomplete beta function, which has no trouble at the ends.
double upper_tail(int leaked, int tested, double share) {
  if (leaked <= 0) return 1;
  if (leaked > tested || share <= 0) return 0;
  if (share >= 1) return 1;
  return boost::math::ibeta(static_cast<double>(leaked), static_cast<double>(tested - leaked + 1),
                            share);
}

/// The least count among `tested` by which `first` shows beside `others`; beyond `tested`: none does.
int least_shown(int tested, const Tested& others, double least) {
  int low = 0;
  int high = tested + 1;
  while (low < high) {
    const int middle = low + (high - low) / 2;
    if (middle <= tested && fisher_one_sided({middle, tested}, others) >= least) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low;
}

}  // namespace

Interval clopper_pearson(const Tested& of) {
  if (of.tested <= 0) return {};
  using Law = boost::math::binomial_distribution<double>;
  return {of.leaked == 0 ? 0 : Law::find_lower_bound_on_p(of.tested, of.leaked, kHalfOf95),
          of.leaked == of.tested ? 1 : Law::find_upper_bound_on_p(of.tested, of.leaked, kHalfOf95)};
}

double chance_of_as_many(const Tested& of, double share) {
  return upper_tail(of.leaked, of.tested, share);
}

bool is_outside_limits(const Tested& of, double share) {
  return of.leaked > 0 && chance_of_as_many(of, share) <= kOutsideLimits;
}

int most_within_limits(int tested, double share) {
  int low = 0;
  int high = tested;
  while (low < high) {
    const int middle = low + (high - low + 1) / 2;
    if (is_outside_limits({middle, tested}, share)) {
      high = middle - 1;
    } else {
      low = middle;
    }
  }
  return low;
}

double fisher_one_sided(const Tested& first, const Tested& others) {
  const int leaked = first.leaked + others.leaked;
  if (first.tested <= 0 || others.tested <= 0 || first.leaked <= 0) return 1;
  if (first.leaked <= leaked - others.tested) return 1;  // fewer there cannot be
  const boost::math::hypergeometric law(static_cast<unsigned>(leaked),
                                        static_cast<unsigned>(first.tested),
                                        static_cast<unsigned>(first.tested + others.tested));
  return std::min(1.0, boost::math::cdf(complement(law, static_cast<unsigned>(first.leaked - 1))));
}

std::vector<double> holm(const std::vector<double>& chances) {
  std::vector<std::size_t> order(chances.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return chances[a] < chances[b]; });
  std::vector<double> corrected(chances.size());
  double last = 0;
  for (std::size_t rank = 0; rank < order.size(); ++rank) {
    const auto left = static_cast<double>(order.size() - rank);
    last = std::max(last, std::min(1.0, chances[order[rank]] * left));
    corrected[order[rank]] = last;
  }
  return corrected;
}

std::optional<double> least_share_shown(int tested, const Tested& others, double least) {
  if (tested <= 0 || others.tested <= 0) return std::nullopt;
  const int count = least_shown(tested, others, least);
  if (count > tested) return std::nullopt;
  if (count <= 0) return 0;
  return boost::math::ibeta_inv(static_cast<double>(count), static_cast<double>(tested - count + 1),
                                kWouldShow);
}

}  // namespace pouchwright::batch

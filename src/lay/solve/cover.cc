#include "lay/solve/cover.h"

#include <algorithm>
#include <utility>

namespace pouchwright::lay {

namespace {

/// What counts as zero: rounding makes less than this.
constexpr Fixed kNothing = Fixed::units(Wide{1} << 16U);
constexpr int kPivotsBeforeAnew = 24;
constexpr int kMostPivots = 400;

}  // namespace

Cover::Cover(std::vector<Fixed> demands) : demands_(std::move(demands)) {}

std::size_t Cover::add(Column column) {
  columns_.push_back(std::move(column));
  return columns_.size() - 1;
}

/// The first columns, each of which covers its row alone.
void Cover::start() {
  inverse_.assign(rows() * rows(), Fixed());
  for (std::size_t k = 0; k < rows(); ++k) {
    basis_.push_back(static_cast<int>(k));
    inverse(k, k) = Fixed::whole(1) / columns_[k].covers[k];
    in_mix_.push_back(demands_[k] * inverse(k, k));
  }
}

Fixed Cover::cost_of(int column) const {
  return column < 0 ? Fixed() : columns_[static_cast<std::size_t>(column)].cost;
}

std::vector<Fixed> Cover::raw_prices() const {
  std::vector<Fixed> prices(rows());
  for (std::size_t i = 0; i < rows(); ++i) {
    const Fixed cost = cost_of(basis_[i]);
    if (cost == Fixed()) continue;
    for (std::size_t k = 0; k < rows(); ++k) prices[k] += cost * inverse(i, k);
  }
  return prices;
}

std::vector<Fixed> Cover::prices() const {
  std::vector<Fixed> prices = raw_prices();
  for (Fixed& price : prices) price = std::max(price, Fixed());
  return prices;
}

std::vector<Fixed> Cover::amounts() const {
  std::vector<Fixed> amounts(columns_.size());
  for (std::size_t i = 0; i < basis_.size(); ++i) {
    if (basis_[i] >= 0) amounts[static_cast<std::size_t>(basis_[i])] = in_mix_[i];
  }
  return amounts;
}

Fixed Cover::cost() const {
  Fixed sum;
  for (std::size_t i = 0; i < basis_.size(); ++i) sum += cost_of(basis_[i]) * in_mix_[i];
  return sum;
}

std::vector<Fixed> Cover::times_inverse(int column) const {
  std::vector<Fixed> product(rows());
  for (std::size_t i = 0; i < rows(); ++i) {
    if (column < 0) {
      product[i] = -inverse(i, static_cast<std::size_t>(kSurplus - column));
      continue;
    }
    const std::vector<Fixed>& covers = columns_[static_cast<std::size_t>(column)].covers;
    for (std::size_t k = 0; k < rows(); ++k) {
      if (covers[k] != Fixed()) product[i] += inverse(i, k) * covers[k];
    }
  }
  return product;
}

void Cover::solve(Work& work) {
  if (basis_.empty()) start();
  for (int i = 0; i < kMostPivots && improve(work); ++i) {
  }
}

/// Takes in the column that saves most; false where none saves anything.
bool Cover::improve(Work& work) {
  if (!work.spend(static_cast<std::int64_t>((columns_.size() + rows()) * rows()))) return false;
  const std::vector<Fixed> prices = raw_prices();
  Fixed most = kNothing;
  int entering = std::numeric_limits<int>::min();
  for (std::size_t k = 0; k < rows(); ++k) {
    if (-prices[k] > most) most = -prices[k], entering = kSurplus - static_cast<int>(k);
  }
  for (std::size_t c = 0; c < columns_.size(); ++c) {
    Fixed saved = -columns_[c].cost;
    for (std::size_t k = 0; k < rows(); ++k) {
      if (columns_[c].covers[k] != Fixed()) saved += prices[k] * columns_[c].covers[k];
    }
    if (saved > most) most = saved, entering = static_cast<int>(c);
  }
  if (entering == std::numeric_limits<int>::min()) return false;
  const std::vector<Fixed> direction = times_inverse(entering);
  std::size_t leaving = rows();
  Fixed least;
  for (std::size_t i = 0; i < rows(); ++i) {
    if (direction[i] <= kNothing) continue;
    const Fixed ratio = in_mix_[i] / direction[i];
    if (leaving < rows() && ratio >= least) continue;
    least = ratio, leaving = i;
  }
  if (leaving == rows()) return false;
  pivot(leaving, direction, entering);
  return true;
}

void Cover::pivot(std::size_t leaving, const std::vector<Fixed>& direction, int entering) {
  basis_[leaving] = entering;
  if (++pivots_ >= kPivotsBeforeAnew) return invert();
  const Fixed by = direction[leaving];
  for (std::size_t k = 0; k < rows(); ++k) inverse(leaving, k) = inverse(leaving, k) / by;
  in_mix_[leaving] = std::max(in_mix_[leaving] / by, Fixed());
  for (std::size_t i = 0; i < rows(); ++i) {
    if (i == leaving || direction[i] == Fixed()) continue;
    for (std::size_t k = 0; k < rows(); ++k) {
      inverse(i, k) -= direction[i] * inverse(leaving, k);
    }
    in_mix_[i] = std::max(in_mix_[i] - direction[i] * in_mix_[leaving], Fixed());
  }
}

/// The inverse from the basis' columns, so that rounding does not add up (Gauss and Jordan, the
/// greatest entry first).
void Cover::invert() {
  pivots_ = 0;
  const std::size_t n = rows();
  std::vector<Fixed> matrix(n * n);
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t k = 0; k < n; ++k) {
      if (basis_[j] >= 0) {
        matrix[k * n + j] = columns_[static_cast<std::size_t>(basis_[j])].covers[k];
      } else if (static_cast<std::size_t>(kSurplus - basis_[j]) == k) {
        matrix[k * n + j] = Fixed::whole(-1);
      }
    }
  }
  inverse_.assign(n * n, Fixed());
  for (std::size_t k = 0; k < n; ++k) inverse(k, k) = Fixed::whole(1);
  for (std::size_t j = 0; j < n; ++j) {
    std::size_t best = j;
    const auto size = [&](std::size_t i) {
      return std::max(matrix[i * n + j], -matrix[i * n + j]);
    };
    for (std::size_t i = j + 1; i < n; ++i) {
      if (size(i) > size(best)) best = i;
    }
    const Fixed by = matrix[best * n + j];
    if (by == Fixed()) return;
    for (std::size_t k = 0; k < n; ++k) {
      std::swap(matrix[best * n + k], matrix[j * n + k]);
      std::swap(inverse(best, k), inverse(j, k));
      matrix[j * n + k] = matrix[j * n + k] / by;
      inverse(j, k) = inverse(j, k) / by;
    }
    for (std::size_t i = 0; i < n; ++i) {
      const Fixed times = matrix[i * n + j];
      if (i == j || times == Fixed()) continue;
      for (std::size_t k = 0; k < n; ++k) {
        matrix[i * n + k] -= times * matrix[j * n + k];
        inverse(i, k) -= times * inverse(j, k);
      }
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    in_mix_[i] = Fixed();
    for (std::size_t k = 0; k < n; ++k) in_mix_[i] += inverse(i, k) * demands_[k];
    in_mix_[i] = std::max(in_mix_[i], Fixed());
  }
}

}  // namespace pouchwright::lay

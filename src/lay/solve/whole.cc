#include "lay/solve/whole.h"

#include <algorithm>
#include <numeric>

namespace pouchwright::lay {

Whole divided_up(Wide a, Wide b) { return static_cast<Whole>((a + b - 1) / b); }

std::optional<std::vector<Whole>> sums_of(const std::vector<Whole>& sides, Whole most,
                                          std::size_t limit) {
  std::vector<Whole> sums{0};
  for (const Whole side : sides) {
    // Each pass adds every multiple of one side; sorted and unique, so that equal sums meet.
    std::vector<Whole> next;
    for (const Whole base : sums) {
      for (Whole sum = base; sum <= most; sum += side) {
        next.push_back(sum);
        if (next.size() > 16 * limit) return std::nullopt;
      }
    }
    std::sort(next.begin(), next.end());
    next.erase(std::unique(next.begin(), next.end()), next.end());
    if (next.size() > limit) return std::nullopt;
    sums = std::move(next);
  }
  return sums;
}

namespace {

void sort_unique(std::vector<Whole>& numbers) {
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
}

/// An even choice of at most `limit` numbers, keeping the first and the last.
std::vector<Whole> chosen(const std::vector<Whole>& numbers, std::size_t limit) {
  if (numbers.size() <= limit) return numbers;
  std::vector<Whole> some;
  for (std::size_t i = 0; i < limit; ++i) {
    some.push_back(numbers[i * (numbers.size() - 1) / (limit - 1)]);
  }
  sort_unique(some);
  return some;
}

std::vector<Whole> multiples(const std::vector<Whole>& sides, Whole most) {
  std::vector<Whole> found;
  for (const Whole side : sides) {
    for (Whole sum = side, n = 0; sum <= most && n < 200; sum += side, ++n) found.push_back(sum);
  }
  sort_unique(found);
  return found;
}

}  // namespace

std::vector<Whole> some_sums_of(const std::vector<Whole>& sides, Whole most, std::size_t limit) {
  if (auto all = sums_of(sides, most, limit)) return *all;
  std::vector<Whole> some = chosen(multiples(sides, most), limit / 2);
  const std::vector<Whole> single = some;
  for (const Whole sum : single) some.push_back(most - sum);
  some.push_back(0);
  sort_unique(some);
  std::vector<Whole> pairs;
  for (const Whole a : single) {
    for (const Whole b : single) {
      if (a + b <= most) pairs.push_back(a + b);
    }
  }
  sort_unique(pairs);
  if (some.size() < limit) {
    for (const Whole sum : chosen(pairs, std::max<std::size_t>(limit - some.size(), 2))) {
      some.push_back(sum);
    }
  }
  sort_unique(some);
  return some;
}

std::size_t last_not_above(const std::vector<Whole>& ascending, Whole value) {
  const auto above = std::upper_bound(ascending.begin(), ascending.end(), value);
  return static_cast<std::size_t>(above - ascending.begin()) - 1;
}

namespace {

/// The greatest sum of multiples of a and b that is at most `most`.
Whole rounded_to_sums(Whole most, Whole a, Whole b) {
  Whole best = 0;
  // After b/gcd steps the remainders repeat.
  const Whole steps = std::min(most / a, b / std::gcd(a, b));
  if (steps > 4096) return most;
  for (Whole i = 0; i <= steps; ++i) best = std::max(best, i * a + (most - i * a) / b * b);
  return best;
}

/// Bars of 1 x n in p x q leave at least this uncovered.
Wide bare_with_bars(Whole p, Whole q, Whole n) {
  const Wide r = p % n;
  const Wide s = q % n;
  return std::min(r * s, (n - r) * (n - s));
}

}  // namespace

Whole most_pieces(Whole p, Whole q, Whole a, Whole b, bool turns) {
  if (!turns) return (p / a) * (q / b);
  p = rounded_to_sums(p, a, b);
  q = rounded_to_sums(q, a, b);
  if (p == 0 || q == 0) return 0;
  const Whole common = std::gcd(a, b);
  // Sums of sides are multiples of the divisor; where they were not formed, rounding down is.
  p /= common, q /= common, a /= common, b /= common;
  const Wide tile = Wide{a} * b;
  const Wide sheet = Wide{p} * q;
  const Wide least_bare = std::max(bare_with_bars(p, q, a), bare_with_bars(p, q, b));
  Wide bare = sheet % tile;
  if (bare < least_bare) bare += (least_bare - bare + tile - 1) / tile * tile;
  return bare > sheet ? 0 : static_cast<Whole>((sheet - bare) / tile);
}

}  // namespace pouchwright::lay

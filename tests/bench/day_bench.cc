/// How near the least the plans of whole days are, and what processor time they take: `day_bench [days [first
/// seed]]`. One line a day with the gap, (length - bound) / length; at the end median and worst.
#include <algorithm>
#include <charconv>
#include <cstdio>
#include <cstring>
#include <ctime>

#include "lay/lay.h"
#include "support/lay_cases.h"
#include "support/lay_verifier.h"

using namespace pouchwright;

namespace {

std::uint64_t number_in(const char* text, std::uint64_t otherwise) {
  std::uint64_t number = otherwise;
  std::from_chars(text, text + std::strlen(text), number);
  return number;
}

int pieces_of(const lay::Request& request) {
  int pieces = 0;
  for (const lay::Kind& kind : request.kinds) pieces += kind.demand;
  return pieces;
}

struct Sums {
  std::vector<double> gaps, times;
  int wrong = 0;
  int optimal = 0;
  double length = 0;
  int settings = 0;
};

void one_day(std::uint64_t seed, Sums& sums) {
  const lay::Request request = test::seeded_day(seed);
  const std::clock_t start = std::clock();
  const lay::Plan plan = lay::plan(request);
  const double took = 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
  const double length = plan.cloth.length.in_mm();
  const double gap = (length - plan.cloth.bound.in_mm()) / length;
  const auto settings = static_cast<int>(plan.cloth.steps.size());
  const auto wrong = test::wrong_with(request, plan);
  if (!wrong.empty())
    std::printf("seed %d is wrong: %s\n", static_cast<int>(seed), wrong[0].c_str());
  sums.wrong += wrong.empty() ? 0 : 1;
  sums.optimal += plan.cloth.optimal ? 1 : 0;
  sums.gaps.push_back(gap);
  sums.times.push_back(took);
  sums.length += length;
  sums.settings += settings;
  std::printf(
      "%4d: %zu kinds, %3d pieces on %4.0f mm: %7.1f mm, at least %7.1f, gap %.2f %%, %4d "
      "settings, waste %.2f %%, %.0f ms\n",
      static_cast<int>(seed), request.kinds.size(), pieces_of(request), request.cloth.width.in_mm(),
      length, plan.cloth.bound.in_mm(), 100 * gap, settings, 100 * plan.cloth.waste_fraction, took);
}

double middle(std::vector<double> numbers) {
  std::sort(numbers.begin(), numbers.end());
  return numbers[numbers.size() / 2];
}

}  // namespace

int main(int count, char** words) {
  const std::uint64_t days = count > 1 ? number_in(words[1], 200) : 200;
  const std::uint64_t first = count > 2 ? number_in(words[2], 1) : 1;
  Sums sums;
  for (std::uint64_t seed = first; seed < first + days; ++seed) one_day(seed, sums);
  std::printf(
      "%d days: gap median %.2f %%, worst %.2f %%; %d proved the least; %.1f m in all, %d "
      "settings; "
      "time median %.0f ms, most %.0f ms; %d wrong\n",
      static_cast<int>(days), 100 * middle(sums.gaps),
      100 * *std::max_element(sums.gaps.begin(), sums.gaps.end()), sums.optimal, sums.length / 1000,
      sums.settings, middle(sums.times), *std::max_element(sums.times.begin(), sums.times.end()),
      sums.wrong);
  return sums.wrong == 0 ? 0 : 1;
}

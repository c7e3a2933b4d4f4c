#include "batch/sampling.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace pouchwright::batch {
namespace {

struct Row {
  char letter;
  int largest_lot;  ///< of the lots with this code letter
  int sample;
};

/// ISO 2859-1, table 1 (general level II) and the sample sizes of table 2-A.
constexpr std::array kRows = {Row{'A', 8, 2},     Row{'B', 15, 3},   Row{'C', 25, 5},
                              Row{'D', 50, 8},    Row{'E', 90, 13},  Row{'F', 150, 20},
                              Row{'G', 280, 32},  Row{'H', 500, 50}, Row{'J', 1200, 80},
                              Row{'K', 3200, 125}};

/// Table 2-A repeats along its diagonals, since sample sizes and limits grow in the same ratio:
/// from the cell that accepts with 0 on, one row further down or one limit further right is the
/// next pair of numbers, with two cells of arrows after the first.
enum class Cell { use_below, use_above, plan };
constexpr int kFirstPlan = 5;
constexpr std::array kAccept = {0, -1, -1, 1, 2, 3, 5, 7, 10, 14};

int diagonal(std::size_t row, std::size_t limit) {
  return static_cast<int>(row) + static_cast<int>(limit) - kFirstPlan;
}

Cell cell(std::size_t row, std::size_t limit) {
  const int at = diagonal(row, limit);
  if (at == 1) return Cell::use_above;
  return at < 0 || at == 2 ? Cell::use_below : Cell::plan;
}

std::size_t row_of_lot(int lot) {
  std::size_t row = 0;
  while (kRows[row].largest_lot < lot) ++row;
  return row;
}

/// `a` of `b`, as a fraction.
double of(int a, int b) { return static_cast<double>(a) / static_cast<double>(b); }

/// C(sample, drawn) ways to draw them, one after the other without putting back. A factor is 0
/// where there are not enough.
double chance_in_lot(int lot, int bad, int sample, int drawn) {
  double chance = 1;
  for (int i = 0; i < drawn; ++i) chance *= of(bad - i, lot - i) * of(sample - i, i + 1);
  for (int i = 0; i < sample - drawn; ++i) chance *= of(lot - bad - i, lot - drawn - i);
  return chance;
}

double chance_in_stream(double bad_fraction, int sample, int drawn) {
  double chance = 1;
  for (int i = 0; i < drawn; ++i) chance *= bad_fraction * of(sample - i, i + 1);
  for (int i = drawn; i < sample; ++i) chance *= 1 - bad_fraction;
  return chance;
}

}  // namespace

double nearest_limit(double limit) {
  return *std::min_element(kQualityLimits.begin(), kQualityLimits.end(), [&](double a, double b) {
    return std::fabs(a - limit) < std::fabs(b - limit);
  });
}

std::variant<SamplingPlan, SamplingFault> sampling_plan(int lot, double limit) {
  const auto known = std::find(kQualityLimits.begin(), kQualityLimits.end(), limit);
  if (known == kQualityLimits.end()) {
    return SamplingFault{SamplingFault::Kind::unknown_limit, nearest_limit(limit)};
  }
  if (lot < kSmallestLot) return SamplingFault{SamplingFault::Kind::lot_of_one, limit};
  if (lot > kLargestLot) return SamplingFault{SamplingFault::Kind::lot_too_large, limit};
  const auto column = static_cast<std::size_t>(known - kQualityLimits.begin());
  std::size_t row = row_of_lot(lot);
  SamplingPlan plan{.lot = lot, .limit = limit, .lot_letter = kRows[row].letter};
  while (cell(row, column) == Cell::use_below) ++row;
  while (cell(row, column) == Cell::use_above) --row;
  plan.letter = kRows[row].letter;
  plan.sample = kRows[row].sample;
  plan.accept = kAccept[static_cast<std::size_t>(diagonal(row, column))];
  plan.refuse = plan.accept + 1;
  plan.test_all = plan.sample >= lot;
  return plan;
}

Testing usual_testing(int pouches, int helpers) {
  if (pouches <= kTestAllUpTo) return {};
  const int first_ones = std::min(helpers, pouches);
  const int sample = kRows[row_of_lot(std::min(pouches, kLargestLot))].sample;
  return {false, std::min(sample, pouches - first_ones), first_ones};
}

double passes_of_lot(int lot, int bad, int sample, int accept) {
  double sum = 0;
  for (int drawn = 0; drawn <= std::min({accept, bad, sample}); ++drawn) {
    sum += chance_in_lot(lot, bad, sample, drawn);
  }
  return std::min(1.0, sum);
}

double passes_of_stream(double bad_fraction, int sample, int accept) {
  double sum = 0;
  for (int drawn = 0; drawn <= std::min(accept, sample); ++drawn) {
    sum += chance_in_stream(bad_fraction, sample, drawn);
  }
  return std::min(1.0, sum);
}

}  // namespace pouchwright::batch

/// How many pouches of a batch to test: all of a small one, a sample of a large one, or the plan of
/// ISO 2859-1 (single sampling, normal inspection, general level II) for a stated limit.
///
///     auto plan = sampling_plan(100, 1.5);            // take 32, accept with 1, refuse with 2
///     double passes = passes_of_lot(100, 5, 32, 1);   // how often a batch with 5 bad gets through
///
/// Not for how a pouch is tested: see the leak sheet of `drawing`.
#pragma once

#include <array>
#include <variant>

namespace pouchwright::batch {

/// The acceptance quality limits that the table is kept for, per cent, smallest first.
inline constexpr std::array kQualityLimits = {0.65, 1.0, 1.5, 2.5, 4.0, 6.5};
/// The lots that the table is kept for.
inline constexpr int kSmallestLot = 2;
inline constexpr int kLargestLot = 3200;

struct SamplingPlan {
  int lot = 0;
  double limit = 0;       ///< the acceptance quality limit, per cent
  char lot_letter = 'A';  ///< the code letter of the lot's size
  char letter = 'A';      ///< the row used, after arrows were followed
  int sample = 0;         ///< of the row used
  int accept = 0;         ///< the batch passes with at most so many bad ones
  int refuse = 1;         ///< and fails with so many
  bool test_all = false;  ///< the sample is as large as the lot
};

/// Why there is no plan.
struct SamplingFault {
  enum class Kind {
    lot_of_one,     ///< nothing to sample: test it
    lot_too_large,  ///< over kLargestLot
    unknown_limit,  ///< the table has no such limit; `nearest` is one
  };
  Kind kind{};
  double nearest = 0;
};

/// The plan for a lot of `lot` pouches. Arrows are followed to the row that has a plan, and that
/// row's own sample size is used. Requires: lot >= 1.
[[nodiscard]] std::variant<SamplingPlan, SamplingFault> sampling_plan(int lot, double limit);

/// The limit of the table nearest to `limit`, of two equally near the stricter.
[[nodiscard]] double nearest_limit(double limit);

/// What is done where no limit was asked for.
struct Testing {
  bool every = true;
  int sample = 0;      ///< taken at random, beyond the helpers' first ones; 0 where all are tested
  int first_ones = 0;  ///< the first pouch of each helper
};
/// Every pouch of a batch up to this is tested (common practice, no source).
inline constexpr int kTestAllUpTo = 50;
/// Beyond kTestAllUpTo the first pouch of each helper, and as many as the standard's code letter
/// for the lot says; one that leaks means that all are tested. Requires: both >= 1.
[[nodiscard]] Testing usual_testing(int pouches, int helpers);

/// The probability that a lot of `lot` pouches with `bad` ones among them passes a sample that
/// accepts at most `accept` bad ones (hypergeometric). Requires: 0 <= bad <= lot, sample <= lot.
[[nodiscard]] double passes_of_lot(int lot, int bad, int sample, int accept);
/// The same for a lot without end where each is bad with probability `bad_fraction` (binomial).
[[nodiscard]] double passes_of_stream(double bad_fraction, int sample, int accept);

}  // namespace pouchwright::batch

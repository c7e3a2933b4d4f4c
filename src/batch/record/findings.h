/// What follows from a record, and no more than its numbers carry.
///
///     const RecordFindings found = findings(record, {.pouches_a_bundle = 5});
///     const bool is_little = found.total.tested < kFewTested;
///
/// Not for the plan's minutes, which the record is held against elsewhere.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "batch/record/record.h"
#include "batch/record/statistics.h"

namespace pouchwright::batch {

/// Below so many pouches tested, a share says next to nothing; rows of a picture hold at least as
/// many.
inline constexpr int kFewTested = 20;
/// Below so many seals measured, their spread is not told.
inline constexpr int kFewMeasured = 20;

struct PlaceLeaks {
  std::string place;  ///< empty: not written down
  int leaks = 0;
};

struct BundleLeaks {
  BundleName name;
  Tested of;
  bool outside_limits = false;
};

/// Bundles that follow each other, together; or a day's.
struct JoinedLeaks {
  BundleName first;
  BundleName last;
  Tested of;
  int most = 0;  ///< within the limits
  bool outside_limits = false;
};

/// Who did an operation to bundles of their own, and how these came out.
struct StationLeaks {
  std::string operation;
  std::string helper;
  Tested of;
};

struct Suspect {
  StationLeaks of;
  double chance = 1;     ///< that it is chance alone: Fisher's, one-sided
  double corrected = 1;  ///< Holm's, over all that was looked at
  int group = 0;         ///< those of one group did the same bundles
};

/// An operation that one person did to all bundles tested; and with whom to change places for half
/// of them, so that it can be told.
struct CannotTell {
  std::string operation;
  std::string helper;
  std::string other;            ///< empty: nobody else is in the record
  std::string other_operation;  ///< that the other does meanwhile
};

struct OperationMinutes {
  std::string operation;
  int pieces = 0;
  int rows = 0;
  double minutes = 0;
  double least_a_piece = 0;  ///< of one row
  double most_a_piece = 0;

  [[nodiscard]] double a_piece() const { return pieces > 0 ? minutes / pieces : 0; }
};

struct Retest {
  BundleName name;
  Tested of;
};

struct TrialSetting {
  int dots = 1;
  bool steam = false;
  double seconds = 0;

  auto operator<=>(const TrialSetting&) const = default;
};
struct Trial {
  std::string date;
  TrialSetting setting;
  bool held = false;
  std::string note;
};

/// Seals measured with a ruler, held against the least that must stay.
struct ClearSeals {
  int measured = 0;
  int below = 0;  ///< the least
  base::Length least_wanted;
  base::Length least;
  double mean_mm = 0;
  double spread_mm = 0;  ///< standard deviation; 0 with fewer than two
  /// (mean - least wanted) / three standard deviations; absent below kFewMeasured, or without spread.
  std::optional<double> capability{};
};

struct RecordFindings {
  Tested total;
  Interval share;
  int leaks_without_place = 0;
  std::vector<PlaceLeaks> by_place;      ///< most leaks first, then by name
  std::vector<BundleLeaks> by_bundle;    ///< by date, make and number
  std::vector<JoinedLeaks> rows;         ///< of by_bundle, each of at least kFewTested
  std::vector<JoinedLeaks> by_day;       ///< empty where there are no two dates
  std::vector<StationLeaks> by_station;  ///< the greatest share first
  std::vector<Suspect> suspects;         ///< the least chance first
  std::vector<CannotTell> cannot_tell;   ///< by operation
  /// A station that leaks less would not have shown: the greatest such share of all that was looked
  /// at. Absent where nothing was looked at, or some could not have shown at all.
  std::optional<double> would_show{};
  int compared = 0;                       ///< pairs of an operation and a person
  int unseen_pairs = 0;                   ///< of these, so many that nothing could have shown of
  std::vector<OperationMinutes> minutes;  ///< by operation
  std::vector<Retest> retests;
  std::vector<Trial> trials;
  std::optional<TrialSetting> setting;  ///< the last that held, of those that never failed
  std::optional<ClearSeals> clear_seals;
};

struct RecordTerms {
  int pouches_a_bundle = 1;       ///< where neither a row nor the bundle's test says how many
  base::Length least_clear_seal;  ///< that must stay
};

/// Rows that contradict others (more leaks than pouches, a second place of a bundle that was not
/// tested) are moved to `record.left_out`.
[[nodiscard]] RecordFindings findings(Record& record, const RecordTerms& terms);

}  // namespace pouchwright::batch

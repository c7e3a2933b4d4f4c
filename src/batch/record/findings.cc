#include "batch/record/findings.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "batch/record/bundles.h"

namespace pouchwright::batch {

namespace {

/// Joins bundles that follow each other while `goes_on` says so.
template <class GoesOn>
std::vector<JoinedLeaks> joined(const std::vector<BundleLeaks>& bundles, GoesOn goes_on) {
  std::vector<JoinedLeaks> all;
  for (const BundleLeaks& bundle : bundles) {
    if (all.empty() || !goes_on(all.back(), bundle)) {
      all.push_back({bundle.name, bundle.name, {}, 0, false});
    }
    all.back().last = bundle.name;
    all.back().of += bundle.of;
  }
  return all;
}

void judge(std::vector<JoinedLeaks>& all, double share) {
  for (JoinedLeaks& one : all) {
    one.most = most_within_limits(one.of.tested, share);
    one.outside_limits = is_outside_limits(one.of, share);
  }
}

/// What is left over at the end goes with the row before it.
std::vector<JoinedLeaks> rows_of(const std::vector<BundleLeaks>& bundles) {
  auto rows = joined(bundles, [](const JoinedLeaks& row, const BundleLeaks&) {
    return row.of.tested < kFewTested;
  });
  if (rows.size() > 1 && rows.back().of.tested < kFewTested) {
    JoinedLeaks& before = rows[rows.size() - 2];
    before.of += rows.back().of;
    before.last = rows.back().last;
    rows.pop_back();
  }
  return rows;
}

std::vector<JoinedLeaks> days_of(const std::vector<BundleLeaks>& bundles) {
  auto days = joined(bundles, [](const JoinedLeaks& day, const BundleLeaks& bundle) {
    return day.last.date == bundle.name.date;
  });
  if (days.size() < 2) days.clear();
  return days;
}

void add_leaks(const Bundles& bundles, RecordFindings& found) {
  for (const auto& [name, bundle] : bundles) {
    if (bundle.test) found.total += *bundle.test;
  }
  found.share = clopper_pearson(found.total);
  const double share = found.total.share();
  for (const auto& [name, bundle] : bundles) {
    if (!bundle.test) continue;
    found.by_bundle.push_back({name, *bundle.test, is_outside_limits(*bundle.test, share)});
  }
  std::stable_sort(found.by_place.begin(), found.by_place.end(),
                   [](const PlaceLeaks& a, const PlaceLeaks& b) { return a.leaks > b.leaks; });
  found.rows = rows_of(found.by_bundle);
  found.by_day = days_of(found.by_bundle);
  judge(found.rows, share);
  judge(found.by_day, share);
}

int pieces_of(const RecordRow& row, const Bundles& bundles, const RecordTerms& terms) {
  if (row.pouches) return *row.pouches;
  const auto bundle = bundles.find(row.of);
  const bool tested = bundle != bundles.end() && bundle->second.test;
  return tested ? bundle->second.test->tested : terms.pouches_a_bundle;
}

void add_minutes(const Record& record, const Bundles& bundles, const RecordTerms& terms,
                 RecordFindings& found) {
  std::map<std::string, OperationMinutes> all;
  for (const RecordRow& row : record.rows) {
    if (!row.minutes || row.operation == kTrialOperation) continue;
    const int pieces = pieces_of(row, bundles, terms);
    if (pieces <= 0) continue;
    OperationMinutes& sum = all[row.operation];
    const double each = *row.minutes / pieces;
    sum.least_a_piece = sum.rows == 0 ? each : std::min(sum.least_a_piece, each);
    sum.most_a_piece = std::max(sum.most_a_piece, each);
    sum.operation = row.operation;
    sum.pieces += pieces;
    sum.minutes += *row.minutes;
    ++sum.rows;
  }
  for (auto& [id, sum] : all) found.minutes.push_back(std::move(sum));
}

void add_trials(const Record& record, RecordFindings& found) {
  std::map<TrialSetting, bool> always_held;
  for (const RecordRow& row : record.rows) {
    if (row.operation != kTrialOperation) continue;
    const TrialSetting setting{row.dots.value_or(1), row.steam, row.seconds.value_or(0)};
    const bool held = row.held.value_or(false);
    found.trials.push_back({row.of.date, setting, held, row.note});
    const auto at = always_held.emplace(setting, true).first;
    at->second = at->second && held;
  }
  for (const Trial& trial : found.trials) {
    if (always_held.at(trial.setting)) found.setting = trial.setting;
  }
}

void add_clear_seals(const Record& record, const RecordTerms& terms, RecordFindings& found) {
  std::vector<double> all;
  ClearSeals seals;
  seals.least_wanted = terms.least_clear_seal;
  for (const RecordRow& row : record.rows) {
    if (!row.clear_seal) continue;
    seals.least = all.empty() ? *row.clear_seal : std::min(seals.least, *row.clear_seal);
    if (*row.clear_seal < terms.least_clear_seal) ++seals.below;
    all.push_back(row.clear_seal->in_mm());
  }
  if (all.empty()) return;
  seals.measured = static_cast<int>(all.size());
  for (const double one : all) seals.mean_mm += one / static_cast<double>(all.size());
  double squares = 0;
  for (const double one : all) squares += (one - seals.mean_mm) * (one - seals.mean_mm);
  if (all.size() > 1) seals.spread_mm = std::sqrt(squares / static_cast<double>(all.size() - 1));
  if (seals.measured >= kFewMeasured && seals.spread_mm > 0) {
    seals.capability = (seals.mean_mm - terms.least_clear_seal.in_mm()) / (3 * seals.spread_mm);
  }
  found.clear_seals = seals;
}

}  // namespace

RecordFindings findings(Record& record, const RecordTerms& terms) {
  RecordFindings found;
  const Bundles bundles = bundles_of(record, found);
  add_leaks(bundles, found);
  compare_people(bundles, found);
  add_minutes(record, bundles, terms, found);
  add_trials(record, found);
  add_clear_seals(record, terms, found);
  return found;
}

}  // namespace pouchwright::batch

/// Small changes of size that save cloth: where a panel a little narrower or shorter lies once more
/// across the cloth, or the lay gets shorter by more than the panel does.
///
///     Savings found = savings(request, pouches, {}, Length::whole_mm(10));
///     for (const Change& change : found.changes) print(change.set, change.saving_fraction);
///
/// Cloth counts as it is bought: of the laminate and of the outer, and longer by what the first
/// wash takes. Seal, allowances and everything else of the job stay as they are. Not for prices:
/// see supplies.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "lay/lay.h"
#include "pouch/pouch.h"

namespace pouchwright::batch {

using base::Length;

/// A job, its sizes changed at one or two places. The same job with `set` applied, as `--set` does,
/// gives these very values.
struct Change {
  std::map<std::string, Length> set;  ///< by path, as "pouch.width"; one or two entries
  Length cut_width, cut_length;       ///< of the panel
  double cloth_mm2_per_pouch = 0;     ///< of all materials together, whole width, as bought
  double saving_fraction = 0;         ///< of the cloth now; above 0
  Length water_line;
  std::optional<pouch::Capacity> capacity;  ///< absent where the job has no liners
  std::vector<int> across;                  ///< for each material, most panels side by side
};

struct Savings {
  double now_mm2_per_pouch = 0;
  Length water_line_now;
  std::optional<pouch::Capacity> capacity_now;  ///< absent where the job has no liners
  std::vector<int> across_now;
  std::vector<Change> changes;  ///< greatest saving first, of equal ones the smallest change
};

/// A change must save at least this part of the cloth.
inline constexpr double kLeastSaving = 0.005;
/// At most so many changes are listed.
inline constexpr std::size_t kMostSizeChanges = 30;
/// Sizes are changed in steps of the job's ruler, or in as many of them as keep the steps to
/// this number each way.
inline constexpr int kMostSteps = 12;

/// How the cloth is laid; the other fields of a lay::Request come from the job.
struct LayingRules {
  lay::Cuts cuts = lay::Cuts::straight;
  std::optional<Length> longest;
  lay::Plies laminate, outer;
};

/// Looks at every change of width, depth and flap (with a cut panel: its width, its length and the
/// flap) by up to `tolerance`, each alone and in pairs, that
/// - brings no error and no warning that the job does not already have,
/// - leaves the capacity at the job's liners, or, if their number is open, at what it is,
/// - with its last step saves a greater part of the cloth than of the panel (a jump), and
/// - is not beaten by a change that is nowhere larger and saves as much.
/// Requires: derive(request) gives a pouch, whose panel fits every cloth; pouches from 1 to
/// lay::kMostPieces (more are counted as that many); tolerance >= 0. `before_each` is called before
/// each change is looked at; what it throws ends the search.
[[nodiscard]] Savings savings(const pouch::Request& request, int pouches, const LayingRules& rules,
                              Length tolerance, const std::function<void()>& before_each = {});

}  // namespace pouchwright::batch

/// The iron trial: scrap strips to cut, at which setting to begin and how to go on until one holds,
/// what to look for, and a label for the result.
///
///     auto pages = iron_trial(iron_trial_of(pouch, settings.iron), words, measure, room);
///
/// Films differ, so the sheet promises no setting. Not at full size.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/length.h"
#include "base/voice.h"
#include "batch/settings.h"
#include "batch/trial.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// A row of the grid. One dot and steam do not go together: ISO 3758.
struct IronSetting {
  int dots = 1;
  bool steam = false;
};
inline constexpr std::array kIronSettings = {IronSetting{1, false}, IronSetting{2, false},
                                             IronSetting{2, true}, IronSetting{3, false},
                                             IronSetting{3, true}};
/// The columns are its times.
using batch::kPairsAtOnce;
using batch::kTrialSeconds;

struct IronTrialSheet {
  std::string title;  ///< of the job
  bool has_outer = false;
  bool has_shield = false;                 ///< then its card is tried as well
  std::optional<batch::IronTrial> result;  ///< absent: the sheet asks for the trial
};
[[nodiscard]] IronTrialSheet iron_trial_of(const pouch::Pouch& pouch,
                                           const std::optional<batch::IronTrial>& result);

/// Pages of `room`; one on A4 and Letter. A known result stands first, and the trial below it is
/// for the next cloth or iron.
[[nodiscard]] std::vector<Drawing> iron_trial(const IronTrialSheet& sheet, const Icons& icons,
                                              const base::Voice& words, const TextMeasure& measure,
                                              Point room);

}  // namespace pouchwright::draw

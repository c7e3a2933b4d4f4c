/// The iron trial: scrap strips to cut, a grid of settings by seconds to try them in, what to look
/// for, and where the result goes in the job.
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
/// The columns, seconds with the iron held still: common practice, no source.
inline constexpr std::array kTrialSeconds = {4, 8, 12};
/// Pairs pressed with the setting that was chosen: common practice, no source.
inline constexpr int kPairsToMakeSure = 3;

struct IronTrialSheet {
  std::string title;  ///< of the job
  bool has_outer = false;
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

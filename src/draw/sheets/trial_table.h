/// The table of the iron trial: settings down, seconds across, what was seen to be ringed.
///
/// Inside `draw` only; callers outside use iron_trial.h.
#pragma once

#include <string>

#include "base/voice.h"
#include "draw/sheets/iron_trial.h"
#include "draw/with_ink.h"
#include "ink/frame.h"
#include "ink/icons.h"

namespace pouchwright::draw {

/// How hot a setting is at most, in both scales.
[[nodiscard]] std::string temperature_words(const IronSetting& setting, const base::Voice& words);
[[nodiscard]] std::string steam_words(const IronSetting& setting, const base::Voice& words);

/// So wide that no words are broken.
[[nodiscard]] double trial_table_width(const base::Voice& words, const TextMeasure& measure);
/// `width` mm wide; in less than trial_table_width() settings are broken into lines.
[[nodiscard]] Frame trial_table(double width, const Icons& icons, const base::Voice& words,
                                const TextMeasure& measure);

}  // namespace pouchwright::draw

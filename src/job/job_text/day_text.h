/// The text of a day's file.
///
///     const std::string text = day_text({"Saturday", {{"three.toml", 30}}}, words);
///
/// Inside `job` only. Not for reading one (see input/day.h).
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/voice.h"

namespace pouchwright::job {

struct DayText {
  struct Make {
    std::string job;                                         ///< a path from the day's folder
    std::optional<int> pouches{};                            ///< absent: as many as the job says
    std::string title{};                                     ///< empty: the job's
    std::vector<std::pair<std::string, std::string>> set{};  ///< paths and values as TOML
  };
  std::string title;
  std::vector<Make> makes;
};

/// With what else a day may say as comments.
[[nodiscard]] std::string day_text(const DayText& day, const base::Voice& words);

}  // namespace pouchwright::job

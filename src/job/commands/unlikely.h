/// Sizes that are likely a mistake: a fold-over whose panel is over 50 cm long, a liner under 2 cm
/// or thicker than it is wide (common practice, no source).
///
///     std::vector<base::Message> odd = unlikely_sizes(pouch);
///
/// Inside `job` only.
#pragma once

#include <optional>
#include <vector>

#include "base/message.h"
#include "job/job_text/sides.h"
#include "pouch/pouch.h"

namespace pouchwright::job {

/// Empty where nothing is odd.
[[nodiscard]] std::optional<base::Message> unlikely_liner(const Sides& liner);
[[nodiscard]] std::optional<base::Message> unlikely_panel(const pouch::Pouch& pouch);
/// Both of a job.
[[nodiscard]] std::vector<base::Message> unlikely_sizes(const pouch::Pouch& pouch);

}  // namespace pouchwright::job

/// `new --day`: a day's file of jobs that are there.
///
/// Inside `job` only.
#pragma once

#include <string>

#include "job/run.h"

namespace pouchwright::job {

/// Requires: options.answers.days is not empty. Fails: throws UsageFault, base::Failure; an outcome of
/// a day that is wrong.
[[nodiscard]] Answer new_day(Run& run);

/// `file` as it is called from the folder that `folder_of` lies in.
[[nodiscard]] std::string path_from(const std::string& file, const std::string& folder_of);

}  // namespace pouchwright::job

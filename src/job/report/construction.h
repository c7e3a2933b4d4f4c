/// Constructions one by one, each made with its own sizes: what `list constructions` tells.
///
///     for (const auto& one : listed_constructions(run)) tell(one->run->pouch());
///
/// Inside `job` only.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "job/run.h"

namespace pouchwright::job {

/// A construction as the pouch that it makes where a job says nothing more.
struct ListedConstruction {
  JobOptions options;        ///< the run borrows them
  std::unique_ptr<Run> run;  ///< read without an error where `sound`
  bool sound = false;
  bool is_known = false;  ///< one of patterns/, not a file of one's own
};

/// All of patterns/ by name, or only the one that the options name. --set and --units hold for
/// each. Fails: throws UsageFault where none is called so.
[[nodiscard]] std::vector<std::unique_ptr<ListedConstruction>> listed_constructions(const Run& run);

[[nodiscard]] Json construction_report(const pouch::Pouch& pouch);
[[nodiscard]] std::string construction_text(const pouch::Pouch& pouch, const base::Voice& words);

}  // namespace pouchwright::job

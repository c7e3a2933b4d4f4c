/// The bundles of a record: how each test came out, and who did what to it.
///
/// Inside `batch/record` only.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "batch/record/findings.h"

namespace pouchwright::batch {

struct Bundle {
  std::optional<Tested> test{};                          ///< the first one
  std::map<std::string, std::set<std::string>> helpers;  ///< by operation
};
using Bundles = std::map<BundleName, Bundle>;

/// Fills what tests tell: places and retests as well.
[[nodiscard]] Bundles bundles_of(Record& record, RecordFindings& found);

/// Compares everyone with all others at the same operation.
void compare_people(const Bundles& bundles, RecordFindings& found);

}  // namespace pouchwright::batch
